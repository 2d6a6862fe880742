"""What is presumed and would make an answer another one if it were otherwise: on that the answer rests."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import Asked, Asker, Moved, outcome_of
from circuitcheck.checking.deciding import MOST_NAMED

#: Up to so many entries that are presumed are each looked at by itself.
_MOST_ALONE = 4


def rested_on(asker: Asker, subject: Any, worst: Asked, reads: Sequence[OpenEntry]) -> list[OpenEntry]:
    """The entries of those read that are presumed, and make the worst answer another one if they are otherwise.

    In a large circuit nobody asks each of them: where all of them together change nothing, none of them does.
    """
    presumed = [entry for entry in reads if asker.presumes(entry) and entry.possible.assumed]

    def turns(moved: Moved) -> bool:
        return outcome_of(asker.ask(subject, worst=True, moved=moved).answer) is not outcome_of(worst.answer)

    if not presumed or (len(presumed) > _MOST_ALONE and not turns(asker.at_their_last(tuple(presumed)))):
        return []
    told = [
        entry for entry in presumed[:MOST_NAMED] if any(turns({entry: value}) for value in entry.possible.options[1:])
    ]
    return told or (presumed[:MOST_NAMED] if len(presumed) > MOST_NAMED else [])
