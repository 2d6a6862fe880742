"""The smallest box of the table that would do: the trade size is changed in the circuit, and box fill asked again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from circuitcheck.checking.would_do import answers_about
from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.box_fill import RULE
from circuitcheck.tables.rulebook import Row, Rulebook

_ROUND, _DEVICE = "round or octagonal", "device"


def smallest_trade_size(box: Box, circuit: Circuit, book: Rulebook) -> str | None:
    """The smallest trade size with which the box has room, of its own shape first; None: no size of the table.

    Extensions and a divider that are there stay. Boxes that are listed by the gang are no substitute for another shape;
    a device box none where a light hangs and no device is, and a round box none where a device stands.
    """
    for row in _candidates(box, book):
        size = row.key[0]
        others = (replace(each, trade_size=size, volume_m3=None) if each is box else each for each in circuit.boxes)
        changed = replace(circuit, boxes=tuple(others))
        findings = answers_about(changed, book, (RULE,), frozenset((box.id,)), named=False)
        if findings and all(finding.outcome is Outcome.PASS for finding in findings):
            return size
    return None


def _candidates(box: Box, book: Rulebook) -> Iterator[Row]:
    """The rows of the box's own shape from small to large, then those of other shapes."""
    table = book.table("box-volumes")
    own = table.find(box.trade_size) if box.trade_size is not None else None
    shape = own.text("shape") if own is not None else None
    rows = sorted(table.rows, key=lambda row: row.printed_number("volume"))
    other = _DEVICE if not box.devices else _ROUND
    yield from (row for row in rows if row.text("shape") == shape)
    rest = [row for row in rows if row.text("shape") != shape and "gang" not in row.printed_text("shape")]
    rest = [row for row in rest if row.text("shape") != other]
    yield from sorted(rest, key=lambda row: row.text("shape") not in (_ROUND, _DEVICE)) if shape is None else rest
