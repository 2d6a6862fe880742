"""The rules: one file a rule, in three families. ``ALL_RULES`` is the order in which a report names them."""

from __future__ import annotations

from circuitcheck.rules.capacity import (
    ampacity,
    box_fill,
    breaker_vs_wire,
    cord_load_share,
    fixed_equipment_share,
    load_share,
    measured_current,
    voltage_drop,
    wire_size,
)
from circuitcheck.rules.rule import Rule
from circuitcheck.rules.site import extend_circuit

ALL_RULES: tuple[Rule, ...] = (
    load_share.RULE,
    fixed_equipment_share.RULE,
    cord_load_share.RULE,
    measured_current.RULE,
    breaker_vs_wire.RULE,
    ampacity.RULE,
    voltage_drop.RULE,
    box_fill.RULE,
    wire_size.RULE,
    extend_circuit.RULE,
)
