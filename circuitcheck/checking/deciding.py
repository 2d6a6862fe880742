"""Which open entries an open answer depends on: those that, moved alone, turn it, and those that turn it after them."""

from __future__ import annotations

from collections.abc import Sequence
from types import MappingProxyType
from typing import Any

from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import Asked, Asker, Moved, other_values, worse_value

#: How many single moves are tried for one answer; past that every entry that can differ is named.
MOST_MOVES = 80
#: After so many cases of one circuit a rule is asked about no more to find what decides: all that can differ is named.
MOST_TRIES = 2000
#: How many entries one answer names at most.
MOST_NAMED = 24


def deciding(
    asker: Asker, subject: Any, worst: Asked, best: Asked, given: Moved = MappingProxyType({})
) -> tuple[OpenEntry, ...]:
    """The entries to find out for an answer that fails at worst and not at best, those that turn it alone first.

    Then once more with those at the value that leaves it open, so that nobody climbs up a second time for the next
    question. ``given``: entries that stand at a value of their own in both cases. Where no entry turns the answer
    alone, a least set that turns it together is named.
    """
    movable = [
        entry for entry in dict.fromkeys((*worst.reads, *best.reads)) if asker.movable(entry) and entry not in given
    ]
    if len(movable) > MOST_MOVES or asker.tries > MOST_TRIES:
        return tuple(movable[:MOST_NAMED])
    alone = [
        entry for entry in movable if asker.tries <= MOST_TRIES and _turns(asker, subject, entry, given, worst, best)
    ]
    if asker.tries > MOST_TRIES:
        return tuple(movable[:MOST_NAMED])
    named = alone or _together(asker, subject, movable, given)
    at_best = {**given, **{entry: asker.values(entry)[0] for entry in named}}
    if asker.fails(subject, worst=True, moved=at_best):
        rest = [entry for entry in movable if entry not in at_best]
        then = asker.ask(subject, worst=True, moved=at_best), asker.ask(subject, worst=False, moved=at_best)
        after = [entry for entry in rest if _turns(asker, subject, entry, at_best, *then)]
        named = [*named, *(after or _together(asker, subject, rest, at_best))]
    return tuple(named[:MOST_NAMED])


def _turns(asker: Asker, subject: Any, entry: OpenEntry, moved: Moved, worst: Asked, best: Asked) -> bool:
    """Whether an entry, moved alone, makes a failure of none or the other way round.

    ``worst``, ``best``: what is answered before it is moved; a case that does not read it stays as it is.
    """
    return (
        entry in worst.reads
        and any(
            not asker.fails(subject, worst=True, moved={**moved, entry: value})
            for value in other_values(asker, entry, worst=True)
        )
    ) or (
        entry in best.reads
        and any(
            asker.fails(subject, worst=False, moved={**moved, entry: value})
            for value in other_values(asker, entry, worst=False)
        )
    )


def _together(asker: Asker, subject: Any, movable: Sequence[OpenEntry], moved: Moved) -> list[OpenEntry]:
    """A least set of entries that, moved together from the best to the worst, makes it fail."""
    taken: dict[OpenEntry, Any] = {}
    for entry in movable:
        taken[entry] = worse_value(asker, entry)
        if asker.fails(subject, worst=False, moved={**moved, **taken}):
            break
    else:
        return list(movable)
    for entry in list(taken):
        fewer = {other: value for other, value in taken.items() if other is not entry}
        if asker.fails(subject, worst=False, moved={**moved, **fewer}):
            taken = fewer
    return list(taken)
