"""The smallest box of the table that would do: the trade size is changed in the circuit, and box fill asked again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from circuitcheck.checking import findings_of
from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.box_fill import RULE
from circuitcheck.tables.rulebook import Row, Rulebook


def smallest_trade_size(box: Box, circuit: Circuit, book: Rulebook) -> str | None:
    """The smallest trade size with which the box has room, of its own shape first; None: no size of the table.

    Extensions and a divider that are there stay. Boxes that are listed by the gang are no substitute for another shape.
    """
    for row in _candidates(box, book):
        size = row.key[0]
        others = (replace(each, trade_size=size, volume_m3=None) if each is box else each for each in circuit.boxes)
        changed = replace(circuit, boxes=tuple(others))
        only = replace(RULE, subjects=lambda case: (case.tree.box[box.id],))
        if all(finding.outcome is Outcome.PASS for finding in findings_of(changed, book, (only,))):
            return size
    return None


def _candidates(box: Box, book: Rulebook) -> Iterator[Row]:
    """The rows of the box's own shape from small to large, then those of other shapes."""
    table = book.table("box-volumes")
    own = table.find(box.trade_size) if box.trade_size is not None else None
    shape = own.text("shape") if own is not None else None
    rows = sorted(table.rows, key=lambda row: row.number("volume") or 0.0)
    yield from (row for row in rows if row.text("shape") == shape)
    yield from (row for row in rows if row.text("shape") != shape and "gang" not in (row.text("shape") or ""))
