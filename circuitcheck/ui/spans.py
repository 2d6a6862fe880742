"""Lines made of spans: a piece of text and the role it plays. Screens give roles a look, plain pages drop them."""

from __future__ import annotations

from rich.cells import cell_len, chop_cells, set_cell_size

from circuitcheck.findings import Finding, Outcome
from circuitcheck.text import shown_text

#: A piece of a line and its role: one of ROLES.
Span = tuple[str, str]
Line = tuple[Span, ...]

ROLES = ("plain", "dim", "strong", "name", "added", "rail", "fail", "unknown", "caution", "pass", "value", "full")

OUTCOME_ROLE: dict[Outcome, str] = {
    Outcome.FAIL: "fail",
    Outcome.UNDETERMINED: "unknown",
    Outcome.CAUTION: "caution",
    Outcome.PASS: "pass",
}


def role_of(finding: Finding) -> str:
    """The role in which a finding's mark and word are shown."""
    return OUTCOME_ROLE[finding.outcome]


def user_span(text: str, role: str = "plain") -> Span:
    """Text that a user wrote, everything invisible spelled out."""
    return shown_text(text), role


def line_text(line: Line) -> str:
    """The line without its roles."""
    return "".join(text for text, _ in line)


def cut(text: str, width: int) -> str:
    """The text in at most ``width`` cells, an ellipsis where something is left out."""
    return text if cell_len(text) <= width else set_cell_size(text, max(width - 1, 1)).rstrip() + "…"


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most ``width`` cells, broken between words, and within a word only when it is longer."""
    width = max(width, 4)
    lines: list[str] = []
    current = ""
    for word in text.split():
        candidate = f"{current} {word}" if current else word
        if cell_len(candidate) <= width:
            current = candidate
            continue
        if current:
            lines.append(current)
        pieces = chop_cells(word, width) if cell_len(word) > width else [word]
        lines.extend(pieces[:-1])
        current = pieces[-1]
    if current or not lines:
        lines.append(current)
    return lines


def wrapped_lines(text: str, width: int, role: str = "plain", indent: str = "") -> list[Line]:
    """The text as wrapped lines of one role, each starting with ``indent``."""
    return [((indent, "plain"), (piece, role)) for piece in wrapped(text, width - len(indent))]
