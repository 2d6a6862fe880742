"""A physical value as known: between two ends, with a word on how it is known."""

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
