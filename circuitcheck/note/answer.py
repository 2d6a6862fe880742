"""The answer: the verdict, and every finding that does not simply pass, worst first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from circuitcheck.checking import worst_first
from circuitcheck.findings import Finding, Outcome, Report, Verdict
from circuitcheck.note.typeset import typeset
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, VERDICT_WORD, heading_word
from circuitcheck.paper import Cell, Column, Paragraph, Row, Section, Table, Tone

#: More findings of one check with one answer than this are told by the first of them.
MANY = 8

#: Names that are listed; the rest is counted.
MOST_NAMED = 20

#: What stands under a verdict by which nobody may work yet.
_NOT_READY = {
    Verdict.DOES_NOT_FIT: ". NOT READY: buy, cut and run nothing until what fails is changed",
    Verdict.UNDETERMINED: ". NOT READY: cut and run nothing until what is unknown, and the permit, are settled",
}

_COUNTED = (
    (Outcome.FAIL, "do not hold"),
    (Outcome.UNDETERMINED, "cannot be told"),
    (Outcome.CAUTION, "with a caution"),
    (Outcome.PASS, "pass"),
)


def verdict_line(report: Report) -> str:
    """The answer in a line: the verdict and how many checks came out how."""
    counts = Counter(finding.outcome for finding in report.findings if not finding.to_come)
    parts = [f"{counts[outcome]} {words}" for outcome, words in _COUNTED if counts[outcome]]
    return f"{VERDICT_WORD[report.verdict]}. Checks: {', '.join(parts)}."


def answer_section(report: Report) -> Section:
    """The answer and what stands in the way."""
    blocks: list[Paragraph | Table] = [Paragraph(verdict_line(report), Tone.ANSWER)]
    rows = (*finding_rows(_in_the_way(report)), *_checklist(report))
    if rows:
        columns = (Column("Answer", 1.25), Column("Check and part", 1.75), Column("What was found, and what to do", 6))
        blocks.append(Table("", columns, rows))
    else:
        blocks.append(Paragraph("Nothing stands in the way on paper. The rules that were looked at stand below."))
    title = f"The answer{_NOT_READY.get(report.verdict, '')}"  # in the heading, so that the diagram stays on page 1
    return Section(title, tuple(blocks), together=False)


def _in_the_way(report: Report) -> Iterable[Finding]:
    """What does not pass, worst first, without what only work still to come decides."""
    return (one for one in worst_first(report.findings) if one.outcome is not Outcome.PASS and not one.to_come)


def _checklist(report: Report) -> Iterable[Row]:
    """What the new work still has to keep, in one row; it counts for nothing beside the verdict."""
    by_check: dict[str, dict[str, None]] = {}
    for one in report.findings:
        if one.to_come:
            by_check.setdefault(one.check, {})[one.says] = None
    sentences: list[str] = []
    for says in map(list, by_check.values()):
        shown = says if len(says) <= MANY else [f"{says[0]} So for {len(says) - 1} more."]
        sentences += map(typeset, shown)
    if sentences:
        yield Row((Cell("Checklist"), Cell("new work"), Cell(sentences[0], more=tuple(sentences[1:]))))


def finding_rows(findings: Iterable[Finding], *, to_do: bool = True) -> Iterable[Row]:
    """One row for each check, answer and thing to do: parts that share all three stand together.

    ``to_do``: whether the row says what to do; of very many alike, what the first of them says stands for all.
    """
    told = list(findings)
    counts = Counter((finding.check, finding.outcome, finding.stop) for finding in told)
    groups: dict[tuple[object, ...], dict[tuple[str, str], Finding]] = {}
    for finding in told:
        kind = (finding.check, finding.outcome, finding.stop)
        same = (*kind, () if counts[kind] > 2 * MANY else finding.to_do)
        groups.setdefault(same, {}).setdefault((finding.subject, finding.says), finding)
    for group in groups.values():
        yield _row(list(group.values()), to_do)


def _row(group: Sequence[Finding], with_to_do: bool) -> Row:
    first = group[0]
    subjects = list(dict.fromkeys(finding.subject for finding in group))
    if len(group) > MANY:
        subject = f"{first.subject} and {len(subjects) - 1} more"
        says = [first.says, f"The same answer for: {_listed(subjects[1:])}."]
    else:
        subject, says = ", ".join(subjects), [finding.says for finding in group]
    needs = list(dict.fromkeys(key for finding in group for key in finding.needs))
    find_out = (f"Find out: {_listed(needs)}.",) if needs else ()
    to_do = tuple(f"To do: {typeset(line)}" for line in first.to_do) if with_to_do else ()
    return Row(
        (
            Cell(heading_word(first), strong=True),
            Cell(f"{first.check}: {subject}"),
            Cell(typeset(says[0]), more=(*map(typeset, says[1:]), *find_out, *to_do)),
        )
    )


def _listed(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return ", ".join(names[:MOST_NAMED]) + more


def outcome_word(finding: Finding) -> str:
    """Mark and word, for a table."""
    return f"{OUTCOME_MARK[finding.outcome]} {OUTCOME_WORD[finding.outcome].lower()}"
