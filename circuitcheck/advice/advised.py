"""A report with its advice: what to find out first, and how much room is left. It asks the rules again many times."""

from __future__ import annotations

from dataclasses import replace

from circuitcheck.advice.asking_again import Progress, parts_in
from circuitcheck.advice.least_questions import least_questions, visits_settle
from circuitcheck.advice.questions import questions_of
from circuitcheck.advice.room_left import room_left_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome, Report, Verdict
from circuitcheck.tables.rulebook import Rulebook

#: A circuit with more parts is no branch circuit of a house.
MOST_PARTS = 600


def advised(
    report: Report, circuit: Circuit, book: Rulebook, *, room: bool = True, progress: Progress = lambda _: None
) -> Report:
    """The report with ``alone``, ``settles`` and ``ends`` of its unknowns, and which of them to find out.

    Of a circuit with very many parts the report stays as it is: to ask again would take too long.
    ``room``: with the room left, which takes longest. ``progress``: is told now and then how much was asked again; what
    it raises ends the search.
    Where something fails whatever is found out, nobody is sent on a visit.
    """
    if parts_in(circuit) > MOST_PARTS:
        return report
    circuit = as_planned(circuit)
    questions = questions_of(report, circuit, book, progress)
    asked = replace(
        report, unknowns=questions.unknowns, room_left=room_left_of(report, circuit, book, progress) if room else ()
    )
    if report.verdict is not Verdict.UNDETERMINED or report.faults or report.stop:
        return asked
    open_findings = [finding for finding in report.findings if finding.outcome is Outcome.UNDETERMINED]
    return replace(
        asked,
        least_questions=least_questions(circuit, book, questions.unknowns, report.not_judged),
        visits=visits_settle(circuit, book, questions, open_findings),
    )
