"""The part one stands on: its entries, entered, marked and picked from lists, and what the entry stood on is."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from circuitcheck.circuit.guide import KeyGuide
from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.ui.entry import HOW_WORD, words_of
from circuitcheck.ui.entry_line import entry_example
from circuitcheck.ui.guide_text import full_help, guide_for
from circuitcheck.ui.panes.page import Page
from circuitcheck.ui.part_text import part_details, section_word
from circuitcheck.ui.parts.planning import is_change
from circuitcheck.ui.room_finding import Asked, parts_of
from circuitcheck.ui.screens.choose import Choice, ChooseScreen
from circuitcheck.ui.screens.page import PageScreen
from circuitcheck.ui.screens.pick_many import PickManyScreen
from circuitcheck.ui.screens.table_list import TableListScreen
from circuitcheck.ui.widgets.entry_help import EntryHelp
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.widgets.room_line import RoomLine

UNKNOWN = ""


class PartPane(Vertical):
    """The form and its help. Everything goes through the workbench."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("slash", "find", "Find an entry", show=False)]

    def __init__(self, page: Page, *, id: str | None = None) -> None:
        """Takes the page that it stands on."""
        super().__init__(id=id)
        self.page = page
        self.bench = page.bench
        self._session = ""

    def compose(self) -> ComposeResult:
        """The form, and beneath it what the entry stood on is."""
        yield PartForm(self.bench.read, id="form", classes="pane")
        yield RoomLine()
        yield EntryHelp(id="entry-help")

    def on_resize(self) -> None:
        """How much is explained depends on the height of the window."""
        self.call_after_refresh(self.query_one(EntryHelp).redraw)

    @property
    def form(self) -> PartForm:
        """The form."""
        return self.query_one(PartForm)

    def show_part(self, key: str | None = None) -> None:
        """Shows the part one stands on; stands on an entry of it."""
        form = self.form
        form.show(self.bench.shown_part(), key)
        self._show_help(form.entries.item)
        self.ask_room()

    def ask_room(self) -> None:
        """Has the room left found for the part one stands on, in the state of the file that was checked."""
        checked, part = self.bench.checked, self.bench.part
        known = checked is not None and checked.blocks is self.bench.document.blocks
        parts = parts_of(self.bench.document, part)
        asked = Asked(part.number, parts, checked) if checked is not None and known and parts else None
        self.query_one(RoomLine).ask(asked)

    def _show_help(self, key: object) -> None:
        name = key if isinstance(key, str) else None
        self.page.expect(name)
        self.query_one(EntryHelp).show(self.bench.section_of(name or ""), name, planned=is_change(self.bench.part))

    @on(LineList.Moved, "#entries")
    def _entry_stands(self, event: LineList.Moved) -> None:
        event.stop()
        self._show_help(event.item)

    def finish_typing(self) -> None:
        """Takes what stands in the open field, as leaving it would."""
        match self.form.finish():
            case PartForm.Entered() as entered:
                self._entered(entered)
            case PartForm.Drafted() as drafted:
                self._drafted(drafted)
            case PartForm.Emptied() as emptied:
                self._emptied(emptied)

    @on(PartForm.Editing)
    def _editing(self, event: PartForm.Editing) -> None:
        event.stop()
        self._session = self.bench.new_session()
        if (hint := self.bench.hint_of_change(event.key)) is not None:
            self.page.tell(hint)

    @on(PartForm.Entered)
    def _entered(self, event: PartForm.Entered) -> None:
        event.stop()
        self.bench.drafts.pop((self.bench.part.number, event.key), None)
        self.bench.put(event.key, event.typed.value, also=event.typed.also, session=self._session)
        self.page.changed(event.key if not event.final else None)

    @on(PartForm.Untaken)
    def _untaken(self, event: PartForm.Untaken) -> None:
        event.stop()
        if self.bench.document.drop(self._session):
            self.page.changed(event.key)

    @on(PartForm.Drafted)
    def _drafted(self, event: PartForm.Drafted) -> None:
        event.stop()
        self.bench.document.drop(self._session)
        self.bench.keep_draft(event.key, event.text, event.typed)
        self.page.changed()

    @on(PartForm.GivenUp)
    def _given_up(self, event: PartForm.GivenUp) -> None:
        event.stop()
        self.bench.document.drop(self._session)
        self.bench.drafts.pop((self.bench.part.number, event.key), None)
        key = self.bench.key_of(event.key)
        if key is not None and event.typed:
            self.page.tell(f"{key.title} is as it was: {self.bench.shown_text(event.key) or 'unknown'}")
        self.page.changed(event.key)

    @on(PartForm.Emptied)
    def _emptied(self, event: PartForm.Emptied) -> None:
        event.stop()
        self._make_unknown(event.key)

    @on(EntryList.Marked)
    def _marked(self, event: EntryList.Marked) -> None:
        event.stop()
        key = self.bench.key_of(event.key)
        if key is None:
            return
        if event.how == "unknown":
            self._make_unknown(event.key)
            return
        if event.how == "given up":
            given_up = self.bench.give_up(event.key)
            says = {
                None: "has a value; u makes it unknown.",
                True: "cannot be found out: it is left out of what n asks.",
                False: "may be found out after all.",
            }[given_up]
            self.page.tell(f"{key.title} {says}")
            self.page.changed()
            return
        now = self.bench.mark(event.key, event.how)
        if now == "?":
            self.page.tell(f"{key.title} is unknown: enter a value first, then say how you know it.")
        else:
            word = HOW_WORD.get(now, "") or "not said how it is known"
            self.page.tell(f"{key.title}: {word}")
        self.page.changed()

    def _make_unknown(self, name: str) -> None:
        key = self.bench.key_of(name)
        self.bench.drafts.pop((self.bench.part.number, name), None)
        if key is not None and key.required and key.form is not Form.ID:
            self.page.tell(f"{key.title} is needed. Enter a range when you are not sure.")
        elif key is not None and name in self.bench.entries and key.form is not Form.ID:
            self.bench.clear(name)
            self.page.tell(f"{key.title} is unknown now (z takes that back)")
        self.page.changed()

    @on(EntryList.Turned)
    def _turned(self, event: EntryList.Turned) -> None:
        event.stop()
        key = self.bench.key_of(event.key)
        if key is None or key.form is not Form.YES_NO:
            self.form.edit(event.key)
            return
        turned = {True: False, False: None, None: True}[self.bench.entries.get(event.key)]
        self._take(event.key, turned)

    def _take(self, name: str, value: object) -> None:
        """Puts a picked value in; None makes the entry unknown."""
        if value is None:
            self._make_unknown(name)
        else:
            self.bench.drafts.pop((self.bench.part.number, name), None)
            self.bench.put(name, value)
            self.page.changed()

    @on(PartForm.Picking)
    def _picking(self, event: PartForm.Picking) -> None:
        event.stop()
        key = self.bench.key_of(event.key)
        if key is None:
            return
        guide = guide_for(self.bench.section_of(event.key), event.key)
        if key.form is Form.TABLES:
            self._pick_tables(key, guide)
        elif key.form is Form.WORD_LIST:
            self._pick_many(key, guide)
        else:
            self._pick_one(key, guide)

    def _pick_one(self, key: Key, guide: KeyGuide | None) -> None:
        current = self.bench.shown_text(key.name)
        page = ChooseScreen(key.title, self._choices(key), current or "?", guide.what if guide else "")

        def taken(picked: str | None) -> None:
            if picked is None:
                return
            if picked == "?":
                self._take(key.name, None)
            else:
                self._take(key.name, picked == "yes" if key.form is Form.YES_NO else picked)

        self.app.push_screen(page, taken)

    def _choices(self, key: Key) -> list[Choice]:
        unknown = [] if key.required else [Choice("?", "I do not know", "It stays unknown; the worst case is assumed.")]
        if key.form is Form.YES_NO:
            return [Choice("yes", "yes"), Choice("no", "no"), *unknown]
        if key.form is Form.REFERENCE:
            return [self._reference(name, key) for name in self.bench.references(key)] + unknown
        return [Choice(word, word) for word in words_of(key, self.bench.vocabulary)] + unknown

    def _reference(self, name: str, key: Key) -> Choice:
        for section in key.refers:
            block = self.bench.document.named(section, name)
            if block is not None:
                return Choice(name, f"{section_word(section)} {name}", part_details(section, block.data))
        return Choice(name, name)

    def _pick_many(self, key: Key, guide: KeyGuide | None) -> None:
        value = self.bench.entries.get(key.name)
        words = [str(word) for word in value] if isinstance(value, list) else []
        page = PickManyScreen(
            key.title, words_of(key, self.bench.vocabulary), words, guide.what if guide else "", known=value is not None
        )
        self.app.push_screen(page, lambda picked: self._take_list(key.name, picked))

    def _pick_tables(self, key: Key, guide: KeyGuide | None) -> None:
        value = self.bench.entries.get(key.name)
        tables: list[dict[str, Any]] = [dict(item) for item in value] if isinstance(value, list) else []
        page = TableListScreen(key, tables, self.bench.vocabulary, guide.what if guide else "")
        self.app.push_screen(page, lambda picked: self._take_list(key.name, picked))

    def _take_list(self, name: str, picked: list[Any] | None) -> None:
        if picked is not None and picked != self.bench.entries.get(name):
            self._take(name, picked)

    @on(EntryList.HelpWanted)
    def _help_wanted(self, event: EntryList.HelpWanted) -> None:
        event.stop()
        guide = guide_for(self.bench.section_of(event.key), event.key)
        key = self.bench.key_of(event.key)
        if guide is not None and key is not None:
            self.app.push_screen(PageScreen(guide.title, lambda width: full_help(guide, width, entry_example(key))))

    def action_find(self) -> None:
        """Finds an entry by words."""
        entries = self.bench.shown_part().entries
        choices = [Choice(entry.key.name, entry.key.title, entry.text or "unknown") for entry in entries]
        listed = self.query_one(EntryList)

        def taken(picked: str | None) -> None:
            if picked is not None:
                listed.stand_on(picked)
                listed.focus()

        self.app.push_screen(ChooseScreen("Find an entry", choices, str(listed.item)), taken)
