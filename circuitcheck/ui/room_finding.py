"""Room left at the part one stands on, found in a thread of its own once nobody has typed or moved for a moment."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from circuitcheck.advice.room_left import room_left_at
from circuitcheck.circuit.written.block import Block
from circuitcheck.findings import RoomLeft
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import AskedAnewError, Checked
from circuitcheck.ui.parts.planning import is_change, target_of

#: How long nothing was asked before it is begun [s]: it costs many checks, and whoever types goes first.
PAUSE_S = 0.35


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked for: the parts of one block, in the state of the file that was checked."""

    number: int
    parts: tuple[Ref, ...]
    checked: Checked


def parts_of(document: Document, part: Block) -> tuple[Ref, ...]:
    """The parts of the circuit that a block stands for: of a light its load, cable and box, of a change its part."""
    if is_change(part):
        return (target_of(part),)
    if part.section == "supply":
        return (Ref("supply"),)
    own = [each for each in document.parts if each.number == part.number]
    order = {"load": 0, "cable": 1, "box": 2}
    refs = [Ref(each.section, each.id) for each in own if each.section in order and each.id]
    return tuple(sorted(refs, key=lambda ref: order[ref.section]))


class RoomFinder:
    """Finds what was asked for last; what is asked for anew ends it."""

    def __init__(self, deliver: Callable[[Asked, tuple[RoomLeft, ...]], None]) -> None:
        """``deliver`` is called in its thread."""
        self._deliver = deliver
        self._state = threading.Condition()
        self._waiting: Asked | None = None
        self._closed = False
        self._thread = threading.Thread(target=self._work, name="room left", daemon=True)
        self._thread.start()

    def ask(self, asked: Asked | None) -> None:
        """Asks for this; None: nothing is wanted any more."""
        with self._state:
            self._waiting = asked
            self._state.notify()

    def close(self) -> None:
        """Ends the thread."""
        with self._state:
            self._closed = True
            self._state.notify()

    def _work(self) -> None:
        while True:
            with self._state:
                self._state.wait_for(lambda: self._waiting is not None or self._closed)
                while self._state.wait(PAUSE_S):  # asked anew: wait again
                    if self._closed:
                        return
                if self._closed:
                    return
                asked, self._waiting = self._waiting, None
            if asked is not None:
                self._find(asked)

    def _go_on(self) -> None:
        """Ends the search when something else is asked for, so that it never slows down who types."""
        if self._waiting is not None or self._closed:
            raise AskedAnewError

    def _find(self, asked: Asked) -> None:
        report, circuit = asked.checked.report, asked.checked.circuit
        if report is None or circuit is None:
            return
        found: list[RoomLeft] = []
        try:
            book = load_rulebook(circuit.job.rulebook)
            for part in asked.parts:
                found += room_left_at(part, report, circuit, book, progress=self._go_on)
        except AskedAnewError:
            return
        except Exception:  # an extra beside the answers: where it cannot be found nothing is shown
            return
        self._deliver(asked, tuple(found))
