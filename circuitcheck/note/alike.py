"""Long tables made short: rows that say the same but for their name are told once, with how many there are."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from circuitcheck.paper import Cell, Row, RowKind

#: Tables of up to so many rows stay as they are.
SHORT = 24

#: Fewer alike than this stay as they are.
MANY = 4

_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def told_once(rows: Sequence[Row], *, sums: Sequence[int] = (), spread: Sequence[int] = ()) -> list[Row]:
    """The rows, in a long table those alike (in all but their first cell) as one row in the place of the first.

    ``sums``: columns of which the row shows "each", since they add up. ``spread``: columns in which alike rows may
    differ; the row shows the least and the greatest.
    """
    if len(rows) <= SHORT:
        return list(rows)
    groups: dict[tuple[object, ...], list[Row]] = {}
    for number, row in enumerate(rows):
        same = (row.cells[0].more, *(cell for index, cell in enumerate(row.cells) if index and index not in spread))
        key = (number,) if row.kind is not RowKind.PLAIN else same
        groups.setdefault(key, []).append(row)
    shown: list[Row] = []
    for group in groups.values():
        if len(group) < MANY:
            shown.extend(group)
            continue
        first, last = group[0].cells[0], group[-1].cells[0]
        name = Cell(f"{len(group)} alike: {first.text} … {last.text}", first.known, more=first.more)
        cells = [
            _told(cell, [row.cells[index] for row in group], each=index in sums, spread=index in spread)
            for index, cell in enumerate(group[0].cells)
        ]
        shown.append(Row((name, *cells[1:])))
    return shown


def _told(cell: Cell, alike: Sequence[Cell], *, each: bool, spread: bool) -> Cell:
    """One cell for several: the same, with "each" where they add up, or the least and the greatest of them."""
    if spread:
        numbers = [number for one in alike for number in _NUMBER.findall(one.text)]
        if not numbers:
            return replace(cell, text="")
        low, high = min(numbers, key=float), max(numbers, key=float)
        return replace(cell, text=low if low == high else f"{low} to {high}")
    return replace(cell, text=f"{cell.text} each") if each and cell.text else cell
