"""A line drawing as strips from top to bottom, each of a known height, so that a page may break between any two.

Lengths are in points of the form that shows it; y grows downward and starts at the top of the strip.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from math import fsum

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points. ``closed``: back to the first one; ``filled``: with paper white, to hide what is below."""

    points: tuple[Point, ...]
    weight: float = 1.0
    dashed: bool = False
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle on paper white."""

    x: float
    y: float
    radius: float
    weight: float = 1.0
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """A piece of text in one line; ``y`` is its base line. ``anchor``: start, middle or end."""

    x: float
    y: float
    text: str
    size: float
    strong: bool = False
    anchor: str = "start"


Shape = Stroke | Ring | Words


@dataclass(frozen=True, slots=True)
class Strip:
    """One row of the drawing."""

    height: float
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """Strips under one another."""

    width: float
    strips: tuple[Strip, ...]

    @property
    def height(self) -> float:
        """The height of all strips together, the same in every version of Python: they add floats differently."""
        return fsum([strip.height for strip in self.strips])


def text_width(text: str, size: float) -> float:
    """About how wide the text is in a usual typeface, rather too wide than too narrow."""
    return size * sum(_advance(character) for character in text)


def _advance(character: str) -> float:
    if unicodedata.east_asian_width(character) in "WF":
        return 1.05
    if unicodedata.combining(character):
        return 0.0
    if character in "iljtfI.,:;'|!()[] -":
        return 0.36
    if character in "mwMW@%—…":
        return 0.95
    return 0.72 if character.isupper() else 0.58


def wrapped(text: str, size: float, width: float) -> list[str]:
    """The text in lines no wider than ``width``; a word that is wider by itself is broken."""
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if text_width(longer, size) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        while text_width(word, size) > width and len(word) > 1:
            cut = _fitting(word, size, width)
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    lines.append(line)
    return lines


def _fitting(word: str, size: float, width: float) -> int:
    """How many characters of the word fit, at least one."""
    used = 0.0
    for index, character in enumerate(word):
        used += size * _advance(character)
        if used > width:
            return max(1, index)
    return len(word)
