"""All rules asked about one circuit: of every kind, in order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from circuitcheck.case import AnyRule, Case, CaseRule, SizeRule
from circuitcheck.case.making import case_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.checking.scope import WHOLE, Scope
from circuitcheck.checking.wire_size import size_findings
from circuitcheck.circuit.model import Circuit
from circuitcheck.errors import TableError
from circuitcheck.findings import Fault, Finding
from circuitcheck.tables.rulebook import Rulebook


def findings_of(
    circuit: Circuit,
    book: Rulebook,
    rules: Iterable[AnyRule],
    faults: list[Fault] | None = None,
    scope: Scope = WHOLE,
) -> list[Finding]:
    """What each rule says, in order. A rule that raises is written down in ``faults``; without that list it raises.

    With a ``scope`` about some parts ``rules`` say nothing about others, and the size of no other cable is asked for.
    """
    case = case_of(circuit, book)
    findings: list[Finding] = []
    for rule in rules:
        with fault_written_down(rule.name, faults):
            findings.extend(said_by(rule, circuit, case, findings, scope))
    return findings


def said_by(
    rule: AnyRule, circuit: Circuit, case: Case, before: Iterable[Finding], scope: Scope = WHOLE
) -> Iterator[Finding]:
    """What one rule says. ``case``: the circuit as a case; ``before``: what the rules before it said."""
    if isinstance(rule, CaseRule):
        yield from findings_of_rule(rule, case, named=scope.named)
    elif isinstance(rule, SizeRule):
        told = before if scope.about is None else ()  # of other parts it has to know as well
        known = {(finding.check, finding.subject): finding for finding in told}
        yield from size_findings(rule, circuit, case, known, scope)
    else:
        yield from rule.check(circuit, case.book)


@contextmanager
def fault_written_down(check: str, faults: list[Fault] | None) -> Iterator[None]:
    """Inside, what raises is written down as a fault of that check, and what comes after goes on.

    Raises: whatever is raised where there is no list, and TableError always: no check is right by a wrong book.
    """
    try:
        yield
    except TableError:
        raise
    except Exception as error:
        if faults is None:
            raise
        faults.append(Fault(check, f"{type(error).__name__}: {error}", error))
