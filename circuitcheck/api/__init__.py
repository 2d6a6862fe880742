"""The Python door: what ``import circuitcheck`` offers, and the report as JSON. docs/python.md shows its use.

Names listed in ``__all__`` are promised: CHANGELOG.md says when one changes. Everything else in the package may change.
"""

from __future__ import annotations

from circuitcheck.api.circuit import Circuit
from circuitcheck.api.reading import check, check_file, fixes, read_file, read_text, rulebooks
from circuitcheck.api.report import Finding, Report
from circuitcheck.errors import CircuitcheckError, CircuitFileError, CommandError, Problem
from circuitcheck.findings import Fault, Guess, Outcome, Source, Unknown, Verdict

__all__ = [
    "Circuit",
    "CircuitFileError",
    "CircuitcheckError",
    "CommandError",
    "Fault",
    "Finding",
    "Guess",
    "Outcome",
    "Problem",
    "Report",
    "Source",
    "Unknown",
    "Verdict",
    "check",
    "check_file",
    "fixes",
    "read_file",
    "read_text",
    "rulebooks",
]
