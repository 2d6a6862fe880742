"""The values of each open entry in the order in which they get worse for one rule, and which of them are tried."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from typing import Any

from circuitcheck.case import BY_VALUE, EACH, Case, CaseRule, Direction
from circuitcheck.case.choice import Settled
from circuitcheck.case.entry import OpenEntry

#: In so many ways the order of the values of one entry is kept that hangs on other entries.
_MOST_LOOKED_AT = 64


class UndeclaredError(Exception):
    """A rule read an open entry of which it does not say which way is worse. Raised in tests only."""


class ValuesInOrder:
    """The values of the entries of one circuit for one rule."""

    def __init__(
        self, rule: CaseRule[Any], case: Case, turned_each: Callable[[OpenEntry], None], *, strict: bool
    ) -> None:
        """``turned_each``: told of an entry of which it turns out that no way is always worse.

        ``strict``: an entry that the rule reads and does not declare raises ``UndeclaredError``.
        """
        self.rule, self.case, self.strict = rule, case, strict
        #: What stands in every worst (or best) case, whatever the others are.
        self.settled = {True: Settled(), False: Settled()}
        self._turned_each = turned_each
        self._directions: dict[OpenEntry, Direction] = {}
        #: The values of entries whose direction looks at nothing else.
        self._values: dict[OpenEntry, tuple[Any, ...]] = {}
        #: The same of the others: by an entry the entries that were looked at, and by their values its own in order.
        self._looked_at: dict[OpenEntry, tuple[tuple[OpenEntry, ...], dict[tuple[Any, ...], tuple[Any, ...]]]] = {}

    def values(self, entry: OpenEntry) -> tuple[Any, ...]:
        """Every value at which an entry is tried, the best first where the rule says which way is worse."""
        kept = self._values.get(entry)
        if kept is None:
            reading = self.case.reading
            if entry not in self._looked_at and self._looks_at_nothing(entry):
                kept = self._settle(entry, self._ordered(entry))
            elif reading.choosing:
                kept = self._values_in_case(entry)
            else:
                with reading.at(reading.first):
                    kept = self._values_in_case(entry)
        return kept

    def _looks_at_nothing(self, entry: OpenEntry) -> bool:
        """Whether the order of the values of an entry surely hangs on nothing but the values."""
        rule, kind = self.rule, entry.kind
        if kind in rule.points or kind in rule.turns:
            return self.presumes(entry)
        return self._directions.get(entry, rule.worse.get(kind, EACH)) in BY_VALUE or self.presumes(entry)

    def _values_in_case(self, entry: OpenEntry) -> tuple[Any, ...]:
        """The same in the case that is asked about: what it looks at having the same values, it is the same."""
        reading = self.case.reading
        looked_at = self._looked_at.get(entry)
        if looked_at is not None:
            kept = looked_at[1].get(reading.values(looked_at[0]))
            if kept is not None:
                return kept
        with reading.apart():
            kept = self._ordered(entry)
            entries = reading.reads
        if not entries:  # in another case it is the same
            return self._settle(entry, kept)
        if looked_at is None or looked_at[0] != entries or len(looked_at[1]) >= _MOST_LOOKED_AT:
            looked_at = self._looked_at[entry] = entries, {}
        looked_at[1][reading.values(entries)] = kept
        for settled in self.settled.values():
            settled.hangs_on(entry, entries)
        return kept

    def _settle(self, entry: OpenEntry, values: tuple[Any, ...]) -> tuple[Any, ...]:
        self._values[entry] = values
        for worst, settled in self.settled.items():
            settled.settle(entry, standing(entry, values, worst))
        return values

    def _ordered(self, entry: OpenEntry) -> tuple[Any, ...]:
        """Its values in order. Where that looks at other entries, a case is asked about."""
        options: tuple[Any, ...] = entry.possible.options
        if self.presumes(entry):
            return options[:1]
        alike = self.rule.alike.get(entry.kind)
        if alike is not None:
            book = self.case.book
            first = {alike(option, book): option for option in reversed(options)}
            options = tuple([option for option in options if first[alike(option, book)] == option])
        points = self.rule.points.get(entry.kind) or self.rule.turns.get(entry.kind)
        if points is not None and len(options) > 1:
            options = (*options, *points(options[0], options[-1], entry.part, self.case))
        direction = self.direction(entry)
        if direction is EACH or len(options) == 1:
            return options
        keys = {value: direction(value, entry.part, self.case) for value in options}
        if EACH in keys.values():  # in this case no way is always worse, whatever it was in another
            self._directions[entry] = EACH
            self._looked_at.pop(entry, None)
            self._turned_each(entry)
            return options
        return tuple(sorted(options, key=keys.__getitem__))

    def words_like(self, entry: OpenEntry, value: Any) -> int:
        """For how many options of an entry a value stands that is tried: itself, and those alike for the rule."""
        alike, book = self.rule.alike.get(entry.kind), self.case.book
        if alike is None:
            return 1
        return max(1, sum(1 for option in entry.possible.options if alike(option, book) == alike(value, book)))

    def presumes(self, entry: OpenEntry) -> bool:
        """Whether an entry counts as its first option, since the table presumes so and the rule does not doubt it."""
        return entry.possible.presumed and entry.kind not in self.rule.doubts

    @property
    def presumed(self) -> int:
        """The set of the entries that count as their first option."""
        reading = self.case.reading
        presumed = reading.presumed
        for kind in self.rule.doubts:
            presumed &= ~reading.of_kind.get(kind, 0)
        return presumed

    @property
    def movable(self) -> int:
        """The set of the entries that can be one thing or another, within bounds."""
        return self.case.reading.several & ~self.presumed

    def direction(self, entry: OpenEntry) -> Direction:
        """Which way an entry is worse; ``EACH`` where the rule does not say, or says so of the part it belongs to."""
        direction = self._directions.get(entry)
        if direction is None:
            direction = self.rule.worse.get(entry.kind, EACH)
            if direction not in BY_VALUE:
                with self._some_case(), self.case.reading.apart():
                    if direction(entry.possible.options[0], entry.part, self.case) is EACH:
                        direction = EACH
            self._directions[entry] = direction
        return direction

    def _some_case(self) -> AbstractContextManager[Any]:
        """A direction may read other entries: those of the case that is asked about, else their first option."""
        reading = self.case.reading
        return nullcontext() if reading.choosing else reading.at(reading.first)

    def tries_each(self, entry: OpenEntry) -> bool:
        """Whether an entry is tried at every value; one without a bound stands at its near end unless it is moved."""
        if len(entry.possible.options) == 1 or self.presumes(entry):
            return False
        if entry.kind in self.rule.points:
            return entry.possible.bounded or self.direction(entry) is EACH
        if self.strict and entry.kind not in self.rule.worse:
            raise UndeclaredError(f"{self.rule.name} reads {entry.kind}")
        return entry.possible.bounded and self.direction(entry) is EACH


def standing(entry: OpenEntry, values: tuple[Any, ...], worst: bool) -> Any:
    """The value of an entry in the worst (or the best) case."""
    return values[-1] if worst and entry.possible.bounded else values[0]
