"""The answer about one box in words: the worksheet, the room left, and the smallest box that would do."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.advice.one_box import OneBox
from circuitcheck.advice.room_words import conductors_words
from circuitcheck.quantities import down_to, rounded_up, up_to
from circuitcheck.text import shown_number, shown_text

#: Of cubic inches in the column that adds up.
_DECIMALS = 2
NOT_COUNTED = "Nothing is added up: the box cannot be counted."


def worksheet(answer: OneBox) -> Iterator[str]:
    """The lines that add up, at worst, in cubic inches; one line where the box cannot be counted."""
    finding = answer.finding
    if finding.value is None:
        yield NOT_COUNTED
        return
    width = max([len("room in the box"), *(len(row.name) for row in finding.parts)])
    yield f"{'':{width}}  count   each    in³"
    for row in finding.parts:
        count = "" if row.count is None else shown_number(row.count, 4)
        each = "" if row.each is None else f"{row.each:.2f}"
        yield f"{shown_text(row.name):{width}}  {count:>5}  {each:>5}  {row.value:5.2f}"
    needed = up_to(sum(row.value for row in finding.parts), _DECIMALS)
    yield f"{'needed':{width}}  {'':5}  {'':5}  {needed:>5}"
    if finding.limit is not None:
        yield f"{'room in the box':{width}}  {'':5}  {'':5}  {down_to(finding.limit, _DECIMALS):>5}"


def smallest_says(answer: OneBox) -> str:
    """The smallest metal box, and the least volume that a marked box needs."""
    value, high = answer.finding.value, answer.finding.high
    if value is None:
        return "How big a box it needs cannot be said until it is counted."
    needed = rounded_up(value if high is None else max(high, value), 4)
    marked = f"A box with a marked volume needs at least {needed} in³."
    if answer.smallest is None:
        return f"No metal box of the table is big enough. {marked}"
    return f'Smallest metal box of the table that would do: "{answer.smallest}". {marked}'


def room_says(answer: OneBox) -> Iterator[str]:
    """How many more conductors of each size fit."""
    if answer.room_left:
        yield f"Room left for more conductors: {conductors_words(answer.room_left)}."
