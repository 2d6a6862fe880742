"""The start page: a new circuit, a file, the example, the files opened last, and work that was not saved."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from circuitcheck.ui.keys_text import start_help
from circuitcheck.ui.rows import Row
from circuitcheck.ui.screens.page import PageScreen
from circuitcheck.ui.spans import user_span
from circuitcheck.ui.start_text import ABOUT, StartItem, start_items
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList


class StartScreen(Screen[None]):
    """A list of ways to begin."""

    CSS_PATH = "start.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "begin('new')", "New"),
        Binding("o", "begin('open')", "Open"),
        Binding("x", "begin('example')", "Example"),
        Binding("b", "begin('box')", "Count one box"),
        Binding("question_mark", "help", "Help", key_display="?"),
        Binding("q,escape", "app.leave", "Quit", key_display="q"),
    ]

    class Begun(Message):
        """A way to begin was picked: ``new``, ``open``, ``example``, ``box``, or a file."""

        def __init__(self, way: str, path: Path | None = None) -> None:
            """Takes the way and the file where there is one."""
            super().__init__()
            self.way = way
            self.path = path

    def __init__(self, recent: Sequence[Path], folder: Path) -> None:
        """Takes the files opened last and the folder to look for circuit files in."""
        super().__init__()
        self._recent = recent
        self._folder = folder

    def compose(self) -> ComposeResult:
        """What this is for, and the list."""
        yield Static("circuitcheck", id="name", markup=False)
        yield Static(ABOUT, id="what-for", markup=False)
        yield LineList(id="ways")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Shows the list."""
        self.show_items(self._recent)
        self.query_one(LineList).focus()

    def show_items(self, recent: Sequence[Path]) -> None:
        """Shows the list again, with these files."""
        self._recent = recent
        self.query_one(LineList).show_rows([self._row(item) for item in start_items(recent, self._folder)])

    @staticmethod
    def _row(item: StartItem) -> Row:
        mark = f"{item.key}  " if item.key else "   "
        role = "caution" if item.unsaved else "name"
        return Row(
            item,
            ((mark, "added"), user_span(item.text, role), ("  ", "plain"), user_span(item.about, "dim")),
            stands=bool(item.way),
        )

    @on(LineList.Chosen)
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        if isinstance(event.item, StartItem):
            self.post_message(self.Begun(event.item.way, event.item.path))

    def action_begin(self, way: str) -> None:
        """Begins by key."""
        self.post_message(self.Begun(way))

    def action_help(self) -> None:
        """The ways to begin and their keys."""
        self.app.push_screen(PageScreen("Help: the start page", start_help))
