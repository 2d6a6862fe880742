"""Our own sentences set as print has them: ``15.5 in^3`` becomes ``15.5 in³``; and figures of a column alike."""

from __future__ import annotations

import re

from circuitcheck.quantities import down_to, up_to

_UNITS = (
    (re.compile(r"(?<=\d )in\^3\b"), "in³"),
    (re.compile(r"(?<=\d )cm\^3\b"), "cm³"),
    (re.compile(r"(?<=\d )mm\^2\b"), "mm²"),
    (re.compile(r"(?<=\d )deg([CF])\b"), r"°\1"),
)


def typeset(text: str) -> str:
    """The text with units after numbers as print has them."""
    for pattern, printed in _UNITS:
        text = pattern.sub(printed, text)
    return text


def needed(low: float, high: float, decimals: int) -> str:
    """One number that is needed or drawn, in a column with so many decimals: rounded up; of two the lesser down."""
    last = up_to(high, decimals)
    return last if up_to(low, decimals) == last else f"{down_to(low, decimals)} to {last}"


def allowed(low: float, high: float, decimals: int) -> str:
    """One or two numbers that are there, left or allowed, in a column with so many decimals: each rounded down."""
    first, last = down_to(low, decimals), down_to(high, decimals)
    return last if first == last else f"{first} to {last}"


def figures(low: float, high: float, decimals: int) -> str:
    """One or two numbers with the same decimals throughout a column: ``2.10 to 2.74``."""
    first, last = f"{low:,.{decimals}f}", f"{high:,.{decimals}f}"
    return last if first == last else f"{first} to {last}"
