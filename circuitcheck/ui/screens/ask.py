"""A question with a few answers, each a line with a key. Returns the answer's name, or None for staying."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from circuitcheck.ui.rows import Row
from circuitcheck.ui.spans import user_span
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.shown import shown


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer: its name, the key that gives it, and what it does."""

    name: str
    key: str
    text: str


class AskScreen(ModalScreen[str | None]):
    """A title, sentences, and the answers. Escape stays where one was."""

    CSS_PATH = "ask.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "stay", "Stay here")]

    def __init__(self, title: str, sentences: Sequence[str], answers: Sequence[Answer]) -> None:
        """Takes the question, what to say about it, and the answers."""
        super().__init__()
        self._title = title
        self._sentences = sentences
        self._answers = answers

    def compose(self) -> ComposeResult:
        """Question, sentences, answers."""
        with Vertical(id="sheet"):
            yield Static(shown(self._title, "strong"), id="question")
            for sentence in self._sentences:
                yield Static(shown(sentence), classes="sentence")
            yield LineList(id="answers")
            yield KeyLine()

    def on_mount(self) -> None:
        """Shows the answers."""
        rows = [Row(a.name, ((f" {a.key}  ", "added"), user_span(a.text, "value"))) for a in self._answers]
        answers = self.query_one(LineList)
        answers.show_rows(rows)
        answers.focus()

    @on(LineList.Chosen)
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        self.dismiss(str(event.item))

    def on_key(self, event: events.Key) -> None:
        """An answer's own key gives it."""
        for answer in self._answers:
            if event.key == answer.key:
                event.stop()
                self.dismiss(answer.name)

    def action_stay(self) -> None:
        """Gives no answer."""
        self.dismiss(None)
