"""Which answers do not hang on an entry: those that a rule gives while that entry cannot be read.

Whoever types watts changes one entry with each key. A rule that reads it about one cable reads it about few of the
others, and which these are does not hang on its value: up to the first look at it, all goes as it went before. So the
rules are asked once with the entry out of reach. What is answered then, and explained, stands whatever it becomes.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from enum import Enum
from typing import Any, NoReturn

from circuitcheck.case import AnyRule, Case, CaseRule
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.parts import Part
from circuitcheck.case.waiting import Source, entry_of
from circuitcheck.checking.asking import Asker, subjects_of
from circuitcheck.checking.changed_entries import Place, part_at
from circuitcheck.checking.judging import finding_about
from circuitcheck.findings import Finding


class Reads(Enum):
    """Stands for what a rule says of a subject about which it reads one of the entries."""

    ONE_OF_THEM = "reads one of them"


class OutOfReachError(Exception):
    """An entry was read that is out of reach."""


@dataclass(frozen=True, slots=True)
class Untouched:
    """What rules say of their subjects, one after the other, whatever some entries are.

    known: those entries, as long as they are known. followers: whether they are known or open. A rule that is not here
    may read one of them about any subject.
    """

    known: frozenset[Place]
    followers: frozenset[Place]
    by_rule: Mapping[str, tuple[Finding | Reads | None, ...]]

    def covers(self, places: frozenset[Place], case: Case) -> bool:
        """Whether it stands after these entries changed to what they are in a case."""
        return places <= self.known | self.followers and are_known(places - self.followers, case)


def untouched(
    known: frozenset[Place],
    followers: frozenset[Place],
    case: Case,
    rules: Iterable[AnyRule],
    go_on: Callable[[], None],
) -> Untouched:
    """What stands whatever values some entries have, as long as they are known, and whatever ``followers`` are.

    case: in it all of them may be open. rules: those that may read them. go_on: is called before each subject of them.
    """
    by_rule: dict[str, tuple[Finding | Reads | None, ...]] = {}
    with _out_of_reach(known, followers, case):
        for rule in rules:
            if isinstance(rule, CaseRule):
                by_rule[rule.name] = _without(rule, case, go_on)
    return Untouched(known, followers, {name: said for name, said in by_rule.items() if said})


def are_known(places: Iterable[Place], case: Case) -> bool:
    """Whether each of these entries has one value, and nothing is said of it."""
    return all(entry_of(part_at(case, place), place.attribute) is None for place in places)


def said_of_the_rest(rule: CaseRule[Any], case: Case, known: tuple[Finding | Reads | None, ...]) -> Iterator[Finding]:
    """What a rule says; asked is only about those subjects about which it reads one of the entries."""
    asker, subjects = _Asker(rule, case), tuple(subjects_of(rule, case))
    said = [
        finding_about(asker, subject, named=True) if told is Reads.ONE_OF_THEM else told
        for subject, told in zip(subjects, known, strict=True)
    ]
    if asker.turned:
        asker = _Asker(rule, case)
        said = [finding_about(asker, subject, named=True) for subject in subjects]
    yield from (finding for finding in said if isinstance(finding, Finding))


def _without(rule: CaseRule[Any], case: Case, go_on: Callable[[], None]) -> tuple[Finding | Reads | None, ...]:
    """What a rule says of each subject while entries are out of reach; nothing where that is of no use."""
    asker = _Asker(rule, case)
    try:
        subjects = tuple(subjects_of(rule, case))
    except Exception:  # whatever goes wrong without the entry goes its way once it is there again
        return ()
    said: list[Finding | Reads | None] = []
    for subject in subjects:
        go_on()
        try:
            finding = finding_about(asker, subject, named=True)
            if finding is not None:
                tuple(finding.working)  # which may look at more than the answer did
        except Exception:
            said.append(Reads.ONE_OF_THEM)
        else:
            said.append(finding)
    return () if asker.turned or all(told is Reads.ONE_OF_THEM for told in said) else tuple(said)


class _Asker(Asker):
    """Notices that an entry has turned out to be one of which no way is always worse: it counts for all that follow.

    What is said of a subject then hangs on those before it, so that all are asked about.
    """

    def __init__(self, rule: CaseRule[Any], case: Case) -> None:
        self.turned = False
        super().__init__(rule, case)

    def _turned_each(self, entry: OpenEntry) -> None:
        self.turned = True
        super()._turned_each(entry)


@contextmanager
def _out_of_reach(known: Iterable[Place], followers: Iterable[Place], case: Case) -> Iterator[None]:
    """Inside, whoever reads one of these entries is stopped by what that raises.

    So is whoever asks whether one of the followers is known; the others count as known.
    """
    by_part: defaultdict[Part, dict[str, bool]] = defaultdict(dict)
    for places, is_known in ((followers, False), (known, True)):
        for place in places:
            by_part[part_at(case, place)][place.attribute] = is_known
    before = [(part, type(part), dict(vars(part)), dict(vars(part).get("_open", {}))) for part in by_part]
    for part, attributes in by_part.items():
        state = vars(part)
        object.__setattr__(part, "__class__", _hiding(type(part), attributes))
        for attribute in attributes:
            state.pop(attribute, None)
            state.get("_open", {}).pop(attribute, None)
        if "_source" in state:
            state["_source"] = _Hidden(state["_source"], attributes)
    try:
        yield
    finally:
        for part, kind, state, opened in before:
            object.__setattr__(part, "__class__", kind)
            for attribute in by_part[part]:
                if attribute in state:
                    vars(part)[attribute] = state[attribute]
                elif attribute in opened:
                    vars(part)["_open"][attribute] = opened[attribute]
            if "_source" in state:
                vars(part)["_source"] = state["_source"]


class _OutOfReach:
    """Stands in the class for an entry that cannot be read; it comes before what the part itself has."""

    def __get__(self, part: object, kind: type | None = None) -> NoReturn:
        raise OutOfReachError

    def __set__(self, part: object, value: object) -> NoReturn:
        raise OutOfReachError


def _hiding(kind: type[Part], attributes: Iterable[str]) -> type[Part]:
    """The same kind of part, of which these entries cannot be read."""
    return type(kind.__name__, (kind,), {attribute: _OutOfReach() for attribute in attributes})


class _Hidden:
    """Where the entries of a part come from, of which some are not told: by the attribute, whether they are known."""

    __slots__ = ("_attributes", "_source", "reading")

    def __init__(self, source: Source, attributes: Mapping[str, bool]) -> None:
        self._source, self._attributes, self.reading = source, attributes, source.reading

    @property
    def first_place(self) -> float:
        """Where the part's entries begin in the file."""
        first: float = self._source.first_place  # type: ignore[attr-defined]  # a cable's size apart has none
        return first

    def look_up(self, part: Part, attribute: str) -> OpenEntry | None:
        """The entry. That one is known is no secret, but its value is not there for whoever looks."""
        is_known = self._attributes.get(attribute)
        if is_known is None:
            return self._source.look_up(part, attribute)
        if not is_known:
            raise OutOfReachError
        return None
