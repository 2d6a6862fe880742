"""What the entry one stands on is and how to find it out, beside the form."""

from __future__ import annotations

from textual.widgets import Static

from circuitcheck.ui.guide_text import full_help, guide_for, question_help, short_help
from circuitcheck.ui.widgets.shown import shown_lines


class EntryHelp(Static):
    """Short help in a low window, the whole of it with its picture in a tall one."""

    def __init__(self, *, id: str | None = None) -> None:
        """Nothing to explain yet."""
        super().__init__("", id=id, markup=False)
        self._about: tuple[str, str | None, bool] = ("", None, False)

    def show(self, section: str, key: str | None, *, planned: bool = False) -> None:
        """Explains another entry. Of a ``planned`` part nothing has to be opened to find it out."""
        if (section, key, planned) != self._about:
            self._about = (section, key, planned)
            self._draw()

    def on_resize(self) -> None:
        """Wraps for the new width."""
        self.redraw()

    def redraw(self) -> None:
        """Explains anew what it explains, for the size of the window as it is now."""
        self._draw()

    def _draw(self) -> None:
        section, key, planned = self._about
        guide = guide_for(section, key) if key else None
        if guide is None:
            self.update("")
            return
        width = max(self.size.width - 1, 20)
        if planned:
            self.update(shown_lines(question_help(guide, width, planned=True)))
            return
        lines = full_help(guide, width) if self.screen.size.height >= 32 else short_help(guide, width)
        self.update(shown_lines(lines))
