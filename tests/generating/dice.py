"""Chance with a seed: the same seed always throws the same."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Shares:
    """How much of a circuit is left open.

    left_out: share of the entries that a user could not find out (0: everything is known). ranges, guesses: share of
    the values written as a range and with "about", or called a guess. readings: share of the entries that may be
    absent for good (``possible.READINGS``) and are there nevertheless. odd: share of the values that lie anywhere in
    what the file accepts, and of the names that are hard to read.
    """

    left_out: float = 0.3
    ranges: float = 0.15
    guesses: float = 0.07
    readings: float = 0.35
    odd: float = 0.1


#: Every entry is written, as one value that is no guess.
KNOWN = Shares(left_out=0.0, ranges=0.0, guesses=0.0)


class Dice:
    """Draws from one seed."""

    def __init__(self, seed: int | str) -> None:
        self.random = random.Random(seed)

    def often(self, share: float) -> bool:
        """True in this share of the throws."""
        return self.random.random() < share

    def of(self, choices: Sequence[Any]) -> Any:
        """One of these, each as likely."""
        return choices[int(self.random.random() * len(choices))]

    def weighted(self, choices: Sequence[tuple[Any, float]]) -> Any:
        """One of these pairs' first, by their second."""
        return self.random.choices([choice for choice, _ in choices], [weight for _, weight in choices])[0]

    def whole(self, least: int, greatest: int) -> int:
        """A whole number, both ends included."""
        return self.random.randint(least, greatest)

    def between(self, low: float, high: float) -> float:
        """A number between two ends: now and then an end itself; by ratio where the ends lie far apart."""
        if low >= high or self.often(0.05):
            return low
        if self.often(0.05):
            return high
        if low > 0 and high / low > 20:
            return min(high, max(low, math.exp(self.random.uniform(math.log(low), math.log(high)))))
        return self.random.uniform(low, high)

    def some(self, choices: Sequence[Any]) -> list[Any]:
        """None to all of these, in their order."""
        return [choice for choice in choices if self.often(0.5)]
