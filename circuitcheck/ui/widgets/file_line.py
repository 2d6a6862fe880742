"""The first line of the working page: title, file, whether it is saved; and for a while what was just done."""

from __future__ import annotations

from textual.timer import Timer
from textual.widgets import Static

from circuitcheck.ui.spans import Line, user_span
from circuitcheck.ui.widgets.shown import shown, shown_line

_SECONDS = 6.0


class FileLine(Static):
    """Says one thing at a time, so that nothing is covered by notices."""

    def __init__(self, *, id: str | None = None) -> None:
        """Nothing to say yet."""
        super().__init__("", id=id, markup=False)
        self._line: Line = ()
        self._until: Timer | None = None

    def show(self, title: str, name: str, state: str) -> None:
        """Shows title, file and whether it is saved."""
        line: Line = (
            (f"{state}  ", "dim" if state == "saved" else "caution"),
            user_span(title or "no title yet", "strong"),
            ("  ", "plain"),
            user_span(name, "dim"),
        )
        if line == self._line:
            return
        self._line = line
        if self._until is None:
            self.update(shown_line(self._line), layout=False)

    def tell(self, text: str) -> None:
        """Says what was done, for a few seconds."""
        self.update(shown(text, "added"), layout=False)
        if self._until is not None:
            self._until.stop()
        self._until = self.set_timer(_SECONDS, self._back)

    def _back(self) -> None:
        self._until = None
        self.update(shown_line(self._line), layout=False)
