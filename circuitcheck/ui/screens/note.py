"""Writing the note for an electrician or inspector: under which name, and in which form."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from circuitcheck.errors import CircuitcheckError
from circuitcheck.ui.note_writing import note_path, write_note_of
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.shown import shown
from circuitcheck.ui.workbench import Workbench


class NoteScreen(ModalScreen[Path | None]):
    """One field with the note's name; the ending chooses the form."""

    CSS_PATH = "path.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", "Write it", key_display="Enter", priority=True),
        Binding("escape", "leave", "Leave"),
    ]

    def __init__(self, bench: Workbench) -> None:
        """Takes the workbench whose circuit the note is about."""
        super().__init__()
        self._bench = bench
        self._replace: Path | None = None

    def compose(self) -> ComposeResult:
        """Title, name, what came of it."""
        with Vertical(id="sheet"):
            yield Static(shown("Write the note for an electrician or inspector", "strong"))
            yield Static(shown("The ending chooses the form: .html for a browser or print, .pdf, .md, .txt", "dim"))
            yield Input(str(note_path(self._bench.document.path)), id="name", select_on_focus=False)
            yield Static("", id="wrong", markup=False)
            yield KeyLine()

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        path = Path(event.value.strip()).expanduser()
        if path.exists() and path.is_file() and self._replace != path:
            self._replace = path
            self._say(f"{path.name} already exists. Enter again replaces it.", "caution")
            return
        try:
            write_note_of(self._bench, path, replace=self._replace == path)
        except CircuitcheckError as trouble:
            self._say(f"Not written: {trouble}", "fail")
            return
        self.dismiss(path)

    def _say(self, text: str, role: str) -> None:
        self.query_one("#wrong", Static).update(shown(text, role))

    async def action_submit(self) -> None:
        """Takes the name as it is."""
        await self.query_one("#name", Input).action_submit()

    def action_leave(self) -> None:
        """Leaves without a note."""
        self.dismiss(None)
