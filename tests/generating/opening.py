"""The other way round: what is known of a circuit is forgotten in part, so that a real one can be found out again."""

from __future__ import annotations

from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.quantities import Interval
from tests.generating.defaults import default_of
from tests.generating.dice import Dice, Shares
from tests.generating.entries import Entry, all_entries, changed, narrows
from tests.generating.possible import may_be_absent

#: What hangs together by names stays: a circuit without it would be another one.
_KEPT = (Form.REFERENCE, Form.TEXT, Form.DATE, Form.TABLES, Form.PHYSICAL_LIST)


def opened(circuit: Circuit, dice: Dice, shares: Shares) -> Circuit:
    """The circuit with some of its entries left out and some of its values between two ends."""
    for entry in list(all_entries(circuit)):
        value = entry.value(circuit)
        if isinstance(value, Interval) and value.exact and dice.often(shares.ranges):
            circuit = changed(circuit, entry, {entry.key.attribute: _around(value, entry, dice)})
        elif value is not None and _can_be_left_out(entry, circuit) and dice.often(shares.left_out):
            forgotten = changed(circuit, entry, {entry.key.attribute: None})
            # Of a receptacle without a value the planning figure is counted: then nobody asks for more.
            circuit = forgotten if narrows(entry, forgotten, circuit) else circuit
    return circuit


def _can_be_left_out(entry: Entry, circuit: Circuit) -> bool:
    if entry.key.required or entry.key.form in _KEPT or may_be_absent(entry.section, entry.key):
        return False
    return default_of(type(entry.part(circuit)), entry.key.attribute) is None


def _around(value: Interval, entry: Entry, dice: Dice) -> Interval:
    kind = entry.key.kind
    reach = abs(value.low) * dice.random.uniform(0.02, 0.5)
    low, high = value.low - reach * dice.random.random(), value.high + reach * dice.random.random()
    if kind is not None:
        low, high = max(low, kind.least_si), min(high, kind.greatest_si)
    return Interval(min(low, value.low), max(high, value.high))
