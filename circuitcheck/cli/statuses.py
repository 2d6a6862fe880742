"""Exit statuses, as the README promises them to scripts."""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.cli.entry import INTERRUPTED as INTERRUPTED
from circuitcheck.findings import Verdict

FITS = 0
FAILS = 1
WRONG_INPUT = 2
UNDETERMINED = 3
FAULT = 4

_OF_VERDICT = {Verdict.FITS: FITS, Verdict.DOES_NOT_FIT: FAILS, Verdict.UNDETERMINED: UNDETERMINED}

#: Worst first: no answer at all is worse than a bad one, and a fault of the program is worst.
_WORST_FIRST = (FAULT, WRONG_INPUT, FAILS, UNDETERMINED, FITS)


def status_of(verdict: Verdict) -> int:
    """The exit status for one circuit."""
    return _OF_VERDICT[verdict]


def worst(statuses: Iterable[int]) -> int:
    """The exit status for several circuits: the worst of theirs."""
    found = set(statuses)
    return next((status for status in _WORST_FIRST if status in found), FITS)
