"""Lines of plain text: how wide, how much, wrapped, with a rule under a title. User text is made visible here.

Lengths are in cells of a terminal: a wide letter takes two, a mark over another letter none.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from circuitcheck.cli.colors import Color, painted
from circuitcheck.text import shown_text

#: The last letter of the Latin blocks, and our own marks and signs: one cell each, and nothing to look up.
_LAST_LATIN = "\u024f"
_NARROW = frozenset("✗✓•–—…→≤≥≈×·°Ω²³½¼¾‘’“”")


@dataclass(frozen=True, slots=True)
class PageStyle:
    """How much to show.

    ``working``: every finding with working and sources, and the answer once more at the end; else what passes stands
    in short lines. ``brief``: the sentences only. ``color``: marks, words of answers and titles are colored.
    """

    width: int = 80
    working: bool = False
    brief: bool = False
    color: bool = False


def ruled(title: str, style: PageStyle) -> Iterator[str]:
    """A title with a rule under it."""
    lines = wrapped(title, style)
    yield from (painted(line, Color.TITLE) for line in lines) if style.color else lines
    yield "-" * min(style.width, max(8, max(map(cells, lines), default=0)))


def wrapped(
    text: str, style: PageStyle, *, indent: str = "", bullet: str = "", color: Color | None = None
) -> list[str]:
    """The text in lines of the page's width; lines after the first hang under the text of a short bullet.

    ``color`` is that of the bullet, where the page has colors.
    """
    shown = shown_text(text)
    rest = indent + (" " * len(bullet) if len(bullet) <= 2 else "  ")
    if not _is_narrow(shown):
        from circuitcheck.paper.columns import filled

        lines = filled(text, style.width, first=indent + bullet, rest=rest)
    elif shown and len(indent) + len(bullet) + len(shown) <= style.width and not shown[-1].isspace():
        lines = [indent + bullet + shown]  # most lines are short, and looking for places to break takes far longer
    else:
        lines = textwrap.wrap(
            shown, style.width, initial_indent=indent + bullet, subsequent_indent=rest, break_on_hyphens=False
        )
    if color is not None and style.color and lines:
        mark = bullet.rstrip()
        lines[0] = lines[0].replace(mark, painted(mark, color), 1)
    return lines


def cells(text: str) -> int:
    """How many cells of a terminal the text takes."""
    if _is_narrow(text):
        return len(text)
    from circuitcheck.paper.columns import grid_width

    return grid_width(text)


def _is_narrow(text: str) -> bool:
    """Whether every character surely takes one cell."""
    return text.isascii() or all(character <= _LAST_LATIN or character in _NARROW for character in text)


def wrapped_all(label: str, texts: Iterable[str], style: PageStyle, *, indent: str = "    ") -> Iterator[str]:
    """Each text on lines of its own, with the label before it."""
    for text in texts:
        yield from wrapped(text, style, indent=indent, bullet=label)
