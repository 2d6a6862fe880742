"""Plain text in columns: how wide a text is on a fixed grid, text in lines, cells side by side."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence

from circuitcheck.text import shown_text

#: Halvings after which a width is found to far less than a column.
_HALVINGS = 40


def grid_width(text: str) -> int:
    """How many columns of a fixed grid the text takes."""
    if text.isascii():
        return len(text)
    return sum(_columns(character) for character in text)


def _columns(character: str) -> int:
    if unicodedata.combining(character) or unicodedata.category(character) in {"Mn", "Me", "Cf"}:
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def filled(text: str, width: int, *, first: str = "", rest: str = "") -> list[str]:
    """The text in lines of at most ``width`` columns, begun with ``first`` and ``rest``; long words are broken."""
    lines: list[str] = []
    line, start = "", first
    for word in shown_text(text).split(" "):
        room = max(4, width - grid_width(start))
        longer = f"{line} {word}" if line else word
        if grid_width(longer) <= room:
            line = longer
            continue
        if line:
            lines.append(start + line)
            start = rest
            room = max(4, width - grid_width(start))
        while grid_width(word) > room:
            head = _head(word, room)
            lines.append(start + head)
            word, start = word[len(head) :], rest
            room = max(4, width - grid_width(start))
        line = word
    lines.append((start + line).rstrip())
    return lines


def _head(word: str, room: int) -> str:
    """As much of a long word as there is room for, up to its last hyphen if it has one there."""
    used = 0
    for index, character in enumerate(word):
        used += _columns(character)
        if used > room:
            hyphen = word.rfind("-", 0, index)
            return word[: hyphen + 1 if hyphen > 1 else max(1, index)]
    return word


def padded(text: str, width: int, *, right: bool = False) -> str:
    """The text with blanks to ``width`` columns."""
    blanks = " " * max(0, width - grid_width(text))
    return blanks + text if right else text + blanks


def shared_widths(natural: Sequence[int], least: Sequence[int], shares: Sequence[float], room: int) -> list[int]:
    """Widths for columns that want ``natural`` and need ``least``: what is short is shared out by ``shares``.

    A column that wants less than its share gives the rest away; none gets less than it needs.
    """
    if sum(natural) <= room:
        return list(natural)

    def widths(level: float) -> list[int]:
        """Every column at its share of ``level``, no narrower than it needs and no wider than it wants."""
        bounds = zip(natural, least, shares, strict=True)
        return [int(min(want, max(need, level * share))) for want, need, share in bounds]

    low, high = 0.0, max(want / share for want, share in zip(natural, shares, strict=True))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if sum(widths(middle)) <= room else (low, middle)
    return widths(low)


def side_by_side(
    cells: Sequence[Sequence[str]], widths: Sequence[int], right: Sequence[bool], gap: str
) -> Iterator[str]:
    """Cells, each a list of lines, as lines of one table row."""
    for index in range(max(len(cell) for cell in cells)):
        yield gap.join(
            padded(cell[index] if index < len(cell) else "", width, right=to_right)
            for cell, width, to_right in zip(cells, widths, right, strict=True)
        ).rstrip()
