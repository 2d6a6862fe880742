"""What a rule is: of cases, a pure function of one fully known circuit, and which way each entry is worse for it.

Two other kinds stand beside it: rules that ask which size would do, and rules of evidence, about entries themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, Generic, TypeAlias, TypeVar

from circuitcheck.case.answer import Answer
from circuitcheck.case.case import Case
from circuitcheck.case.parts import Part
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.tables.rulebook import Rulebook

SubjectT = TypeVar("SubjectT")

#: How bad a value of an entry is for a rule, as a key to sort by: ``(value, the part it belongs to, case)``. It answers
#: ``EACH`` for a part of which no way is always worse.
Direction = Callable[[Any, Part, Case], Any]

#: What a rule asks of a word, by this book: of two of which it is the same the answer is the same.
Alike = Callable[[Any, Rulebook], Any]


class Family(StrEnum):
    """The families of rules: one folder each."""

    CAPACITY = "capacity"
    LOW_VOLTAGE = "low voltage"
    SITE = "site"
    EVIDENCE = "evidence"


def MORE(value: Any, part: Part, case: Case) -> Any:  # noqa: N802 - reads as a constant in a rule's table
    """More is worse (of yes and no: yes)."""
    return value


def LESS(value: Any, part: Part, case: Case) -> Any:  # noqa: N802
    """Less is worse (of yes and no: no)."""
    return -sum(value) if isinstance(value, tuple) else -value


def EACH(value: Any, part: Part, case: Case) -> Any:  # noqa: N802
    """No way is always worse: every value is tried."""
    raise AssertionError("the engine tries each value")


#: Directions that look at nothing but the value: they are the same in every case.
BY_VALUE: set[Direction] = {MORE, LESS, EACH}


def order(*best_to_worst: Any) -> Direction:
    """These values, the best first; any other value is as good as the first."""
    rank = {value: place for place, value in enumerate(best_to_worst)}

    def place_of(value: Any, part: Part, case: Case) -> Any:
        return rank.get(value, 0)

    BY_VALUE.add(place_of)
    return place_of


def words_apart(*words: str) -> Alike:
    """Each of these words apart, and all others alike."""
    return lambda value, book: value if value in words else None


@dataclass(frozen=True, eq=False, kw_only=True)
class CaseRule(Generic[SubjectT]):
    """One rule. Its module's docstring holds the explanation for people; ``docs/checks/`` is made from it.

    name: the check's name, as in the report; the module, the test and the docs page carry the same name.
    title: one plain line. rank: where it stands in a report among the others.
    subjects: what it speaks about, from what is never open: which parts there are and where they hang.
    answer: what it says about one of them in one case, or None where it does not apply.
    worse: for every entry that it reads and that can be open, which way is worse; an entry that is not here is tried
    at every value.
    alike: of an entry that is one of many words what the rule asks of each (``words_apart``): of those of which the
    answer is the same it tries one.
    points: further values at which the answer can turn, beside the ends of a span (a table's steps) or all options;
    all of them are tried.
    turns: further values of a span that may be worse or better than its ends, by what ``worse`` says of each.
    doubts: entries that the table presumes and that this rule is about: it takes them as open. Where they change no
    more than what is said, it stays a caution and asks for them.
    nothing: the value of a circuit to which it does not apply, where that is a number: what is not there draws none.
    """

    name: str
    title: str
    family: Family
    rank: int
    subjects: Callable[[Case], Iterable[SubjectT]]
    answer: Callable[[SubjectT, Case, Rulebook], Answer | None]
    nothing: float | None = None
    doubts: frozenset[str] = frozenset()
    worse: Mapping[str, Direction] = field(default_factory=dict)
    alike: Mapping[str, Alike] = field(default_factory=dict)
    points: Mapping[str, Callable[[Any, Any, Part, Case], Iterable[Any]]] = field(default_factory=dict)
    turns: Mapping[str, Callable[[Any, Any, Part, Case], Iterable[Any]]] = field(default_factory=dict)

    @property
    def module(self) -> str:
        """Where it stands."""
        return self.answer.__module__


@dataclass(frozen=True, eq=False, kw_only=True)
class SizeRule:
    """A rule that asks which size of each added cable would do. It searches nothing: the engine asks other rules again.

    sizes: the sizes to try, thinnest first. must: the checks that must not fail; the first sets the thinnest of all.
    wish: the check of which a caution recommends a thicker one.
    """

    name: str
    title: str
    family: Family
    rank: int
    sizes: Callable[[Rulebook], Sequence[str]]
    must: tuple[str, ...]
    wish: tuple[str, ...]

    @property
    def module(self) -> str:
        """Where it stands."""
        return self.sizes.__module__


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceRule:
    """A rule about the entries of a file themselves: what was looked at, and by whom. It takes a guess for no answer.

    check: the function. It opens nothing and remembers nothing.
    """

    name: str
    title: str
    rank: int
    check: Callable[[Circuit, Rulebook], Iterable[Finding]]
    family: Family = Family.EVIDENCE

    @property
    def module(self) -> str:
        """Where it stands."""
        return self.check.__module__


#: A rule of one of the kinds: of cases, of the sizes that would do, or of evidence.
AnyRule: TypeAlias = "EvidenceRule | CaseRule[Any] | SizeRule"
