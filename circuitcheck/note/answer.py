"""The answer: the verdict, and every finding that does not simply pass, worst first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from circuitcheck.checking import worst_first
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.note.typeset import typeset
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, VERDICT_WORD, heading_word
from circuitcheck.paper import Cell, Column, Paragraph, Row, Section, Table, Tone

#: More findings of one check with one answer than this are told as one row.
MANY = 8

_COUNTED = (
    (Outcome.FAIL, "do not hold"),
    (Outcome.UNDETERMINED, "cannot be told"),
    (Outcome.CAUTION, "with a caution"),
    (Outcome.PASS, "pass"),
)


def verdict_line(report: Report) -> str:
    """The answer in a line: the verdict and how many checks came out how."""
    counts = Counter(finding.outcome for finding in report.findings)
    parts = [f"{counts[outcome]} {words}" for outcome, words in _COUNTED if counts[outcome]]
    return f"{VERDICT_WORD[report.verdict]}. Checks: {', '.join(parts)}."


def answer_section(report: Report) -> Section:
    """The answer and what stands in the way."""
    blocks: list[Paragraph | Table] = [Paragraph(verdict_line(report), Tone.ANSWER)]
    if report.stop:
        blocks.append(
            Paragraph(
                "STOP comes first, whatever the arithmetic says: this is for a licensed electrician to look at before "
                "anything else.",
                Tone.CAUTION,
            )
        )
    rows = tuple(_rows(finding for finding in worst_first(report.findings) if finding.outcome is not Outcome.PASS))
    if rows:
        columns = (Column("Answer", 1.25), Column("Check and part", 1.75), Column("What was found, and what to do", 6))
        blocks.append(Table("", columns, rows))
    else:
        blocks.append(Paragraph("Nothing stands in the way on paper. The rules that were looked at stand below."))
    return Section("The answer", tuple(blocks), together=False)


def _rows(findings: Iterable[Finding]) -> Iterable[Row]:
    groups: dict[tuple[str, Outcome, bool], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.check, finding.outcome, finding.stop), []).append(finding)
    for group in groups.values():
        if len(group) > MANY:
            yield _row(group[0], f"{group[0].subject} and {len(group) - 1} more", _others(group))
        else:
            yield from (_row(finding, finding.subject, ()) for finding in _merged(group))


def _merged(group: list[Finding]) -> list[Finding]:
    """The findings of one check, those that say the same about the whole circuit once."""
    return list({(finding.subject, finding.says): finding for finding in group}.values())


def _others(group: Sequence[Finding]) -> tuple[str, ...]:
    named = ", ".join(finding.subject for finding in group[1:21])
    more = f" and {len(group) - 21} more" if len(group) > 21 else ""
    return (f"The same answer for: {named}{more}.",)


def _row(finding: Finding, subject: str, others: tuple[str, ...]) -> Row:
    needs = (f"Find out: {', '.join(finding.needs)}.",) if finding.needs else ()
    to_do = tuple(f"To do: {typeset(line)}" for line in finding.to_do)
    return Row(
        (
            Cell(heading_word(finding), strong=True),
            Cell(f"{finding.check}: {subject}"),
            Cell(typeset(finding.says), more=(*others, *needs, *to_do)),
        )
    )


def outcome_word(finding: Finding) -> str:
    """Mark and word, for a table."""
    return f"{OUTCOME_MARK[finding.outcome]} {OUTCOME_WORD[finding.outcome].lower()}"
