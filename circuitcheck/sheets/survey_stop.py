"""The survey of a circuit that stops: who was called and what they found, and nothing to look at or to measure."""

from __future__ import annotations

from circuitcheck.circuit.keys.job import ASBESTOS_SIGN
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Report
from circuitcheck.note.known import BLANK
from circuitcheck.note.stop_page import CLOSING, LEAVE, answer_blocks, look_at, reasons, stopping, whom_to_call
from circuitcheck.paper import Blank, Cell, Column, Listing, Paragraph, Row, Section, Table

CALLED_COLUMNS = (
    Column("Who was called", 2.4),
    Column("Name and phone", 2.6),
    Column("License or office", 1.8),
    Column("Called on", 1.2),
    Column("Came on", 1.2),
)
FOUND_COLUMNS = (Column("For the person you call", 4), Column("What they found", 4), Column("Settled?", 1.2))

ELECTRICIAN = "licensed electrician"
ASBESTOS_PEOPLE = "people trained for asbestos"
SETTLED = Cell("yes / no", blank=True)


def survey_stop_sections(report: Report, circuit: Circuit) -> tuple[Section, ...]:
    """The whole sheet."""
    stops = stopping(report)
    people = (ASBESTOS_PEOPLE, ELECTRICIAN) if ASBESTOS_SIGN in (circuit.site.signs or ()) else (ELECTRICIAN,)
    called = tuple(Row((Cell(who), *[BLANK] * 4)) for who in people)
    found = tuple(Row((Cell(what), BLANK, SETTLED)) for what in look_at(circuit, stops))
    return (
        Section("The answer", answer_blocks(report, circuit)),
        Section("Why it stops", (Listing(reasons(stops)),)),
        Section("What to do now", (Listing((*LEAVE, *whom_to_call(circuit)), numbered=True),)),
        Section("Who was called", (Table("", CALLED_COLUMNS, called),)),
        Section("What they found", (Table("", FOUND_COLUMNS, found), Blank(("", "")), Paragraph(CLOSING))),
    )
