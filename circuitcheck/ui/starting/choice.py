"""One thing to pick: the value, how it reads, and the key that picks it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

UNKNOWN = ""

#: Letters that pick, in order. Left out are those that move, go back, leave a question unknown or mean a number.
LETTERS = "abcdefghimnoprstvwxyz"


@dataclass(frozen=True, slots=True)
class Choice:
    """A choice. ``key`` picks it at once; empty where there are more choices than letters."""

    value: str
    text: str
    key: str = "u"


DO_NOT_KNOW = Choice(UNKNOWN, "I do not know")


def choices_of(pairs: Iterable[tuple[str, str]], unknown: Choice | None = DO_NOT_KNOW) -> tuple[Choice, ...]:
    """Choices of (value, text), "I do not know" before them, each with its key: a number picks itself."""
    listed = list(pairs)
    numbers = all(text.isdigit() and len(text) == 1 for _, text in listed)
    keys = [text for _, text in listed] if numbers else [*LETTERS, *[""] * len(listed)]
    made = tuple(Choice(value, text, key) for (value, text), key in zip(listed, keys, strict=False))
    return (unknown, *made) if unknown else made
