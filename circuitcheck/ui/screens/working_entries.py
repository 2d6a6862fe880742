"""The working page's answers to what happens in the form: values entered, marked, picked from lists."""

from __future__ import annotations

from typing import Any

from textual import on
from textual.screen import Screen

from circuitcheck.circuit.guide import KeyGuide
from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.ui.entry import HOW_WORD, words_of
from circuitcheck.ui.entry_line import entry_example
from circuitcheck.ui.guide_text import full_help, guide_for
from circuitcheck.ui.part_text import part_details, section_word
from circuitcheck.ui.screens.choose import Choice, ChooseScreen
from circuitcheck.ui.screens.page import PageScreen
from circuitcheck.ui.screens.pick_many import PickManyScreen
from circuitcheck.ui.screens.table_list import TableListScreen
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.workbench import Workbench

UNKNOWN = ""


class EntryActions(Screen[None]):
    """Handles the form's messages. Everything goes through the workbench."""

    bench: Workbench
    _session = ""

    def changed(self, key: str | None = None) -> None:
        """What the page does after a change."""
        raise NotImplementedError

    def tell(self, text: str) -> None:
        """Says what was done."""
        raise NotImplementedError

    def finish_typing(self) -> None:
        """Takes what stands in the open field, as leaving it would."""
        match self.query_one(PartForm).finish():
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

    @on(PartForm.Entered)
    def _entered(self, event: PartForm.Entered) -> None:
        event.stop()
        self.bench.drafts.pop((self.bench.part.number, event.key), None)
        self.bench.put(event.key, event.typed.value, also=event.typed.also, session=self._session)
        self.changed(event.key if not event.final else None)

    @on(PartForm.Untaken)
    def _untaken(self, event: PartForm.Untaken) -> None:
        event.stop()
        if self.bench.document.drop(self._session):
            self.changed(event.key)

    @on(PartForm.Drafted)
    def _drafted(self, event: PartForm.Drafted) -> None:
        event.stop()
        self.bench.document.drop(self._session)
        self.bench.keep_draft(event.key, event.text, event.typed)
        self.changed()

    @on(PartForm.GivenUp)
    def _given_up(self, event: PartForm.GivenUp) -> None:
        event.stop()
        self.bench.document.drop(self._session)
        self.bench.drafts.pop((self.bench.part.number, event.key), None)
        key = self.bench.key_of(event.key)
        if key is not None and event.typed:
            self.tell(f"{key.title} is as it was: {self.bench.shown_text(event.key) or 'unknown'}")
        self.changed(event.key)

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
            self.tell(f"{key.title} {says}")
            self.changed()
            return
        now = self.bench.mark(event.key, event.how)
        if now == "?":
            self.tell(f"{key.title} is unknown: enter a value first, then say how you know it.")
        else:
            word = HOW_WORD.get(now, "") or "not said how it is known"
            self.tell(f"{key.title}: {word}")
        self.changed()

    def _make_unknown(self, name: str) -> None:
        key = self.bench.key_of(name)
        self.bench.drafts.pop((self.bench.part.number, name), None)
        if key is not None and key.required and key.form is not Form.ID:
            self.tell(f"{key.title} is needed. Enter a range when you are not sure.")
        elif key is not None and name in self.bench.part.data and key.form is not Form.ID:
            self.bench.clear(name)
            self.tell(f"{key.title} is unknown now (z takes that back)")
        self.changed()

    @on(EntryList.Turned)
    def _turned(self, event: EntryList.Turned) -> None:
        event.stop()
        key = self.bench.key_of(event.key)
        if key is None or key.form is not Form.YES_NO:
            self.query_one(PartForm).edit(event.key)
            return
        turned = {True: False, False: None, None: True}[self.bench.part.data.get(event.key)]
        self._take(event.key, turned)

    def _take(self, name: str, value: object) -> None:
        """Puts a picked value in; None makes the entry unknown."""
        if value is None:
            self._make_unknown(name)
        else:
            self.bench.drafts.pop((self.bench.part.number, name), None)
            self.bench.put(name, value)
            self.changed()

    @on(PartForm.Picking)
    def _picking(self, event: PartForm.Picking) -> None:
        event.stop()
        key = self.bench.key_of(event.key)
        if key is None:
            return
        guide = guide_for(self.bench.part.section, event.key)
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
        unknown = [] if key.required else [Choice("?", "I do not know", "It stays unknown; the worst case counts.")]
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
        value = self.bench.part.data.get(key.name)
        words = [str(word) for word in value] if isinstance(value, list) else []
        page = PickManyScreen(
            key.title, words_of(key, self.bench.vocabulary), words, guide.what if guide else "", known=value is not None
        )
        self.app.push_screen(page, lambda picked: self._take_list(key.name, picked))

    def _pick_tables(self, key: Key, guide: KeyGuide | None) -> None:
        value = self.bench.part.data.get(key.name)
        tables: list[dict[str, Any]] = [dict(item) for item in value] if isinstance(value, list) else []
        page = TableListScreen(key, tables, self.bench.vocabulary, guide.what if guide else "")
        self.app.push_screen(page, lambda picked: self._take_list(key.name, picked))

    def _take_list(self, name: str, picked: list[Any] | None) -> None:
        if picked is not None and picked != self.bench.part.data.get(name):
            self._take(name, picked)

    @on(EntryList.HelpWanted)
    def _help_wanted(self, event: EntryList.HelpWanted) -> None:
        event.stop()
        guide = guide_for(self.bench.part.section, event.key)
        key = self.bench.key_of(event.key)
        if guide is not None and key is not None:
            self.app.push_screen(PageScreen(guide.title, lambda width: full_help(guide, width, entry_example(key))))
