"""The working page: the circuit as it runs, the part one stands on, the findings, and the answers at one glance."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.screen import Screen

from circuitcheck.ui.examining import Checked, Examiner
from circuitcheck.ui.keys_text import working_help
from circuitcheck.ui.panes.circuit import CircuitPane
from circuitcheck.ui.panes.file import FilePane
from circuitcheck.ui.panes.findings import FindingsPane
from circuitcheck.ui.panes.part import PartPane
from circuitcheck.ui.screens.page import PageScreen
from circuitcheck.ui.screens.what_if import WhatIfScreen
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.widgets.summary import Summary
from circuitcheck.ui.widgets.what_if_line import WhatIfLine
from circuitcheck.ui.workbench import Workbench


class WorkingScreen(Screen[None]):
    """Lays out the panes, passes keys on to the pane whose action they are, and has each change examined at once."""

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
        Binding("s", "pane('file-line', 'save')", "Save"),
        Binding("ctrl+s", "pane('file-line', 'save')", "Save", show=False, priority=True),
        Binding("w", "pane('file-line', 'write_note')", "Note"),
        Binding("question_mark", "help", "Help", key_display="?"),
        Binding("ctrl+z", "undo", "Undo", show=False, priority=True),
        Binding("ctrl+y", "redo", "Redo", show=False, priority=True),
        Binding("z", "undo", "Undo", show=False),
        Binding("y", "redo", "Redo", show=False),
        Binding("a", "pane('circuit', 'add')", "Add", show=False),
        Binding("d", "pane('circuit', 'duplicate')", "Duplicate", show=False),
        Binding("c", "pane('circuit', 'copy')", "Copy", show=False),
        Binding("r", "pane('circuit', 'product')", "Product", show=False),
        Binding("v", "pane('circuit', 'paste')", "Paste", show=False),
        Binding("x", "pane('circuit', 'take_out')", "Delete", show=False),
        Binding("minus", "pane('circuit', 'reorder(-1)')", "Earlier", show=False),
        Binding("plus,equals_sign", "pane('circuit', 'reorder(1)')", "Later", show=False),
        Binding("n", "pane('circuit', 'next_unknown')", "Find out next", show=False),
        Binding("slash", "pane('circuit', 'find')", "Find a part", show=False),
        Binding("p", "pane('findings', 'passes')", "What passes", show=False),
        Binding("o", "pane('findings', 'only_deciding')", "Only what decides", show=False),
        Binding("C", "pane('circuit', 'plan')", "Plan a change", show=False),
        Binding("W", "what_if", "What if", show=False),
        Binding("K", "keep", "Keep the what-if", show=False),
        Binding("X", "drop", "Drop the what-if", show=False),
        Binding("F", "pane('findings', 'fixes')", "Fixes", show=False),
        Binding("t", "focus_pane('circuit')", "Circuit", show=False),
        Binding("f", "focus_pane('findings')", "Findings", show=False),
        Binding("e", "focus_pane('entries')", "Entries", show=False),
        Binding("escape", "focus_pane('circuit')", "Circuit", show=False),
        Binding("q", "pane('file-line', 'leave')", "Leave", show=False),
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
        self._examiner = Examiner(self._examined)
        self.file = FilePane(self, id="file-line")
        self.circuit = CircuitPane(self, id="circuit", classes="pane")
        self.findings = FindingsPane(self, id="findings", classes="pane")
        self.part = PartPane(self, id="right")

    def compose(self) -> ComposeResult:
        """Answers on top, circuit and findings left, the part right, the caution and the keys below."""
        yield self.file
        yield Summary(id="summary")
        yield WhatIfLine(self.bench.what_if)
        with Horizontal(id="panes"):
            with Vertical(id="left"):
                yield self.circuit
                yield self.findings
            yield self.part
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Examines the file for the first time."""
        self.circuit.focus()
        self.changed()
        if self._greeting:
            self.tell(self._greeting)

    def on_unmount(self) -> None:
        """Ends the thread."""
        self._examiner.close()

    def _examined(self, checked: Checked) -> None:
        """Called in the examiner's thread."""
        self.post_message(self.Examined(checked))

    def changed(self, key: str | None = None) -> None:
        """After every change: shows the part again, examines the file, keeps a recovery copy."""
        self.show_part(key)
        document = self.bench.document
        self._examiner.ask(document.blocks, str(document.path))
        self._keep()
        self.file.show_state()
        self.query_one(WhatIfLine).show(None if self.bench.what_if.changes else self.bench.checked)

    def expect(self, key: str | None) -> None:
        """Says on which entry of the part one stands: the check of another value of it is made ready."""
        self._examiner.expect(self.bench.ref_of(key) if key is not None else None)

    @on(PartForm.Typing)
    def _keep(self) -> None:
        """Keeps the recovery copy in step, with what is being typed."""
        drafts = [draft.text for draft in self.bench.drafts.values()]
        draft = self.part.form.typed_text or " ".join(drafts)
        what_if, document = self.bench.what_if, self.bench.document
        if what_if.on:  # what is only tried must not come back as if it were so
            self.file.keeper.keep(document, "", what_if.blocks_before, changed=what_if.changed_before)
        else:
            self.file.keeper.keep(document, draft)

    def keep_now(self) -> None:
        """Has the recovery copy written before anything else happens, since the program is about to end."""
        self._keep()
        self.file.keeper.settle()

    def show_part(self, key: str | None = None) -> None:
        """Shows the part one stands on."""
        self.part.show_part(key)

    def tell(self, text: str) -> None:
        """Says what was done, in the first line."""
        self.file.tell(text)

    def finish_typing(self) -> None:
        """Takes what stands in the open field, as leaving it would."""
        self.part.finish_typing()

    @on(Examined)
    def _show_checked(self, event: Examined) -> None:
        """Shows what was found, unless the file has changed since (then that is on its way)."""
        checked = event.checked
        if checked.blocks is not self.bench.document.blocks:
            return
        self.bench.checked = checked
        self.query_one(Summary).show(checked)
        self.query_one(WhatIfLine).show(checked)
        self.circuit.show_rows(checked.circuit_rows, self.bench.part.number)
        self.findings.show_findings()
        self.part.form.show(self.bench.shown_part())
        self.part.ask_room()

    @on(Summary.Opened)
    def _open_gauge(self, event: Summary.Opened) -> None:
        self.findings.open_finding(event.finding)

    def go_on(self, way: str | None) -> None:
        """Goes where the page of the first answer was left for."""
        if way == "next":
            self.circuit.action_next_unknown()
        elif way == "save":
            self.file.action_save()

    def jump(self, key_path: str) -> None:
        """Goes to the entry that a key path names; to the panel for what the whole file lacks."""
        before = self.bench.document.blocks
        entry = self.bench.stand_on_path(key_path)
        self.circuit.stand_on(self.bench.standing)
        name = entry.key.name if entry else None
        if self.bench.document.blocks is before:
            self.show_part(name)
        else:
            self.changed(name)
        self.query_one(EntryList).focus()

    async def action_pane(self, pane: str, action: str) -> None:
        """Has a pane do what is its own to do, wherever one stands."""
        await self.query_one(f"#{pane}").run_action(action)

    def action_focus_pane(self, pane: str) -> None:
        """Goes to a pane."""
        self.query_one(f"#{pane}").focus()

    @property
    def pane(self) -> str:
        """The pane that one is in: circuit, findings or entries."""
        inside = self.focused.ancestors_with_self if self.focused is not None else ()
        return "entries" if self.part in inside else "findings" if self.findings in inside else "circuit"

    def on_descendant_focus(self) -> None:
        """In a thin window only the pane in use is shown."""
        self.set_class(self.pane == "entries", "-in-form")
        self.set_class(self.pane == "findings", "-in-findings")

    def action_help(self) -> None:
        """The keys of the pane one is in, then all others."""
        pane = self.pane
        self.app.push_screen(PageScreen(f"Help: the {pane}", lambda width: working_help(width, pane)))

    def action_undo(self) -> None:
        """Takes the latest step back; in an open field, what was typed there and nothing else."""
        if self.part.form.editing:
            self.part.form.give_up()
        else:
            self._after_undo("Undone", self.bench.undo())

    def action_redo(self) -> None:
        """Makes the step last taken back again; an open field is none to go on from."""
        if self.part.form.editing:
            self.tell("Keep or drop what you typed first: Enter or Esc.")
        else:
            self._after_undo("Done again", self.bench.redo())

    def _after_undo(self, word: str, says: str | None) -> None:
        if says is None:
            nothing = "Nothing to undo" if word == "Undone" else "Nothing to do again"
            self.tell(f"{nothing} in this what-if: X drops it." if self.bench.what_if.on else f"{nothing}.")
            return
        self.tell(f"{word}: {says}")
        self.changed()
        self.circuit.stand_on(self.bench.standing)

    def action_what_if(self) -> None:
        """Begins a what-if; while one is on, shows it side by side with what was."""
        self.finish_typing()
        what_if = self.bench.what_if
        if what_if.on:
            self.app.push_screen(WhatIfScreen(what_if, self._checked_now), self._after_what_if)
            return
        what_if.begin(self._checked_now)
        self.tell("What if: change anything and watch. K keeps it, X drops it, W shows it side by side.")
        self.changed()

    @property
    def _checked_now(self) -> Checked | None:
        """What was found of the file as it stands, where that is known by now."""
        checked = self.bench.checked
        return checked if checked is not None and checked.blocks is self.bench.document.blocks else None

    def _after_what_if(self, how: str | None) -> None:
        if how == "keep":
            self.action_keep()
        elif how == "drop":
            self.action_drop()
        elif how == "other":
            self.bench.what_if.other(self._checked_now)
            self._tried(f"What if {self.bench.what_if.number} is on; the other is set aside. W shows both.")

    def action_keep(self) -> None:
        """Keeps what the what-if changed, as one step of undo."""
        if self._in_what_if():
            named = self.bench.what_if.keep()
            self._tried(f"Kept (z takes it back): {named}" if named else "Nothing was changed, so nothing is kept.")

    def action_drop(self) -> None:
        """Drops what the what-if changed."""
        if self._in_what_if():
            number = self.bench.what_if.number
            self.bench.what_if.drop()
            left = self.bench.what_if.number
            self._tried(f"What if {number} is dropped" + (f"; what if {left} is on again." if left else "."))

    def _in_what_if(self) -> bool:
        self.finish_typing()
        if not self.bench.what_if.on:
            self.tell("No what-if is on: W begins one.")
        return self.bench.what_if.on

    def _tried(self, says: str) -> None:
        self.bench.drop_lost_drafts()
        self.tell(says)
        self.changed()
        self.circuit.stand_on(self.bench.part.number)
