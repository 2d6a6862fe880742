"""Every rule that had something to say, how it came out, and where it stands."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from circuitcheck.findings import SEVERITY, Finding, Outcome, Source, Status, merge_sources
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD
from circuitcheck.paper import Cell, Column, Paragraph, Row, Section, Table, Tone
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook

COLUMNS = (Column("Rule and what it asks", 4.3), Column("Answers", 1.7), Column("Where it stands", 4.0))
_STATUS_MARK = {
    Status.PUBLISHED: "",
    Status.DERIVED: " (derived)",
    Status.COMMON_PRACTICE: " (common practice)",
    Status.FROM_MEMORY: " (from memory)",
}


def rules_section(findings: Sequence[Finding], book: Rulebook) -> Section:
    """Rules that do not simply pass with what they ask, the others run in, each in the order of the report."""
    groups: dict[str, list[Finding]] = {}
    for finding in findings:
        groups.setdefault(finding.check, []).append(finding)
    passing = {name: group for name, group in groups.items() if all(one.outcome is Outcome.PASS for one in group)}
    blocks: list[Table | Paragraph] = []
    rest = tuple(_row(name, group, book) for name, group in groups.items() if name not in passing)
    if rest:
        blocks.append(Table("", COLUMNS, rest))
    if passing:
        told = " · ".join(f"✓ {name} [{_stands(group, book)}]" for name, group in passing.items())
        blocks.append(Paragraph(f"These pass, with where each stands: {told}.", Tone.SMALL))
    silent = len(ALL_RULES) - sum(1 for rule in ALL_RULES if rule.name in groups)
    note = (
        "A place without a word behind it was compared with a source that the tables name; the tables are printed by "
        "circuitcheck tables, and each rule has a page in the manual."
    )
    note += f" {silent} more rules found nothing here that they apply to." if silent else ""
    blocks.append(Paragraph(note, Tone.SMALL))
    return Section("Rules that were looked at", tuple(blocks), together=False)


def _row(name: str, group: Sequence[Finding], book: Rulebook) -> Row:
    title = next((rule.title for rule in ALL_RULES if rule.name == name), "")
    return Row((Cell(f"{name}: {title}" if title else name), Cell(_answers(group)), Cell(_stands(group, book))))


def _stands(group: Iterable[Finding], book: Rulebook) -> str:
    return _places(merge_sources(*(finding.sources for finding in group)), book)


def _answers(group: Iterable[Finding]) -> str:
    counts = Counter(finding.outcome for finding in group)
    ordered = sorted(counts, key=lambda outcome: SEVERITY[outcome])
    return ", ".join(
        f"{OUTCOME_MARK[outcome]} {counts[outcome]} {OUTCOME_WORD[outcome].lower()}" for outcome in ordered
    )


def _places(sources: Iterable[Source], book: Rulebook) -> str:
    """Where the rule stands, each place once; the document and edition of the whole sheet are not repeated."""
    named: dict[str, None] = {}
    for source in sources:
        whole = ", ".join(part for part in (source.document, source.place) if part)
        where = source.place if _is_the_book(source, book) else whole
        mark = "" if where == source.status else _STATUS_MARK[source.status]
        named[f"{where}{mark}"] = None
    return "; ".join(named)


def _is_the_book(source: Source, book: Rulebook) -> bool:
    return source.document == "NFPA 70" and book.edition.endswith(source.edition)
