"""Reports side by side: only the answers that differ, be it of several files or of one under several editions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitcheck.checking import worst_first
from circuitcheck.findings import SEVERITY, Finding, Outcome, Report

#: Numbers are the same when ten digits agree, as many as a report carries.
_DIGITS = 10

#: What an answer is told apart by: outcome, stop, value, limit, chosen size.
_Look = tuple[Outcome, bool, float | None, float | None, str | None]


@dataclass(frozen=True, slots=True)
class Line:
    """One answer that differs: of each report its worst finding, None where that report has no such answer.

    lost: of each report whether the answer is missing through a fault of the program, and so is no better than any.
    """

    check: str
    subject: str
    findings: tuple[Finding | None, ...]
    lost: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Reports side by side. ``lines``: what differs, the worst first. ``same``: how many answers are the same in all.

    ``only_passing``: how many stand in some reports only, and pass there.
    """

    reports: tuple[Report, ...]
    lines: tuple[Line, ...]
    same: int
    only_passing: int


def compared(reports: Sequence[Report]) -> Comparison:
    """The reports with the answers in which they differ."""
    tables = [_worst(report) for report in reports]
    faulty = [{fault.check for fault in report.faults} for report in reports]
    names = dict.fromkeys(name for table in tables for name in table)
    lines: list[Line] = []
    same = only_passing = 0
    for check, subject in names:
        findings = tuple(table.get((check, subject)) for table in tables)
        lost = tuple(finding is None and check in checks for finding, checks in zip(findings, faulty, strict=True))
        looks = {None if finding is None else _look(finding) for finding in findings}
        if len(looks) == 1:
            same += 1
        elif (
            None in findings
            and not any(lost)
            and all(finding is None or finding.outcome is Outcome.PASS for finding in findings)
        ):
            only_passing += 1
        else:
            lines.append(Line(check, subject, findings, lost))
    return Comparison(tuple(reports), tuple(sorted(lines, key=_badness)), same, only_passing)


def _all_pass(findings: Sequence[Finding | None]) -> bool:
    return all(finding is None or finding.outcome is Outcome.PASS for finding in findings)


def _worst(report: Report) -> dict[tuple[str, str], Finding]:
    """Each answer once: where it has several findings the worst of them. What is only work to come does not count."""
    held: dict[tuple[str, str], Finding] = {}
    for finding in worst_first(finding for finding in report.findings if not finding.to_come):
        held.setdefault((finding.check, finding.subject), finding)
    return {(finding.check, finding.subject): held[finding.check, finding.subject] for finding in _shown(report)}


def _shown(report: Report) -> Iterator[Finding]:
    return (finding for finding in report.findings if not finding.to_come)


def _look(finding: Finding) -> _Look:
    numbers = [None if each is None else float(f"{each:.{_DIGITS}g}") for each in (finding.value, finding.limit)]
    return finding.outcome, finding.stop, numbers[0], numbers[1], finding.chosen


def _badness(line: Line) -> tuple[bool, int]:
    there = [finding for finding in line.findings if finding is not None]
    return not any(finding.stop for finding in there), min(SEVERITY[finding.outcome] for finding in there)
