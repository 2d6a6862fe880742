"""The numbers of a finding: its value, and the least and the most that it can be in the cases that were asked about."""

from __future__ import annotations

from typing import NamedTuple

from circuitcheck.checking.asking import Asked


class Numbers(NamedTuple):
    """None: there is none, or nobody can tell."""

    value: float | None
    low: float | None
    high: float | None


def numbers_of(
    value: float | None, ends: tuple[Asked, Asked], far_values: tuple[float, ...], *, endless: bool, at_least: bool
) -> Numbers:
    """``ends``: the worst and the best case. ``far_values``: those of cases in which something goes far.

    endless: nothing is the worst that it can be. at_least: less is worse.
    """
    worst, best = ends
    if not (worst.complete and best.complete):  # what was not tried may be more, or less
        return Numbers(None, None, None)
    values = (*worst.values, *best.values, *far_values)
    low, high = (min(values), max(values)) if values else (None, None)
    nothing_at_best = bool(worst.values) and not best.values
    if nothing_at_best:  # nothing is the best that it can be
        low, high = (low, None) if at_least else (None, high)
    if endless:
        low, high = (None, high) if at_least else (low, None)
    return Numbers(value, low, high)
