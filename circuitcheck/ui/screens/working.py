"""The working page: the circuit as it runs, the part one stands on, the findings, and the answers at one glance."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message

from circuitcheck.errors import Problem
from circuitcheck.findings import Finding, Outcome
from circuitcheck.ui.examining import Checked, Examiner
from circuitcheck.ui.keeping import Keeper
from circuitcheck.ui.rows import PASSES, FindingRows, nothing_row
from circuitcheck.ui.screens.finding import FindingScreen
from circuitcheck.ui.screens.working_entries import EntryActions
from circuitcheck.ui.screens.working_file import FileActions
from circuitcheck.ui.screens.working_parts import PartActions
from circuitcheck.ui.titles import check_title, entry_title
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.circuit_list import CircuitList, FindingList
from circuitcheck.ui.widgets.entry_help import EntryHelp
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.file_line import FileLine
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.widgets.summary import Summary
from circuitcheck.ui.workbench import Workbench

#: Outcomes that decide the answer.
_DECIDING = (Outcome.FAIL, Outcome.UNDETERMINED)


class WorkingScreen(EntryActions, PartActions, FileActions):
    """Shows one workbench. Everything that changes the file goes through it and is examined again at once."""

    CSS_PATH = "working.tcss"
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012  (declared so by its base)
        (0, "-phone"),
        (50, "-thin"),
        (70, "-narrow"),
        (110, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012  (declared so by its base)
        (0, "-tiny"),
        (15, "-low"),
        (32, "-tall"),
    ]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("s", "save", "Save"),
        Binding("ctrl+s", "save", "Save", show=False, priority=True),
        Binding("w", "write_note", "Note"),
        Binding("question_mark", "help", "Help", key_display="?"),
        Binding("ctrl+z", "undo", "Undo", show=False, priority=True),
        Binding("ctrl+y", "redo", "Redo", show=False, priority=True),
        Binding("z", "undo", "Undo", show=False),
        Binding("y", "redo", "Redo", show=False),
        Binding("a", "add", "Add", show=False),
        Binding("d", "duplicate", "Duplicate", show=False),
        Binding("c", "copy", "Copy", show=False),
        Binding("r", "product", "Product", show=False),
        Binding("v", "paste", "Paste", show=False),
        Binding("x", "take_out", "Delete", show=False),
        Binding("minus", "move(-1)", "Earlier", show=False),
        Binding("plus,equals_sign", "move(1)", "Later", show=False),
        Binding("n", "next_unknown", "Find out next", show=False),
        Binding("slash", "find", "Find a part", show=False),
        Binding("p", "passes", "What passes", show=False),
        Binding("o", "only_deciding", "Only what decides", show=False),
        Binding("t", "focus_pane('circuit')", "Circuit", show=False),
        Binding("f", "focus_pane('findings')", "Findings", show=False),
        Binding("e", "focus_pane('entries')", "Entries", show=False),
        Binding("escape", "focus_pane('circuit')", "Circuit", show=False),
        Binding("q", "leave", "Leave", show=False),
    ]

    class Examined(Message):
        """A state of the file has been examined."""

        def __init__(self, checked: Checked) -> None:
            """Takes what was found."""
            super().__init__()
            self.checked = checked

    def __init__(self, bench: Workbench, note: str = "") -> None:
        """Takes the workbench, and a sentence to greet with."""
        super().__init__()
        self.bench = bench
        self._greeting = note
        self._passes = False
        self._only_deciding = False
        self._examiner = Examiner(self._examined)
        self._keeper = Keeper()

    def compose(self) -> ComposeResult:
        """Answers on top, circuit and findings left, the part right, the caution and the keys below."""
        yield FileLine(id="file-line")
        yield Summary(id="summary")
        with Horizontal(id="panes"):
            with Vertical(id="left"):
                yield CircuitList(id="circuit", classes="pane")
                yield FindingList(id="findings", classes="pane")
            with Vertical(id="right"):
                yield PartForm(self.bench.read, id="form", classes="pane")
                yield EntryHelp(id="entry-help")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Examines the file for the first time and keeps an eye on it on disk."""
        self.query_one("#circuit").border_title = "Circuit, as it runs"
        self.query_one("#findings").border_title = "Findings, worst first"
        self.set_interval(1.0, self._look_at_disk)
        self.call_after_refresh(self._look_at_disk)
        self.query_one("#circuit", CircuitList).focus()
        self.changed()
        if self._greeting:
            self.tell(self._greeting)

    def on_resize(self) -> None:
        """How much is explained depends on the height of the window."""
        self.call_after_refresh(self.query_one(EntryHelp).redraw)

    def on_unmount(self) -> None:
        """Ends the threads."""
        self._examiner.close()
        self._keeper.close()

    def _examined(self, checked: Checked) -> None:
        """Called in the examiner's thread."""
        self.post_message(self.Examined(checked))

    def changed(self, key: str | None = None) -> None:
        """After every change: shows the part again, examines the file, keeps a recovery copy."""
        self._show_part(key)
        document = self.bench.document
        self._examiner.ask(document.blocks, str(document.path))
        self._keep()
        self._show_file_line()

    @on(PartForm.Typing)
    def _keep(self) -> None:
        """Keeps the recovery copy in step, with what is being typed."""
        form = self.query_one(PartForm)
        drafts = [draft.text for draft in self.bench.drafts.values()]
        self._keeper.keep(self.bench.document, form.typed_text or " ".join(drafts))

    def keep_now(self) -> None:
        """Has the recovery copy written before anything else happens, since the program is about to end."""
        self._keep()
        self._keeper.settle()

    def _show_part(self, key: str | None = None) -> None:
        form = self.query_one(PartForm)
        form.show(self.bench.shown_part(), key)
        self._show_help(form.entries.item)

    def _show_help(self, key: object) -> None:
        part = self.bench.part
        self.query_one(EntryHelp).show(part.section, key if isinstance(key, str) else None)

    def _show_file_line(self) -> None:
        document = self.bench.document
        state = "not saved yet" if document.is_new else "changed, not saved" if document.changed else "saved"
        job = document.first("job")
        self.query_one(FileLine).show(str(job.data.get("title", "")) if job else "", document.path.name, state)

    def tell(self, text: str) -> None:
        """Says what was done, in the first line."""
        self.query_one(FileLine).tell(text)

    @on(Examined)
    def _show_checked(self, event: Examined) -> None:
        """Shows what was found, unless the file has changed since (then that is on its way)."""
        checked = event.checked
        if checked.blocks is not self.bench.document.blocks:
            return
        self.bench.checked = checked
        self.query_one(Summary).show(checked)
        self.query_one("#circuit", LineList).show_rows(checked.circuit_rows, self.bench.part.number)
        self._show_findings()
        self.query_one(PartForm).show(self.bench.shown_part())

    def _show_findings(self, item: object | None = None) -> None:
        checked = self.bench.checked
        if checked is not None:
            unfolded = self._passes and bool(checked.findings)
            rows = FindingRows(checked.findings, passes=True) if unfolded else checked.finding_rows
            if self._only_deciding and checked.report is not None:
                deciding = [finding for finding in checked.findings if finding.outcome in _DECIDING]
                rows = FindingRows(deciding) if deciding else (nothing_row("Nothing fails, and no answer is open."),)
            listed = self.query_one("#findings", LineList)
            listed.border_title = "Only what decides (o shows all)" if self._only_deciding else "Findings, worst first"
            listed.show_rows(rows, item)

    def action_passes(self) -> None:
        """Shows what passes, check by check, or folds it into one row again."""
        self._passes = not self._passes
        self._show_findings(None if self._passes else PASSES)

    def action_only_deciding(self) -> None:
        """Shows only the findings that decide the answer, those that fail or are open; or all of them again."""
        self._only_deciding = not self._only_deciding
        self._show_findings()
        self.query_one("#findings", LineList).focus()

    def stand_on_finding(self, finding: Finding) -> None:
        """Stands on the row of a finding, unfolded where it is one that passes."""
        self._only_deciding = self._only_deciding and finding.outcome in _DECIDING
        self._passes = self._passes or finding.outcome is Outcome.PASS
        self._show_findings()
        listed = self.query_one("#findings", LineList)
        if isinstance(listed.rows, FindingRows):
            listed.stand_on(listed.rows.item_of(finding))
        listed.focus()

    @on(LineList.Moved, "#circuit")
    def _stands(self, event: LineList.Moved) -> None:
        if isinstance(event.item, int) and event.item != self.bench.standing:
            self.bench.standing = event.item
            self._show_part()

    @on(LineList.Chosen, "#circuit")
    def _into_part(self) -> None:
        self.query_one(EntryList).focus()

    @on(LineList.Moved, "#entries")
    def _entry_stands(self, event: LineList.Moved) -> None:
        self._show_help(event.item)

    @on(LineList.Chosen, "#findings")
    def _open_finding(self, event: LineList.Chosen) -> None:
        checked = self.bench.checked
        if checked is None:
            return
        if isinstance(event.item, Problem):
            self.jump(event.item.key)
            return
        if event.item == PASSES:
            self.action_passes()
            return
        place = next((i for i, f in enumerate(checked.findings) if (f.check, f.subject) == event.item), None)
        if place is not None:
            page = FindingScreen(checked.findings, place, check_title, entry_title)
            self.app.push_screen(page, lambda key: self.jump(key) if key else None)

    @on(Summary.Opened)
    def _open_gauge(self, event: Summary.Opened) -> None:
        checked = self.bench.checked
        if checked is not None and event.finding in checked.findings:
            page = FindingScreen(checked.findings, checked.findings.index(event.finding), check_title, entry_title)
            self.app.push_screen(page, lambda key: self.jump(key) if key else None)

    def go_on(self, way: str | None) -> None:
        """Goes where the page of the first answer was left for."""
        if way == "next":
            self.action_next_unknown()
        elif way == "save":
            self.action_save()

    def jump(self, key_path: str) -> None:
        """Goes to the entry that a key path names; to the panel for what the whole file lacks."""
        before = self.bench.document.blocks
        entry = self.bench.stand_on_path(key_path)
        self.query_one("#circuit", LineList).stand_on(self.bench.standing)
        name = entry.key.name if entry else None
        if self.bench.document.blocks is before:
            self._show_part(name)
        else:
            self.changed(name)
        self.query_one(EntryList).focus()

    def action_focus_pane(self, pane: str) -> None:
        """Goes to a pane."""
        self.query_one(f"#{pane}").focus()

    def on_descendant_focus(self) -> None:
        """In a thin window only the pane in use is shown."""
        form = self.query_one(PartForm)
        inside = self.focused is not None and form in self.focused.ancestors_with_self
        self.set_class(inside, "-in-form")
        self.set_class(self.focused is not None and self.focused.id == "findings", "-in-findings")
