"""One case: the value of each open entry in it, chosen when it is first asked for, and in what two cases differ."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from circuitcheck.case.entry import OpenEntry

if TYPE_CHECKING:
    from circuitcheck.case.reading import Reading

_NOTHING: Mapping[OpenEntry, Any] = MappingProxyType({})
#: Up to so many values that stand in every case are copied into a new one; more are looked up when they are asked for.
_MOST_COPIED = 64


#: Up to so many moves are told one by one.
_MOST_TOLD = 8
#: What is moved in a case, or which entries are.
Moves = tuple[tuple[OpenEntry, Any], ...] | int


class Settled(dict[OpenEntry, Any]):
    """The values that entries have in every case unless they are moved. ``entries``: the set of them, as their bits.

    hanging: those whose value hangs on what others are; lookers: by an entry those that hang on it. grown: how often
    that became more. unknown: the set of those of which nobody knows yet whether they hang on others.
    """

    __slots__ = ("entries", "grown", "hanging", "lookers", "unknown")

    def __init__(self) -> None:
        """Nothing is settled yet."""
        super().__init__()
        self.entries = self.hanging = self.grown = 0
        self.unknown = -1
        self.lookers: dict[OpenEntry, dict[OpenEntry, None]] = {}

    def settle(self, entry: OpenEntry, value: Any) -> None:
        """An entry has this value in every case in which it is not moved."""
        self[entry] = value
        self.entries |= entry.bit
        self.unknown &= ~entry.bit

    def hangs_on(self, entry: OpenEntry, others: Iterable[OpenEntry]) -> None:
        """The value of an entry hangs on what these are, in some case."""
        self.hanging |= entry.bit
        self.unknown &= ~entry.bit
        for other in others:
            lookers = self.lookers.setdefault(other, {})
            if entry not in lookers:
                lookers[entry] = None
                self.grown += 1


_NONE_SETTLED = Settled()


def bits_of(entries: Iterable[OpenEntry]) -> int:
    """A set of entries, as their bits."""
    return entries.bits if isinstance(entries, Farthest) else _together(entries)


def _together(entries: Iterable[OpenEntry]) -> int:
    bits = 0
    for entry in entries:
        bits |= entry.bit
    return bits


class Farthest(dict[OpenEntry, Any]):
    """Entries that are moved, of which there may be many. ``bits``: the set of them, added up once."""

    __slots__ = ("bits",)

    def __init__(self, moved: Iterable[tuple[OpenEntry, Any]]) -> None:
        """Nothing is put in afterwards."""
        super().__init__(moved)
        self.bits = _together(self)


class Choice(dict[OpenEntry, Any]):
    """One case: the value of each open entry in it, chosen when it is first asked for.

    base: the case from which it differs by what is moved alone, which may be itself. moves: what is moved to another
    value than it has in every case; moved: the set of that.
    """

    __slots__ = (
        "_compared",
        "_grown",
        "_otherwise",
        "base",
        "choose",
        "generation",
        "moved",
        "moves",
        "reading",
        "settled",
    )

    def __init__(
        self,
        reading: Reading,
        choose: Callable[[OpenEntry], Any],
        settled: Settled | None = None,
        moved: Mapping[OpenEntry, Any] = _NOTHING,
        base: Choice | None = None,
    ) -> None:
        """``choose`` always chooses the same; settled: what it chooses in every case; moved: what counts before."""
        self.settled = _NONE_SETTLED if settled is None else settled
        super().__init__()
        if len(self.settled) <= _MOST_COPIED:
            self.update(self.settled)
        self.reading, self.choose = reading, choose
        self.generation = reading.next_generation()
        self.base = self if base is None else base
        self.moved = self._otherwise = 0
        self._grown = -1
        self.moves: tuple[tuple[OpenEntry, Any], ...] = ()
        #: By the number of another case: the entries known to have the same value there, and those known to differ.
        self._compared: dict[int, tuple[int, int]] = {}
        if moved:
            self.update(moved)
            stands = self.settled
            self.moves = tuple([each for each in moved.items() if each[0] not in stands or stands[each[0]] != each[1]])
            self.moved = _together([entry for entry, _ in self.moves])

    @property
    def otherwise(self) -> int:
        """The set of entries that may have other values than in the case on which it stands.

        Those that are moved, those that hang on these, and those of which nobody knows yet whether they hang on others.
        """
        settled = self.settled
        if self._grown != settled.grown:
            self._grown, self._otherwise = settled.grown, self.moved
            waiting = [entry for entry, _ in self.moves] if settled.lookers else []
            while waiting:
                for looker in settled.lookers.get(waiting.pop(), ()):
                    if not looker.bit & self._otherwise:
                        self._otherwise |= looker.bit
                        waiting.append(looker)
        return self._otherwise | settled.unknown

    @property
    def moves_many(self) -> bool:
        """Whether so much is moved that only which entries these are is told."""
        return len(self.moves) > _MOST_TOLD

    def moves_of(self, entries: int) -> Moves:
        """What is moved of a set of entries; of many only which these are."""
        of_these = self.moved & entries
        if len(self.moves) > _MOST_TOLD:
            return of_these
        if of_these == self.moved:
            return self.moves
        return tuple([each for each in self.moves if each[0].bit & entries]) if of_these else ()

    def agrees(self, other: Choice, entries: int) -> bool:
        """Whether a set of entries has the same values in another case. Each is compared once."""
        base = self.base
        if base is other.base:
            entries &= self.otherwise | other.otherwise
        same, differ = self._compared.get(other.generation, (0, 0))
        if entries & differ:
            return False
        entries &= ~same
        if not entries:
            return True
        if base is not self and base is not other.base:  # what is not moved has the values of the case it stands on
            unmoved = entries & ~self.otherwise
            if unmoved:
                if not base.agrees(other, unmoved):
                    return False
                same |= unmoved
                entries &= ~unmoved
        for entry in self.reading.entries_of(entries):
            if self[entry] != other[entry]:
                self._compared[other.generation] = same, differ | entry.bit
                return False
            same |= entry.bit
        self._compared[other.generation] = same, differ
        return True

    def __missing__(self, entry: OpenEntry) -> Any:
        """Choose; what is read on the way was read by nobody."""
        if entry in self.settled:
            value = self[entry] = self.settled[entry]
            return value
        before = self.reading.begin(self)  # what the choice looks at is what this case has
        try:
            value = self[entry] = self.choose(entry)
        finally:
            self.reading.end(before)
        return value
