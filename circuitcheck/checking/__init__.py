"""From a circuit and a rulebook to a report. Pure: nothing is opened, nothing remembered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from circuitcheck.case import AnyRule, CaseRule
from circuitcheck.checking.asking_all import fault_written_down, findings_of
from circuitcheck.checking.causes import one_advice_each, worst_first
from circuitcheck.checking.cautions import cautions_of, left_out
from circuitcheck.checking.guesses import guesses_in
from circuitcheck.checking.lead_sizes import LEADS, with_lead_sizes
from circuitcheck.checking.slips import slips_in
from circuitcheck.checking.unknowns import unknowns_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_found, as_planned
from circuitcheck.findings import Fault, Finding, NotJudged, Outcome, Report, Verdict, verdict_of
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook

__all__ = ["case_rules", "check", "findings_of", "unknowns_of", "worst_first"]

#: What stands before a fault that the work does not bring about.
ALREADY_SO = "Already so before the work"


def check(circuit: Circuit, book: Rulebook, rules: Sequence[AnyRule] = ALL_RULES) -> Report:
    """Everything the rules say about the circuit under this rulebook.

    A circuit with changes is judged as it will be, and as found: a fault that was there before is told as such.

    Findings that stop the job come first; the others stand in the order of ``rules``, and within a rule in its own.
    A rule that raises is a fault of the program: the report names it, the other answers stand, and the verdict is never
    "fits". So is one that asks the book for what nobody typed in; what the book says that it lacks is not judged.

    Raises: TableError where a table is wrong, or the book lacks what every circuit needs.
    """
    written: list[Fault | NotJudged] = []
    circuit = as_planned(circuit)
    findings = findings_of(circuit, book, rules, written)
    before = findings_of(as_found(circuit), book, rules, []) if circuit.before is not None else ()
    return report_of(with_what_was_before(findings, before), circuit, book, written)


def report_of(findings: list[Finding], circuit: Circuit, book: Rulebook, written: list[Fault | NotJudged]) -> Report:
    """The report on a circuit as planned, from what the rules said of it; ``written``: those that raised."""
    with fault_written_down(LEADS, written):
        findings = with_lead_sizes(findings, circuit, book)
    findings = one_advice_each(findings, circuit)
    stop = tuple(finding for finding in findings if finding.stop)
    ordered = (*stop, *(finding for finding in findings if not finding.stop))
    guesses = guesses_in(circuit, book)
    faults = tuple(each for each in written if isinstance(each, Fault))
    not_judged = tuple(dict.fromkeys(each.check for each in written if isinstance(each, NotJudged)))
    verdict = verdict_of(ordered)
    return Report(
        file=circuit.file,
        title=circuit.job.title,
        rulebook=book.edition,
        verdict=Verdict.UNDETERMINED if faults and verdict is Verdict.FITS else verdict,
        findings=ordered,
        cautions=(*slips_in(circuit, book), *left_out(not_judged, book), *cautions_of(ordered, guesses)),
        unknowns=unknowns_of(ordered, circuit),
        guesses=guesses,
        stop=stop,
        faults=faults,
        not_judged=not_judged,
    )


def with_what_was_before(findings: Iterable[Finding], before: Iterable[Finding]) -> list[Finding]:
    """The findings; those that fail and failed before the work say so."""
    failed = {(finding.check, finding.subject) for finding in before if finding.outcome is Outcome.FAIL}
    return [
        replace(finding, says=f"{ALREADY_SO}: {finding.says}", already_so=True)
        if finding.outcome is Outcome.FAIL and (finding.check, finding.subject) in failed
        else finding
        for finding in findings
    ]


def case_rules(rules: Iterable[AnyRule] = ALL_RULES) -> Iterator[CaseRule]:  # type: ignore[type-arg]
    """The rules that judge cases."""
    return (rule for rule in rules if isinstance(rule, CaseRule))
