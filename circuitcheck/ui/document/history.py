"""Undo and redo without limit: each change is kept as the few blocks it took out and put in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from circuitcheck.circuit.written.block import Block


@dataclass(frozen=True, slots=True)
class Splice:
    """At ``at``, the blocks ``out`` give way to the blocks ``into``."""

    at: int
    out: tuple[Block, ...]
    into: tuple[Block, ...]

    @property
    def reversed(self) -> Splice:
        """The splice that takes this one back."""
        return Splice(self.at, self.into, self.out)

    def applied(self, blocks: Sequence[Block]) -> tuple[Block, ...]:
        """The blocks after this splice."""
        return (*blocks[: self.at], *self.into, *blocks[self.at + len(self.out) :])


@dataclass(frozen=True, slots=True)
class Change:
    """One step that undo takes back as a whole.

    ``says`` names it for people. ``part`` is the number of the block to stand on afterwards, ``key`` the entry.
    ``session`` joins keystrokes in one field into one step; empty never joins.
    """

    says: str
    splices: tuple[Splice, ...]
    part: int
    key: str = ""
    session: str = ""

    def joined(self, later: Change) -> Change:
        """Makes one step of this change and the one after it."""
        splices = (*self.splices, *later.splices)
        if len(self.splices) == len(later.splices) == 1:
            first, second = self.splices[0], later.splices[0]
            if first.at == second.at and first.into == second.out:
                splices = (Splice(first.at, first.out, second.into),)
        return Change(later.says, splices, later.part, later.key, later.session)


class History:
    """The changes made, those taken back, and the place that is on disk."""

    def __init__(self) -> None:
        """Nothing has been done yet."""
        self._done: list[Change] = []
        self._undone: list[Change] = []
        self._saved: Change | None = None
        self._saved_reachable = True

    def add(self, change: Change) -> None:
        """Puts a change on top and forgets what had been taken back."""
        last = self._done[-1] if self._done else None
        if last is not None and change.session and last.session == change.session and last is not self._saved:
            self._done[-1] = last.joined(change)
        else:
            self._done.append(change)
        if self._undone:
            if self._saved in self._undone:
                self._saved_reachable = False
            self._undone.clear()

    def undo(self) -> Change | None:
        """The change to take back, or None when nothing is left."""
        if not self._done:
            return None
        change = self._done.pop()
        self._undone.append(change)
        return change

    def redo(self) -> Change | None:
        """The change to make again, or None when nothing is left."""
        if not self._undone:
            return None
        change = self._undone.pop()
        self._done.append(change)
        return change

    def drop(self, session: str) -> Change | None:
        """The latest change if it belongs to this session, to be taken back for good; else None."""
        if not self._done or not session or self._done[-1].session != session:
            return None
        change = self._done.pop()
        if change is self._saved:
            self._saved_reachable = False
        return change

    def since(self, mark: Change | None) -> tuple[Change, ...]:
        """The changes made after ``mark``, which is still there; None: all of them."""
        start = 0 if mark is None else self._done.index(mark) + 1
        return tuple(self._done[start:])

    def take(self, mark: Change | None) -> tuple[Change, ...]:
        """Takes the changes after ``mark`` off for good, and what had been taken back with them; returns them."""
        taken = self.since(mark)
        if self._saved is not None and self._saved in (*taken, *self._undone):
            self._saved_reachable = False
        del self._done[len(self._done) - len(taken) :]
        self._undone.clear()
        return taken

    @property
    def latest(self) -> Change | None:
        """The change that undo would take back."""
        return self._done[-1] if self._done else None

    @property
    def can_undo(self) -> bool:
        """Whether a change can be taken back."""
        return bool(self._done)

    @property
    def can_redo(self) -> bool:
        """Whether a change can be made again."""
        return bool(self._undone)

    def mark_saved(self) -> None:
        """What stands now is what is on disk."""
        self._saved = self._done[-1] if self._done else None
        self._saved_reachable = True

    def mark_unsaved(self) -> None:
        """Nothing that can be reached is on disk: the file is new, recovered, or was changed by someone else."""
        self._saved_reachable = False

    @property
    def changed(self) -> bool:
        """Whether what stands now differs from what is on disk."""
        top = self._done[-1] if self._done else None
        return not self._saved_reachable or top is not self._saved

    def unsaved_names(self, most: int) -> tuple[str, ...]:
        """What the latest changes that are not on disk did, the newest first; those undone since say so."""
        names: list[str] = []
        for change in reversed(self._done):
            if self._saved_reachable and change is self._saved:
                return tuple(names[:most])
            names.append(change.says)
        if not self._saved_reachable or self._saved is None:
            return tuple(names[:most])
        for change in self._undone:
            if change is self._saved:
                names = []
            names.append(f"undone: {change.says}")
        return tuple(names[: -most - 1 : -1])


def apply_all(splices: Iterable[Splice], blocks: Sequence[Block]) -> tuple[Block, ...]:
    """The blocks after every splice, in order."""
    current = tuple(blocks)
    for splice in splices:
        current = splice.applied(current)
    return current
