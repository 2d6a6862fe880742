"""Units again at the exit: an SI float leaves the program only beside its unit."""

from __future__ import annotations

from circuitcheck.quantities.interval import Interval
from circuitcheck.quantities.registry import in_unit
from circuitcheck.text import shown_number

_SYMBOLS = {"percent": "%"}


def shown(value_si: float, unit: str, digits: int = 3) -> str:
    """An SI value with its unit, for people: ``shown(2.54e-4, "in^3")`` is ``15.5 in^3``."""
    return f"{shown_number(in_unit(value_si, unit), digits)} {_SYMBOLS.get(unit, unit)}".rstrip()


def normalised(interval: Interval, unit: str, digits: int = 4) -> str:
    """The interval in one unit: ``60 ft``, or ``45 ft to 75 ft``. What a guess stands for, not how it was written."""
    low = shown(interval.low, unit, digits)
    high = shown(interval.high, unit, digits)
    return low if low == high else f"{low} to {high}"
