"""Checks that could not be done through a fault of the program, for every paper that stands on the report."""

from __future__ import annotations

from circuitcheck.findings import Report
from circuitcheck.paper import Paragraph, Tone


def fault_lines(report: Report) -> tuple[str, ...]:
    """One line for each check whose answer is missing."""
    return tuple(f"{fault.line}. Its answer is missing." for fault in report.faults)


def fault_paragraphs(*reports: Report) -> tuple[Paragraph, ...]:
    """The same lines as paragraphs, each once; none where every check was done."""
    lines = dict.fromkeys(line for report in reports for line in fault_lines(report))
    return tuple(Paragraph(line, Tone.CAUTION) for line in lines)
