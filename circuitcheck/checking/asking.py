"""Asking a rule about one subject: in the worst case that the file leaves possible, in the best, or in between."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from typing import Any, NamedTuple

from circuitcheck.case import EACH, Answer, Case, CaseRule
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.memory import Choice, Farthest, bits_of
from circuitcheck.case.results import MOST_UNBOUNDED, Frame
from circuitcheck.checking.values_in_order import UndeclaredError, ValuesInOrder, first_option, standing
from circuitcheck.findings import Outcome

#: How bad an outcome is; none at all is the best.
RANK: Mapping[Outcome | None, int] = {
    outcome: place
    for place, outcome in enumerate((None, Outcome.PASS, Outcome.CAUTION, Outcome.UNDETERMINED, Outcome.FAIL))
}
#: In how many ways entries of which no way is always worse are tried for one question.
MOST_WAYS = 600

Moved = Mapping[OpenEntry, Any]
#: How many cases are kept to be asked about again.
_MOST_CHOICES = 192
#: Up to so many entries an answer is kept by their values.
_MOST_KEPT_BY = 64


class Read:
    """What a rule answers in one case, and what it read: the open entries without a bound, and all as their bits.

    asked: the same of those without a bound, however many they are.

    Which these are in their order is looked up only where somebody asks: most answers are only compared with others.
    """

    __slots__ = ("_entries", "_frame", "answer", "asked", "rests_on", "unbounded")

    def __init__(self, answer: Answer | None, frame: Frame) -> None:
        """``frame``: what was read, which is complete by now."""
        self.answer = answer
        self.unbounded = frame.unbounded()
        self.asked = frame.asked()
        self.rests_on = frame.rests_on()
        #: What it was made of, for as long as nobody asked for the entries.
        self._frame: Frame | None = frame if self.rests_on else None
        self._entries: tuple[OpenEntry, ...] = ()

    @property
    def entries(self) -> tuple[OpenEntry, ...]:
        """The open entries that it read."""
        frame = self._frame
        if frame is not None:
            self._entries, _ = frame.entries()
            self._frame = None
        return self._entries


class Asked(NamedTuple):
    """What a rule answers about a subject in the worst or the best of the cases asked about.

    told: what was read, or the open entries themselves; unbounded: those of them that can be anything and that someone
    must give.
    values: the values of all ways that were tried. worst: whether it is the worst. moved: what stands otherwise in its
    case than in all worst (or best) cases. case: the case itself where that does not tell it.
    complete: whether every way was tried. asked: all entries without a bound, also past those listed, as their bits.
    """

    answer: Answer | None
    told: Read | tuple[OpenEntry, ...]
    unbounded: tuple[OpenEntry, ...]
    values: tuple[float, ...]
    worst: bool
    moved: Moved
    case: Choice | None
    complete: bool = True
    asked: int = 0

    @property
    def reads(self) -> tuple[OpenEntry, ...]:
        """The open entries that it read, looked up only where somebody asks."""
        told = self.told
        return told.entries if isinstance(told, Read) else told

    @property
    def is_settled(self) -> bool:
        """Whether nothing open was read."""
        told = self.told
        return not (told.rests_on if isinstance(told, Read) else told)

    @property
    def fails(self) -> bool:
        """Whether the answer is that it does not do."""
        return self.answer is not None and self.answer.outcome is Outcome.FAIL


class Asker:
    """One rule and one circuit."""

    def __init__(self, rule: CaseRule[Any], case: Case, *, strict: bool = False) -> None:
        """``strict``: an entry that the rule reads and does not declare raises ``UndeclaredError``."""
        self.rule, self.case = rule, case
        #: Cases that the rule was asked about so far.
        self.tries = 0
        order = ValuesInOrder(rule, case, self._turned_each, strict=strict)
        self._order = order
        #: What ``ValuesInOrder`` knows of an entry.
        self.values, self.words_like, self.direction = order.values, order.words_like, order.direction
        self.presumes, self.movable = order.presumes, order.movable
        #: The subject that was asked about last, and its answers: in the worst and in the best case; and by the entries
        #: that were read, then by their values.
        self._subject: Any = None
        #: The case in which it was asked last, None where what is moved tells all of it.
        self._used: Choice | None = None
        self._at_ends: dict[bool, Read] = {}
        self._answers: dict[tuple[OpenEntry, ...], tuple[int, dict[tuple[Any, ...], Read]]] = {}
        self._settled = order.settled
        #: The worst and the best case; all others differ from one of them by what is moved.
        self._ends: dict[bool, Choice] = {}
        self._choices: dict[tuple[bool, tuple[tuple[OpenEntry, Any], ...]], Choice] = {}
        #: Whether an entry is tried at every value; the set of those that are not, as their bits.
        self._each: dict[OpenEntry, bool] = {}
        self._last: tuple[tuple[OpenEntry, ...], Farthest] | None = None
        self._not_each = 0

    def ask(self, subject: Any, *, worst: bool, moved: Moved | None = None) -> Asked:
        """The worst answer (or the best) about a subject, with some entries ``moved`` to a given value."""
        first: Moved = moved or {}
        read = self._answer(subject, worst, first)
        ways = self._ways_on(worst, first, read)
        if not ways:
            answer = read.answer
            numbers = self._numbers((answer,))
            return Asked(answer, read, read.unbounded, numbers, worst, first, self._used, asked=read.asked)
        leaves: list[tuple[Answer | None, Moved, Choice | None]] = []
        reads, unbounded = dict.fromkeys(read.entries), dict.fromkeys(read.unbounded)
        rests_on, asked = read.rests_on, read.asked
        complete = True
        waiting = ways
        while waiting:
            if len(leaves) >= MOST_WAYS:  # in those tried a rule may say nothing: each that is left is asked once more
                complete = False
                for way in (first, *waiting):
                    read = self._answer(subject, worst, way)
                    leaves.append((read.answer, way, self._used))
                break
            way = waiting.pop()
            read = self._answer(subject, worst, way)
            if read.rests_on | rests_on != rests_on:
                reads.update(dict.fromkeys(read.entries))
                rests_on |= read.rests_on
            if read.unbounded:
                asked |= read.asked
                unbounded.update(dict.fromkeys(read.unbounded))
            ways = self._ways_on(worst, way, read)
            if ways:
                waiting.extend(ways)
            else:
                leaves.append((read.answer, way, self._used))
        pick = max if worst else min
        answer, way, case = pick(leaves, key=lambda leaf: badness(leaf[0]))
        values = self._numbers(leaf for leaf, _, _ in leaves)
        return Asked(answer, tuple(reads), tuple(unbounded), values, worst, way, case, complete, asked)

    def _numbers(self, answers: Iterable[Answer | None]) -> tuple[float, ...]:
        """The values of these answers; where there is none, what the rule says that stands for."""
        nothing = self.rule.nothing
        numbers = [nothing if answer is None else answer.value for answer in answers]
        return tuple([number for number in numbers if number is not None])

    def fails(self, subject: Any, *, worst: bool, moved: Moved) -> bool:
        """Whether the worst answer (or the best) is that it does not do; looks no further than it must.

        Where not every way was tried it may fail in one of the others, and may do in one.
        """
        waiting: list[Moved] = [moved]
        leaves = 0
        while waiting and leaves < MOST_WAYS:
            way = waiting.pop()
            read = self._answer(subject, worst, way)
            ways = self._ways_on(worst, way, read)
            if ways:
                waiting.extend(ways)
                continue
            leaves += 1
            if (read.answer is not None and read.answer.outcome is Outcome.FAIL) is worst:
                return worst
        return worst if waiting else not worst

    def stands_at(self, entry: OpenEntry, value: Any) -> bool:
        """Whether an entry without a bound has this value in every worst and best case already."""
        return not self._each.get(entry, True) and all(
            settled.entries & entry.bit and settled[entry] == value for settled in self._settled.values()
        )

    def _ways_on(self, worst: bool, way: Moved, read: Read) -> list[Moved]:
        """The ways that go on from here: by each value of the first entry that is tried at all of them."""
        if not read.rests_on & ~self._not_each:
            return []
        each = self._each
        for entry in read.entries:
            if entry in way:
                continue
            tried = each.get(entry)
            if tried is None:
                tried = each[entry] = self._order.tries_each(entry)
                if not tried:
                    self._not_each |= entry.bit
            if tried:
                return [{**way, entry: value} for value in reversed(self._values_on(worst, way, entry))]
        return []

    def _values_on(self, worst: bool, way: Moved, entry: OpenEntry) -> tuple[Any, ...]:
        """The values of an entry; those between its ends may hang on what stands otherwise on this way."""
        if entry.kind not in self.rule.points:
            return self.values(entry)
        with self.case.reading.at(self._choice(worst, way)):
            return self.values(entry)

    def _turned_each(self, entry: OpenEntry) -> None:
        self._each.pop(entry, None)
        self._not_each &= ~entry.bit

    def told(self, subject: Any, asked: Asked) -> list[tuple[str, Mapping[str, Any]]]:
        """The lines of the working of an answer, as templates and things."""
        with self.case.reading.at(self._choice(asked.worst, asked.moved) if asked.case is None else asked.case):
            answer = self.rule.answer(subject, self.case, self.case.book)
            return [] if answer is None else [(line.template, line.things) for line in answer.working()]

    def at_their_last(self, entries: tuple[OpenEntry, ...]) -> Farthest:
        """These entries at their last option: what is presumed of a whole circuit is the same for many subjects."""
        if self._last is None or self._last[0] != entries:
            self._last = entries, Farthest((entry, entry.possible.options[-1]) for entry in entries)
        return self._last[1]

    def in_case(self, *, worst: bool) -> AbstractContextManager[Frame]:
        """Inside, every open entry has its worst value for this rule (or its best)."""
        return self.case.reading.at(self._choice(worst, {}))

    def _choice(self, worst: bool, moved: Moved) -> Choice:
        """The same one for the same case, so that what was worked out in it need not be looked at again."""
        if not moved:
            return self._end(worst)
        key = worst, tuple(moved.items())
        choice = self._choices.get(key)
        if choice is None:
            if len(self._choices) >= _MOST_CHOICES:
                del self._choices[next(iter(self._choices))]
            choice = self._choices[key] = self._choice_with(worst, moved, self._end(worst))
        return choice

    def _end(self, worst: bool) -> Choice:
        end = self._ends.get(worst)
        if end is None:
            end = self._ends[worst] = self._choice_with(worst, {})
        return end

    def _choice_with(self, worst: bool, moved: Moved, stands_on: Choice | None = None) -> Choice:
        def choose(entry: OpenEntry) -> Any:
            return standing(entry, self.values(entry), worst)

        return Choice(self.case.reading, choose, self._settled[worst], moved, stands_on)

    def _answer(self, subject: Any, worst: bool, moved: Moved) -> Read:
        """What the rule answers in one case. The same values of what it read: the same answer."""
        if subject is not self._subject:
            self._subject, self._answers, self._at_ends = subject, {}, {}
        settled = self._settled[worst]
        known, there = settled.entries, bits_of(moved) if moved else 0
        self._used = None
        read = self._at_ends.get(worst)
        if read is not None and not (there and read.rests_on & (there | ~known)):
            return read
        there |= known
        choice: Choice | None = None
        for entries, (rests_on, by_values) in self._answers.items():
            if choice is None and rests_on | there == there:
                values = tuple([moved[entry] if entry in moved else settled[entry] for entry in entries])
            else:
                choice = self._choice(worst, moved) if choice is None else choice
                values = tuple([choice[entry] for entry in entries])
            read = by_values.get(values)
            if read is not None:
                break
        else:
            choice = self._choice(worst, moved) if choice is None else choice
            read = self._answer_anew(subject, choice)
        self._used = choice
        if not moved:
            self._at_ends[worst] = read
        return read

    def _answer_anew(self, subject: Any, choice: Choice) -> Read:
        reading = self.case.reading
        before = reading.begin(choice)
        try:
            self.tries += 1
            answer = self.rule.answer(subject, self.case, self.case.book)
            frame = reading.frames[-1]
            if self._order.strict and answer is not None:
                self._hold_apart(answer)
        finally:
            reading.end(before)
        read = Read(answer, frame)
        if 0 < read.rests_on.bit_count() <= _MOST_KEPT_BY:
            entries = read.entries
            kept = self._answers.get(entries)
            if kept is None:
                kept = self._answers[entries] = read.rests_on, {}
            kept[1][tuple([choice[entry] for entry in entries])] = read
        return read

    def _hold_apart(self, answer: Answer) -> None:
        """Raises: UndeclaredError where a sentence looks at the case only once somebody reads it, in another case."""
        with self.case.reading.apart() as frame:
            for sentence in (answer.says, answer.open_says, answer.to_come):
                str(sentence)
        if frame.reads or frame.others:
            raise UndeclaredError(f"{self.rule.name} looks at the case once a sentence of it is read")


def badness(answer: Answer | None) -> tuple[int, float]:
    """How bad an answer is, for comparing: its outcome, then how far its number is over the limit.

    Where there is a limit and no number any more (no voltage at all serves the loads), it is past every number.
    """
    margin = 0.0
    if answer is not None and answer.limit is not None:
        if answer.value is None:
            return RANK[answer.outcome], math.inf
        margin = answer.value - answer.limit
        margin = -margin if answer.at_least else margin
    return RANK[None if answer is None else answer.outcome], margin


def outcome_of(answer: Answer | None) -> Outcome:
    """What an answer comes to: where a rule says nothing, nothing is wrong."""
    return Outcome.PASS if answer is None else answer.outcome


def past_those_listed(*asked: Asked) -> dict[OpenEntry, None]:
    """All entries without a bound that these answers rest on, where they are more than one result lists."""
    if all(len(each.unbounded) < MOST_UNBOUNDED for each in asked):
        return {}
    return {entry: None for each in asked for entry in each.reads if entry.bit & each.asked}


def worse_value(asker: Asker, entry: OpenEntry) -> Any:
    """The worst value of an entry where one way is always worse, else its last."""
    return asker.values(entry)[-1]


def far_answer(asker: Asker, subject: Any, near: Asked) -> Answer | None:
    """What the rule says once an entry without a bound goes far, where it says nothing about it near."""
    ways: list[Moved] = [{entry: value} for entry in near.unbounded for value in reversed(asker.values(entry))]
    if len(near.unbounded) > 1:
        ways.append({entry: worse_value(asker, entry) for entry in near.unbounded})
    for way in ways:
        far = asker.ask(subject, worst=True, moved=way).answer
        if far is not None:
            return far
    return None


def other_values(asker: Asker, entry: OpenEntry, *, worst: bool) -> Sequence[Any]:
    """The values of an entry other than the one that it has in the worst (or the best) case."""
    values = asker.values(entry)
    if asker.direction(entry) is EACH or entry.kind in asker.rule.points:
        return values
    return values[:1] if worst else values[-1:]


def subjects_of(rule: CaseRule[Any], case: Case, *, strict: bool = False) -> Iterator[Any]:
    """What a rule speaks about. Which parts there are and where they hang is never open, so nothing open may be read.

    Raises: UndeclaredError in tests, where a rule reads something open to find its subjects.
    """
    with case.reading.at(first_option) as frame:
        subjects = tuple(rule.subjects(case))
        reads, _ = frame.entries()
    if reads and strict:
        raise UndeclaredError(f"{rule.name} reads {reads[0].kind} to find its subjects")
    return iter(subjects)
