"""What each rule reads of the book, as the book itself records it while the rule judges every circuit that we ship."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from circuitcheck.case import AnyRule, Case, CaseRule, EvidenceRule, SizeRule
from circuitcheck.case.making import case_of
from circuitcheck.checking.asking import subjects_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.checking.scope import Scope
from circuitcheck.checking.wire_size import size_findings
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_file
from circuitcheck.errors import CircuitcheckError
from circuitcheck.findings import Source
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook, editions_beside, load_rulebook, vocabulary

ROOT = Path(__file__).parents[1]


@cache
def circuits() -> tuple[tuple[Circuit, tuple[str, ...]], ...]:
    """The examples, each under every edition of its book, and the cases of the tests, each under its own.

    Those that name keys still to come are left out.
    """
    return tuple(_circuits())


def _circuits() -> Iterator[tuple[Circuit, tuple[str, ...]]]:
    for folder in ("examples", "tests/cases"):
        for path in sorted((ROOT / folder).glob("*.circuit.toml")):
            try:
                circuit = read_file(path, vocabulary())
            except CircuitcheckError:
                continue
            own = circuit.job.rulebook
            yield circuit, editions_beside(own) if folder == "examples" else (own,)


@cache
def uses_of(rule: AnyRule) -> tuple[str, ...]:
    """Names of the tables (``ampacity``) and values (``value:ambient-base``) that a rule reads, in any edition."""
    if isinstance(rule, SizeRule):
        asked = (each for each in ALL_RULES if each.name in (*rule.must, *rule.wish))
        return tuple(sorted({*_read_by(rule), *(use for each in asked for use in uses_of(each))}))
    if not isinstance(rule, CaseRule):
        return _read_by(rule)
    read: set[str] = set()
    for circuit, book, plain in _cases():
        if next(iter(subjects_of(rule, plain)), None) is not None:  # else it judges nothing, so it reads nothing
            possible: set[str] = set()
            case = case_of(circuit, book.recording(possible))
            case.book = book.recording(read)
            cited: set[Source] = set()
            for finding in findings_of_rule(rule, case):
                tuple(finding.working)
                cited.update(finding.sources)
            # What tells what an entry can be counts for a rule that read such an entry, not for all rules.
            read.update(name for name in possible if name not in read and _cited(book, name, cited))
    return tuple(sorted(read))


@cache
def _cases() -> tuple[tuple[Circuit, Rulebook, Case], ...]:
    """Each circuit under each of its books, with a case that tells what a rule would judge."""
    return tuple(
        (circuit, book, case_of(circuit, book)) for circuit, under in circuits() for book in map(load_rulebook, under)
    )


def _read_by(rule: EvidenceRule | SizeRule) -> tuple[str, ...]:
    """What a rule of evidence reads; of one that asks for sizes, what that reads besides the rules it asks."""
    read: set[str] = set()
    for circuit, under in circuits():
        for book in map(load_rulebook, under):
            recording = book.recording(read)
            if isinstance(rule, SizeRule):
                case = case_of(circuit, book)
                case.book = recording
                tuple(size_findings(rule, circuit, case, {}, Scope(named=False)))
            else:
                tuple(rule.check(circuit, recording))
    return tuple(sorted(read - _told_of_entries() if isinstance(rule, SizeRule) else read))


@cache
def _told_of_entries() -> set[str]:
    """What tells what entries can be: a search that changes a circuit reads it anew for each."""
    read: set[str] = set()
    for circuit, under in circuits():
        for book in map(load_rulebook, under):
            for entry in case_of(circuit, book.recording(read)).entries:
                tuple(entry.possible.options)
    return read


def _cited(book: Rulebook, name: str, cited: set[Source]) -> bool:
    """Whether a value, or a row of a table, stands among the sources that were named."""
    if name.startswith("value:"):
        value = book.find_value(name.removeprefix("value:"))
        return value is not None and value.source in cited
    table = book.tables.get(name)
    return table is not None and any(row.source in cited for row in table.rows)
