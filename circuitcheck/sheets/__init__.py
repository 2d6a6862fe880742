"""The sheets for before and after: the survey to walk the house with, the plan for whoever does the work.

Each builds one outline from the data that ``circuitcheck.advice`` works out; ``circuitcheck.paper`` renders it.
"""

from __future__ import annotations

import hashlib
from datetime import date
from pathlib import Path

from circuitcheck import __version__
from circuitcheck.advice.readiness import State, readiness_of
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Report
from circuitcheck.paper import write_outline
from circuitcheck.paper.writing import refuse_output
from circuitcheck.sheets.plan import plan_outline
from circuitcheck.sheets.survey import survey_outline
from circuitcheck.tables.rulebook import Rulebook

__all__ = ["plan_outline", "survey_outline", "write_plan", "write_survey"]

TOOL = f"circuitcheck {__version__}"


def write_plan(
    report: Report,
    circuit: Circuit,
    book: Rulebook,
    data: bytes,
    output: Path,
    *,
    replace: bool,
    paper: str = "letter",
    made: date | None = None,
) -> State:
    """Write the plan of the work to ``output``; its ending chooses the form (.html, .pdf, .md, .txt).

    data: the circuit file's bytes, of which the plan carries the SHA-256. made: the plan's date; left out, today.
    Returns how far the plan is, which may be less far than the verdict on the circuit.

    Raises: CommandError, with nothing written.
    """
    refuse_output(output, replace=replace)
    digest = hashlib.sha256(data).hexdigest()
    outline = plan_outline(report, circuit, book, digest=digest, tool=TOOL, made=made or date.today())
    write_outline(outline, output, replace=replace, paper=paper)
    return readiness_of(report, wiring_of(as_planned(circuit))).state


def write_survey(
    report: Report | None,
    circuit: Circuit | None,
    output: Path,
    *,
    replace: bool,
    paper: str = "letter",
    made: date | None = None,
) -> None:
    """Write the survey sheet to ``output``: blank, or from a circuit with only its unknowns left open.

    Raises: CommandError, with nothing written.
    """
    refuse_output(output, replace=replace)
    outline = survey_outline(report, circuit, tool=TOOL, made=made or date.today())
    write_outline(outline, output, replace=replace, paper=paper)
