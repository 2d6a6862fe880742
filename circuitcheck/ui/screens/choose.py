"""A list to pick from, narrowed by typing. Returns the word picked, an empty text for "unknown", or None."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from circuitcheck.ui.rows import Row
from circuitcheck.ui.spans import Line, user_span, wrapped_lines
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.shown import shown


@dataclass(frozen=True, slots=True)
class Choice:
    """One line to pick: what is returned, how it reads, and a word more about it."""

    value: str
    text: str
    about: str = ""


class ChooseScreen(ModalScreen[str | None]):
    """A title, a field to narrow the list, and the list."""

    CSS_PATH = "choose.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,tab", "take", "Take it", priority=True, key_display="Enter"),
        Binding("escape", "dismiss_none", "As it was", key_display="Esc"),
        Binding("down", "move(1)", "Down", show=False, priority=True),
        Binding("up", "move(-1)", "Up", show=False, priority=True),
        Binding("pagedown", "move(8)", "Page down", show=False, priority=True),
        Binding("pageup", "move(-8)", "Page up", show=False, priority=True),
    ]

    def __init__(self, title: str, choices: Sequence[Choice], current: str = "", about: str = "") -> None:
        """Takes the question, the lines to pick from, the one picked now, and a sentence about the question."""
        super().__init__()
        self._title = title
        self._choices = choices
        self._current = current
        self._about = about

    def compose(self) -> ComposeResult:
        """Question, filter, list."""
        with Vertical(id="sheet"):
            yield Static(shown(self._title, "strong"), id="question")
            if self._about:
                yield Static(shown(self._about, "dim"), id="about")
            yield Input(placeholder="type to narrow the list", id="filter", compact=True)
            yield LineList(id="choices")
            yield KeyLine()

    def on_mount(self) -> None:
        """Shows every line and stands on the current one."""
        self._show("")
        self.query_one(LineList).stand_on(self._current)
        self.query_one("#filter", Input).focus()

    def _show(self, text: str) -> None:
        wanted = text.casefold().split()
        found = [
            choice
            for choice in self._choices
            if all(word in f"{choice.text} {choice.about}".casefold() for word in wanted)
        ]
        found.sort(key=lambda choice: not choice.text.casefold().startswith(text.casefold().strip()))
        best = found[0].value if found and wanted else None
        self.query_one(LineList).show_rows([self._row(choice) for choice in found], best)

    def _row(self, choice: Choice) -> Row:
        mark = "● " if choice.value == self._current else "  "
        line: Line = ((mark, "added"), user_span(choice.text, "value"))
        if not choice.about:
            return Row(choice.value, line)
        return Row(
            choice.value, line, more=lambda width: wrapped_lines(user_span(choice.about)[0], width, "dim", "    ")
        )

    @on(Input.Changed, "#filter")
    def _narrowed(self, event: Input.Changed) -> None:
        event.stop()
        self._show(event.value)

    @on(LineList.Chosen)
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        self.dismiss(str(event.item))

    def action_move(self, step: int) -> None:
        """Moves in the list while the field keeps the focus."""
        choices = self.query_one(LineList)
        choices.action_move(step) if abs(step) == 1 else choices.action_page(step // abs(step))

    def action_take(self) -> None:
        """Takes the line one stands on."""
        item = self.query_one(LineList).item
        if item is not None:
            self.dismiss(str(item))

    def action_dismiss_none(self) -> None:
        """Leaves without picking."""
        self.dismiss(None)
