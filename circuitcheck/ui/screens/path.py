"""A name for a file: to save under, or to open. Returns the path, or None."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.shown import shown


class PathScreen(ModalScreen[Path | None]):
    """One field with a file name; what is wrong with it is said beneath and the text stays."""

    CSS_PATH = "path.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", "Take it", key_display="Enter", priority=True),
        Binding("escape", "leave", "Leave"),
    ]

    def __init__(self, title: str, path: Path, *, must_be_new: bool = False, about: str = "") -> None:
        """Takes the question, the name to begin with, and whether a file that is there already is refused."""
        super().__init__()
        self._title = title
        self._path = path
        self._must_be_new = must_be_new
        self._about = about

    def compose(self) -> ComposeResult:
        """Question, field, what is wrong."""
        with Vertical(id="sheet"):
            yield Static(shown(self._title, "strong"))
            yield Input(str(self._path), id="name", select_on_focus=False)
            yield Static(shown(self._about, "dim"), id="wrong")
            yield KeyLine()

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        name = event.value.strip()
        wrong = path_trouble(name, must_be_new=self._must_be_new)
        if wrong:
            self.query_one("#wrong", Static).update(shown(wrong, "fail"))
        else:
            self.dismiss(Path(name).expanduser())

    async def action_submit(self) -> None:
        """Takes the name as it is."""
        await self.query_one("#name", Input).action_submit()

    def action_leave(self) -> None:
        """Leaves without a name."""
        self.dismiss(None)


def path_trouble(name: str, *, must_be_new: bool) -> str:
    """What is wrong with a file name, in words; empty when nothing is."""
    if not name:
        return "Write a file name."
    try:
        path = Path(name).expanduser()
        if path.is_dir():
            return f"{path} is a folder: write a file name after it."
        if not path.parent.is_dir():
            return f"There is no folder {path.parent}."
        if must_be_new and path.exists():
            return f"{path.name} already exists: write another name."
    except (OSError, ValueError, RuntimeError) as trouble:
        return f"This name cannot be used: {trouble}."
    return ""
