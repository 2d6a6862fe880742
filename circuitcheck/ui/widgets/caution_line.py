"""The short caution, in view on every page that leads to work."""

from __future__ import annotations

from textual.widgets import Static

from circuitcheck.safety import ONE_LINE


class CautionLine(Static):
    """What to do before touching anything, in one or two lines."""

    def __init__(self) -> None:
        """The line."""
        super().__init__(f"! {ONE_LINE}", id="caution", markup=False)
