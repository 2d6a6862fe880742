"""What a pane asks of the page that it stands on."""

from __future__ import annotations

from typing import Protocol

from circuitcheck.ui.workbench import Workbench


class Page(Protocol):
    """The working page as its panes see it."""

    bench: Workbench

    def changed(self, key: str | None = None) -> None:
        """Shows the part again, examines the file and keeps a recovery copy, after a change."""

    def expect(self, key: str | None) -> None:
        """Says on which entry of the part one stands, which may be typed into next."""

    def tell(self, text: str) -> None:
        """Says what was done, in the first line."""

    def jump(self, key_path: str) -> None:
        """Goes to the entry that a key path names."""

    def show_part(self, key: str | None = None) -> None:
        """Shows the part one stands on."""

    def finish_typing(self) -> None:
        """Takes what stands in the open field, as leaving it would."""
