"""Long tables made short: rows that say the same but for their name are told once, with how many there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from circuitcheck.paper import Cell, Row, RowKind

#: Tables of up to so many rows stay as they are.
SHORT = 24

#: Fewer alike than this stay as they are.
MANY = 4


def told_once(rows: Sequence[Row], *, sums: Sequence[int] = ()) -> list[Row]:
    """The rows, in a long table those alike (in all but their first cell) as one row in the place of the first.

    ``sums``: columns of which the row shows "each", since they add up.
    """
    if len(rows) <= SHORT:
        return list(rows)
    groups: dict[tuple[object, ...], list[Row]] = {}
    for number, row in enumerate(rows):
        key = (number,) if row.kind is not RowKind.PLAIN else tuple(row.cells[1:])
        groups.setdefault(key, []).append(row)
    shown: list[Row] = []
    for group in groups.values():
        if len(group) < MANY:
            shown.extend(group)
            continue
        first, last = group[0].cells[0], group[-1].cells[0]
        name = Cell(f"{len(group)} alike: {first.text} … {last.text}", first.known)
        cells = [
            replace(cell, text=f"{cell.text} each") if index in sums and cell.text else cell
            for index, cell in enumerate(group[0].cells)
        ]
        shown.append(Row((name, *cells[1:])))
    return shown
