"""Which value of each open entry counts now, and what was read of them. A set of entries is one number: their bits."""

from __future__ import annotations

import threading
from collections import defaultdict
from collections.abc import Callable, Iterable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from circuitcheck.case.choice import Choice
from circuitcheck.case.entry import OpenEntry
from circuitcheck.findings import Source, merge_sources

if TYPE_CHECKING:
    from circuitcheck.case.case import Case

#: Up to so many entries of a set are looked up one by one.
_FEW = 16
#: Of so many sets of entries the entries themselves are kept.
_MOST_SETS = 4096
#: The order of the file: entries stand in it wherever they are listed.
_in_file = attrgetter("place")


def _no_case(entry: OpenEntry) -> Any:
    raise LookupError(f"{entry.ref} is open, and no case was chosen")


class Reading:
    """Which value of each open entry counts now, and what was read.

    choice: the case that counts now. read: the entries read since the innermost ``begin`` or ``apart``.
    Of all entries that there are so far, as their bits: asks: those without a bound that someone must give, by a second
    bit of theirs; unbounded: the same by all their bits; several: those within bounds that can be one thing or another;
    presumed: of which the first option counts in every case; assumed: of which there is something to say;
    of_kind: by their kind.
    """

    def __init__(self) -> None:
        """Nothing is open until ``at`` says which way to choose."""
        self.read = 0
        self.asks = self.unbounded = self.several = self.presumed = self.assumed = 0
        self.of_kind: defaultdict[str, int] = defaultdict(int)
        #: By circuit and function: its subjects, in the order in which none of them goes deep.
        self.orders: dict[tuple[Case, Callable[..., Any]], Callable[[], Iterable[Any]]] = {}
        #: How many makings of each function stand inside one another.
        self.depths: dict[Callable[..., Any], int] = {}
        self.lock = threading.RLock()
        self._generations = -1
        self._places = 0
        #: The entries by the number of their bit; of one with two bits it stands at both.
        self._by_bit: list[OpenEntry] = []
        self._sets: dict[int, tuple[OpenEntry, ...]] = {}
        self._sources: dict[int, tuple[Source, ...]] = {}
        self._paths: dict[int, tuple[str, ...]] = {}
        self._none = self.choice = Choice(self, _no_case)
        #: The first option of each entry: for what looks at a case while none is asked about.
        self.first = Choice(self, lambda entry: entry.possible.options[0])

    def next_place(self, places: int) -> int:
        """The first of so many places in the file, for the keys of the next part."""
        self._places += places
        return self._places - places

    def next_generation(self) -> int:
        """A number for another case."""
        self._generations += 1
        return self._generations

    def enter(self, entry: OpenEntry) -> OpenEntry:
        """Another entry, which is given its bits."""
        possible, bits = entry.possible, self._by_bit
        entry.bit = bit = 1 << len(bits)
        bits.append(entry)
        if not possible.bounded:
            self.asks |= bit << 1
            entry.bit = bit = bit | bit << 1
            bits.append(entry)
            self.unbounded |= bit
        elif len(possible.options) > 1:
            self.several |= bit
        if possible.presumed:
            self.presumed |= bit
        if possible.assumed:
            self.assumed |= bit
        self.of_kind[entry.kind] |= bit
        return entry

    def in_any_order(self, entries: int) -> list[OpenEntry]:
        """The entries of a set, each once."""
        return self._gathered(entries & ~self.asks)

    def entries_of(self, entries: int) -> tuple[OpenEntry, ...]:
        """The entries of a set, in the order of the file."""
        listed = self._sets.get(entries)
        if listed is None:
            gathered = self.in_any_order(entries)
            gathered.sort(key=_in_file)
            if len(self._sets) >= _MOST_SETS:
                self._sets.clear()
            listed = self._sets[entries] = tuple(gathered)
        return listed

    def _gathered(self, entries: int) -> list[OpenEntry]:
        by_bit, gathered = self._by_bit, []
        if entries.bit_count() <= _FEW:
            while entries:
                last = entries.bit_length() - 1
                gathered.append(by_bit[last])
                entries ^= 1 << last
            return gathered
        there = bin(entries)[:1:-1]
        place = there.find("1")
        while place >= 0:
            gathered.append(by_bit[place])
            place = there.find("1", place + 1)
        return gathered

    def sources_of(self, entries: int) -> tuple[Source, ...]:
        """Where it stands what each of these entries can be."""
        sources = self._sources.get(entries)
        if sources is None:
            told = {id(entry.possible.sources): entry.possible.sources for entry in self.entries_of(entries)}
            if len(self._sources) >= _MOST_SETS:
                self._sources.clear()
            sources = self._sources[entries] = merge_sources(*told.values())
        return sources

    def paths_of(self, entries: int) -> tuple[str, ...]:
        """What a person would have to find out of a set of entries, as the file names it."""
        paths = self._paths.get(entries)
        if paths is None:
            if len(self._paths) >= _MOST_SETS:
                self._paths.clear()
            paths = self._paths[entries] = tuple(dict.fromkeys([each.path for each in self.entries_of(entries)]))
        return paths

    def asked_of(self, entries: int) -> int:
        """Of a set of entries those without a bound that someone must give, by all their bits."""
        asked = entries & self.asks
        return asked | asked >> 1

    @property
    def reads(self) -> tuple[OpenEntry, ...]:
        """The entries read since the innermost ``begin`` or ``apart``, in the order of the file."""
        return self.entries_of(self.read)

    @property
    def choosing(self) -> bool:
        """Whether a case is being asked about now."""
        return self.choice is not self._none

    def values(self, entries: tuple[OpenEntry, ...]) -> tuple[Any, ...]:
        """The values that count now, not written down as read."""
        choice = self.choice
        return tuple([choice[entry] for entry in entries])

    def at(self, choose: Choice | Callable[[OpenEntry], Any]) -> _At:
        """Inside, ``choose`` says what each open entry is; what is read is gathered apart.

        The same ``Choice`` again is the same case: what was worked out in it need not be looked at again.
        """
        return _At(self, choose if isinstance(choose, Choice) else Choice(self, choose))

    def begin(self, choice: Choice) -> tuple[Choice, int]:
        """From here on this case counts, until ``end`` is called with what is returned; what is read is gathered."""
        self.lock.acquire()
        before = self.choice, self.read
        self.choice, self.read = choice, 0
        return before

    def end(self, before: tuple[Choice, int]) -> None:
        """The case that counted before counts again."""
        self.choice, self.read = before
        self.lock.release()

    def apart(self) -> _Apart:
        """What is read inside is gathered apart."""
        return _Apart(self)


class _At:
    """Inside, a case counts. A class, since a generator takes three times as long."""

    __slots__ = ("_before", "_choice", "_reading")

    def __init__(self, reading: Reading, choice: Choice) -> None:
        self._reading, self._choice = reading, choice

    def __enter__(self) -> Reading:
        self._before = self._reading.begin(self._choice)
        return self._reading

    def __exit__(self, *error: object) -> None:
        self._reading.end(self._before)


class _Apart:
    """Inside, what is read is gathered apart. A class for the same reason."""

    __slots__ = ("_before", "_reading")

    def __init__(self, reading: Reading) -> None:
        self._reading = reading

    def __enter__(self) -> Reading:
        reading = self._reading
        self._before, reading.read = reading.read, 0
        return reading

    def __exit__(self, *error: object) -> None:
        self._reading.read = self._before
