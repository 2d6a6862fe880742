"""From a circuit and a rulebook to a report. Pure: nothing is opened, nothing remembered."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitcheck.checking.cautions import cautions_of
from circuitcheck.checking.guesses import guesses_in, weaken, without_guesses
from circuitcheck.circuit.guide import how_to_find
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import SEVERITY, Finding, Outcome, Report, Unknown, verdict_of
from circuitcheck.rules import ALL_RULES
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook, rules: Sequence[Rule] = ALL_RULES) -> Report:
    """Everything the rules say about the circuit under this rulebook.

    Findings that stop the job come first; the others stand in the order of ``rules``, and within a rule in its own.

    Raises: TableError when a rule asks the book for something it does not have.
    """
    findings = findings_of(circuit, book, rules)
    doubted, keys = without_guesses(circuit)
    if keys:
        findings = weaken(findings, findings_of(doubted, book, rules), keys)
    stop = tuple(finding for finding in findings if finding.stop)
    ordered = (*stop, *(finding for finding in findings if not finding.stop))
    guesses = guesses_in(circuit)
    return Report(
        file=circuit.file,
        title=circuit.job.title,
        rulebook=book.edition,
        verdict=verdict_of(ordered),
        findings=ordered,
        cautions=cautions_of(ordered, guesses),
        unknowns=unknowns_of(ordered, circuit),
        guesses=guesses,
        stop=stop,
    )


def findings_of(circuit: Circuit, book: Rulebook, rules: Iterable[Rule]) -> list[Finding]:
    """What each rule says, in order."""
    return [finding for rule in rules for finding in rule.check(circuit, book)]


def unknowns_of(findings: Iterable[Finding], circuit: Circuit) -> tuple[Unknown, ...]:
    """Every key that some finding had to do without, the ones that decide an open answer first."""
    planned = _planned(circuit)
    decides: dict[str, bool] = {}
    for finding in findings:
        open_answer = finding.outcome is Outcome.UNDETERMINED
        for key in finding.needs:
            decides[key] = decides.get(key, False) or open_answer
        for key in finding.assumed_keys:
            decides.setdefault(key, False)
    ordered = sorted(decides.items(), key=lambda item: not item[1])
    return tuple(
        Unknown(key=key, decides=deciding, how_to_find=how_to_find(key, planned=key.rpartition(".")[0] in planned))
        for key, deciding in ordered
    )


def _planned(circuit: Circuit) -> set[str]:
    """The parts that are still to come, as ``section.id``."""
    return {
        f"{section.name}.{part.id}"
        for section in SECTIONS.values()
        if section.many
        for part in getattr(circuit, section.attribute)
        if part.origin == "added"
    }


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """The findings in the order in which people should read them: stop, fail, undetermined, caution, pass."""
    return sorted(findings, key=lambda finding: (not finding.stop, SEVERITY[finding.outcome]))
