"""A page of text to read, that wraps itself anew for every width."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from circuitcheck.ui.spans import Line
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.shown import shown, shown_lines


class PageText(VerticalScroll, can_focus=True):
    """Lines made for the width at hand; scrolls with the arrow keys."""

    def __init__(self, lines: Callable[[int], Sequence[Line]], *, id: str | None = None) -> None:
        """``lines`` makes the page for a width."""
        super().__init__(id=id)
        self._lines = lines

    def compose(self) -> ComposeResult:
        """One text."""
        yield Static(id="page-text")

    def show(self, lines: Callable[[int], Sequence[Line]]) -> None:
        """Shows another page from its top."""
        self._lines = lines
        self._draw()
        self.scroll_home(animate=False)

    def on_resize(self) -> None:
        """Wraps the page for the new width."""
        self._draw()

    def _draw(self) -> None:
        width = max(self.scrollable_content_region.width - 1, 20)
        self.query_one("#page-text", Static).update(shown_lines(self._lines(width)))


class PageScreen(ModalScreen[None]):
    """A page over the screen. Escape, q and Enter go back."""

    CSS_PATH = "page.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,enter", "back", "Back", key_display="Esc"),
        Binding("pagedown,space", "scroll(1)", "More", priority=True, key_display="PgDn"),
        Binding("pageup", "scroll(-1)", "Up", show=False, priority=True),
    ]

    def __init__(self, title: str, lines: Callable[[int], Sequence[Line]]) -> None:
        """Takes the title and what makes the page for a width."""
        super().__init__()
        self._title = title
        self._lines = lines

    def compose(self) -> ComposeResult:
        """Title and page."""
        with Vertical(id="sheet"):
            yield Static(shown(self._title, "strong"), id="page-title")
            yield PageText(self._lines)
            yield KeyLine()

    def on_mount(self) -> None:
        """Lets the arrow keys scroll."""
        self.query_one(PageText).focus()

    def action_back(self) -> None:
        """Goes back."""
        self.dismiss(None)

    def action_scroll(self, step: int) -> None:
        """Scrolls by nearly a page."""
        page = self.query_one(PageText)
        page.scroll_relative(y=step * max(page.size.height - 2, 1), animate=False)
