"""The page on which the questions for a new circuit end: the answer, what to do next, and where to go."""

from __future__ import annotations

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Static

from circuitcheck.ui.rows import choice_row
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.starting.choice import Choice
from circuitcheck.ui.starting.first_answer import FirstAnswer, answer_lines
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.shown import shown

#: Where to go: the name of the way, its key, and what it does.
WAYS = (
    ("next", "n", "Answer what settles most"),
    ("board", "b", "See the circuit and the findings"),
    ("save", "s", "Save it, then see the circuit"),
)


class FirstAnswerScreen(Screen[str]):
    """Returns where to go: ``next``, ``board`` or ``save``."""

    CSS_PATH = "first_answer.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", "Go there", key_display="Enter"),
        Binding("escape,q", "go('board')", "To the circuit", key_display="Esc"),
        Binding("pagedown", "scroll(1)", "More", priority=True, key_display="PgDn"),
        Binding("pageup", "scroll(-1)", "Up", show=False, priority=True),
    ]

    def __init__(self, answer: FirstAnswer) -> None:
        """Takes the answer."""
        super().__init__()
        self._answer = answer
        self._ways = WAYS if answer.questions else WAYS[1:]

    def compose(self) -> ComposeResult:
        """The answer, and where to go."""
        yield Static(shown("The first answer", "dim"), id="progress")
        yield PageText(lambda width: answer_lines(self._answer, width), id="first-answer")
        yield LineList(id="ways")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Shows the ways."""
        ways = self.query_one("#ways", LineList)
        ways.show_rows([choice_row(Choice(name, text, key)) for name, key, text in self._ways])
        ways.focus()

    def on_key(self, event: events.Key) -> None:
        """A way's own key goes there."""
        for name, key, _ in self._ways:
            if event.key == key:
                event.stop()
                self.dismiss(name)

    @on(LineList.Chosen, "#ways")
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        self.dismiss(str(event.item))

    def action_take(self) -> None:
        """Goes where one stands."""
        self.query_one("#ways", LineList).action_choose()

    def action_go(self, way: str) -> None:
        """Goes there."""
        self.dismiss(way)

    def action_scroll(self, step: int) -> None:
        """Scrolls the answer."""
        self.query_one(PageText).scroll_relative(y=step * 6, animate=False)
