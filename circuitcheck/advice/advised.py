"""A report with its advice: what to find out first, and how much room is left. It asks the rules again many times."""

from __future__ import annotations

from dataclasses import replace

from circuitcheck.advice.least_questions import least_questions, visits_settle
from circuitcheck.advice.questions import questions_of
from circuitcheck.advice.room_left import room_left_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome, Report, Verdict
from circuitcheck.tables.rulebook import Rulebook


def advised(report: Report, circuit: Circuit, book: Rulebook, *, room: bool = True) -> Report:
    """The report with ``alone``, ``settles`` and ``ends`` of its unknowns, and which of them to find out.

    ``room``: with the room left, which takes longest.
    Where something fails whatever is found out, nobody is sent on a visit.
    """
    circuit = as_planned(circuit)
    unknowns = questions_of(report, circuit, book)
    asked = replace(report, unknowns=unknowns, room_left=room_left_of(report, circuit, book) if room else ())
    if report.verdict is not Verdict.UNDETERMINED or report.faults or report.stop:
        return asked
    open_findings = [finding for finding in report.findings if finding.outcome is Outcome.UNDETERMINED]
    return replace(
        asked,
        least_questions=least_questions(circuit, book, unknowns),
        visits=visits_settle(circuit, book, unknowns, open_findings),
    )
