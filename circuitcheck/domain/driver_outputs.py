"""Drivers with several outputs, each a source of its own with its share of the rating."""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.case.parts import Driver


def outputs_of(driver: Driver) -> int:
    """How many outputs share its rating equally; a label that names none has one."""
    return driver.outputs or 1


def largest_share(watts: Iterable[float], outputs: int) -> float:
    """The watts on the output that gets most, with each run on the output that has least so far, the largest first [W].

    Runs are never split. So they are shared out well, though not always in the best way there is.
    """
    given = [0.0] * outputs
    for each in sorted(watts, reverse=True):
        least = min(range(outputs), key=given.__getitem__)
        given[least] += each
    return max(given)
