"""A long one-line diagram made short: what is alike and follows one another is told once, with how many there are.

Runs and loads may differ in their length and their watts: what stands for them shows the least and the greatest.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from circuitcheck.note.one_line import LineRow, RowKind

#: A diagram of more rows than this tells what is alike once.
LONG = 60

#: So many alike in a row stay as they are: telling them once would save nothing.
ALIKE_FROM = 3

#: A length or a rating in the words of a row. Sizes of conductors and volumes of boxes are no such numbers.
_MEASURE = re.compile(r"\b\d+(?:\.\d+)?(?= (?:ft|m|W|VA)\b)")


def shortened(rows: Sequence[LineRow]) -> tuple[LineRow, ...]:
    """The rows, those of a long diagram that are alike told once."""
    return tuple(rows if len(rows) <= LONG else _condensed(rows))


def _condensed(rows: Sequence[LineRow]) -> Iterator[LineRow]:
    """Runs with their boxes that are alike and follow one another, told once with how many there are.

    The first and the last of them stay, and so does whatever is unlike.
    """
    bays: list[list[LineRow]] = []
    for row in rows:
        if bays and bays[-1][-1].bay == row.bay:
            bays[-1].append(row)
        else:
            bays.append([row])
    start = 0
    while start < len(bays):
        end = start + 1
        shape = [_shape(row) for row in bays[start]]
        while end < len(bays) and [_shape(row) for row in bays[end]] == shape:
            end += 1
        yield from _short(bays[start])
        if end - start > ALIKE_FROM:
            yield _alike(bays[start + 1 : end - 1])
            yield from _short(bays[end - 1])
        else:
            for bay in bays[start + 1 : end]:
                yield from _short(bay)
        start = end


def _short(bay: list[LineRow]) -> Iterator[LineRow]:
    """The rows of one bay, loads in it that are alike told once."""
    start = 0
    while start < len(bay):
        end = start + 1
        while end < len(bay) and bay[end].kind is RowKind.LOAD and _shape(bay[end]) == _shape(bay[start]):
            end += 1
        if end - start > ALIKE_FROM and bay[start].kind is RowKind.LOAD:
            yield bay[start]
            yield _alike([[row] for row in bay[start + 1 : end - 1]])
            start = end - 1
        yield from bay[start : start + 1]
        start += 1


def _alike(bays: list[list[LineRow]]) -> LineRow:
    first, last = bays[0][-1], bays[-1][-1]
    columns = zip(*bays, strict=True)
    what = "; ".join(f"{column[0].kind}: {_between([row.does for row in column])}" for column in columns)
    lead = bays[0][0]
    return replace(
        lead,
        kind=RowKind.ALIKE,
        name=f"{len(bays)} more alike",
        does=f"{first.name} to {last.name}, each {what}",
        below=lead.above,
        side=False,
        strokes=0,
        volts="",
    )


def _shape(row: LineRow) -> tuple[object, ...]:
    """What the row shares with rows that are alike but for a length or a rating."""
    return replace(row, does=_MEASURE.sub("#", row.does)).shape


def _between(told: Sequence[str]) -> str:
    """What rows that are alike say, the least and the greatest in the place of each number in which they differ."""
    spans = iter(
        [(min(each, key=float), max(each, key=float)) for each in zip(*map(_MEASURE.findall, told), strict=True)]
    )

    def span(_: re.Match[str]) -> str:
        low, high = next(spans)
        return low if low == high else f"{low} to {high}"

    return _MEASURE.sub(span, told[0])
