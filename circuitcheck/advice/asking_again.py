"""The circuit with some entries found out, and what the rules then say of the answers that were open."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from circuitcheck.case import AnyRule
from circuitcheck.checking import findings_of
from circuitcheck.checking.open_values import OpenValues
from circuitcheck.checking.scope import Scope
from circuitcheck.checking.would_do import answers_about, changed
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.quantities import Interval
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook

#: An answer: the check and what it is about.
Name = tuple[str, str]
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
    """The circuit with one entry found out; what was on at the reading is an entry of the load as it was found."""
    before, found = circuit.before, written(values, value)
    if before is not None and values.ref.key == "on_at_reading":
        return replace(circuit, before=replace(before, circuit=changed(before.circuit, values.ref, found)))
    return changed(circuit, values.ref, found)


def answers(circuit: Circuit, book: Rulebook, names: Iterable[Name], *, named: bool = False) -> tuple[Finding, ...]:
    """What the rules of these answers say about their subjects. ``named``: with what open ones depend on."""
    asked = tuple(names)
    checks = {check for check, _ in asked}
    rules: tuple[AnyRule, ...] = tuple(rule for rule in ALL_RULES if rule.name in checks)
    found = answers_about(circuit, book, rules, frozenset(subject for _, subject in asked), named=named)
    wanted = set(asked)
    return tuple(finding for finding in found if (finding.check, finding.subject) in wanted)


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


def open_answers(circuit: Circuit, book: Rulebook, *, named: bool = True) -> tuple[Finding, ...]:
    """Every answer that is open, of a whole check without its report; ``named``: with what it depends on."""
    found = findings_of(circuit, book, ALL_RULES, [], Scope(named))
    return tuple(finding for finding in found if finding.outcome is _OPEN)
