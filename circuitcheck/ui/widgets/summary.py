"""The answer and the four gauges on top of the working page."""

from __future__ import annotations

from rich.cells import cell_len
from textual import events
from textual.message import Message
from textual.widgets import Static

from circuitcheck.findings import Finding
from circuitcheck.ui.examining import Checked
from circuitcheck.ui.spans import Line, line_text
from circuitcheck.ui.widgets.shown import shown_lines


class Summary(Static):
    """Verdict line, and the gauges in one, two or four columns as the width allows. A click on a gauge opens it."""

    class Opened(Message):
        """A gauge was clicked."""

        def __init__(self, finding: Finding) -> None:
            """Takes the finding that the gauge shows."""
            super().__init__()
            self.finding = finding

    def __init__(self, *, id: str | None = None) -> None:
        """Nothing known yet."""
        super().__init__("Checking …", id=id, markup=False)
        self._checked: Checked | None = None
        self._lines: list[Line] = []

    def show(self, checked: Checked) -> None:
        """Shows another state."""
        self._checked = checked
        self._draw()

    def on_resize(self) -> None:
        """Lays out for the new width."""
        self._draw()

    @property
    def _columns(self) -> int:
        width = self.size.width
        return 4 if width >= 190 else 2 if width >= 76 else 1

    def _draw(self) -> None:
        if self._checked is None:
            return
        columns = self._columns
        cell = max(self.size.width // columns - 2, 20)
        lines: list[Line] = [self._checked.verdict_line()]
        gauges = self._checked.gauges
        for start in range(0, len(gauges), columns):
            row: list[tuple[str, str]] = []
            for gauge in gauges[start : start + columns]:
                line = gauge.line(cell)
                row += [*line, (" " * max(cell + 2 - cell_len(line_text(line)), 1), "plain")]
            lines.append(tuple(row))
        if lines != self._lines:
            self.update(shown_lines(lines), layout=len(lines) != len(self._lines))
            self._lines = lines

    def on_click(self, event: events.Click) -> None:
        """Opens the finding of the gauge that was clicked."""
        if self._checked is None or event.y < 1:
            return
        columns = self._columns
        place = (event.y - 1) * columns + min(event.x * columns // max(self.size.width, 1), columns - 1)
        gauges = self._checked.gauges
        if place < len(gauges) and (finding := gauges[place].finding) is not None:
            self.post_message(self.Opened(finding))
