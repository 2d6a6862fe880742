"""Count one box: a small form, and its worksheet at once. Nothing is written; no circuit has to be described."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Static

from circuitcheck.circuit.keys.key import Form
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.box_form import EDITION, KEYS, box_lines, read_entry, shown_box
from circuitcheck.ui.entry import value_text, words_of
from circuitcheck.ui.screens.choose import Choice, ChooseScreen
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.shown_part import Draft
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.widgets.shown import shown


class BoxScreen(Screen[None]):
    """The form above, the answer below."""

    CSS_PATH = "box.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pagedown", "scroll(1)", "More", key_display="PgDn", priority=True),
        Binding("pageup", "scroll(-1)", "Up", show=False, priority=True),
        Binding("escape,q", "leave", "Back", key_display="Esc"),
    ]

    def __init__(self) -> None:
        """Nothing is known of the box."""
        super().__init__()
        self.entries: dict[str, Any] = {"rulebook": EDITION}
        self._drafts: dict[str, Draft] = {}

    def compose(self) -> ComposeResult:
        """Title, form, answer."""
        yield Static(shown("Count one box", "strong"), id="about")
        yield PartForm(read_entry, id="form", marks=False)
        yield PageText(lambda width: list(box_lines(self.entries, width)), id="answer")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Stands on the cables."""
        self._show()
        self.query_one(EntryList).focus()

    def _show(self) -> None:
        self.query_one(PartForm).show(shown_box(self.entries, self._drafts))

    def _put(self, name: str, value: object | None) -> None:
        self._drafts.pop(name, None)
        if value is None:
            self.entries.pop(name, None)
        else:
            self.entries[name] = value
        self.entries.setdefault("rulebook", EDITION)
        self._show()
        self.query_one(PageText).show(lambda width: list(box_lines(self.entries, width)))

    @on(PartForm.Entered)
    def _entered(self, event: PartForm.Entered) -> None:
        if event.final:
            self._put(event.key, event.typed.value)

    @on(PartForm.Emptied)
    def _emptied(self, event: PartForm.Emptied) -> None:
        self._put(event.key, None)

    @on(PartForm.GivenUp)
    def _given_up(self, event: PartForm.GivenUp) -> None:
        self._drafts.pop(event.key, None)
        self._show()

    @on(PartForm.Drafted)
    def _drafted(self, event: PartForm.Drafted) -> None:
        self._drafts[event.key] = Draft(event.text, event.typed.problem, event.typed.suggestion)
        self._show()

    @on(EntryList.Marked)
    def _marked(self, event: EntryList.Marked) -> None:
        if event.how == "unknown":
            self._put(event.key, None)

    @on(EntryList.Turned)
    def _turned(self, event: EntryList.Turned) -> None:
        if KEYS[event.key].form is Form.YES_NO:
            self._put(event.key, {True: False, False: None, None: True}[self.entries.get(event.key)])
        else:
            self.query_one(PartForm).edit(event.key)

    @on(PartForm.Picking)
    def _picking(self, event: PartForm.Picking) -> None:
        key = KEYS[event.key]
        yes_no = key.form is Form.YES_NO
        choices = [Choice(each, each) for each in (("yes", "no") if yes_no else words_of(key, vocabulary()))]
        if not key.required:
            choices.append(Choice("?", "I do not know", "It stays unknown; the worst case is assumed."))

        def taken(picked: str | None) -> None:
            if picked is not None:
                self._put(key.name, None if picked == "?" else picked == "yes" if yes_no else picked)

        self.app.push_screen(ChooseScreen(key.title, choices, value_text(self.entries.get(key.name)) or "?"), taken)

    def action_scroll(self, step: int) -> None:
        """Scrolls the answer by nearly its height."""
        page = self.query_one(PageText)
        page.scroll_relative(y=step * max(page.size.height - 1, 1), animate=False)

    def action_leave(self) -> None:
        """Goes back; nothing was written."""
        self.dismiss(None)
