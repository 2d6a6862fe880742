"""The verdict in its box: the word, how many problems by cause, what it is not, and how sure its values are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from circuitcheck.findings import Outcome, Report, Status, Verdict, merge_sources
from circuitcheck.note.causes import Cause
from circuitcheck.note.program_faults import fault_lines
from circuitcheck.outcomes import VERDICT_WORD
from circuitcheck.paper import Paragraph, Tone

#: What stands under a verdict by which nobody may work yet.
_NOT_READY = {
    Verdict.DOES_NOT_FIT: "NOT READY: buy, cut and run nothing until what fails is changed.",
    Verdict.UNDETERMINED: "NOT READY: cut and run nothing until what is unknown, and the permit, are settled.",
}


def verdict_block(report: Report, causes: Sequence[Cause]) -> Paragraph:
    """The box at the top of the first page."""
    lines = [f"{counted(report, causes)} {doubted(report)}".rstrip()]
    lines.insert(0, f"{_NOT_READY.get(report.verdict, '')} {NOT_A_PERMIT}".lstrip())
    lines += fault_lines(report)
    return Paragraph(VERDICT_WORD[report.verdict], Tone.ANSWER, tuple(lines))


NOT_A_PERMIT = "Not a permit."


def counted(report: Report, causes: Sequence[Cause]) -> str:
    """How many problems, open answers and cautions there are, by cause, and how many checks found nothing wrong."""
    by_outcome = Counter(cause.outcome for cause in causes)
    parts = [
        _many(by_outcome[Outcome.FAIL], "problem"),
        f"{by_outcome[Outcome.UNDETERMINED]} still unknown" if by_outcome[Outcome.UNDETERMINED] else "",
        _many(by_outcome[Outcome.CAUTION], "caution"),
    ]
    told = ", ".join(part for part in parts if part)
    passed = sum(finding.outcome is Outcome.PASS and not finding.to_come for finding in report.findings)
    wrong = f"{_many(passed, 'check') or 'no check'} found nothing wrong"
    return f"{told} (by cause); {wrong}." if told else f"{wrong[0].upper()}{wrong[1:]}."


def doubted(report: Report) -> str:
    """How many of the values used stand in no code or were compared with nothing yet."""
    sources = merge_sources(*(finding.sources for finding in report.findings))
    statuses = Counter(source.status for source in sources)
    memory, practice = statuses[Status.FROM_MEMORY], statuses[Status.COMMON_PRACTICE]
    parts = [
        f"{memory} from memory" if memory else "",
        f"{practice} from practice, maybe local" if practice else "",
    ]
    told = " and ".join(part for part in parts if part)
    return f"Of {len(sources)} sources: {told}." if told else ""


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}{'s' if count != 1 else ''}" if count else ""
