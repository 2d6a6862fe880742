"""The note as an outline: one page that an electrician or inspector reads in two minutes, then the detail."""

from __future__ import annotations

from datetime import date
from functools import partial
from pathlib import PurePath

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Report
from circuitcheck.note.answer import answer_section
from circuitcheck.note.boxes import boxes_section
from circuitcheck.note.conductors import conductors_section
from circuitcheck.note.drop import Volts, drop_section, low_voltage_section
from circuitcheck.note.head import job_section, panel_section
from circuitcheck.note.loads import loads_section
from circuitcheck.note.one_line import LineRow, one_line_rows
from circuitcheck.note.one_line_drawing import one_line_drawing
from circuitcheck.note.one_line_short import shortened
from circuitcheck.note.one_line_words import one_line_words
from circuitcheck.note.open_points import assumptions_section, questions_section, unknowns_section
from circuitcheck.note.rules_table import rules_section
from circuitcheck.note.stop_page import BANNER as STOP_BANNER
from circuitcheck.note.stop_page import stop_sections, stopping
from circuitcheck.paper import Blank, Listing, Outline, Picture, Section
from circuitcheck.safety import SHORT
from circuitcheck.tables.rulebook import Rulebook

KIND = "note for an electrician or inspector"
BANNER = "For review, not a certificate"


def note_outline(report: Report, circuit: Circuit, book: Rulebook, *, digest: str, tool: str, made: date) -> Outline:
    """The note. ``digest``: SHA-256 of the circuit file's bytes; ``tool``: name and version; ``made``: its date."""
    stopped = bool(stopping(report))
    return Outline(
        kind=KIND,
        banner=STOP_BANNER if stopped else BANNER,
        title=circuit.job.title,
        subtitle=f"A {KIND}: arithmetic from a circuit file, by {book.title}. Written {made.isoformat()}.",
        foot=f"{tool}, {report.rulebook}. File {PurePath(report.file).name}, SHA-256 {digest}",
        made=(made.year, made.month, made.day),
        sections=stop_sections(report, circuit, book) if stopped else _sections(report, circuit, book),
    )


def _sections(report: Report, circuit: Circuit, book: Rulebook) -> tuple[Section, ...]:
    """What stands on the note of a circuit without a finding that stops."""
    by_check: dict[str, dict[str, Finding]] = {}
    for finding in report.findings:
        by_check.setdefault(finding.check, {})[finding.subject] = finding
    volts = Volts(circuit, book)
    low = list(by_check.get("low-voltage-drop", {}).values())
    sections = (
        job_section(circuit),
        answer_section(report),
        diagram_section(shortened(one_line_rows(circuit, volts.shown(low))), circuit),
        panel_section(circuit),
        loads_section(circuit, book, by_check.get("load-share", {}).get("circuit")),
        boxes_section(circuit, book, by_check.get("box-fill", {})),
        conductors_section(circuit, book, by_check.get("ampacity", {}), by_check.get("breaker-vs-wire", {})),
        drop_section(circuit, volts, by_check.get("voltage-drop", {})) if volts.branch.parts else None,
        low_voltage_section(report.findings),
        unknowns_section(report),
        assumptions_section(report, circuit),
        questions_section(report, circuit, book),
        rules_section(report.findings, book),
        remarks_section(),
        Section("Before anything is opened", (Listing(SHORT[1:]),)),
    )
    return tuple(section for section in sections if section is not None)


def diagram_section(rows: tuple[LineRow, ...], circuit: Circuit) -> Section:
    """The circuit drawn as one line."""
    lights = sum(load.quantity for load in circuit.loads)
    description = (
        f"From the panel down: {len(circuit.tree.branch_cables)} runs of cable, {len(circuit.boxes)} boxes, {lights} "
        f"loads, {len(circuit.drivers)} drivers. What is added is drawn in heavy dashed lines and marked ADDED. "
        "Every part stands as text in the drawing."
    )
    picture = Picture(
        "One-line diagram of the circuit", description, partial(one_line_drawing, rows), one_line_words(rows)
    )
    return Section("One-line diagram", (picture,), together=False)


def remarks_section() -> Section:
    """Room for whoever looked at it."""
    return Section(
        "Remarks of whoever looked at this",
        (Blank(("", "")), Blank(("Name", "Licence or office", "Date"), abreast=True)),
    )
