"""Lines of plain text: how wide, how much, wrapped, with a rule under a title. User text is made visible here."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from circuitcheck.text import shown_text


@dataclass(frozen=True, slots=True)
class PageStyle:
    """How much to show.

    ``working``: every finding with working and sources, and the answer once more at the end; else what passes stands
    in short lines. ``brief``: the sentences only.
    """

    width: int = 80
    working: bool = False
    brief: bool = False


def ruled(title: str, style: PageStyle) -> Iterator[str]:
    """A title with a rule under it."""
    yield from wrapped(title, style)
    yield "-" * min(style.width, max(8, len(title)))


def wrapped(text: str, style: PageStyle, *, indent: str = "", bullet: str = "") -> list[str]:
    """The text in lines of the page's width; lines after the first hang under the text of a short bullet."""
    shown = shown_text(text)
    if shown and len(indent) + len(bullet) + len(shown) <= style.width and not shown[-1].isspace():
        return [indent + bullet + shown]  # most lines are short, and looking for places to break takes far longer
    return textwrap.wrap(
        shown,
        style.width,
        initial_indent=indent + bullet,
        subsequent_indent=indent + (" " * len(bullet) if len(bullet) <= 2 else "  "),
        break_on_hyphens=False,
    )


def wrapped_all(label: str, texts: Iterable[str], style: PageStyle, *, indent: str = "    ") -> Iterator[str]:
    """Each text on lines of its own, with the label before it."""
    for text in texts:
        yield from wrapped(text, style, indent=indent, bullet=label)
