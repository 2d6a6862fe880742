"""The working page's answers to saving, leaving, writing the note, help, and the file changing on disk."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from textual.screen import Screen

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.errors import CircuitFileError, CommandError
from circuitcheck.ui.document.disk import fingerprint, others_at
from circuitcheck.ui.keeping import Keeper
from circuitcheck.ui.keys_text import working_help
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.screens.ask import Answer, AskScreen
from circuitcheck.ui.screens.note import NoteScreen
from circuitcheck.ui.screens.page import PageScreen
from circuitcheck.ui.screens.path import PathScreen
from circuitcheck.ui.start_text import other_told
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


class FileActions(Screen[None]):
    """Actions on the whole file."""

    bench: Workbench
    _keeper: Keeper
    _asked_about = ""
    _told_trouble = ""
    _told_others: frozenset[int] = frozenset()

    def changed(self, key: str | None = None) -> None:
        """What the page does after a change."""
        raise NotImplementedError

    def tell(self, text: str) -> None:
        """Says what was done."""
        raise NotImplementedError

    def finish_typing(self) -> None:
        """Takes what stands in the open field, as leaving it would."""
        raise NotImplementedError

    def action_save(self) -> None:
        """Saves, unless someone else changed the file meanwhile: then it asks."""
        self.finish_typing()
        self._save()

    def _save(self, then: Callable[[], None] | None = None) -> None:
        document = self.bench.document
        theirs = document.changed_elsewhere()
        if theirs is not None:
            self._ask_about(theirs)
            return
        if document.is_new and document.path.exists():
            self._ask_name(f"{document.path.name} is there already. Save under another name:")
            return
        self._write(document.path, then)

    def _write(self, path: Path, then: Callable[[], None] | None = None) -> None:
        document = self.bench.document
        self._keeper.settle()
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
        self.changed()
        if then:
            then()

    def remember_file(self, path: Path) -> None:
        """Puts the file on top of the recent ones."""
        remember = getattr(self.app, "remember_file", None)
        if remember is not None:
            remember(path)

    def action_save_as(self) -> None:
        """Asks for another name and saves there."""
        self._ask_name("Save under another name:")

    def _ask_name(self, title: str) -> None:
        def taken(path: Path | None) -> None:
            if path is not None:
                self._write(path)

        self.app.push_screen(PathScreen(title, self.bench.document.path, must_be_new=True), taken)

    def _look_at_disk(self) -> None:
        """Notices when someone else changed the file, and when no copy for recovery can be kept."""
        if self.app.screen is not self:
            return
        if self._keeper.trouble != self._told_trouble:
            self._told_trouble = self._keeper.trouble
            if self._told_trouble:
                self.tell(f"No copy for recovery can be kept, so save often: {self._told_trouble}")
        for other in others_at(self.bench.document.path):
            if other.process not in self._told_others:
                self._told_others = self._told_others | {other.process}
                self.app.notify(
                    other_told(self.bench.document.path, other), severity="warning", markup=False, timeout=20
                )
        theirs = self.bench.document.changed_elsewhere()
        if theirs is None or fingerprint(theirs) == self._asked_about:
            return
        if not self.bench.document.changed and not self.query_one(PartForm).editing:
            self._take_theirs(theirs, "The file changed on disk and was read again (z brings back what was here).")
        else:
            self._ask_about(theirs)

    def _take_theirs(self, text: str, says: str) -> None:
        try:
            self.bench.reload(text)
        except CircuitFileError as wrong:
            self.app.notify(f"What is on disk cannot be read: {wrong}", severity="error", markup=False, timeout=10)
            return
        self.tell(says)
        self.changed()

    def _ask_about(self, theirs: str) -> None:
        self._asked_about = fingerprint(theirs)
        document = self.bench.document

        def taken(answer: str | None) -> None:
            if answer == "reload":
                self._take_theirs(theirs, "Read again from disk (z brings yours back).")
            elif answer == "mine":
                document.take_over(theirs)
                self.changed()
            elif answer == "other":
                self._ask_name("Save yours under another name:")

        sentences = [
            f"{document.path.name} is not what it was when it was read here: another program or person wrote it.",
            "Nothing is overwritten until you say so.",
        ]
        self.app.push_screen(AskScreen("The file changed on disk", sentences, [_RELOAD, _MINE, _OTHER]), taken)

    def action_leave(self) -> None:
        """Leaves for the start page; asks first when there is unsaved work."""
        self.finish_typing()
        self.leave(self._go)

    def _go(self) -> None:
        self.dismiss(None)

    def leave(self, then: Callable[[], None]) -> None:
        """Does ``then`` when nothing is unsaved, or when the user says what to do with it."""
        document = self.bench.document
        if not document.changed and not self.bench.drafts:
            self._keeper.settle()
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
                self._keeper.settle()
                document.drop_recovery()
                then()

        self.app.push_screen(AskScreen("Save before leaving?", sentences, answers), taken)

    def action_write_note(self) -> None:
        """Shows the cautions once a session, then asks where the note goes and writes it."""
        self.finish_typing()
        checked = self.bench.checked
        if checked is None or checked.report is None or checked.circuit is None:
            self.tell("No note yet: put right what the findings name first.")
            return
        acknowledged = getattr(self.app, "after_cautions", None)
        if acknowledged is not None:
            acknowledged(lambda: self.app.push_screen(NoteScreen(self.bench), self._wrote))

    def _wrote(self, path: Path | None) -> None:
        if path is not None:
            self.tell(f"Wrote {path}")

    def action_help(self) -> None:
        """The keys of the pane one is in, then all others."""
        form = self.query_one(PartForm)
        focused = self.focused
        pane = "entries" if focused is not None and form in focused.ancestors_with_self else ""
        pane = pane or ("findings" if focused is not None and focused.id == "findings" else "circuit")
        title = {"entries": "the entries", "findings": "the findings", "circuit": "the circuit"}[pane]
        self.app.push_screen(PageScreen(f"Help: {title}", lambda width: working_help(width, pane)))
