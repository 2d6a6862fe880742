"""Asking a rule about one subject: in the worst case that the file leaves possible, in the best, or in between."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from types import MappingProxyType
from typing import Any, NamedTuple

from circuitcheck.case import EACH, Answer, Case, CaseRule
from circuitcheck.case.choice import Choice, bits_of
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.reading import Reading
from circuitcheck.case.results import Kept, Result
from circuitcheck.checking.values_in_order import UndeclaredError, ValuesInOrder, standing
from circuitcheck.findings import Outcome

#: How bad an outcome is; none at all is the best.
RANK: Mapping[Outcome | None, int] = {
    outcome: place
    for place, outcome in enumerate((None, Outcome.PASS, Outcome.CAUTION, Outcome.UNDETERMINED, Outcome.FAIL))
}
#: Entries without a bound that one answer lists at most.
MOST_UNBOUNDED = 40
#: In how many ways entries of which no way is always worse are tried for one question.
MOST_WAYS = 600

Moved = Mapping[OpenEntry, Any]
_UNMOVED: Moved = MappingProxyType({})
#: How many cases are kept to be asked about again.
_MOST_CHOICES = 192


class Asked(NamedTuple):
    """What a rule answers about a subject in the worst or the best of the cases asked about.

    rests_on: the set of open entries that it read, as their bits.
    values: the values of all ways that were tried. worst: whether it is the worst. moved: what stands otherwise in its
    case than in all worst (or best) cases. case: the case itself where that does not tell it.
    complete: whether every way was tried.
    """

    answer: Answer | None
    reading: Reading
    rests_on: int
    values: tuple[float, ...]
    worst: bool
    moved: Moved
    case: Choice | None
    complete: bool = True

    @property
    def reads(self) -> tuple[OpenEntry, ...]:
        """The open entries that it read, in the order of the file."""
        return self.reading.entries_of(self.rests_on)

    @property
    def asked(self) -> int:
        """The set of those without a bound that someone must give."""
        return self.reading.asked_of(self.rests_on)

    @property
    def unbounded(self) -> tuple[OpenEntry, ...]:
        """The first of them."""
        asked = self.asked
        return self.reading.entries_of(asked)[:MOST_UNBOUNDED] if asked else ()

    @property
    def fails(self) -> bool:
        """Whether the answer is that it does not do."""
        return self.answer is not None and self.answer.outcome is Outcome.FAIL


_Leaf = tuple[Answer | None, Moved, Choice | None]


class _Tried(NamedTuple):
    """All ways in which entries are each tried, from the worst case or the best, with some moved at ``first``.

    leaves: the answers. rests_on: all that was read on the way. each: what stands on any of the ways otherwise.
    """

    subject: Any
    worst: bool
    first: Moved
    leaves: list[_Leaf]
    rests_on: int
    each: int
    complete: bool


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
        #: The subject that was asked about last, and its answers: in the worst and in the best case; and by the entries
        #: that were read, then by their values.
        self._subject: Any = None
        #: The case in which it was asked last, None where what is moved tells all of it.
        self._used: Choice | None = None
        self._at_ends: dict[bool, Result] = {}
        self._answers: Kept | None = None
        self._settled = order.settled
        #: The ways that were tried last.
        self._tried: _Tried | None = None
        #: The worst and the best case; all others differ from one of them by what is moved.
        self._ends: dict[bool, Choice] = {}
        self._choices: dict[tuple[bool, tuple[tuple[OpenEntry, Any], ...]], Choice] = {}
        #: The entries that are tried at every value, and those that are not, as their bits.
        self._each = self._not_each = 0

    def settled(self, subject: Any) -> Result | None:
        """What the rule answers about a subject of which it reads nothing open; None where it reads something."""
        read = self._answer(subject, worst=True, moved=_UNMOVED)
        return None if read.rests_on else read

    def ask(self, subject: Any, *, worst: bool, moved: Moved | None = None) -> Asked:
        """The worst answer (or the best) about a subject, with some entries ``moved`` to a given value."""
        first: Moved = moved or _UNMOVED
        read = self._answer(subject, worst, first)
        ways = self._ways_on(worst, first, read)
        if not ways:
            answer: Answer | None = read.made
            number = self.rule.nothing if answer is None else answer.value
            numbers = () if number is None else (number,)
            return Asked(answer, self.case.reading, read.rests_on, numbers, worst, first, self._used)
        tried = self._tried
        if tried is None or not self._same_ways(tried, subject, worst, first):
            tried = self._tried = self._try(subject, worst, first, read.rests_on, ways)
        pick = max if worst else min
        answer, way, case = pick(tried.leaves, key=lambda leaf: badness(leaf[0]))
        values = self._numbers(leaf for leaf, _, _ in tried.leaves)
        return Asked(answer, self.case.reading, tried.rests_on, values, worst, way, case, tried.complete)

    def _try(self, subject: Any, worst: bool, first: Moved, rests_on: int, waiting: list[Moved]) -> _Tried:
        """All ways that go on from a first one: each ends where nothing is left that is tried at every value."""
        leaves: list[_Leaf] = []
        each = 0
        complete = True
        while waiting:
            if len(leaves) >= MOST_WAYS:  # in those tried a rule may say nothing: each that is left is asked once more
                complete = False
                for way in (first, *waiting):
                    read = self._answer(subject, worst, way)
                    leaves.append((read.made, way, self._used))
                break
            way = waiting.pop()
            read = self._answer(subject, worst, way)
            rests_on |= read.rests_on
            ways = self._ways_on(worst, way, read)
            if ways:
                waiting.extend(ways)
            else:
                leaves.append((read.made, way, self._used))
                each |= bits_of(way)
        return _Tried(subject, worst, first, leaves, rests_on, each, complete)

    def _same_ways(self, tried: _Tried, subject: Any, worst: bool, first: Moved) -> bool:
        """Whether the other end of the cases has the same ways: all else that was read has the same values there."""
        if tried.subject is not subject or tried.worst is worst or tried.first != first:
            return False
        if self.rule.points:  # what lies between the ends of one entry may hang on others that are not read
            return False
        rests_on = tried.rests_on & ~tried.each
        if rests_on & ~self._settled[worst].entries:  # what stands in every worst case stands in every best one too
            return False
        return self._end(worst).agrees(self._end(not worst), rests_on)

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
            if (read.made is not None and read.made.outcome is Outcome.FAIL) is worst:
                return worst
        return worst if waiting else not worst

    @property
    def presumed(self) -> int:
        """The set of the entries that count as their first option for this rule."""
        return self._order.presumed

    @property
    def movable(self) -> int:
        """The set of the entries that can be one thing or another, within bounds."""
        return self._order.movable

    def stands_at(self, entry: OpenEntry, value: Any) -> bool:
        """Whether an entry without a bound has this value in every worst and best case already."""
        return bool(self._not_each & entry.bit) and all(
            settled.entries & entry.bit and settled[entry] == value for settled in self._settled.values()
        )

    def _ways_on(self, worst: bool, way: Moved, read: Result) -> list[Moved]:
        """The ways that go on from here: by each value of the first entry that is tried at all of them."""
        new = read.rests_on & ~(self._each | self._not_each)
        if new:
            for entry in self.case.reading.entries_of(new):
                if self._order.tries_each(entry):
                    self._each |= entry.bit
                else:
                    self._not_each |= entry.bit
        tried = read.rests_on & self._each
        if tried and way:
            tried &= ~bits_of(way)
        if not tried:
            return []
        ways = self.case.reading.entries_of(tried)
        points = self.rule.points  # what lies between the ends of these may hang on the others
        entry = next((each for each in ways if each.kind not in points), ways[0]) if points else ways[0]
        return [{**way, entry: value} for value in reversed(self._values_on(worst, way, entry))]

    def _values_on(self, worst: bool, way: Moved, entry: OpenEntry) -> tuple[Any, ...]:
        """The values of an entry; those between its ends may hang on what stands otherwise on this way."""
        if entry.kind not in self.rule.points:
            return self.values(entry)
        with self.case.reading.at(self._choice(worst, way)):
            return self.values(entry)

    def _turned_each(self, entry: OpenEntry) -> None:
        self._each &= ~entry.bit
        self._not_each &= ~entry.bit
        # It may stand elsewhere in the worst and the best case than it did, and others differ from these by moves.
        self._ends, self._choices, self._at_ends, self._tried = {}, {}, {}, None

    def told(self, subject: Any, asked: Asked | None = None) -> list[tuple[str, Mapping[str, Any]]]:
        """The lines of the working of an answer, as templates and things; left out: of the one that there is."""
        case = self._end(True) if asked is None else asked.case or self._choice(asked.worst, asked.moved)
        with self.case.reading.at(case):
            answer = self.rule.answer(subject, self.case, self.case.book)
            return [] if answer is None else [(line.template, line.things) for line in answer.working()]

    def in_case(self, *, worst: bool) -> AbstractContextManager[Reading]:
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

    def _choice_with(self, worst: bool, moved: Moved, base: Choice | None = None) -> Choice:
        def choose(entry: OpenEntry) -> Any:
            return standing(entry, self.values(entry), worst)

        return Choice(self.case.reading, choose, self._settled[worst], moved, base)

    def _answer(self, subject: Any, worst: bool, moved: Moved) -> Result:
        """What the rule answers in one case. The same values of what it read: the same answer."""
        if subject is not self._subject:
            self._subject, self._at_ends, self._answers = subject, {}, None
        self._used = None
        end = self._at_ends.get(worst)
        if end is not None:
            changed = bits_of(moved) | ~self._settled[worst].entries if moved else 0
            if not end.rests_on & changed:
                return end
        self._used = choice = self._choice(worst, moved)
        answers = self._answers
        read = None if answers is None else answers.closed or answers.found(choice)
        if read is None:
            read = self._answer_anew(subject, choice)
            if read.rests_on:
                answers = self._answers = answers or Kept()
                answers.keep(read)
        if not moved:
            self._at_ends[worst] = read
        return read

    def _answer_anew(self, subject: Any, choice: Choice) -> Result:
        reading = self.case.reading
        before = reading.begin(choice)
        try:
            self.tries += 1
            answer = self.rule.answer(subject, self.case, self.case.book)
            rests_on = reading.read
            if self._order.strict and answer is not None:
                self._hold_apart(answer)
        finally:
            reading.end(before)
        return Result(answer, rests_on, choice)

    def _hold_apart(self, answer: Answer) -> None:
        """Raises: UndeclaredError where a sentence looks at the case only once somebody reads it, in another case."""
        reading = self.case.reading
        with reading.apart():
            for sentence in (answer.says, answer.open_says, answer.to_come):
                str(sentence)
            read = reading.read
        if read:
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
    return {entry: None for each in asked for entry in each.reading.entries_of(each.asked)}


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


def subjects_of(rule: CaseRule[Any], case: Case, *, strict: bool = False) -> Sequence[Any]:
    """What a rule speaks about. Which parts there are and where they hang is never open, so nothing open may be read.

    Raises: UndeclaredError in tests, where a rule reads something open to find its subjects.
    """
    reading = case.reading
    with reading.at(reading.first):
        subjects = tuple(rule.subjects(case))
        reads = reading.reads
    if reads and strict:
        raise UndeclaredError(f"{rule.name} reads {reads[0].kind} to find its subjects")
    return subjects
