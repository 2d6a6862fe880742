"""What-ifs side by side with what was: only what differs; then kept, dropped, or set aside for another."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Static

from circuitcheck.ui.examining import Checked
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.what_if import WhatIf, side_by_side
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.shown import shown


class WhatIfScreen(Screen["str | None"]):
    """Returns ``keep``, ``drop``, ``other`` or None."""

    CSS_PATH = "fixes.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("K", "end('keep')", "Keep", key_display="K"),
        Binding("X", "end('drop')", "Drop", key_display="X"),
        Binding("W", "end('other')", "The other", key_display="W"),
        Binding("escape,q", "end('')", "Go on", key_display="Esc"),
    ]

    def __init__(self, what_if: WhatIf, checked: Checked | None) -> None:
        """Takes the what-ifs, and what was found with the one that is on."""
        super().__init__(classes="try-page")
        self._what_if = what_if
        self._checked = checked

    def compose(self) -> ComposeResult:
        """What differs, and what can be done."""
        other = "goes on with the one set aside" if self._what_if.aside else "sets it aside and begins another"
        yield Static(shown("What if, side by side", "strong"), id="about")
        keys = f"K keeps what if {self._what_if.number} as one step, X drops it, W {other}."
        yield Static(shown(keys, "dim"), id="progress")
        yield PageText(lambda width: side_by_side(self._what_if, self._checked, width), id="fix")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Lets the arrow keys scroll."""
        self.query_one(PageText).focus()

    def action_end(self, how: str) -> None:
        """Goes back, and says what is to be done."""
        self.dismiss(how or None)
