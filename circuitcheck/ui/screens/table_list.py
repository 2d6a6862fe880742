"""A list of small tables (the switches in a box, the wires of a luminaire), each with a form of its own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.ui.entry import Typed, read_typed, value_text, words_of
from circuitcheck.ui.rows import Row
from circuitcheck.ui.screens.ask import Answer, AskScreen
from circuitcheck.ui.screens.choose import Choice, ChooseScreen
from circuitcheck.ui.shown_part import Draft, ShownEntry, ShownPart
from circuitcheck.ui.spans import user_span
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.widgets.shown import shown


class TableListScreen(ModalScreen[list[dict[str, Any]] | None]):
    """The list on top, the form of the one that is stood on below. Tab takes the list; Escape leaves it as it was."""

    CSS_PATH = "table_list.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "done", "Take it", key_display="Tab"),
        Binding("escape,q", "leave", "As it was", key_display="Esc"),
        Binding("a", "add", "Add"),
        Binding("x,delete", "remove", "Delete", key_display="x"),
    ]

    def __init__(
        self, key: Key, tables: list[dict[str, Any]], vocabulary: Mapping[str, Sequence[str]], about: str
    ) -> None:
        """Takes the key that holds the list, what is in it, the words of the tables, and a sentence."""
        super().__init__()
        self._key = key
        self._tables = tables
        self._before = [dict(table) for table in tables]
        self._drafts: dict[tuple[int, str], Draft] = {}
        self._vocabulary = vocabulary
        self._about = about

    def compose(self) -> ComposeResult:
        """Title, list, form."""
        with Vertical(id="sheet"):
            yield Static(shown(self._key.title, "strong"), id="question")
            yield Static(shown(self._about, "dim"), id="about")
            yield LineList(id="tables", opens=False)
            yield PartForm(self._read, id="form", marks=False)
            yield KeyLine()

    def on_mount(self) -> None:
        """Shows the list; an empty one gets its first table when a is pressed."""
        self._show()
        self.query_one("#tables", LineList).focus()

    @property
    def _place(self) -> int:
        item = self.query_one("#tables", LineList).item
        return item if isinstance(item, int) and item < len(self._tables) else -1

    def _read(self, name: str, text: str) -> Typed:
        return read_typed(self._key.parts[name], text, self._vocabulary)

    def _show(self, stand_on: int | None = None) -> None:
        rows = [
            Row(i, (user_span(value_text(table) or "nothing said yet", "value"),))
            for i, table in enumerate(self._tables)
        ]
        if not rows:
            rows = [Row(-1, (("none; a adds one", "dim"),))]
        self.query_one("#tables", LineList).show_rows(rows, stand_on)
        self._show_form()

    def _show_form(self) -> None:
        place = self._place
        form = self.query_one(PartForm)
        form.display = place >= 0
        if place < 0:
            return
        table = self._tables[place]
        entries = []
        for key in self._key.parts.values():
            draft = self._drafts.get((place, key.name))
            problem = "This is needed." if key.required and key.name not in table else ""
            entries.append(
                ShownEntry(
                    key,
                    value_text(table.get(key.name)),
                    "",
                    problem=problem,
                    draft=draft.text if draft else "",
                    says=draft.says if draft else "",
                )
            )
        form.show(ShownPart(place + 1, "", f"{self._key.title}, {place + 1} of {len(self._tables)}", tuple(entries)))

    @on(LineList.Moved, "#tables")
    def _moved(self) -> None:
        self._show_form()

    @on(LineList.Chosen, "#tables")
    def _into_form(self) -> None:
        if self._place < 0:
            self.action_add()
        self.query_one(EntryList).focus()

    def _put(self, name: str, value: object) -> None:
        table = self._tables[self._place]
        self._drafts.pop((self._place, name), None)
        if value is None:
            table.pop(name, None)
        else:
            table[name] = value
            ordered = {key: table[key] for key in self._key.parts if key in table}
            table.clear()
            table.update(ordered)
        self._show(self._place)

    @on(PartForm.Entered)
    def _entered(self, event: PartForm.Entered) -> None:
        if event.final:
            self._put(event.key, event.typed.value)

    @on(PartForm.Emptied)
    def _emptied(self, event: PartForm.Emptied) -> None:
        self._put(event.key, None)

    @on(PartForm.GivenUp)
    def _given_up(self, event: PartForm.GivenUp) -> None:
        self._drafts.pop((self._place, event.key), None)
        self._show_form()

    @on(PartForm.Drafted)
    def _drafted(self, event: PartForm.Drafted) -> None:
        self._drafts[self._place, event.key] = Draft(event.text, event.typed.problem, event.typed.suggestion)
        self._show_form()

    @on(EntryList.Marked)
    def _marked(self, event: EntryList.Marked) -> None:
        if event.how == "unknown":
            self._put(event.key, None)

    @on(PartForm.Picking)
    def _picking(self, event: PartForm.Picking) -> None:
        key = self._key.parts[event.key]
        words = ("yes", "no") if key.form is Form.YES_NO else words_of(key, self._vocabulary)
        choices = [Choice(word, word) for word in words]
        if not key.required:
            choices.append(Choice("?", "I do not know"))
        current = value_text(self._tables[self._place].get(event.key)) or "?"

        def taken(picked: str | None) -> None:
            if picked is not None:
                value = None if picked == "?" else picked == "yes" if key.form is Form.YES_NO else picked
                self._put(event.key, value)

        self.app.push_screen(ChooseScreen(key.title, choices, current), taken)

    def action_add(self) -> None:
        """Adds one, with the first of the words and a count of one where those are asked for."""
        table: dict[str, Any] = {}
        for key in self._key.parts.values():
            if key.required and key.form is Form.WORD:
                table[key.name] = key.words[0]
            elif key.required and key.form is Form.WHOLE:
                table[key.name] = max(key.least, 1)
        self._tables.append(table)
        self._show(len(self._tables) - 1)
        self.query_one(EntryList).focus()

    def action_remove(self) -> None:
        """Takes out the one that is stood on."""
        if self._place >= 0:
            del self._tables[self._place]
            self._drafts.clear()
            self._show()

    def action_done(self) -> None:
        """Goes back with the list; text that is no value is not in it, and that is said first."""
        left = next(iter(self._drafts.values()), None)
        if left is None:
            self.dismiss(self._tables)
            return
        answers = [Answer("take", "y", "Take the list without that text"), Answer("stay", "n", "Stay here")]

        def answered(answer: str | None) -> None:
            if answer == "take":
                self.dismiss(self._tables)

        self.app.push_screen(AskScreen(f'"{left.text}" is no value', [left.says], answers), answered)

    def action_leave(self) -> None:
        """From the form to the list; from there back with nothing changed, after a question where something was."""
        if not self.query_one("#tables").has_focus:
            self.query_one("#tables").focus()
            return
        if self._tables == self._before and not self._drafts:
            self.dismiss(None)
            return
        answers = [
            Answer("leave", "d", "Leave the list as it was before"),
            Answer("take", "s", "Take the list as it stands"),
            Answer("stay", "n", "Stay here"),
        ]

        def answered(answer: str | None) -> None:
            if answer == "leave":
                self.dismiss(None)
            elif answer == "take":
                self.action_done()

        self.app.push_screen(
            AskScreen("Leave the list as it was?", ["What was changed here is lost then."], answers), answered
        )
