"""Findings: what a rule says, with its numbers, working and sources. No I/O, no units library."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import chain

#: Two sums of table values are equal when they agree to this relative difference: it is far below the last digit of any
#: printed table and far above what adding floats can lose.
EQUAL = 1e-9


class Outcome(StrEnum):
    """What a rule answers. The order of ``SEVERITY`` is the order in which people should read them."""

    PASS = "pass"
    CAUTION = "caution"
    FAIL = "fail"
    UNDETERMINED = "undetermined"

    __hash__ = str.__hash__  # an enumeration's own is slow, and answers are looked up by these all the time


SEVERITY: dict[Outcome, int] = {
    Outcome.FAIL: 0,
    Outcome.UNDETERMINED: 1,
    Outcome.CAUTION: 2,
    Outcome.PASS: 3,
}


class Verdict(StrEnum):
    """The answer for a whole circuit."""

    FITS = "fits"
    DOES_NOT_FIT = "does not fit"
    UNDETERMINED = "undetermined"


class Status(StrEnum):
    """How sure a table value is; DEVELOPERS.md says what each asks for."""

    PUBLISHED = "published"
    DERIVED = "derived"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"


class Reading(StrEnum):
    """How what a value was compared with was read: the text itself, or somebody's word for it."""

    FIRST_HAND = "first-hand"
    SECOND_HAND = "second-hand"


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value stands: document, edition, place, and how it was checked.

    ``checked`` names what the value was compared with (published), the formula (derived), or is empty.
    ``read`` says whether that was the text itself or somebody's word for it; None where nothing was read.
    """

    document: str
    edition: str
    place: str
    status: Status
    checked: str = ""
    read: Reading | None = None
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Sources are merged for every answer: hash once, and by what tells nearly all apart."""
        object.__setattr__(self, "_hash", hash((self.place, self.document, self.edition)))

    def __hash__(self) -> int:
        """The same for equal ones."""
        return self._hash


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a finding's value: a load's share, a line of a box count, a cable's drop.

    ``value`` is in the finding's own unit, but volts for a voltage drop in percent. ``subject`` is the id of the load,
    box or cable where there is one. ``count`` and ``each``, where the value is a count of like things: how many, and
    what each takes in the finding's unit.
    """

    name: str
    value: float
    subject: str = ""
    count: float | None = None
    each: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One answer of one rule about one subject.

    ``value``, ``limit``, ``low``, ``high`` are in ``unit`` as shown to people (A, in^3, percent, V, W, VA).
    ``value`` is the worse of ``low`` and ``high``. ``at_least``: the limit is the least that they may be, not the most.
    ``needs`` names the unknown keys that would have to be found out (``cable.feed.length``).
    ``assumed`` are sentences about worst cases taken for unknown keys; ``assumed_keys`` names those keys.
    ``keys`` are the entries of the file that decide the finding; the user interface jumps to the first.
    ``to_do`` says what to do about it; ``ask`` holds questions for the electrician or the inspector.
    ``to_come`` marks a caution that only work which is still to be done decides: a line of the plan's checklist.
    ``already_so`` marks a fault that was there before the work, of a file that plans changes.
    ``stop`` marks a finding that ends the job for someone who is not an electrician, before any arithmetic.
    ``cause``: findings of one cause share this text; pages tell it once. Empty where a finding stands for itself.
    """

    check: str
    subject: str
    outcome: Outcome
    says: str
    value: float | None = None
    limit: float | None = None
    unit: str | None = None
    low: float | None = None
    high: float | None = None
    working: Sequence[str] = ()
    sources: tuple[Source, ...] = ()
    needs: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    to_do: tuple[str, ...] = ()
    ask: tuple[str, ...] = ()
    stop: bool = False
    to_come: bool = False
    already_so: bool = False
    cause: str = ""
    chosen: str | None = None
    smallest: str | None = None
    decided_by: str | None = None
    at_least: bool = False

    @property
    def is_without_bound(self) -> bool:
        """Whether ``value`` is the best that it can be: at worst it has no bound, or is no number any more."""
        worst, best = (self.low, self.high) if self.at_least else (self.high, self.low)
        return self.value is not None and worst is None and best is not None


@dataclass(frozen=True, slots=True)
class Unknown:
    """A key that the file leaves unknown and that some rule asked for.

    ``decides`` is true when finding it out can change an ``undetermined`` answer. ``written`` is what the file calls
    the key as it is written: in a short form that is another name. ``visit``: where one goes for it.

    What is asked again to know, and so only where advice is asked for: ``alone``: it alone can end the job, None where
    nobody tried. ``settles``, ``ends``: the values at which it settles open answers well, and at which it ends the job,
    None where there are none. ``checks``: the open answers that it turns by itself, as check and subject.
    """

    key: str
    decides: bool
    how_to_find: str
    written: str = field(default="", compare=False)
    visit: str = ""
    alone: bool | None = None
    settles: str | None = None
    ends: str | None = None
    checks: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class VisitSettles:
    """How many open answers one visit settles by itself, where what is found there turns out well."""

    visit: str
    settles: int


@dataclass(frozen=True, slots=True)
class Guess:
    """A value that the file marks as guessed: its key, as written, and what it stands for."""

    key: str
    written: str
    stands_for: str


@dataclass(frozen=True, slots=True)
class RoomLeft:
    """How much more there is room for: so much passes for certain, and a little more does not.

    of: the part, as ``box.attic``. kind: of what (``conductors``, ``load``, ``more of this`` …); ``size``: of
    conductors. amount: in ``unit``, a count where that is None; None where it is open already whether ``check`` passes.
    check: the one that turns first, empty where nothing that was tried does; then: what it answers of one step more.
    if_listed: whether it holds only where every load on the breaker is listed, which nobody said.
    """

    of: str
    kind: str
    amount: float | None
    unit: str | None
    check: str
    size: str | None = None
    then: Outcome | None = None
    if_listed: bool = False

    @property
    def is_most(self) -> bool:
        """Whether it is known that there is no room for more than that; else only that there is so much."""
        return self.amount is not None and self.then is not Outcome.UNDETERMINED


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault of the program: the check that could not be done, and what was raised."""

    check: str
    says: str
    error: Exception | None = field(default=None, compare=False, repr=False)

    @property
    def line(self) -> str:
        """The one line that every output shows."""
        return f"fault of the program in check {self.check}: {self.says}"


@dataclass(frozen=True, slots=True)
class NotJudged:
    """A check, or some of its answers, that is left out: the rulebook says that it has nothing to judge it by."""

    check: str


@dataclass(frozen=True, slots=True)
class Report:
    """Everything that ``check`` has to say about one circuit.

    Only where advice is asked for: ``least_questions``: a least set of keys that settles every open answer, if they
    turn out well. ``visits``: what each visit settles. ``room_left``: how much more there is room for.
    ``not_judged``: checks that the rulebook says it has nothing to judge by.
    """

    file: str
    title: str
    rulebook: str
    verdict: Verdict
    findings: tuple[Finding, ...]
    cautions: tuple[str, ...] = ()
    unknowns: tuple[Unknown, ...] = ()
    guesses: tuple[Guess, ...] = ()
    stop: tuple[Finding, ...] = field(default=())
    faults: tuple[Fault, ...] = ()
    not_judged: tuple[str, ...] = ()
    least_questions: tuple[str, ...] = ()
    visits: tuple[VisitSettles, ...] = ()
    room_left: tuple[RoomLeft, ...] = ()


def verdict_of(findings: Iterable[Finding]) -> Verdict:
    """``does not fit`` when anything fails, else ``undetermined`` when anything is, else ``fits``."""
    outcomes = {finding.outcome for finding in findings}
    if Outcome.FAIL in outcomes:
        return Verdict.DOES_NOT_FIT
    if Outcome.UNDETERMINED in outcomes:
        return Verdict.UNDETERMINED
    return Verdict.FITS


def exceeds(value: float, limit: float) -> bool:
    """Whether ``value`` is over ``limit`` by more than float noise."""
    return value > limit and value > limit + EQUAL * max(abs(value), abs(limit))


def merge_sources(*groups: Iterable[Source]) -> tuple[Source, ...]:
    """The sources of several groups, each once, in order of first use."""
    return tuple(dict.fromkeys(chain.from_iterable(groups)))
