"""The shut-off cautions, to be read and acknowledged once a session before anything is written for the work."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from circuitcheck.safety import SHORT
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.spans import Line, wrapped_lines
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.shown import shown

#: Windows of fewer lines show the cautions without blank lines between, so that more of them is seen at once.
_ROOMY = 30


def caution_lines(width: int, *, spaced: bool = True) -> list[Line]:
    """The cautions, numbered."""
    lines: list[Line] = []
    for number, sentence in enumerate(SHORT, start=1):
        first, *rest = wrapped_lines(sentence, width - 3, "value")
        lines.append(((f"{number}. ", "caution"), *first))
        lines += [(("   ", "plain"), *line) for line in rest]
        if spaced:
            lines.append((("", "plain"),))
    return lines


class CautionsScreen(ModalScreen[bool]):
    """Returns True when the user has read them."""

    CSS_PATH = "page.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y", "accept", "I have read this"),
        Binding("escape,n", "refuse", "Back"),
    ]

    def compose(self) -> ComposeResult:
        """Title, cautions, how to go on."""
        with Vertical(id="sheet"):
            yield Static(shown("Before anyone opens anything", "caution"))
            yield PageText(lambda width: caution_lines(width, spaced=self._roomy))
            yield Static(shown("Press y when you have read this. It is asked once a session.", "strong"))
            yield KeyLine()

    @property
    def _roomy(self) -> bool:
        return self.app.size.height >= _ROOMY and self.app.size.width >= 2 * _ROOMY

    def on_mount(self) -> None:
        """Lets the arrow keys scroll."""
        self.query_one(PageText).focus()

    def action_accept(self) -> None:
        """Acknowledged."""
        self.dismiss(True)

    def action_refuse(self) -> None:
        """Not acknowledged: nothing is written."""
        self.dismiss(False)
