"""Several words out of a list. Returns the words, or None when nothing was changed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
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

_NONE = "none of these"


class PickManyScreen(ModalScreen[list[str] | None]):
    """Space ticks a word; Enter takes what is ticked; Escape leaves everything as it was."""

    CSS_PATH = "choose.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "tick", "Tick", priority=True, key_display="Space"),
        Binding("enter,tab", "done", "Take it", priority=True, key_display="Enter"),
        Binding("escape,q", "leave", "As it was", key_display="Esc"),
    ]

    def __init__(self, title: str, words: Sequence[str], picked: Sequence[str], about: str, *, known: bool) -> None:
        """Takes the question, the words, those ticked, a sentence, and whether anything was said about them yet."""
        super().__init__()
        self._title = title
        self._words = (*words, *(word for word in picked if word not in words))
        self._picked = set(picked)
        self._none = known and not picked
        self._before = list(picked) if known else None
        self._about = about

    def compose(self) -> ComposeResult:
        """Question, sentence, list."""
        with Vertical(id="sheet"):
            yield Static(shown(self._title, "strong"), id="question")
            yield Static(shown(self._about, "dim"), id="about")
            yield LineList(id="choices")
            yield KeyLine()

    def on_mount(self) -> None:
        """Shows the words."""
        self._show()
        self.query_one(LineList).focus()

    def _show(self) -> None:
        rows = [self._row(word, word in self._picked) for word in self._words]
        rows.append(self._row(_NONE, self._none))
        self.query_one(LineList).show_rows(rows)

    @staticmethod
    def _row(word: str, ticked: bool) -> Row:
        return Row(word, (("[x] " if ticked else "[ ] ", "added"), user_span(word, "value")))

    @on(LineList.Chosen)
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        self.action_tick()

    def action_tick(self) -> None:
        """Ticks the word one stands on, or takes the tick off."""
        word = self.query_one(LineList).item
        if word == _NONE:
            self._none = not self._none
            self._picked.clear()
        elif isinstance(word, str):
            self._picked ^= {word}
            self._none = False
        self._show()

    def action_leave(self) -> None:
        """Goes back with nothing changed."""
        self.dismiss(None)

    def action_done(self) -> None:
        """Goes back with what is ticked."""
        now = [word for word in self._words if word in self._picked]
        said = bool(now) or self._none
        self.dismiss(now if said and now != self._before else None)
