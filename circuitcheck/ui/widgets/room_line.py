"""How much more there is room for at the part one stands on."""

from __future__ import annotations

from textual.message import Message
from textual.widgets import Static

from circuitcheck.advice.room_words import room_words
from circuitcheck.findings import RoomLeft
from circuitcheck.ui.room_finding import Asked, RoomFinder
from circuitcheck.ui.widgets.shown import shown


class RoomLine(Static):
    """A line or two; nothing while it is not known."""

    class Found(Message):
        """The room left has been found."""

        def __init__(self, asked: Asked, room: tuple[RoomLeft, ...]) -> None:
            """Takes what was asked for and what was found."""
            super().__init__()
            self.asked = asked
            self.room = room

    def __init__(self) -> None:
        """Nothing known yet."""
        super().__init__("", id="room", markup=False)
        self.display = False
        self._asked: Asked | None = None
        self._finder = RoomFinder(lambda asked, room: None if self._gone else self._post(asked, room))
        self._gone = False

    def _post(self, asked: Asked, room: tuple[RoomLeft, ...]) -> None:
        self.post_message(self.Found(asked, room))

    def on_unmount(self) -> None:
        """Ends the thread."""
        self._gone = True
        self._finder.close()

    def ask(self, asked: Asked | None) -> None:
        """Has the room left found for another part, or another state of the file; None: not known now."""
        before = self._asked
        same = asked is not None and before is not None and asked.checked.blocks is before.checked.blocks
        if same and asked is not None and before is not None and asked.parts == before.parts:
            return
        if before is None or asked is None or asked.number != before.number:
            self.display = False
        self._asked = asked
        self._finder.ask(asked)

    def on_room_line_found(self, event: Found) -> None:
        """Shows it, unless something else is asked for by now."""
        event.stop()
        if event.asked is not self._asked:
            return
        self.display = bool(event.room)
        if event.room:
            self.update(shown(f"Room left: {room_words(event.room)}.", "added"))
