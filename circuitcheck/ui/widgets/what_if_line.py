"""The mark of a what-if: on screen as long as one is on."""

from __future__ import annotations

from textual.widgets import Static

from circuitcheck.ui.examining import Checked
from circuitcheck.ui.what_if import WhatIf, mark_lines
from circuitcheck.ui.widgets.shown import shown_lines


class WhatIfLine(Static):
    """Which what-if is on, its keys, and what comes of it; nothing where none is on."""

    def __init__(self, what_if: WhatIf) -> None:
        """Takes the what-ifs of the workbench."""
        super().__init__("", id="what-if", markup=False)
        self._what_if = what_if
        self._checked: Checked | None = None
        self.display = False

    def show(self, checked: Checked | None) -> None:
        """Shows what has come of it by now."""
        self._checked = checked
        self.display = self._what_if.on
        if self._what_if.on:
            self.update(shown_lines(mark_lines(self._what_if, checked, max(self.app.size.width - 2, 20))))

    def on_resize(self) -> None:
        """Wraps for the new width."""
        self.show(self._checked)
