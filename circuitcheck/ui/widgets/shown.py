"""The one way by which user text reaches a widget: as styled content, never as markup."""

from __future__ import annotations

from collections.abc import Iterable

from textual.content import Content

from circuitcheck.text import shown_text
from circuitcheck.ui.spans import Line

#: The look of each role, in theme variables only, so that every theme keeps its contrast.
ROLE_STYLE: dict[str, str] = {
    "plain": "",
    "dim": "$text-muted",
    "strong": "bold",
    "name": "bold",
    "added": "bold $text-accent",
    "rail": "$text-muted",
    "fail": "bold $text-error",
    "unknown": "bold $text-primary",
    "caution": "bold $text-warning",
    "pass": "$text-success",
    "value": "",
    "full": "bold $text-error",
}


def shown(text: str, role: str = "plain") -> Content:
    """User text on one line."""
    return Content.styled(shown_text(text), ROLE_STYLE[role])


def shown_line(line: Line) -> Content:
    """A line of spans (their user text has been made visible already)."""
    return Content.assemble(*((text, ROLE_STYLE[role]) for text, role in line))


def shown_lines(lines: Iterable[Line]) -> Content:
    """Several lines of spans."""
    return Content("\n").join([shown_line(line) for line in lines])
