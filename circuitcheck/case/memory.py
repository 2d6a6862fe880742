"""Which value of each open entry counts now, what was read of them, and what was worked out from what was read.

A rule sees a case as one fully known circuit. The engine decides what each open entry is in it: while ``Reading.at`` is
open with one choice, every read of an entry gets that choice's value and is written down. What several rules need is
worked out once (``once``) and holds for every choice that gives the entries it read the same values.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import wraps
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, TypeVar

from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.results import Frame, Kept, Result

if TYPE_CHECKING:
    from circuitcheck.case.case import Case

P = ParamSpec("P")
Made = TypeVar("Made")

_NOTHING: Mapping[OpenEntry, Any] = MappingProxyType({})
#: In how many cases a result remembers whether it holds.
_MOST_CHOICES = 6
#: Up to so many entries that are moved tell one case from another.
_MOST_MOVED = 8
#: Up to so many values that stand in every case are copied into a new one; more are looked up when they are asked for.
_MOST_COPIED = 64
#: So many makings of one function may stand inside one another before all that it rests on is worked out in order.
_DEEP = 25


class Settled(dict[OpenEntry, Any]):
    """The values that entries have in every case unless they are moved. ``entries``: the set of them, as their bits."""

    __slots__ = ("entries",)

    def __init__(self) -> None:
        """Nothing is settled yet."""
        super().__init__()
        self.entries = 0

    def settle(self, entry: OpenEntry, value: Any) -> None:
        """An entry has this value in every case in which it is not moved."""
        self[entry] = value
        self.entries |= entry.bit


_NONE_SETTLED = Settled()


def bits_of(moved: Mapping[OpenEntry, Any]) -> int:
    """The set of the entries that are moved, as their bits."""
    return moved.bits if isinstance(moved, Farthest) and len(moved) > _MOST_MOVED else _together(moved)


def _together(moved: Iterable[OpenEntry]) -> int:
    entries = 0
    for entry in moved:
        entries |= entry.bit
    return entries


class Farthest(dict[OpenEntry, Any]):
    """Entries that are moved, each to its far end for whoever asks: which these are tells nearly always to what."""

    __slots__ = ("_bits",)

    @property
    def bits(self) -> int:
        """The set of them, as their bits; of many, so it is added up once. Nothing is put in afterwards."""
        try:
            return self._bits
        except AttributeError:
            self._bits: int = _together(self)
            return self._bits


class Choice(dict[OpenEntry, Any]):
    """One case: the value of each open entry in it, chosen when it is first asked for.

    stands_on: the number of the case from which it differs by what is moved alone, which may be its own; -1: none.
    """

    __slots__ = ("choose", "farthest", "generation", "moved", "moves", "reading", "settled", "stands_on")

    def __init__(
        self,
        reading: Reading,
        choose: Callable[[OpenEntry], Any],
        settled: Settled | None = None,
        moved: Mapping[OpenEntry, Any] = _NOTHING,
        stands_on: Choice | None = None,
    ) -> None:
        """``choose`` always chooses the same; settled: what it chooses in every case; moved: what counts before."""
        self.settled = _NONE_SETTLED if settled is None else settled
        super().__init__(self.settled if len(self.settled) <= _MOST_COPIED else _NOTHING)
        self.reading, self.choose = reading, choose
        self.generation = reading.next_generation()
        self.moved = 0
        self.moves = tuple(moved.items())
        self.farthest = isinstance(moved, Farthest)
        if moved:
            self.update(moved)
            self.moved = bits_of(moved)
        if stands_on is not None:
            self.stands_on = stands_on.generation
        else:
            self.stands_on = -1 if settled is None or moved else self.generation

    @property
    def is_known_by_moves(self) -> bool:
        """Whether it is told from the case on which it stands by a few entries that are moved, or all to their end."""
        return self.stands_on >= 0 and (self.farthest or 0 < len(self.moves) <= _MOST_MOVED)

    def leaves(self, entries: int) -> bool:
        """Whether a set of entries has the values in it that it has in the case on which it stands."""
        return not entries & (self.moved | ~self.settled.entries)

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


def _no_case(entry: OpenEntry) -> Any:
    raise LookupError(f"{entry.ref} is open, and no case was chosen")


class Reading:
    """Which value of each open entry counts now, and what was read."""

    def __init__(self) -> None:
        """Nothing is open until ``at`` says which way to choose."""
        self.frames = [Frame()]
        #: By circuit and function: its subjects, in the order in which none of them goes deep.
        self.orders: dict[tuple[Case, Callable[..., Any]], Callable[[], Iterable[Any]]] = {}
        #: How many makings of each function stand inside one another.
        self.depths: dict[Callable[..., Any], int] = {}
        self.lock = threading.RLock()
        self._generations = -1
        self._entries = 0
        self._none = self.choice = Choice(self, _no_case)

    def next_generation(self) -> int:
        """A number for another case."""
        self._generations += 1
        return self._generations

    def next_bit(self) -> int:
        """The bit of another entry."""
        self._entries += 1
        return 1 << (self._entries - 1)

    @property
    def generation(self) -> int:
        """The number of the case that counts now."""
        return self.choice.generation

    @property
    def choosing(self) -> bool:
        """Whether a case is being asked about now."""
        return self.choice is not self._none

    def value(self, entry: OpenEntry) -> Any:
        """The value that counts now, written down as read. Raises: LookupError where no case was chosen."""
        value = self.frames[-1].reads[entry] = self.choice[entry]
        return value

    def values(self, entries: tuple[OpenEntry, ...]) -> tuple[Any, ...]:
        """The values that count now, not written down as read."""
        choice = self.choice
        return tuple([choice[entry] for entry in entries])

    @contextmanager
    def at(self, choose: Choice | Callable[[OpenEntry], Any]) -> Iterator[Frame]:
        """Inside, ``choose`` says what each open entry is; what is read is gathered in the frame.

        The same ``Choice`` again is the same case: what was worked out in it need not be looked at again.
        """
        before = self.begin(choose if isinstance(choose, Choice) else Choice(self, choose))
        try:
            yield self.frames[-1]
        finally:
            self.end(before)

    def begin(self, choice: Choice) -> Choice:
        """From here on this case counts, until ``end`` is called with what is returned; what is read is gathered."""
        self.lock.acquire()
        before, self.choice = self.choice, choice
        self.frames.append(Frame())
        return before

    def end(self, before: Choice) -> None:
        """The case that counted before counts again."""
        self.frames.pop()
        self.choice = before
        self.lock.release()

    @contextmanager
    def apart(self) -> Iterator[Frame]:
        """What is read inside is gathered apart."""
        frame = Frame()
        self.frames.append(frame)
        try:
            yield frame
        finally:
            self.frames.pop()

    def holds(self, result: Result) -> bool:
        """Whether a result holds for what counts now. Never goes deep: a chain may be 10,000 long."""
        waiting, choice = [result], self.choice
        now, before = choice.generation, choice.stands_on
        while waiting:
            here = waiting[-1]
            if now in here.held:
                waiting.pop()
                continue
            holds = here.held.get(before, False) and choice.leaves(here.rests_on)
            if not holds:
                holds = all(choice[entry] == value for entry, value in here.reads)
                holds = holds and all(other.held.get(now, True) for other in here.others)
                unknown = [other for other in here.others if now not in other.held] if holds else []
                if unknown:
                    waiting.extend(unknown)
                    continue
            if len(here.held) >= _MOST_CHOICES:
                here.held.clear()
            here.held[now] = holds
            waiting.pop()
        return result.held[now]


def once(make: Callable[Concatenate[Case, P], Made]) -> Callable[Concatenate[Case, P], Made]:
    """``make(case, …)``, worked out once for the same subjects and the same values of what it read.

    Subjects are parts of the case, words or numbers. Whoever is handed a result has read what it read, and leaves it as
    it is. Inside, never recurse along the circuit: ask ``in_order`` first.
    """

    @wraps(make)
    def kept(case: Case, *subjects: P.args, **named: P.kwargs) -> Made:
        key = (make, *subjects)
        results: Kept | None = case.worked_out.get(key)
        reading = case.reading
        if results is not None:
            if results.closed is not None:
                return results.closed.made  # type: ignore[no-any-return]
            result = results.last if results.generation == reading.choice.generation else results.found(reading)
            if result is not None:
                reading.frames[-1].others[result] = None
                return result.made  # type: ignore[no-any-return]
        depth = reading.depths.get(make, 0)
        if depth == _DEEP and (case, kept) in reading.orders:
            with _in_order(reading, case, kept, make):
                return kept(case, *subjects, **named)
        frame = Frame()
        reading.frames.append(frame)
        reading.depths[make] = depth + 1
        try:
            made = make(case, *subjects, **named)
        finally:
            reading.frames.pop()
            reading.depths[make] = depth
        result = Result(made, frame, reading.generation)
        case.worked_out.setdefault(key, Kept()).keep(result, reading)
        if result.rests_on:
            reading.frames[-1].others[result] = None
        return made

    return kept  # type: ignore[return-value] # wraps keeps the first parameter's name, which the type does not tell


def in_order(case: Case, make: Callable[..., Any], subjects: Callable[[], Iterable[Any]]) -> None:
    """From here on ``make`` (kept by ``once``) never goes deep: before it would, it is worked out for each subject.

    subjects: gives them in an order in which each rests on those before it. What is read by it counts only for whoever
    asks for one of them. Where most of what it rests on is kept already, no subject is looked at for nothing.
    """
    case.reading.orders.setdefault((case, make), subjects)


@contextmanager
def _in_order(reading: Reading, case: Case, kept: Callable[..., Any], make: Callable[..., Any]) -> Iterator[None]:
    """Work a function out for all its subjects in their order; inside, it is never worked out in order again."""
    reading.depths[make] = _DEEP + 1
    try:
        with reading.apart():
            for subject in reading.orders[case, kept]():
                kept(case, subject)
        yield
    finally:
        reading.depths[make] = _DEEP


@contextmanager
def aside(case: Case) -> Iterator[None]:
    """What is read inside counts as read, but nobody is asked for what has no bound: it is left out, and said so."""
    reading = case.reading
    with reading.apart() as frame:
        yield
    result = Result(None, frame, reading.generation, aside=True)
    if result.rests_on:
        reading.frames[-1].others[result] = None
