"""What was worked out from what was read, found again by the values of what it read."""

from __future__ import annotations

from collections.abc import Callable
from operator import itemgetter
from typing import Any, NamedTuple

from circuitcheck.case.choice import Choice

#: In so many ways of what is read at all results are kept of one function and subject, and so many for each of them.
_MOST_GROUPS, _MOST_KEPT = 16, 192
#: With so many cases, on which others stand, a case is compared at most.
_MOST_BASES = 8
#: Up to so many entries all their values are looked at.
_FEW = 10
#: In how many cases from which others differ a result is known to hold.
_MOST_STANDING = 8


class Result:
    """Something worked out in one case, with the set of entries that it rests on."""

    __slots__ = ("choice", "made", "rests_on")

    def __init__(self, made: Any, rests_on: int, choice: Choice) -> None:
        """``rests_on``: as bits; ``choice``: the case."""
        self.made, self.rests_on, self.choice = made, rests_on, choice


class _Group(NamedTuple):
    """The results that rest on the same entries.

    few: gives their values in a case, where they are few. bases: by the number of a case on which others stand, and by
    the entries that hang on others there, the first case in which the rest of them have the same values. results: by
    what is moved from that one; of few entries by their values.
    """

    few: Callable[[Choice], Any] | None
    bases: dict[tuple[int, int], Choice]
    results: dict[Any, Result]


class Kept:
    """The results of one function for one subject, found again by the values of what they read.

    closed: the one that read nothing open. last: the one that held last, in the case of the number ``generation``.
    standing: those that hold in cases from which others differ by what is moved, by the numbers of the cases.
    groups: all, by the entries that they rest on.
    """

    __slots__ = ("closed", "generation", "groups", "last", "standing")

    def __init__(self) -> None:
        """Nothing is kept yet."""
        self.closed: Result | None = None
        self.last: Result | None = None
        self.generation = -1
        self.standing: dict[int, Result] = {}
        self.groups: dict[int, _Group] = {}

    def keep(self, result: Result) -> None:
        """Keep a result for when what it read has the same values again."""
        rests_on, choice = result.rests_on, result.choice
        if not rests_on:
            self.closed = result
            return
        self._holds_in(choice, result, choice.otherwise)
        group = self.groups.get(rests_on)
        if group is None:
            if len(self.groups) >= _MOST_GROUPS:
                del self.groups[next(iter(self.groups))]
            few = itemgetter(*choice.reading.in_any_order(rests_on)) if rests_on.bit_count() <= _FEW else None
            group = self.groups[rests_on] = _Group(few, {}, {})
        results = group.results
        if len(results) >= _MOST_KEPT:
            del results[next(iter(results))]
        results[group.few(choice) if group.few else _key(choice, rests_on, group)] = result

    def found(self, choice: Choice) -> Result | None:
        """The result that holds in a case."""
        result, otherwise = self.standing.get(choice.base.generation), choice.otherwise
        if result is not None and not result.rests_on & otherwise:
            self.last, self.generation = result, choice.generation
            return result
        # What rests on nothing that is otherwise here would hold in the case on which this one stands, too.
        looked_at = -1 if result is None else otherwise
        for rests_on, group in self.groups.items():
            if not rests_on & looked_at:
                continue
            result = group.results.get(group.few(choice) if group.few else _key(choice, rests_on, group))
            if result is not None and (not choice.moves_many or choice.agrees(result.choice, rests_on)):
                self._holds_in(choice, result, otherwise)
                return result
        return None

    def _holds_in(self, choice: Choice, result: Result, otherwise: int) -> None:
        """``otherwise``: what may have other values in this case than in the one on which it stands."""
        self.last, self.generation = result, choice.generation
        base = choice.base
        if base is choice or not result.rests_on & otherwise:
            standing = self.standing
            if len(standing) >= _MOST_STANDING and base.generation not in standing:
                del standing[next(iter(standing))]
            standing[base.generation] = result


def _key(choice: Choice, entries: int, group: _Group) -> Any:
    """What tells the values of a set of many entries in a case: what is moved from which case."""
    base, bases = choice.base, group.bases
    hanging = entries & choice.otherwise & ~choice.moved  # what these are hangs on what is moved
    same = bases.get((base.generation, hanging))
    if same is None:
        if len(bases) >= _MOST_BASES:
            bases.clear()
        known = (other for (_, apart), other in bases.items() if apart == hanging)
        same = next((other for other in known if base.agrees(other, entries & ~hanging)), base)
        bases[base.generation, hanging] = same
    moves = choice.moves_of(entries) if choice.moved else ()
    if not hanging:
        return same.generation, moves
    apart = tuple([choice[entry] for entry in choice.reading.entries_of(hanging)])
    return same.generation, moves, hanging, apart
