"""What is presumed and would make an answer another one if it were otherwise: on that the answer rests."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from circuitcheck.case.choice import Farthest
from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import Asked, Asker, Moved, outcome_of
from circuitcheck.checking.deciding import MOST_NAMED


def rested_on(asker: Asker, subject: Any, worst: Asked, rests_on: int) -> Sequence[OpenEntry]:
    """The entries of those read that are presumed, and make the worst answer another one if they are otherwise.

    rests_on: the set of all that were read, in the worst case and the best.

    Nobody asks each of them: where some together change nothing, none of these does, so they are parted in halves. What
    can be otherwise in more ways than one is asked by itself.
    """
    reading = asker.case.reading
    presumed = reading.entries_of(rests_on & asker.presumed & reading.assumed)
    if not presumed:
        return ()

    outcome = outcome_of(worst.answer)

    def turns(moved: Moved) -> bool:
        return outcome_of(asker.ask(subject, worst=True, moved=moved).answer) is not outcome

    def turning(entries: Sequence[OpenEntry]) -> list[OpenEntry]:
        if not entries or not turns(_at_their_last(entries)):
            return []
        if len(entries) == 1:
            return list(entries)
        half = len(entries) // 2
        return [*turning(entries[:half]), *turning(entries[half:])]

    if len(presumed) > MOST_NAMED:
        if not turns(_at_their_last(presumed)):
            return ()
        return turning(presumed[:MOST_NAMED]) or presumed[:MOST_NAMED]
    many_ways = [entry for entry in presumed if len(entry.possible.options) > 2]
    told = turning([entry for entry in presumed if entry not in many_ways])
    return [*told, *(each for each in many_ways if any(turns({each: value}) for value in each.possible.options[1:]))]


def _at_their_last(entries: Sequence[OpenEntry]) -> Farthest:
    return Farthest([(entry, entry.possible.options[-1]) for entry in entries])
