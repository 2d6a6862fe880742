"""A check after a few entries of the file changed: only the rules that such a change may concern are asked again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from circuitcheck.case import AnyRule, Case, CaseRule
from circuitcheck.case.making import case_of
from circuitcheck.checking import report_of, with_what_was_before
from circuitcheck.checking.asking_all import fault_written_down, said_by
from circuitcheck.checking.changed_entries import (
    Changed,
    Place,
    State,
    concerned,
    entries_changed,
    followers,
    is_named_by_readers,
    place_of,
)
from circuitcheck.checking.out_of_reach import Untouched, are_known, said_of_the_rest, untouched
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_found, as_planned
from circuitcheck.findings import Fault, Finding, NotJudged, Report
from circuitcheck.refs import Ref
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook


@dataclass(frozen=True, slots=True)
class Said:
    """What each rule said of one circuit, by the rule's name.

    standing: rules of which it was said before, about some of their subjects at least. untouched: what rules say about
    those of which they do not read what was changed last, or may be next.
    """

    state: State
    by_rule: Mapping[str, Sequence[Finding]]
    standing: frozenset[str] = frozenset()
    untouched: Untouched | None = None

    @property
    def findings(self) -> list[Finding]:
        """All of it, in the order of the rules."""
        return [finding for said in self.by_rule.values() for finding in said]


@dataclass(frozen=True, slots=True)
class Told:
    """A report and what it was made from. ``found``: what was said of the circuit as found, where it has changes."""

    report: Report
    planned: Said
    found: Said | None = None

    @property
    def is_whole(self) -> bool:
        """Whether every rule was asked."""
        return not self.planned.standing and (self.found is None or not self.found.standing)

    def forget(self) -> None:
        """Lets go of what was worked out on the way; whoever reads the working of a finding has it worked out again.

        It is most of what a check makes, and holds itself in circles, so that it would have to be looked for.
        """
        for said in (self.planned, self.found):
            if said is not None:
                case = said.state.case
                with case.reading.lock:
                    case.worked_out.clear()


def check_again(
    circuit: Circuit, book: Rulebook, before: Told | None = None, *, go_on: Callable[[], None] = lambda: None
) -> Told:
    """The report on a circuit, the same as of ``check``. ``before``: what was told of the circuit before it changed.

    Without that every rule is asked. So it is where parts or connections changed, and where a rule raised before or was
    not judged.
    go_on: is called before each rule that is asked; what it raises ends the check.

    Raises: TableError when a rule asks the book for something it does not have.
    """
    if before is not None and (before.report.faults or before.report.not_judged):
        before = None
    faults: list[Fault | NotJudged] = []
    circuit = as_planned(circuit)
    planned = _said(circuit, book, before.planned if before else None, faults, go_on)
    findings, found = planned.findings, None
    if circuit.before is not None:
        found = _said(as_found(circuit), book, before.found if before else None, [], go_on)
        findings = with_what_was_before(findings, found.findings)
    return Told(report_of(findings, circuit, book, faults), planned, found)


def _said(
    circuit: Circuit, book: Rulebook, before: Said | None, faults: list[Fault | NotJudged], go_on: Callable[[], None]
) -> Said:
    case = case_of(circuit, book)
    state = State(circuit, case)
    changed = entries_changed(before.state, state) if before is not None else None
    standing, untouched = _standing(before, changed), None
    if before is not None and changed is not None:
        untouched = _untouched(before, changed, case, [rule for rule in ALL_RULES if rule.name not in standing], go_on)
    by_rule: dict[str, Sequence[Finding]] = {}
    for rule in ALL_RULES:
        if before is not None and rule.name in standing:
            by_rule[rule.name] = before.by_rule[rule.name]
            continue
        go_on()
        known = untouched.by_rule.get(rule.name) if untouched is not None else None
        said: list[Finding] = []
        with fault_written_down(rule.name, faults):
            if known is not None and isinstance(rule, CaseRule):
                said.extend(said_of_the_rest(rule, case, known))
            else:
                said.extend(said_by(rule, circuit, case, (each for held in by_rule.values() for each in held)))
        by_rule[rule.name] = said
    if before is not None and untouched is not None and untouched is before.untouched:
        standing |= untouched.by_rule.keys()
    return Said(state, by_rule, standing, untouched)


def _standing(before: Said | None, changed: Changed | None) -> frozenset[str]:
    """The rules of which all that was said before stands."""
    if before is None or changed is None or not changed.are_named:
        return frozenset()
    kinds = {place.kind for place in changed.places}
    return frozenset(rule.name for rule in ALL_RULES if rule.name in before.by_rule and not concerned(rule, kinds))


#: Of more entries that changed at once it is not looked for what does not hang on them: nobody types so many.
_MOST_ENTRIES = 4


def _untouched(
    before: Said, changed: Changed, case: Case, rules: Sequence[AnyRule], go_on: Callable[[], None]
) -> Untouched | None:
    """What does not hang on the entries that changed: as it was found beforehand or when they changed last.

    Else it is found now, but not where every rule may read them: that would take longer than asking every rule.
    """
    places = changed.places
    if before.untouched is not None and before.untouched.covers(places, case):
        return before.untouched
    if not changed.are_named or not 0 < len(places) <= _MOST_ENTRIES:
        return None
    known = frozenset(place for place in places if are_known((place,), case))
    return untouched(known, places - known, case, rules, go_on) if known else None


def made_ready(told: Told, entry: Ref, *, go_on: Callable[[], None] = lambda: None) -> Told:
    """The same, ready for another value of one entry: which answers do not hang on it is found out beforehand.

    entry: ``cable.feed.length``; of one that is not there, or that says how parts hang together, nothing is.
    go_on: as for ``check_again``.
    """
    planned, found = _ready(told.planned, entry, go_on), told.found and _ready(told.found, entry, go_on)
    return replace(told, planned=planned, found=found)


def _ready(said: Said, entry: Ref, go_on: Callable[[], None]) -> Said:
    place = place_of(entry, said.state.circuit)
    if place is None or (said.untouched is not None and place in said.untouched.known):
        return said
    circuit = said.state.circuit
    state = State(circuit, case_of(circuit, said.state.case.book))  # the other is asked by whoever reads a working
    changed = entries_changed(said.state, state)
    if changed is None or changed.places:
        return said
    key = SECTIONS[place.section].keys[entry.key]
    is_named = is_named_by_readers(place.kind, key)
    rules = [rule for rule in ALL_RULES if not is_named or concerned(rule, (place.kind,))]
    # from what every rule names little follows, and the fewer are out of reach the more stands
    others = frozenset[Place]() if is_named else followers(place, circuit)
    return replace(said, state=state, untouched=untouched(frozenset({place}), others, state.case, rules, go_on))
