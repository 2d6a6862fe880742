"""The entries of a part as a list with keys of its own, and the field that opens over one of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.reactive import Reactive
from textual.widgets import Input

from circuitcheck.ui.widgets.line_list import LineList

#: Characters that begin a value: typing one starts editing at once.
_STARTS = {**{digit: digit for digit in "0123456789"}, "full_stop": ".", "tilde": "~", "apostrophe": "'"}


class EntryList(LineList):
    """The entries of a part; the keys that mark how a value is known work here."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "choose", "Edit", key_display="Enter", priority=True),
        Binding("t", "to_screen(\"focus_pane('circuit')\")", "Circuit"),
        Binding("f", "to_screen(\"focus_pane('findings')\")", "Findings"),
        Binding("question_mark", "to_screen('help')", "Help", key_display="?"),
        Binding("m", "mark('measured')", "How known", key_display="m l g"),
        Binding("l", "mark('label')", "Label", show=False),
        Binding("g", "mark('guess')", "Guessed", show=False),
        Binding("u,delete", "unknown", "Unknown", key_display="u"),
        Binding("h", "explain", "Explain"),
        Binding("i", "mark('given up')", "Cannot find out", show=False),
        Binding("space", "turn", "Yes/no", show=False),
        Binding("s", "to_screen(\"pane('file-line', 'save')\")", "Save", show=False),
        Binding("w", "to_screen(\"pane('file-line', 'write_note')\")", "Note", show=False),
        *(
            Binding(key, f"begin({character!r})", "Type", show=False, priority=True)
            for key, character in _STARTS.items()
        ),
    ]

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The small tables have no marks, no guide of their own, and no other panes beside them."""
        return self._marks or action not in ("mark", "explain", "to_screen")

    class Marked(Message):
        """An entry is known in this way; ``unknown`` means not at all, ``given up`` that nobody can find it out."""

        def __init__(self, key: str, how: str) -> None:
            """Takes the key's name and measured, label, guess, unknown or given up."""
            super().__init__()
            self.key = key
            self.how = how

    class HelpWanted(Message):
        """The whole explanation of an entry is wanted."""

        def __init__(self, key: str) -> None:
            """Takes the key's name."""
            super().__init__()
            self.key = key

    class Turned(Message):
        """A yes-or-no entry is turned on: yes, no, unknown."""

        def __init__(self, key: str) -> None:
            """Takes the key's name."""
            super().__init__()
            self.key = key

    def __init__(self, open_entry: Callable[[str, str | None], None], *, marks: bool, id: str | None = None) -> None:
        """``open_entry`` opens an entry for typing, with a first character or what it holds.

        It is called and not posted, so that the keys typed right after it find the field open.
        """
        super().__init__(id=id)
        self._open_entry = open_entry
        self._marks = marks

    def action_choose(self) -> None:
        """Opens the entry under the cursor."""
        if isinstance(self.item, str):
            self._open_entry(self.item, None)

    def action_begin(self, first: str) -> None:
        """Opens the entry under the cursor with a first character typed."""
        if isinstance(self.item, str):
            self._open_entry(self.item, first)

    def action_mark(self, how: str) -> None:
        """Marks the entry under the cursor."""
        if isinstance(self.item, str):
            self.post_message(self.Marked(self.item, how))

    def action_unknown(self) -> None:
        """Makes the entry under the cursor unknown."""
        if isinstance(self.item, str):
            self.post_message(self.Marked(self.item, "unknown"))

    def action_explain(self) -> None:
        """Asks for the whole explanation."""
        if isinstance(self.item, str):
            self.post_message(self.HelpWanted(self.item))

    async def action_to_screen(self, action: str) -> None:
        """Has the page do something."""
        await self.screen.run_action(action)

    def action_turn(self) -> None:
        """Turns a yes-or-no entry on."""
        if isinstance(self.item, str):
            self.post_message(self.Turned(self.item))


class EntryInput(Input):
    """The field that opens over an entry's value. Escape leaves it as it was; every other way keeps what was typed."""

    #: The form sets the field's place and width, so that a longer or shorter text asks for no new layout of the page.
    virtual_size: Reactive[Size] = Reactive(Size(0, 0))

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", "Take it", key_display="Enter"),
        Binding("escape", "give_up", "As it was", key_display="Esc"),
        Binding("tab,down", "leave(1)", "Next entry", priority=True, key_display="Tab"),
        Binding("shift+tab,up", "leave(-1)", "Entry before", show=False, priority=True),
    ]

    class GivenUp(Message):
        """The field is left, and what was typed in it counts for nothing."""

    class Left(Message):
        """The field is left towards the entry ``step`` rows on; None: the focus has gone elsewhere already."""

        def __init__(self, step: int | None) -> None:
            """Takes the number of rows to go on."""
            super().__init__()
            self.step = step

    def action_leave(self, step: int) -> None:
        """Leaves the field."""
        self.post_message(self.Left(step))

    def action_give_up(self) -> None:
        """Leaves the field as it was before."""
        self.post_message(self.GivenUp())

    def on_blur(self) -> None:
        """Whoever takes the focus away does not take the text away."""
        self.post_message(self.Left(None))
