"""Long tables made short: rows that are alike in everything shown are told once."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from circuitcheck.paper import Cell, Row, RowKind

#: Tables of up to so many rows keep rows that differ in a column of numbers.
SHORT = 24

#: Fewer alike than this stay as they are.
MANY = 2

#: So many names stand in full before the first and the last stand for all.
MOST_NAMED = 3

_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def alike_together(rows: Sequence[Row], *, spread: Sequence[int] = (), times: int | None = None) -> list[Row]:
    """The rows, those alike in all but their first cell as one row in the place of the first.

    ``times``: the column before whose text such a row says how many there are (``44 × 25 W``). ``spread``: columns in
    which the rows of a long table may differ; the row shows the least and the greatest.
    """
    loose = spread if len(rows) > SHORT else ()
    groups: dict[tuple[object, ...], list[Row]] = {}
    for number, row in enumerate(rows):
        told = (_but_numbers(cell) if index in loose else cell for index, cell in enumerate(row.cells) if index)
        same = (row.cells[0].more, *told)
        key = (number,) if row.kind is not RowKind.PLAIN else same
        groups.setdefault(key, []).append(row)
    return [row for group in groups.values() for row in _told(group, loose, times)]


def _told(group: Sequence[Row], spread: Sequence[int], times: int | None) -> Sequence[Row]:
    if len(group) < MANY:
        return group
    first = group[0].cells[0]
    cells = [replace(first, text=alike_named([row.cells[0].text for row in group]))]
    for index, cell in enumerate(group[0].cells[1:], 1):
        alike = [row.cells[index] for row in group]
        if index in spread:
            cells.append(_between(alike))
        elif index == times and cell.text:
            cells.append(replace(cell, text=f"{len(group)} × {cell.text}"))
        else:
            cells.append(cell)
    return [Row(tuple(cells))]


def alike_named(names: Sequence[str]) -> str:
    """How many there are, and which: all of them where there are few, else the first and the last."""
    if len(names) < MANY:
        return "".join(names)
    told = ", ".join(names) if len(names) <= MOST_NAMED else f"{names[0]} … {names[-1]}"
    return f"{len(names)} alike: {told}"


def _but_numbers(cell: Cell) -> object:
    """What cells that differ in their numbers alone have in common."""
    return replace(cell, text=_NUMBER.sub("#", cell.text))


def _between(cells: Sequence[Cell]) -> Cell:
    """The least and the greatest number of cells that differ in nothing else, with what follows the last of them."""
    numbers = [number for cell in cells for number in _NUMBER.findall(cell.text)]
    if not numbers:
        return cells[0]
    low, high = min(numbers, key=float), max(numbers, key=float)
    unit = _NUMBER.split(cells[0].text)[-1]
    return replace(cells[0], text=f"{low}{unit}" if low == high else f"{low} to {high}{unit}")
