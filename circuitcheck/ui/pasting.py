"""Pasted text: one line goes into the open field; more are taken one by one where that works, else refused aloud."""

from __future__ import annotations

from textual.widget import Widget
from textual.widgets import Input


class ManyLines(Input):
    """A field that takes several lines one after the other; the page that holds it says how."""


def pasted_line(text: str) -> str:
    """The text without the line ends around it."""
    return text.strip("\r\n")


def paste_refusal(text: str, focused: Widget | None) -> str:
    """Why pasted text is not taken, in words; empty where it is."""
    lines = len([line for line in text.splitlines() if line.strip()])
    if not isinstance(focused, Input):
        return "Nothing was pasted: no field is open here. Enter opens the selected entry."
    if lines > 1 and not isinstance(focused, ManyLines):
        return f"Nothing was pasted: {lines} lines, and one line goes into this field."
    return ""
