"""Numbers that somebody will act on: what is needed is rounded up, what is left or allowed is rounded down.

So a size that is bought as it was shown is never too small, and a number shown as enough is enough.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from circuitcheck.text import shown_number

#: Float noise, relative: a hair over a digit is that digit. As much as findings take two sums for equal.
NOISE = 1e-9

#: Digits beyond which two numbers are not told apart.
MOST_DIGITS = 9


def rounded_up(value: float, digits: int = 3) -> str:
    """The number with so many significant digits (never fewer than its whole part), none smaller than it is."""
    return _rounded(value, digits, math.ceil, -NOISE)


def rounded_down(value: float, digits: int = 3) -> str:
    """The number with so many significant digits (never fewer than its whole part), none larger than it is."""
    return _rounded(value, digits, math.floor, NOISE)


def up_to(value: float, decimals: int) -> str:
    """The number with so many decimals, rounded up: for a column of what is needed."""
    return _to_decimals(value, decimals, math.ceil, -NOISE)


def down_to(value: float, decimals: int) -> str:
    """The number with so many decimals, rounded down: for a column of what is there or left."""
    return _to_decimals(value, decimals, math.floor, NOISE)


def need_and_room(need: float, room: float, digits: int = 3) -> tuple[str, str]:
    """Both as text, the need rounded up and the room down, with as many digits as keep them in their true order.

    A need that is met is never shown larger than the room; one that is not, never as large as the room or smaller.
    """
    for more in range(digits, MOST_DIGITS):
        shown = rounded_up(need, more), rounded_down(room, more)
        if float(shown[0]) <= float(shown[1]) or need > room + NOISE * max(abs(need), abs(room)):
            return shown
    return shown_number(need, MOST_DIGITS), shown_number(room, MOST_DIGITS)


def beside_limit(value: float, limit: float, digits: int = 3, *, at_least: bool = False) -> tuple[str, str]:
    """A number and the most that it may be as text, that limit rounded down; ``at_least``: the least, rounded up.

    With as many digits as keep their true order: a number that is over its limit is shown over it, and no other.
    """
    over = limit - value if at_least else value - limit
    is_over = over > NOISE * max(abs(value), abs(limit))
    for more in range(digits, MOST_DIGITS):
        shown = shown_number(value, more), safe_limit(limit, more, at_least=at_least)
        first, last = map(float, shown)
        if is_over == (first < last if at_least else first > last):
            return shown
    return shown_number(value, MOST_DIGITS), shown_number(limit, MOST_DIGITS)


def safe_limit(limit: float, digits: int = 3, *, at_least: bool = False) -> str:
    """A limit as text: the most that something may be rounded down, the least (``at_least``) rounded up."""
    return rounded_up(limit, digits) if at_least else rounded_down(limit, digits)


def _rounded(value: float, digits: int, whole: Callable[[float], int], noise: float) -> str:
    if value == 0:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = _to_decimals(value, decimals, whole, noise)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _to_decimals(value: float, decimals: int, whole: Callable[[float], int], noise: float) -> str:
    scaled = value * 10**decimals
    rounded = whole(scaled + noise * abs(scaled)) / 10**decimals
    return f"{rounded + 0.0:.{decimals}f}"
