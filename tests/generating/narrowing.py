"""Finding out: open entries of a circuit become facts inside what they can be, a few at a time until all is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.quantities import How, Interval
from circuitcheck.tables.rulebook import Rulebook
from tests.generating.defaults import default_of
from tests.generating.dice import Dice
from tests.generating.entries import Entry, changed, is_open, is_open_value, open_entries
from tests.generating.possible import (
    GROUPS,
    RATINGS,
    Options,
    Possible,
    Span,
    anything,
    possible,
)


def _drawn(dice: Dice, may: Possible, attribute_is_number: bool) -> Any:
    """One fact out of what may be; None where it may be absent."""
    if may is None:
        return None
    if isinstance(may, Options):
        return dice.of(may.options)
    usual = max(may.low, may.usual[0]), min(may.high, may.usual[1])
    low, high = usual if usual[0] <= usual[1] and not dice.often(0.1) else (may.low, may.high)
    return dice.between(low, high)


class Narrowing:
    """Fills in facts. ``may``: what an entry can be; the only thing here that knows of a rulebook."""

    def __init__(
        self, dice: Dice, book: Rulebook, may: Callable[[str, Key, Any, Circuit, Rulebook], Possible] = possible
    ) -> None:
        self.dice = dice
        self.book = book
        self._may = may

    def narrowed(
        self, circuit: Circuit, share: float, takes: Callable[[Entry, Circuit], bool] = lambda entry, circuit: True
    ) -> Circuit:
        """The circuit with this share of its open entries settled, or a range made narrower.

        ``takes``: which open entries at all. With a share of 1 nothing of those stays open.
        """
        tried: set[Entry] = set()
        while True:
            # A light that turns out to be a strip has a length: what was found out asks for more.
            waiting = [entry for entry in open_entries(circuit) if entry not in tried and takes(entry, circuit)]
            if not waiting:
                return circuit
            for entry in waiting:
                if self.dice.often(share) and is_open(entry, circuit):
                    circuit = self.settled(circuit, entry, whole=share >= 1)
            tried.update(waiting)

    def settled(self, circuit: Circuit, entry: Entry, *, whole: bool = True, at_any_price: bool = False) -> Circuit:
        """The circuit with a fact for this entry. ``whole``: not just a narrower range.

        ``at_any_price``: also where it may be absent; somebody has been asked for it.
        """
        part, value = entry.part(circuit), entry.value(circuit)
        name, known_by = entry.key.name, part.known_by
        changes: dict[str, Any] = {}
        if known_by.get(name) == How.GUESS:
            changes["known_by"] = {key: word for key, word in known_by.items() if key != name}
            value = self._instead_of_a_guess(circuit, entry, value)
        if isinstance(value, Interval):
            value = self._inside(value, entry.name, whole)
        elif isinstance(value, tuple):
            value = tuple(self._settled_element(one, whole) for one in value)
        elif value is None:
            return self._found_out(circuit, entry, changes, whole, at_any_price)
        return changed(circuit, entry, {entry.key.attribute: value, **changes})

    def _found_out(
        self, circuit: Circuit, entry: Entry, changes: dict[str, Any], whole: bool, at_any_price: bool
    ) -> Circuit:
        key = self._chosen(entry)
        may = self._may(entry.section, key, entry.part(circuit), circuit, self.book)
        if may is None and at_any_price:
            may = anything(entry.section, key)
        if may is None and at_any_price and key.form is Form.REFERENCE:
            ids = [part.id for name in key.refers if name in SECTIONS for part in _parts(circuit, name)]
            ids = [part_id for part_id in ids if part_id != getattr(entry.part(circuit), "id", None)]
            may = Options(tuple(ids)) if ids else None
        fact = _drawn(self.dice, may, key.kind is not None)
        if key.form is Form.WHOLE and isinstance(may, Span):
            fact = round(fact)
        if key.kind is not None and fact is not None:
            fact = Interval(fact, fact)
            if not whole and isinstance(may, Span) and self.dice.often(0.3):
                other = _drawn(self.dice, may, True)
                fact = Interval(min(fact.low, other), max(fact.low, other))
        return changed(circuit, entry, {key.attribute: fact, **changes})

    def _chosen(self, entry: Entry) -> Key:
        """Of a group any may be what is found out."""
        for group in GROUPS.get(entry.section, ()):
            if entry.key.name == group[0]:
                return SECTIONS[entry.section].keys[self.dice.of(group)]
        return entry.key

    def _instead_of_a_guess(self, circuit: Circuit, entry: Entry, value: Any) -> Any:
        """A guessed word or yes/no may be any, a guessed count as written or one more; lists and names stay.

        So the page of the file format has it.
        """
        key = entry.key
        default = default_of(type(entry.part(circuit)), key.attribute)
        if isinstance(value, tuple) or key.required or key.form in (Form.REFERENCE, Form.TEXT, Form.DATE):
            return value
        if isinstance(default, int) and not isinstance(default, bool):
            return min(value + self.dice.whole(0, 1), key.greatest)
        may = self._may(entry.section, key, _without(entry.part(circuit), key), circuit, self.book)
        if may is None:
            return value
        fact = _drawn(self.dice, may, False)
        return round(fact) if key.form is Form.WHOLE else fact

    def _inside(self, value: Interval, name: str, whole: bool) -> Interval:
        """A point of a range, or a narrower range; a breaker is one of those that are made, where one is inside."""
        low, high = value.low, value.high
        if name == "supply.breaker":
            made = [rating for rating in RATINGS if low <= rating <= high]
            if made:
                point = self.dice.of(made)
                return Interval(point, point)
        first, second = sorted((self.dice.between(low, high), self.dice.between(low, high)))
        if whole or self.dice.often(0.6):
            return Interval(first, first)
        return Interval(first, second)

    def _settled_element(self, element: Any, whole: bool) -> Any:
        if isinstance(element, Interval):
            return self._inside(element, "", whole) if is_open_value(element) else element
        if getattr(element, "other_circuit", True) is None:
            return replace(element, other_circuit=self.dice.often(0.5))
        return element


def _without(part: Any, key: Key) -> Any:
    return replace(part, **{key.attribute: None})


def _parts(circuit: Circuit, section: str) -> tuple[Any, ...]:
    return getattr(circuit, SECTIONS[section].attribute)
