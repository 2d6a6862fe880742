"""The line of keys at the bottom: one line, or as many as it takes in a window as narrow as a phone."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Footer

#: Windows narrower than this [cells] get a grid of keys, two beside each other.
PHONE_WIDTH = 50
_BESIDE = 2


class KeyLine(Footer):
    """The keys that work here; a click or a touch presses one."""

    def __init__(self) -> None:
        """Without the palette, which has a key of its own."""
        super().__init__(compact=True, show_command_palette=False)
        self._works: list[tuple[Binding, bool, str]] = []

    def compose(self) -> ComposeResult:
        """The keys."""
        for key in super().compose():
            key.add_class("-compact", update=False)  # as it will be told to be: its style is not worked out twice
            yield key
        self._lay_out()

    def on_resize(self) -> None:
        """A window may become as narrow as a phone."""
        self._lay_out()

    def _lay_out(self) -> None:
        self.styles.grid_size_columns = _BESIDE if self.app.size.width < PHONE_WIDTH else max(len(self.children), 1)
        for key in self.children:
            key.visible = True
        self.call_after_refresh(self._show_whole_ones)

    async def recompose(self) -> None:
        """Other keys work now; where the same do, as after most edits, the line stays."""
        if not self.is_attached:
            return
        works = [
            (binding, enabled, tooltip)
            for _, binding, enabled, tooltip in self.screen.active_bindings.values()
            if binding.show
        ]
        if works == self._works and self.children:
            return
        self._works = works
        await super().recompose()
        self.call_after_refresh(self._show_whole_ones)

    def _show_whole_ones(self) -> None:
        """A key that the window cuts is not shown, so that none stands there without its word; help has them all."""
        for key in self.children:
            key.visible = key.region.right <= self.region.right or self.app.size.width < PHONE_WIDTH
