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
from tests.generating.dice import Dice
from tests.generating.entries import Entry, changed, is_open, is_open_value, open_entries
from tests.generating.possible import (
    GROUPS,
    Options,
    Possible,
    Span,
    anything,
    possible,
)

#: Of more cables alongside the conductors could not be written any more: two of each, and at most 200.
MOST_ALONGSIDE = 99


def writable(key: Key, fact: Any) -> Any:
    """The nearest fact that a file may hold: of a crowd of lights more leads follow than anybody writes down."""
    if key.form is Form.WHOLE and isinstance(fact, int):
        return min(max(fact, key.least), key.greatest)
    if key.form is Form.TABLES and "count" in key.parts:
        most = key.parts["count"].greatest
        return tuple(replace(each, count=min(each.count, most)) for each in fact)
    return fact


def counted_alike(key: Key, fact: Any, part: Any) -> Any:
    """The fact, so that a count of current-carrying conductors holds two for each cable that lies together."""
    name, carrying, beside = key.name, getattr(part, "current_carrying", None), getattr(part, "bundled_with", None)
    if name == "bundled_with":
        return min(fact, MOST_ALONGSIDE if carrying is None else max(carrying // 2 - 1, 0))
    if name == "current_carrying" and beside is not None:
        return max(fact, 2 * (1 + beside))
    return fact


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
                take = self.dice.often(share)
                if is_open(entry, circuit):  # what another fact settles may be open again after the next
                    tried.add(entry)
                    for _ in range(2 if take else 0):  # an empty list that is no guess any more may be open still
                        circuit = self.settled(circuit, entry, whole=share >= 1) if is_open(entry, circuit) else circuit

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
            value = self._inside(circuit, entry, value, whole)
        elif isinstance(value, tuple) and value:
            value = tuple(self._settled_element(one, whole) for one in value)
        elif value is None or (value == () and "known_by" not in changes):
            return self._found_out(circuit, entry, changes, whole, at_any_price)
        return changed(circuit, entry, {entry.key.attribute: value, **changes})

    def _found_out(
        self, circuit: Circuit, entry: Entry, changes: dict[str, Any], whole: bool, at_any_price: bool
    ) -> Circuit:
        key, may = self._chosen(circuit, entry)
        if may is None and at_any_price:
            may = self._any_part(circuit, entry) if key.form is Form.REFERENCE else anything(entry.section, key)
        fact = self._drawn(may, key)
        if fact is None:
            return circuit
        fact = counted_alike(key, fact, entry.part(circuit))
        if key.kind is not None:
            other = self._drawn(may, key) if isinstance(may, Span) and not whole and self.dice.often(0.3) else fact
            fact = Interval(min(fact, other), max(fact, other))
        return changed(circuit, entry, {key.attribute: fact, **changes})

    def _drawn(self, may: Possible, key: Key) -> Any:
        """One fact out of what may be; None where it may be absent."""
        if may is None:
            return None
        if isinstance(may, Options):
            return writable(key, self.dice.of(may.options))
        usual = max(may.low, may.usual[0]), min(may.high, may.usual[1])
        low, high = usual if usual[0] <= usual[1] and not self.dice.often(0.1) else (may.low, may.high)
        fact = self.dice.between(low, high)
        return writable(key, round(fact)) if key.form is Form.WHOLE else fact

    def _chosen(self, circuit: Circuit, entry: Entry) -> tuple[Key, Possible]:
        """What is found out, and what it can be: of a group of which nothing is known any of its keys."""
        part = entry.part(circuit)
        may = self._may(entry.section, entry.key, part, entry.home(circuit), self.book)
        for group in GROUPS.get(entry.section, ()):
            if entry.key.name == group[0] and isinstance(may, Span) and may.low < may.high:
                key = SECTIONS[entry.section].keys[self.dice.of(group)]
                return key, may if key is entry.key else anything(entry.section, key)
        return entry.key, may

    @staticmethod
    def _any_part(circuit: Circuit, entry: Entry) -> Possible:
        """The other parts that a reference may name."""
        own = getattr(entry.part(circuit), "id", None)
        sections = (SECTIONS[name] for name in entry.key.refers if name in SECTIONS)
        ids = [part.id for section in sections for part in getattr(circuit, section.attribute) if part.id != own]
        return Options(tuple(ids)) if ids else None

    def _instead_of_a_guess(self, circuit: Circuit, entry: Entry, value: Any) -> Any:
        """A guess: what was written, or what else it can be. Lists, names and required keys stay."""
        key = entry.key
        if isinstance(value, tuple) or key.required or key.form not in (Form.WORD, Form.SIZE, Form.YES_NO, Form.WHOLE):
            return value
        may = self._may(entry.section, key, entry.part(circuit), entry.home(circuit), self.book)
        fact = value if may is None else self._drawn(may, key)
        return counted_alike(key, writable(key, fact), entry.part(circuit))

    def _inside(self, circuit: Circuit, entry: Entry, value: Interval, whole: bool) -> Interval:
        """A point of a range, or a narrower range; of a breaker one of the ratings that are made."""
        may = self._may(entry.section, entry.key, entry.part(circuit), entry.home(circuit), self.book)
        if isinstance(may, Options):
            inside = [rating for rating in may.options if value.low <= rating <= value.high]
            point = self.dice.of(inside or may.options)
            return Interval(point, point)
        return self._between(value, whole)

    def _between(self, value: Interval, whole: bool) -> Interval:
        first, second = sorted((self.dice.between(value.low, value.high), self.dice.between(value.low, value.high)))
        return Interval(first, first if whole or self.dice.often(0.6) else second)

    def _settled_element(self, element: Any, whole: bool) -> Any:
        if isinstance(element, Interval):
            return self._between(element, whole) if is_open_value(element) else element
        if getattr(element, "other_circuit", True) is None:
            return replace(element, other_circuit=self.dice.often(0.5))
        return element
