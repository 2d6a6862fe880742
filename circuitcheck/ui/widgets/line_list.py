"""A list of one-line rows that draws only what is in view; the row you stand on opens to show more."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from circuitcheck.ui.rows import Row
from circuitcheck.ui.spans import ROLES, Line


class LineList(ScrollView, can_focus=True):
    """A list for thousands of rows. Up and Down move, Enter chooses, a click moves and a second click chooses."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"line--{role}" for role in ROLES} | {"line--cursor"}

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", "Up", show=False),
        Binding("down,j", "move(1)", "Down", show=False),
        Binding("pageup", "page(-1)", "Page up", show=False),
        Binding("pagedown", "page(1)", "Page down", show=False),
        Binding("home", "first", "First", show=False),
        Binding("end", "last", "Last", show=False),
        Binding("enter", "choose", "Open", show=False),
    ]

    cursor: reactive[int] = reactive(0, always_update=False)

    class Moved(Message):
        """The cursor stands on another row."""

        def __init__(self, source: LineList, item: object) -> None:
            """Takes the list and the item."""
            super().__init__()
            self.source = source
            self.item = item

        @property
        def control(self) -> LineList:
            """The list that moved."""
            return self.source

    class Chosen(Message):
        """A row was chosen with Enter or by a click on the row the cursor was on."""

        def __init__(self, source: LineList, item: object) -> None:
            """Takes the list and the item."""
            super().__init__()
            self.source = source
            self.item = item

        @property
        def control(self) -> LineList:
            """The list that was chosen from."""
            return self.source

    def __init__(self, *, id: str | None = None, classes: str | None = None, opens: bool = True) -> None:
        """An empty list; ``opens``: the row that the cursor is on shows more."""
        super().__init__(id=id, classes=classes)
        self._rows: Sequence[Row] = ()
        self._more: Sequence[Line] = ()
        self._opens = opens
        self._base: Style | None = None

    @property
    def rows(self) -> Sequence[Row]:
        """The rows, top to bottom."""
        return self._rows

    @property
    def item(self) -> object | None:
        """What the cursor stands on."""
        return self._rows[self.cursor].item if 0 <= self.cursor < len(self._rows) else None

    def show_rows(self, rows: Sequence[Row], item: object | None = None) -> None:
        """Shows other rows; the cursor stays on the same item (or goes to ``item``), else near where it was."""
        wanted = item if item is not None else self.item
        place = self.cursor
        if not (0 <= place < len(rows) and rows[place].item == wanted):
            place = next((index for index, row in enumerate(rows) if row.item == wanted), -1)
        before, more = self._rows, self._more
        self._rows = rows
        if place < 0:
            place = self._standing(min(self.cursor, max(len(rows) - 1, 0)), 1)
        moved = place != self.cursor
        self.set_reactive(LineList.cursor, place)
        self._lay_out()
        if moved or len(before) != len(rows) or len(more) != len(self._more):
            self.refresh()
        else:
            self._refresh_changed(before, more)
        if moved:
            self.call_after_refresh(self.keep_in_view)

    def _refresh_changed(self, before: Sequence[Row], more: Sequence[Line]) -> None:
        """Draws anew only the lines in view that became others; ``more``: what the opened row showed besides."""
        top = round(self.scroll_offset.y)
        width = self.size.width
        for y in range(top, min(top + self.size.height, len(self._rows) + len(self._more))):
            place, opened = self._place_at(y)
            old, new = before[place], self._rows[place]
            if opened is None:
                same = (old.line, old.opened) == (new.line, new.opened)
            else:
                same = more[opened] == self._more[opened]
            if not same:
                self.refresh(Region(0, y - top, width, 1))

    def stand_on(self, item: object) -> bool:
        """Moves the cursor to the row of ``item``; whether there is one."""
        place = next((index for index, row in enumerate(self._rows) if row.item == item), None)
        if place is None:
            return False
        self.cursor = place
        return True

    def _standing(self, place: int, step: int) -> int:
        """The nearest row that the cursor may stand on, looking first in the direction of ``step``."""
        for direction in (step, -step):
            index = place
            while 0 <= index < len(self._rows):
                if self._rows[index].stands:
                    return index
                index += direction
        return place

    def watch_cursor(self, old: int, new: int) -> None:
        """Opens the new row, keeps it in view and tells the screen."""
        if not self._rows:
            return
        self._lay_out()
        self.refresh()
        self.scroll_to_region(
            Region(0, new, max(self.size.width, 1), 1 + len(self._more)), animate=False, force=True, x_axis=False
        )
        if old != new and (item := self.item) is not None:
            self.post_message(self.Moved(self, item))

    def _lay_out(self) -> None:
        row = self._rows[self.cursor] if 0 <= self.cursor < len(self._rows) else None
        width = max(self.scrollable_content_region.width, 8)
        self._more = row.more(width - 1) if self._opens and row is not None and row.more is not None else ()
        size = Size(width, len(self._rows) + len(self._more))
        if size != self.virtual_size:
            self.virtual_size = size

    def on_resize(self, event: events.Resize) -> None:
        """Wraps the opened row again for the new width."""
        self._lay_out()
        self.keep_in_view()
        self.call_after_refresh(self.keep_in_view)

    def keep_in_view(self) -> None:
        """Scrolls until the row one stands on is in view, with what it shows besides."""
        region = Region(0, self.cursor, max(self.size.width, 1), 1 + len(self._more))
        self.scroll_to_region(region, animate=False, force=True, x_axis=False)

    def render_line(self, y: int) -> Strip:
        """One line of what is in view."""
        width = self.scrollable_content_region.width
        place, opened = self._place_at(y + round(self.scroll_offset.y))
        base = self._base_style
        if not 0 <= place < len(self._rows):
            return Strip.blank(width, base)
        row = self._rows[place]
        line = self._more[opened] if opened is not None else row.line
        if place == self.cursor and opened is None and self._more and row.opened is not None:
            line = row.opened
        if place == self.cursor:
            base += self.get_component_rich_style("line--cursor", partial=True)
        gutter = (">" if self.has_focus else "-") if place == self.cursor and opened is None else " "
        segments = [Segment(gutter, self._look("added", base))]
        segments += [Segment(text, self._look(role, base)) for text, role in line if text]
        return Strip(segments).adjust_cell_length(width, base)

    @property
    def _base_style(self) -> Style:
        """The widget's own look, worked out once until styles change."""
        if self._base is None:
            self._base = self.rich_style
        return self._base

    def notify_style_update(self) -> None:
        """The look has to be worked out again."""
        self._base = None
        super().notify_style_update()

    def _look(self, role: str, base: Style) -> Style:
        if role == "plain":
            return base
        return base + self.get_component_rich_style(f"line--{role}", partial=True)

    def _place_at(self, line: int) -> tuple[int, int | None]:
        """The row on a line, and which of its further lines it is."""
        if line <= self.cursor:
            return line, None
        if line <= self.cursor + len(self._more):
            return self.cursor, line - self.cursor - 1
        return line - len(self._more), None

    def on_focus(self) -> None:
        """The cursor's look depends on the focus."""
        self.refresh()

    def on_blur(self) -> None:
        """The cursor's look depends on the focus."""
        self.refresh()

    def on_click(self, event: events.Click) -> None:
        """A click moves the cursor; a click on the row it stands on chooses."""
        offset = event.get_content_offset(self)
        if offset is None:
            return
        place, _ = self._place_at(offset.y + round(self.scroll_offset.y))
        if not 0 <= place < len(self._rows) or not self._rows[place].stands:
            return
        if place == self.cursor:
            self.action_choose()
        else:
            self.cursor = place

    def action_move(self, step: int) -> None:
        """Moves the cursor by a row."""
        place = self.cursor + step
        if 0 <= place < len(self._rows):
            self.cursor = self._standing(place, step)

    def action_page(self, step: int) -> None:
        """Moves the cursor by a page."""
        if self._rows:
            place = self.cursor + step * max(self.size.height - 1, 1)
            self.cursor = self._standing(min(max(place, 0), len(self._rows) - 1), step)

    def action_first(self) -> None:
        """Moves to the first row."""
        if self._rows:
            self.cursor = self._standing(0, 1)

    def action_last(self) -> None:
        """Moves to the last row."""
        if self._rows:
            self.cursor = self._standing(len(self._rows) - 1, -1)

    def action_choose(self) -> None:
        """Chooses the row that the cursor stands on."""
        item = self.item
        if item is not None:
            self.post_message(self.Chosen(self, item))
