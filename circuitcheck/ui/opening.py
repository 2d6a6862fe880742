"""How files come onto the working page: new from questions, opened, recovered, or the example."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from circuitcheck.errors import CircuitFileError, told_problems
from circuitcheck.ui.document.disk import Recovery, fingerprint, left_behind
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import examine
from circuitcheck.ui.examples import example_text
from circuitcheck.ui.keys_in_turn import KeysInTurn
from circuitcheck.ui.screens.ask import Answer, AskScreen
from circuitcheck.ui.screens.box import BoxScreen
from circuitcheck.ui.screens.first_answer import FirstAnswerScreen
from circuitcheck.ui.screens.guided import GuidedScreen
from circuitcheck.ui.screens.page import PageScreen
from circuitcheck.ui.screens.path import PathScreen
from circuitcheck.ui.screens.start import StartScreen
from circuitcheck.ui.screens.working import WorkingScreen
from circuitcheck.ui.settings import read_settings, write_settings
from circuitcheck.ui.spans import Line, user_span, wrapped_lines
from circuitcheck.ui.start_text import copy_told
from circuitcheck.ui.starting.file import starting_text, suggested_path
from circuitcheck.ui.starting.first_answer import first_answer
from circuitcheck.ui.workbench import Workbench


class OpeningFlow(KeysInTurn):
    """Opens working pages, and remembers which."""

    def __init__(self) -> None:
        """With what was kept of earlier sessions."""
        super().__init__()
        self.settings = read_settings()
        self._new_path: Path | None = None

    def remember_file(self, path: Path) -> None:
        """Puts a file on top of the recent ones."""
        self.settings = read_settings().with_recent(path)
        write_settings(self.settings)

    def begin(self, way: str, path: Path | None) -> None:
        """Begins in the way picked on the start page."""
        if way == "new":
            self.push_screen(GuidedScreen(), self._answered)
        elif way == "open":
            about = "Recent files and those of this folder are in the list behind this."
            self.push_screen(PathScreen("Open which file?", Path.cwd() / "", about=about), self._named)
        elif way == "example":
            text = example_text("hallway.circuit.toml")
            target = suggested_path({"room": "example hallway"}, Path.cwd())
            self._show(Document(target, text, on_disk=None), "A copy of the example: change what you like.")
        elif way == "box":
            self.push_screen(BoxScreen())
        elif path is not None:
            self.open_path(path)

    def _named(self, path: Path | None) -> None:
        if path is not None:
            self.open_path(path)

    def _answered(self, answers: dict[str, Any] | None) -> None:
        if answers is None:
            return
        path = self._new_path or suggested_path(answers, Path.cwd())
        self._new_path = None
        bench = Workbench(Document(path, starting_text(answers), on_disk=None))
        bench.checked = examine(bench.document.blocks, str(path))
        page = WorkingScreen(bench, f"Not saved yet: s saves it as {path.name}.")
        self.push_screen(page, self._left)
        if bench.checked.report is not None:
            self.push_screen(FirstAnswerScreen(first_answer(bench.checked.report)), page.go_on)

    def open_path(self, path: Path) -> None:
        """Opens a file; asks about work on it that was not saved, and offers a new circuit where there is no file."""
        waiting = left_behind(path)
        if waiting:
            self._offer(path, waiting[0], len(waiting) - 1)
        elif not path.exists():
            self._offer_new(path)
        else:
            self._open(path)

    def _open(self, path: Path) -> None:
        try:
            document = Document.opened(path)
        except CircuitFileError as wrong:
            self._show_problems(path, wrong)
            return
        self.remember_file(path)
        note = "Some tables were laid out in an unusual way and were rewritten." if document.rearranged else ""
        self._show(document, note)

    def _show_problems(self, path: Path, wrong: CircuitFileError) -> None:
        def lines(width: int) -> list[Line]:
            shown = wrapped_lines(user_span(f"{path} cannot be shown yet. Correct this in a text editor:")[0], width)
            told, more = told_problems(wrong.problems)
            for problem in told:
                where = f"line {problem.line}: " if problem.line else ""
                shown += [(("", "plain"),), *wrapped_lines(user_span(f"{where}{problem.says}")[0], width, "fail")]
            if more:
                shown += [(("", "plain"),), *wrapped_lines(user_span(more)[0], width, "fail")]
            return shown

        self.push_screen(PageScreen("This file cannot be read", lines))

    def _show(self, document: Document, note: str = "") -> None:
        self.push_screen(WorkingScreen(Workbench(document), note), self._left)

    def _left(self, _: None) -> None:
        if isinstance(self.screen, StartScreen):
            self.screen.show_items(self.settings.recent)

    def _offer(self, path: Path, recovery: Recovery, more: int) -> None:
        """Asks what to do with work that was not saved. ``more``: older copies that wait behind it."""
        try:
            on_disk = Document.opened(path).text if path.exists() else None
        except CircuitFileError:
            on_disk = None
        sentences = [
            f"{path.name} was being worked on when the program ended. A copy was kept, {copy_told(recovery)}.",
        ]
        if more:
            copies = "copy" if more == 1 else "copies"
            sentences.append(f"{more} older {copies} of the same file will be offered after this one.")
        if on_disk is not None and fingerprint(on_disk) != recovery.base:
            sentences.append("The file itself has been changed since then: taking the copy leaves those changes out.")
        if recovery.draft:
            sentences.append(f"Being typed at that moment: {recovery.draft}")
        answers = [
            Answer("take", "r", "Go on with the copy"),
            Answer("drop", "f", "Open the file as it is on disk; the copy is dropped"),
        ]

        def taken(answer: str | None) -> None:
            if answer == "take":
                self._recover(path, recovery, on_disk)
            elif answer == "drop":
                recovery.copy.unlink(missing_ok=True)
                self.open_path(path)

        self.push_screen(AskScreen("Work that was not saved", sentences, answers), taken)

    def _recover(self, path: Path, recovery: Recovery, on_disk: str | None) -> None:
        try:
            document = Document(path, recovery.text, on_disk=on_disk, taken_from=recovery.copy)
        except CircuitFileError as wrong:
            self._show_problems(path, wrong)
            return
        self._show(document, f"Recovered. Not saved yet: s saves it as {path.name}.")

    def _offer_new(self, path: Path) -> None:
        answers = [Answer("new", "n", "Begin a new circuit"), Answer("stay", "b", "Back")]

        def taken(answer: str | None) -> None:
            if answer == "new":
                self._new_path = path
                self.push_screen(GuidedScreen(), self._answered)

        self.push_screen(AskScreen("There is no such file", [str(path)], answers), taken)
