"""The circuit with some entries found out, and what the rules then say of the answers that were open."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from circuitcheck.case import AnyRule
from circuitcheck.checking import findings_of
from circuitcheck.checking.asking_all import fault_written_down
from circuitcheck.checking.open_values import OpenValues
from circuitcheck.checking.scope import Scope
from circuitcheck.checking.would_do import answers_about, changed
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import is_of_what_was_found
from circuitcheck.findings import Fault, Finding, NotJudged, Outcome, Report
from circuitcheck.outcomes import check_words
from circuitcheck.quantities import Interval
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook

#: An answer: the check and what it is about.
Name = tuple[str, str]
#: The subject of an answer that is asked for only to know whether its check is still judged.
ANYTHING = ""
#: Is told how many answers were asked again so far.
Progress = Callable[[int], None]
#: So many parts and so many open answers has a small circuit.
_SMALL = 25
_OPEN, _BAD = Outcome.UNDETERMINED, Outcome.FAIL
#: Worst first, for an answer that has several findings.
_WORST_FIRST = (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION, Outcome.PASS)


def effort(report: Report, circuit: Circuit) -> float:
    """How much longer a check takes than that of a small circuit of which most is known: by parts and open answers."""
    still_open = sum(finding.outcome is _OPEN for finding in report.findings)
    return max(1.0, parts_in(circuit) / _SMALL, still_open / _SMALL)


def parts_in(circuit: Circuit) -> int:
    """How many parts a circuit has."""
    return sum(len(getattr(circuit, section.attribute)) for section in SECTIONS.values() if section.many)


class Standing(NamedTuple):
    """How good the answers are, less is better: failures, open answers, entries still named, numbers over limits."""

    bad: int
    open: int
    needs: int
    over: float


class Step(NamedTuple):
    """An entry, what it may be, and the value of it with which the answers stand best."""

    key: str
    values: OpenValues
    value: Any


def with_steps(circuit: Circuit, steps: Iterable[Step]) -> Circuit:
    """The circuit with these entries found out."""
    for step in steps:
        circuit = found_out(circuit, step.values, step.value)
    return circuit


def written(values: OpenValues, value: Any) -> Any:
    """A value as the circuit holds it."""
    return Interval(value, value) if values.key.form is Form.PHYSICAL else value


def found_out(circuit: Circuit, values: OpenValues, value: Any) -> Circuit:
    """The circuit with one entry found out, of a load that goes as it was found. What is moved stays what it is."""
    before, found = circuit.before, written(values, value)
    as_found = is_of_what_was_found(values.ref, circuit)
    if before is not None and (as_found or values.ref.part in before.moved):
        circuit = replace(circuit, before=replace(before, circuit=changed(before.circuit, values.ref, found)))
    return circuit if as_found else changed(circuit, values.ref, found)


def answers(circuit: Circuit, book: Rulebook, names: Iterable[Name], *, named: bool = False) -> tuple[Finding, ...]:
    """What the rules of these answers say about their subjects. ``named``: with what open ones depend on.

    An answer of a check that is not judged of this circuit, through a fault or since the book has not got what it asks
    for, is open; so is one about ``ANYTHING``. One that is missing else does not apply.
    """
    asked = tuple(dict.fromkeys(names))
    checks, subjects = {check for check, _ in asked}, frozenset(subject for _, subject in asked)
    lost: list[Fault | NotJudged] = []
    found: tuple[Finding, ...] = ()
    with fault_written_down("", lost):
        found = answers_about(circuit, book, _rules_of(checks), subjects, named=named)
    wanted = set(asked)
    told = tuple(finding for finding in found if (finding.check, finding.subject) in wanted)
    missing = wanted - {(finding.check, finding.subject) for finding in told}
    if missing and (lost or book.lacks or ANYTHING in subjects):
        # Which checks are not judged is only told when each is asked about all.
        lost = lost_in(circuit, book, {check for check, _ in missing})
        gone = {each.check for each in lost}
        told = (*told, *(_open(*name) for name in asked if name in missing and name[0] in gone))
    return told


def lost_in(circuit: Circuit, book: Rulebook, checks: Container[str]) -> list[Fault | NotJudged]:
    """Which of these checks are not judged of a circuit, and why."""
    lost: list[Fault | NotJudged] = []
    findings_of(circuit, book, _rules_of(checks), lost, Scope(named=False))
    return lost


def _rules_of(checks: Container[str]) -> tuple[AnyRule, ...]:
    return tuple(rule for rule in ALL_RULES if rule.name in checks)


def _open(check: str, subject: str) -> Finding:
    """An answer that nobody gets."""
    return Finding(check=check, subject=subject, outcome=_OPEN, says=f"Not judged any more: {check_words(check)}.")


def outcomes(findings: Iterable[Finding]) -> Mapping[Name, Outcome]:
    """The worst outcome of each answer. An answer that is not there any more does not apply, and is no trouble."""
    worst: dict[Name, Outcome] = {}
    for finding in findings:
        name = finding.check, finding.subject
        held = worst.get(name, Outcome.PASS)
        worst[name] = min(held, finding.outcome, key=_WORST_FIRST.index)
    return worst


def standing(findings: Iterable[Finding]) -> Standing:
    """How good these answers are."""
    held = tuple(findings)
    over = sum(
        abs(finding.value / finding.limit - 1.0)  # an answer that is not good is on the wrong side of its limit
        for finding in held
        if finding.value is not None and finding.limit and finding.outcome in (_OPEN, _BAD)
    )
    return Standing(
        sum(finding.outcome is _BAD for finding in held),
        sum(finding.outcome is _OPEN for finding in held),
        sum(len(finding.needs) for finding in held if finding.outcome is _OPEN),
        over,
    )


def open_answers(
    circuit: Circuit, book: Rulebook, not_judged: Container[str] = (), *, named: bool = True
) -> tuple[Finding, ...]:
    """Every answer that is open, of a whole check without its report; ``named``: with what it depends on.

    So are those of a check that is not judged, but for those that are not judged anyway: ``not_judged``.
    """
    lost: list[Fault | NotJudged] = []
    found = findings_of(circuit, book, ALL_RULES, lost, Scope(named))
    gone = (_open(each.check, ANYTHING) for each in lost if each.check not in not_judged)
    return (*(finding for finding in found if finding.outcome is _OPEN), *gone)
