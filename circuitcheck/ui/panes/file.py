"""The file: saved, left, its note written, and an eye kept on it on disk."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.errors import CircuitFileError, CommandError
from circuitcheck.ui.document.disk import fingerprint, others_at
from circuitcheck.ui.keeping import Keeper
from circuitcheck.ui.panes.page import Page
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.screens.ask import Answer, AskScreen
from circuitcheck.ui.screens.note import NoteScreen
from circuitcheck.ui.screens.path import PathScreen
from circuitcheck.ui.start_text import other_told
from circuitcheck.ui.widgets.file_line import FileLine
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.workbench import Workbench

_RELOAD = Answer("reload", "r", "Take what is on disk (z brings yours back)")
_MINE = Answer("mine", "m", "Keep mine; the next save replaces what is on disk")
_MOST_NAMED = 3
_OTHER = Answer("other", "o", "Save mine under another name")


def unsaved_sentences(bench: Workbench) -> list[str]:
    """What is not in the file, as sentences: changes since it was saved, and text that is no value yet."""
    document = bench.document
    sentences = []
    if document.changed:
        latest = document.history.unsaved_names(_MOST_NAMED)
        named = f": {'; '.join(latest)}{' …' if len(latest) == _MOST_NAMED else ''}" if latest else "."
        sentences.append(f"{document.path.name} has changes that are not saved{named}")
    for (number, name), draft in list(bench.drafts.items())[:_MOST_NAMED]:
        block = document.block(number)
        key = SECTIONS[block.section].keys.get(name) if block is not None and block.section in SECTIONS else None
        if block is not None and key is not None:
            where = f"{key.title}, {part_title(block.section, block.data)}"
            sentences.append(f'"{draft.text}" in {where}, is no value: it cannot be saved.')
    return sentences


class FilePane(FileLine):
    """The line that tells title, file and whether it is saved; saves it, leaves it, and writes its note."""

    def __init__(self, page: Page, *, id: str | None = None) -> None:
        """Takes the page that it stands on."""
        super().__init__(id=id)
        self.page = page
        self.bench = page.bench
        self.keeper = Keeper()
        self._asked_about = ""
        self._told_trouble = ""
        self._told_others: frozenset[int] = frozenset()

    def on_mount(self) -> None:
        """Keeps an eye on the file on disk."""
        self.set_interval(1.0, self.look_at_disk)
        self.call_after_refresh(self.look_at_disk)

    def on_unmount(self) -> None:
        """Ends the thread."""
        self.keeper.close()

    def show_state(self) -> None:
        """Shows title, file and whether it is saved."""
        document = self.bench.document
        state = "not saved yet" if document.is_new else "changed, not saved" if document.changed else "saved"
        state = "only tried, not saved" if self.bench.what_if.on else state
        job = document.first("job")
        self.show(str(job.data.get("title", "")) if job else "", document.path.name, state)

    def action_save(self) -> None:
        """Saves, unless someone else changed the file meanwhile: then it asks."""
        self.page.finish_typing()
        if not self._trying("save"):
            self._save()

    def _trying(self, what: str) -> bool:
        """Whether a what-if is on; says that it has to end first."""
        on = self.bench.what_if.on
        if on:
            self.page.tell(f"A what-if is on: K keeps it, X drops it. Then {what}.")
        return on

    def _save(self, then: Callable[[], None] | None = None) -> None:
        document = self.bench.document
        theirs = document.changed_elsewhere()
        if theirs is not None:
            self._ask_about(theirs)
            return
        if document.is_new and document.path.exists():
            self._ask_name(f"{document.path.name} already exists. Save under another name:")
            return
        self._write(document.path, then)

    def _write(self, path: Path, then: Callable[[], None] | None = None) -> None:
        document = self.bench.document
        self.keeper.settle()
        try:
            document.save(path)
        except CommandError as trouble:
            self.app.notify(f"Not saved: {trouble}", severity="error", markup=False, timeout=10)
            self._ask_name("Save under another name:")
            return
        left = len(self.bench.drafts)
        note = f" {left} entry typed is no value yet and is not in the file." if left else ""
        self.tell(f"Saved {path.name}.{note}")
        self.remember_file(path)
        self.bench.keep_given_up()
        self.page.changed()
        if then:
            then()

    def remember_file(self, path: Path) -> None:
        """Puts the file on top of the recent ones."""
        remember = getattr(self.app, "remember_file", None)
        if remember is not None:
            remember(path)

    def action_save_as(self) -> None:
        """Asks for another name and saves there."""
        if self._trying("save"):
            return
        self._ask_name("Save under another name:")

    def _ask_name(self, title: str) -> None:
        def taken(path: Path | None) -> None:
            if path is not None:
                self._write(path)

        self.app.push_screen(PathScreen(title, self.bench.document.path, must_be_new=True), taken)

    def look_at_disk(self) -> None:
        """Notices when someone else changed the file, and when no copy for recovery can be kept."""
        if self.app.screen is not self.screen:
            return
        if self.keeper.trouble != self._told_trouble:
            self._told_trouble = self.keeper.trouble
            if self._told_trouble:
                self.tell(f"No recovery copy can be kept, so save often: {self._told_trouble}")
        for other in others_at(self.bench.document.path):
            if other.process not in self._told_others:
                self._told_others = self._told_others | {other.process}
                self.app.notify(
                    other_told(self.bench.document.path, other), severity="warning", markup=False, timeout=20
                )
        theirs = self.bench.document.changed_elsewhere()
        if theirs is None or fingerprint(theirs) == self._asked_about:
            return
        if (
            not self.bench.document.changed
            and not self.bench.what_if.on
            and not self.screen.query_one(PartForm).editing
        ):
            self._take_theirs(theirs, "The file changed on disk and was read again (z brings back what was here).")
        else:
            self._ask_about(theirs)

    def _take_theirs(self, text: str, says: str) -> None:
        self.bench.what_if.drop_all()
        try:
            self.bench.reload(text)
        except CircuitFileError as wrong:
            self.app.notify(f"What is on disk cannot be read: {wrong}", severity="error", markup=False, timeout=10)
            return
        self.tell(says)
        self.page.changed()

    def _ask_about(self, theirs: str) -> None:
        self._asked_about = fingerprint(theirs)
        document = self.bench.document

        def taken(answer: str | None) -> None:
            if answer == "reload":
                self._take_theirs(theirs, "Read again from disk (z brings yours back).")
            elif answer == "mine":
                document.take_over(theirs)
                self.page.changed()
            elif answer == "other":
                self._ask_name("Save yours under another name:")

        sentences = [
            f"{document.path.name} is not what it was when it was read here: another program or person wrote it.",
            "Nothing is overwritten until you say so.",
        ]
        self.app.push_screen(AskScreen("The file changed on disk", sentences, [_RELOAD, _MINE, _OTHER]), taken)

    def action_leave(self) -> None:
        """Leaves for the start page; asks first when there is unsaved work."""
        self.page.finish_typing()
        self.leave(self._go)

    def _go(self) -> None:
        self.screen.dismiss()

    def leave(self, then: Callable[[], None]) -> None:
        """Does ``then`` when nothing is unsaved, or when the user says what to do with it."""
        document = self.bench.document
        if self.bench.what_if.on:
            self._leave_what_if(then)
            return
        if not document.changed and not self.bench.drafts:
            self.keeper.settle()
            document.drop_recovery()
            then()
            return
        sentences = unsaved_sentences(self.bench)
        lost = "Leave without saving; the changes are lost" if document.changed else "Leave; that text is lost"
        answers = [
            *([Answer("save", "s", "Save and leave")] if document.changed else []),
            Answer("discard", "d", lost),
            Answer("stay", "n", "Stay here"),
        ]

        def taken(answer: str | None) -> None:
            if answer == "save":
                self.bench.drafts.clear()
                self._save(then)
            elif answer == "discard":
                self.keeper.settle()
                document.drop_recovery()
                then()

        self.app.push_screen(AskScreen("Save before leaving?", sentences, answers), taken)

    def _leave_what_if(self, then: Callable[[], None]) -> None:
        """Asks what becomes of a what-if before the file is left."""
        answers = [
            Answer("drop", "d", "Drop it, and leave"),
            Answer("keep", "k", "Keep it, and leave"),
            Answer("stay", "n", "Stay here"),
        ]

        def taken(answer: str | None) -> None:
            if answer == "drop":
                self.bench.what_if.drop_all()
            elif answer == "keep":
                self.bench.what_if.keep()
            else:
                return
            self.page.changed()
            self.leave(then)

        named = "; ".join(change.says for change in self.bench.what_if.changes) or "nothing changed yet"
        self.app.push_screen(AskScreen("A what-if is on", [f"{named[:1].upper()}{named[1:]}."], answers), taken)

    def action_write_note(self) -> None:
        """Shows the cautions once a session, then asks where the note goes and writes it."""
        self.page.finish_typing()
        if self._trying("write the note"):
            return
        checked = self.bench.checked
        if checked is None or checked.report is None or checked.circuit is None:
            self.tell("No note yet: first correct what the findings name.")
            return
        acknowledged = getattr(self.app, "after_cautions", None)
        if acknowledged is not None:
            acknowledged(lambda: self.app.push_screen(NoteScreen(self.bench), self._wrote))

    def _wrote(self, path: Path | None) -> None:
        if path is not None:
            self.tell(f"Wrote {path}")
