"""Units at the door: text with a unit in, plain SI floats within, text with a unit out.

The one unit registry lives here, made on first use from our own short list of units, since the full registry of pint
costs more time than a whole check. A raw string is never handed to pint: our grammar finds number and unit first.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class How(StrEnum):
    """How the user knows a value. ``STATED`` is the plain value with no word about it."""

    STATED = "stated"
    MEASURED = "measured"
    LABEL = "label"
    GUESS = "guess"


@dataclass(frozen=True, slots=True)
class Interval:
    """A physical value as known: it lies between ``low`` and ``high`` (equal when exact), in one SI unit.

    ``how`` tells how it is known; ``text`` is what the user wrote, for showing it back.
    """

    low: float
    high: float
    how: How = How.STATED
    text: str = ""

    @property
    def exact(self) -> bool:
        """Whether both ends are the same."""
        return self.low == self.high
