"""The part one stands on as a form: a line an entry, typed into in place, with what is wrong right beneath."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import Input

from circuitcheck.circuit.keys.key import Form
from circuitcheck.ui.entry import Typed, value_text
from circuitcheck.ui.entry_line import entry_example, entry_line, is_cut
from circuitcheck.ui.rows import Row
from circuitcheck.ui.shown_part import ShownEntry, ShownPart
from circuitcheck.ui.spans import Line, user_span, wrapped_lines
from circuitcheck.ui.widgets.entry_list import EntryInput, EntryList
from circuitcheck.ui.widgets.shown import shown

#: Entries that open a list or a page instead of being typed into.
PICKED = frozenset({Form.WORD, Form.WORD_LIST, Form.YES_NO, Form.REFERENCE, Form.TABLES, Form.SIZE})
#: Entries whose value is taken while it is typed, as soon as it is one.
LIVE = frozenset({Form.PHYSICAL, Form.PHYSICAL_LIST, Form.WHOLE, Form.TEXT, Form.SIZE})
#: Cells kept for a value and how it is known, in a narrow form.
_VALUE_WIDTH = 19


class PartForm(Vertical):
    """Title, entries, and the field that opens over one of them."""

    class Entered(Message):
        """An entry has a value. ``final``: the user is done with it, else typing goes on."""

        def __init__(self, key: str, typed: Typed, *, final: bool) -> None:
            """Takes the key's name and what the text stands for."""
            super().__init__()
            self.key = key
            self.typed = typed
            self.final = final

    class Untaken(Message):
        """What was taken while typing is no longer what stands in the field: the value before counts again."""

        def __init__(self, key: str) -> None:
            """Takes the key's name."""
            super().__init__()
            self.key = key

    class Typing(Message):
        """Another character was typed or taken away."""

    class Drafted(Message):
        """The field was left with text that stands for no value."""

        def __init__(self, key: str, text: str, typed: Typed) -> None:
            """Takes the key's name, the text and why it stands for none."""
            super().__init__()
            self.key = key
            self.text = text
            self.typed = typed

    class GivenUp(Message):
        """The field was left as it was before; ``typed`` is whether anything in it was different."""

        def __init__(self, key: str, *, typed: bool) -> None:
            """Takes the key's name."""
            super().__init__()
            self.key = key
            self.typed = typed

    class Emptied(Message):
        """The field was left empty: the entry is unknown."""

        def __init__(self, key: str) -> None:
            """Takes the key's name."""
            super().__init__()
            self.key = key

    class Picking(Message):
        """An entry that is picked from a list, or has a page of its own, is opened."""

        def __init__(self, key: str) -> None:
            """Takes the key's name."""
            super().__init__()
            self.key = key

    class Editing(Message):
        """Editing of an entry begins."""

        def __init__(self, key: str) -> None:
            """Takes the key's name."""
            super().__init__()
            self.key = key

    def __init__(
        self, read: Callable[[str, str], Typed], *, id: str | None = None, classes: str = "", marks: bool = True
    ) -> None:
        """An empty form; ``read`` tells what a text stands for; ``marks``: entries say how they are known."""
        super().__init__(id=id, classes=classes)
        self._read = read
        self._marks = marks
        self._part: ShownPart | None = None
        self._editing: str | None = None
        self._began_with = self._value_before = ""
        self._taken_live = False
        self._shown_title = ""
        self._asked_about: str | None = None
        self._told: tuple[str, str] = ("", "plain")

    def compose(self) -> ComposeResult:
        """The list and the field, which is hidden at first."""
        yield EntryList(self._open, marks=self._marks, id="entries")
        field = EntryInput(id="field", compact=True, select_on_focus=False)
        field.display = False
        yield field

    @property
    def entries(self) -> EntryList:
        """The list of entries."""
        return self.query_one(EntryList)

    @property
    def editing(self) -> str | None:
        """The key that is being typed into."""
        return self._editing

    @property
    def typed_text(self) -> str:
        """What stands in the open field; empty when none is open."""
        return self.query_one(EntryInput).value if self._editing else ""

    def show(self, part: ShownPart, key: str | None = None) -> None:
        """Shows a part (again); stands on ``key``, else where it stood if it is the same part, else on the first."""
        other = self._part is None or self._part.number != part.number
        self._part = part
        if other or self._shown_title != part.title:
            self._shown_title = part.title
            self.border_title = shown(part.title, "strong")
        first = part.entries[0].key.name if part.entries else None
        self._fill(key or (first if other else None))

    def _fill(self, key: str | None = None) -> None:
        if self._part is None:
            return
        width = self.entries.scrollable_content_region.width or 40
        label_width = self.label_width
        rows = [self._row(entry, label_width, width) for entry in self._part.entries]
        self.entries.show_rows(rows, key)

    def _row(self, entry: ShownEntry, label_width: int, width: int) -> Row:
        line = entry_line(entry, label_width, width)
        return Row(entry.key.name, line, more=lambda width: self._more(entry, width))

    @property
    def label_width(self) -> int:
        """Cells for the labels: what the value leaves, at most what the longest one takes."""
        width = self.entries.scrollable_content_region.width or 40
        longest = max((len(entry.key.title) for entry in self._part.entries), default=0) if self._part else 0
        return max(min(longest + 4, width - _VALUE_WIDTH), 10)

    def _more(self, entry: ShownEntry, width: int) -> Sequence[Line]:
        """What stands under the entry one stands on: all of it where the line is cut, and what is to be said of it."""
        whole: Sequence[Line] = ()
        if is_cut(entry, self.label_width, self.entries.scrollable_content_region.width or 40):
            value = "" if self._editing == entry.key.name else f": {user_span(entry.text)[0] or 'unknown'}"
            whole = wrapped_lines(f"{entry.key.title}{value}", width, "strong", "  ")
        return (*whole, *self._about(entry, width))

    def _about(self, entry: ShownEntry, width: int) -> Sequence[Line]:
        if self._editing == entry.key.name:
            text, role = self._told
            return (
                wrapped_lines(text, width, role, "  ")
                if text
                else [(("  " + (entry.example or entry_example(entry.key)), "dim"),)]
            )
        if entry.says:
            counts = f"{entry.text} counts" if entry.text else "it counts as unknown"
            says = f'"{entry.draft}" is not taken: {entry.says} Until then {counts}. Esc in the field drops it.'
            return wrapped_lines(user_span(says)[0], width, "fail", "  ")
        beside: list[Line] = []
        if entry.example and not entry.text:
            beside += wrapped_lines(entry.example, width, "dim", "  ")
        if entry.there and entry.text:
            beside += wrapped_lines(f"There now: {user_span(entry.there)[0]}", width, "dim", "  ")
        if entry.planned:
            beside += wrapped_lines(f"Planned: {user_span(entry.planned)[0]}", width, "added", "  ")
        return [*beside, *(wrapped_lines(user_span(entry.problem)[0], width, "fail", "  ") if entry.problem else ())]

    def entry(self, key: str | None) -> ShownEntry | None:
        """The entry of that key."""
        entries = self._part.entries if self._part else ()
        return next((entry for entry in entries if entry.key.name == key), None)

    def edit(self, key: str, text: str | None = None) -> None:
        """Opens the field over an entry, with ``text`` or what it holds. Entries that are picked post Picking."""
        entry = self.entry(key)
        if entry is None:
            return
        self.entries.stand_on(key)
        if entry.key.form in PICKED and text is None and not entry.draft:
            self.post_message(self.Picking(key))
            return
        self._editing = key
        self._asked_about = None
        self._told = (entry.says, "fail") if entry.draft and text is None else ("", "plain")
        self._began_with = entry.draft or entry.text
        self._value_before = entry.text
        self._taken_live = False
        field = self.query_one(EntryInput)
        with field.prevent(Input.Changed):
            field.value = (entry.draft or entry.text) if text is None else text
        field.cursor_position = len(field.value)
        field.display = True
        self.screen.set_focus(field)
        self._fill(key)
        self._place_field()
        self.call_after_refresh(self._follow)
        self.post_message(self.Editing(key))

    def _place_field(self) -> None:
        entries = self.entries
        row = entries.cursor - round(entries.scroll_offset.y)
        field = self.query_one(EntryInput)
        field.styles.offset = (self.label_width + 1, row)
        field.styles.width = max(entries.size.width - self.label_width - 2, 6)

    def on_resize(self) -> None:
        """Keeps columns and the open field in place."""
        self._fill()
        if self._editing:
            self.call_after_refresh(self._place_field)

    def _tell(self, text: str, role: str) -> None:
        if self._told != (text, role):
            self._told = (text, role)
            self._fill(self._editing)
            self.call_after_refresh(self._follow)

    def _follow(self) -> None:
        """Keeps entry, field and what is said beneath in view together."""
        self.entries.keep_in_view()
        if self._editing:
            self._place_field()

    def _close(self) -> tuple[str, str]:
        """Takes the field away; the key and the text that stood in it."""
        key, text = self._editing or "", self.query_one(EntryInput).value
        self._editing = None
        self._told = ("", "plain")
        self.query_one(EntryInput).display = False
        self._fill(key)
        return key, text

    @on(Input.Changed, "#field")
    def _typing(self, event: Input.Changed) -> None:
        event.stop()
        entry = self.entry(self._editing)
        self.post_message(self.Typing())
        if entry is None:
            return
        typed = self._read(entry.key.name, event.value) if event.value.strip() else None
        if typed is None or typed.problem:
            before = self._value_before
            self._tell(f"no value yet; {user_span(before)[0]} still counts" if typed and before else "", "dim")
            if self._taken_live:
                self._taken_live = False
                self.post_message(self.Untaken(entry.key.name))
            return
        self._tell(f"read as {value_text(typed.value)}. Enter takes it, Esc leaves it as it was.", "pass")
        if entry.key.form in LIVE:
            self._taken_live = True
            self.post_message(self.Entered(entry.key.name, typed, final=False))

    @on(Input.Submitted, "#field")
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        key = self._editing
        if key is None:
            return
        typed = self._read(key, event.value)
        if not event.value.strip() or not typed.problem:
            self._leave(0)
        elif typed.suggestion and self._asked_about == event.value:
            self._asked_about = None
            event.input.value = typed.suggestion
            self._leave(0)
        else:
            self._asked_about = event.value
            meant = f" Enter again takes {typed.suggestion}." if typed.suggestion else ""
            before = user_span(self._value_before)[0]
            counts = f" Until then {before} counts." if before else ""
            self._tell(typed.problem + meant + counts, "fail")

    @on(EntryInput.GivenUp)
    def _given_up(self, event: EntryInput.GivenUp) -> None:
        event.stop()
        self.give_up()

    def give_up(self) -> None:
        """Takes the open field away and leaves the entry as it was before."""
        if self._editing is None:
            return
        before = self._value_before
        key, text = self._close()
        self.entries.focus()
        self.post_message(self.GivenUp(key, typed=text != before))

    @on(EntryInput.Left)
    def _left(self, event: EntryInput.Left) -> None:
        event.stop()
        self._leave(event.step)

    def _leave(self, step: int | None) -> None:
        if self._editing is None:
            return
        left = self.finish()
        if step is not None:
            self.entries.focus()
        if left is not None:
            self.post_message(left)
        if step:
            self.entries.action_move(step)

    def finish(self) -> Entered | Drafted | Emptied | None:
        """Takes the field away; what came of it is for the caller to see to. None: nothing is different."""
        if self._editing is None:
            return None
        began_with = self._began_with
        key, text = self._close()
        if not text.strip():
            return self.Emptied(key) if began_with else None
        typed = self._read(key, text)
        if typed.problem:
            return self.Drafted(key, text, typed)
        return self.Entered(key, typed, final=True) if text != began_with else None

    def _open(self, key: str, first: str | None) -> None:
        entry = self.entry(key)
        if entry is not None and (first is None or entry.key.form not in PICKED or entry.key.form is Form.SIZE):
            self.edit(key, first)
