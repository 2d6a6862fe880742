"""What was worked out from what was read: gathered while it is made, and found again by the values of what it read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from circuitcheck.case.entry import OpenEntry

if TYPE_CHECKING:
    from circuitcheck.case.memory import Choice, Reading

#: Entries without a bound that one result names at most.
MOST_UNBOUNDED = 40
#: How many results, for different values of what was read, are kept of one function and subject; and for how many ways
#: of what is read at all.
_MOST_KEPT, _MOST_GROUPS = 192, 8
#: The same of those that rest on so many entries that all are looked through.
_MOST_MANY = 48
#: Up to so many entries a result names itself, so that nobody walks through what it was made of.
_MOST_NAMED = 64
#: In how many cases from which others differ a result is known to hold.
_MOST_STANDING = 8
#: How many results of many entries are kept by what is moved in their case.
_MOST_BY_MOVES = 128
#: A case by the one on which it stands and by what is moved of what a result rests on; where each is moved to its end,
#: which entries these are tells it.
_Moves = tuple[int, tuple[tuple[OpenEntry, Any], ...] | int]


class Frame:
    """What is being read while something is worked out."""

    __slots__ = ("others", "reads")

    def __init__(self) -> None:
        """Nothing was read yet."""
        self.reads: dict[OpenEntry, Any] = {}
        self.others: dict[Result, None] = {}

    def rests_on(self) -> int:
        """The set of all open entries that were read, as their bits."""
        entries = 0
        for entry in self.reads:
            entries |= entry.bit
        for other in self.others:
            entries |= other.rests_on
        return entries

    def unbounded(self) -> tuple[OpenEntry, ...]:
        """The open entries without a bound that were read and that someone must give."""
        found: dict[OpenEntry, None] = {}
        for entry in self.reads:
            if not entry.possible.bounded:
                found[entry] = None
        for result in self.others:
            if result.unbounded:
                found.update(dict.fromkeys(result.unbounded))
        return tuple(found)

    def asked(self) -> int:
        """All of those without a bound that someone must give, however many, as their bits."""
        entries = 0
        for entry in self.reads:
            if not entry.possible.bounded:
                entries |= entry.bit
        for other in self.others:
            if other.asked:
                entries |= other.asked
        return entries

    def entries(self) -> tuple[tuple[OpenEntry, ...], tuple[OpenEntry, ...]]:
        """All open entries that were read, in order of first use; and those without a bound that someone must give."""
        found: dict[OpenEntry, None] = {}
        there = 0
        for entry in self.reads:
            found[entry] = None
            there |= entry.bit
        for result in self.others:
            if result.rests_on | there != there:
                found.update(dict.fromkeys(result.all_entries()))
                there |= result.rests_on
        return tuple(found), self.unbounded()


def _together(frame: Frame, rests_on: int) -> tuple[OpenEntry, ...] | None:
    """All entries that were read, None where they are more than ``_MOST_NAMED``."""
    if rests_on.bit_count() > _MOST_NAMED:
        return None
    found = dict.fromkeys(frame.reads)
    there = 0
    for entry in found:
        there |= entry.bit
    for other in frame.others:
        more = other.rests_on
        if more | there == there:
            continue
        if not there and more == rests_on:
            return other.entries
        assert other.entries is not None  # noqa: S101 - no more than all of them together
        found.update(dict.fromkeys(other.entries))
        there |= more
    return tuple(found)


class Result:
    """Something worked out, with the entries and the other results that it read."""

    __slots__ = ("asked", "entries", "held", "made", "others", "reads", "rests_on", "unbounded", "walked")

    def __init__(self, made: Any, frame: Frame, generation: int, *, aside: bool = False) -> None:
        """``aside``: nobody is asked for what was read here and has no bound."""
        self.made = made
        self.walked: tuple[OpenEntry, ...] | None = None
        self.reads = tuple(frame.reads.items())
        self.others = tuple(frame.others)
        #: Whether it holds in the cases that were asked about lately.
        self.held: dict[int, bool] = {generation: True}
        #: The set of all entries that it rests on, as their bits.
        self.rests_on = frame.rests_on()
        #: The same in the order in which they were read, None where they are many and stand with what it was made of.
        self.entries: tuple[OpenEntry, ...] | None = _together(frame, self.rests_on)
        self.unbounded: tuple[OpenEntry, ...] = ()
        self.asked = 0 if aside else frame.asked()
        if self.asked:
            found = dict.fromkeys([entry for entry, _ in self.reads if not entry.possible.bounded])
            for other in self.others:
                if other.unbounded and len(found) < MOST_UNBOUNDED:
                    found.update(dict.fromkeys(other.unbounded))
            if found:
                self.unbounded = tuple(found)[:MOST_UNBOUNDED]

    def all_entries(self) -> tuple[OpenEntry, ...]:
        """All entries that it rests on, in the order in which they were read; looked up once."""
        if self.entries is not None:
            return self.entries
        if self.walked is None:
            found: dict[OpenEntry, None] = {}
            there = 0
            waiting: list[Result] = [self]
            while waiting:
                result = waiting.pop()
                if result.rests_on | there == there:
                    continue
                known = result.entries if result.entries is not None else result.walked
                if known is not None:
                    found.update(dict.fromkeys(known))
                    there |= result.rests_on
                    continue
                for entry, _ in result.reads:
                    found[entry] = None
                    there |= entry.bit
                waiting.extend(reversed(result.others))
            self.walked = tuple(found)
        return self.walked

    @property
    def closed(self) -> bool:
        """Whether nothing open was read."""
        return not self.rests_on


class Kept:
    """The results of one function for one subject, found again by the values of what they read.

    closed: the one that read nothing open. few: by the entries that were read and then by their values, where those are
    few. many: the others. last: the one that held last, in the case of the number ``generation``. standing: those that
    hold in cases from which others differ by what is moved, by the numbers of the cases. by_moves: what was made where
    some of what such a one rests on was moved, with all that is moved of what it rests on itself.
    """

    __slots__ = ("by_moves", "closed", "few", "generation", "last", "many", "standing")

    def __init__(self) -> None:
        """Nothing is kept yet."""
        self.closed: Result | None = None
        self.last: Result | None = None
        self.generation = -1
        self.standing: dict[int, Result] = {}
        self.by_moves: dict[_Moves, tuple[Result, int, tuple[tuple[OpenEntry, Any], ...]]] = {}
        self.few: dict[tuple[OpenEntry, ...], dict[tuple[Any, ...], Result]] = {}
        self.many: list[Result] = []

    def keep(self, result: Result, reading: Reading) -> None:
        """Keep a result for when what it read has the same values again."""
        if result.closed:
            self.closed = result
            return
        self._holds_in(reading.choice, result)
        if result.entries is None:
            self._keep_by_moves(reading.choice, result)
            if len(self.many) >= _MOST_MANY:
                del self.many[0]
            self.many.append(result)
        else:
            group = self.few.get(result.entries)
            if group is None:
                if len(self.few) >= _MOST_GROUPS:
                    del self.few[next(iter(self.few))]
                group = self.few[result.entries] = {}
            if len(group) >= _MOST_KEPT:
                del group[next(iter(group))]
            group[reading.values(result.entries)] = result

    def found(self, reading: Reading) -> Result | None:
        """The result that holds for what counts now."""
        choice = reading.choice
        result = self.standing.get(choice.stands_on)
        if result is not None:
            if choice.leaves(result.rests_on):
                self.last, self.generation = result, choice.generation
                return result
            moved = self._found_by_moves(choice, result) if self.by_moves else None
            if moved is not None:
                return moved
        looked_up = result is not None and choice.is_known_by_moves
        for entries, group in self.few.items():
            result = group.get(tuple([choice[entry] for entry in entries]))
            if result is not None:
                break
        else:  # what is looked up by its moves is made again sooner than each of many is looked through
            result = None if looked_up else next((each for each in self.many if reading.holds(each)), None)
        if result is not None:
            self._holds_in(choice, result)
        return result

    def _holds_in(self, choice: Choice, result: Result) -> None:
        self.last, self.generation = result, choice.generation
        if choice.stands_on >= 0 and (choice.stands_on == choice.generation or choice.leaves(result.rests_on)):
            standing = self.standing
            if len(standing) >= _MOST_STANDING and choice.stands_on not in standing:
                del standing[next(iter(standing))]
            standing[choice.stands_on] = result

    def _keep_by_moves(self, choice: Choice, result: Result) -> None:
        """Keep a result of many entries by what is moved of them."""
        standing = self.standing.get(choice.stands_on)
        if standing is None or not choice.is_known_by_moves:
            return
        if len(self.by_moves) >= _MOST_BY_MOVES:
            del self.by_moves[next(iter(self.by_moves))]
        own = tuple([each for each in choice.moves if each[0].bit & result.rests_on])
        self.by_moves[choice.stands_on, _moved_of(choice, standing)] = result, choice.moved & result.rests_on, own

    def _found_by_moves(self, choice: Choice, standing: Result) -> Result | None:
        """The one made where the same was moved, as far as it or the one that stands rests on it."""
        if not choice.is_known_by_moves:
            return None
        kept = self.by_moves.get((choice.stands_on, _moved_of(choice, standing)))
        if kept is None:
            return None
        result, moved, own = kept
        if result.rests_on & choice.moved != moved or not choice.leaves(result.rests_on & ~moved):
            return None
        if any(choice[entry] != value for entry, value in own):
            return None
        self.last, self.generation = result, choice.generation
        return result


def _moved_of(choice: Choice, result: Result) -> tuple[tuple[OpenEntry, Any], ...] | int:
    """What is moved of what a result rests on."""
    if choice.farthest:
        return choice.moved & result.rests_on
    return tuple([each for each in choice.moves if each[0].bit & result.rests_on])
