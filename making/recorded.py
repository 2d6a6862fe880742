"""What each rule reads of the book, as the book itself records it while the rule judges every circuit that we ship."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from circuitcheck.case import CaseRule
from circuitcheck.case.making import case_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_file
from circuitcheck.errors import CircuitcheckError
from circuitcheck.rules import AnyRule
from circuitcheck.tables.rulebook import editions, load_rulebook, vocabulary

ROOT = Path(__file__).parents[1]


@cache
def circuits() -> tuple[Circuit, ...]:
    """The examples and the cases of the tests; those that name keys still to come are left out."""
    return tuple(_circuits())


def _circuits() -> Iterator[Circuit]:
    for folder in ("examples", "tests/cases"):
        for path in sorted((ROOT / folder).glob("*.circuit.toml")):
            try:
                yield read_file(path, vocabulary())
            except CircuitcheckError:
                continue


@cache
def uses_of(rule: AnyRule) -> tuple[str, ...]:
    """Names of the tables (``ampacity``) and values (``value:ambient-base``) that a rule reads, in any edition."""
    if not isinstance(rule, CaseRule):
        return rule.uses
    read: set[str] = set()
    for edition in editions():
        book = load_rulebook(edition).recording(read)
        for circuit in circuits():
            for finding in findings_of_rule(rule, case_of(circuit, book)):
                tuple(finding.working)
    return tuple(sorted(read))
