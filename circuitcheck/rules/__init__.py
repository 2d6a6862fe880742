"""The rules: one file a rule, in three families. ``ALL_RULES`` is the order in which a report names them."""

from __future__ import annotations

from circuitcheck.rules.capacity import ampacity, box_fill, breaker_vs_wire, load_share
from circuitcheck.rules.rule import Rule

ALL_RULES: tuple[Rule, ...] = (
    load_share.RULE,
    breaker_vs_wire.RULE,
    ampacity.RULE,
    box_fill.RULE,
)
