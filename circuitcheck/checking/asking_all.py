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
from circuitcheck.errors import NotInBookError, TableError
from circuitcheck.findings import Fault, Finding, NotJudged
from circuitcheck.tables.rulebook import Rulebook

#: What no country's book can be without: what a wire and its breaker carry. Left out, it is a fault, whatever ``lacks``
#: says, and the verdict is never "fits".
_NEVER_LEFT_OUT = frozenset({"load-share", "breaker-vs-wire", "ampacity", "driver-capacity"})


def findings_of(
    circuit: Circuit,
    book: Rulebook,
    rules: Iterable[AnyRule],
    faults: list[Fault | NotJudged] | None = None,
    scope: Scope = WHOLE,
) -> list[Finding]:
    """What each rule says, in order. A rule that raises is written down in ``faults``; without that list it raises.

    A rule that asks for what the book says it lacks is not judged from there on, and written down as that.

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
        known = {(finding.check, finding.subject): finding for finding in before}
        yield from size_findings(rule, circuit, case, known, scope)
    else:
        yield from rule.check(circuit, case.book)


@contextmanager
def fault_written_down(check: str, faults: list[Fault | NotJudged] | None) -> Iterator[None]:
    """Inside, what raises is written down as a fault of that check, and what comes after goes on.

    What the book says itself that it lacks is no fault: that check is not judged. What is neither in the book nor named
    there is one (nobody typed it in yet).

    Raises: whatever is raised where there is no list, and TableError of any other kind always: no check is right by a
    wrong book.
    """
    try:
        yield
    except NotInBookError as error:
        left_out = error.absent and check not in _NEVER_LEFT_OUT
        if faults is not None:
            faults.append(NotJudged(check) if left_out else Fault(check, str(error), error))
        elif not left_out:
            raise
    except TableError:
        raise
    except Exception as error:
        if faults is None:
            raise
        faults.append(Fault(check, f"{type(error).__name__}: {error}", error))
