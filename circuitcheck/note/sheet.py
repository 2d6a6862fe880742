"""The note as an outline: a first page to decide by, the calculation, and a last sheet to sketch and look up on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from functools import partial
from pathlib import PurePath

from circuitcheck.checking.load_rows import load_rows
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.note.across import Across, across
from circuitcheck.note.across_drawing import across_drawing, fits_across
from circuitcheck.note.answer import checklist
from circuitcheck.note.asked import asked_section
from circuitcheck.note.boxes import boxes_section
from circuitcheck.note.causes import Cause, cause_rows, causes_of
from circuitcheck.note.changed import changes_section
from circuitcheck.note.conductors import conductors_section
from circuitcheck.note.drop import Volts, drop_section, low_voltage_section
from circuitcheck.note.head import job_block, people_section
from circuitcheck.note.last_sheet import (
    cautions_section,
    photos_section,
    questions_section,
    sketch_section,
    sources_section,
)
from circuitcheck.note.loads import loads_section
from circuitcheck.note.one_line import LineRow, one_line_rows
from circuitcheck.note.one_line_drawing import one_line_drawing
from circuitcheck.note.one_line_short import shortened
from circuitcheck.note.one_line_words import one_line_words
from circuitcheck.note.open_points import assumptions_section, unknowns_section
from circuitcheck.note.schedule import fixtures_section, method_section
from circuitcheck.note.stop_page import BANNER as STOP_BANNER
from circuitcheck.note.stop_page import stop_sections, stopping
from circuitcheck.note.summary import summary_section
from circuitcheck.note.typeset import figures
from circuitcheck.note.verdict import verdict_block
from circuitcheck.outcomes import OUTCOME_WORD
from circuitcheck.paper import Blank, Column, Outline, Paragraph, Picture, Row, Section, Table, Tone
from circuitcheck.paper.drawing import Drawing
from circuitcheck.paper.heights import joined_height
from circuitcheck.paper.sheet_data import TEXT_WIDTH
from circuitcheck.safety import ONE_LINE
from circuitcheck.tables.rulebook import Rulebook

KIND = "note for an electrician or inspector"
BANNER = "For review, not a certificate"

#: At least so many lines of causes, of so many letters each, stand on the first page, and more where there is room.
LEAST_LINES, LINE = 3, 96

#: Height of a line of causes, and of a first page as its sections are reckoned, which is rather too tall [pt]:
#: measured on full ones.
LINE_HEIGHT, PAGE = 12.5, 1025.0

#: A list of parts longer than this leaves the first page.
MOST_ROWS = 16

CAUSE_COLUMNS = (Column("Answer", 1.15), Column("What about", 1.7), Column("What was found, and what to do", 6.4))


def note_outline(report: Report, circuit: Circuit, book: Rulebook, *, digest: str, tool: str, made: date) -> Outline:
    """The note. ``digest``: SHA-256 of the circuit file's bytes; ``tool``: name and version; ``made``: its date."""
    circuit = as_planned(circuit)
    stopped = bool(stopping(report))
    sections = stop_sections(report, circuit, book) if stopped else _sections(report, circuit, book, digest)
    shown = digest if stopped else digest[:12]
    return Outline(
        kind=KIND,
        banner=STOP_BANNER if stopped else BANNER,
        title=circuit.job.title,
        subtitle=f"A {KIND}: arithmetic from a circuit file. Written {made.isoformat()}.",
        foot=f"{tool}, {report.rulebook}. File {PurePath(report.file).name}, SHA-256 {shown}",
        made=(made.year, made.month, made.day),
        sections=sections,
    )


def _sections(report: Report, circuit: Circuit, book: Rulebook, digest: str) -> tuple[Section, ...]:
    """What stands on the note of a circuit without a finding that stops."""
    by_check: dict[str, dict[str, Finding]] = {}
    for finding in report.findings:
        by_check.setdefault(finding.check, {})[finding.subject] = finding
    causes = causes_of(report)
    held = load_rows(circuit, book)
    fill = by_check.get("box-fill", {})
    volts = Volts(circuit, book)
    share = by_check.get("load-share", {}).get("circuit")
    plan = across(circuit, _amperes(share))
    rows = shortened(one_line_rows(circuit, volts.shown(list(by_check.get("low-voltage-drop", {}).values()))))
    drawn = diagram_section(rows, plan, circuit)
    on_first = plan is not None or len(rows) <= MOST_ROWS
    head = Section("", (job_block(circuit, book, digest), verdict_block(report, causes)), together=False)
    asked = asked_section(report, circuit, book)
    summary = summary_section(circuit, held, fill)
    lines = _lines_for_causes((head, asked, *((drawn,) if on_first else ()), summary, remarks_section()))
    sections = (
        head,
        asked,
        _causes_section(causes, lines),
        drawn if on_first else None,
        summary,
        remarks_section(),
        people_section(circuit),
        changes_section(circuit),
        None if on_first else drawn,
        _all_causes_section(causes, lines),
        loads_section(circuit, book, held, share),
        boxes_section(circuit, book, fill),
        conductors_section(circuit, book, by_check.get("ampacity", {}), by_check.get("breaker-vs-wire", {})),
        drop_section(circuit, volts, by_check.get("voltage-drop", {})) if volts.branch.parts else None,
        low_voltage_section(report.findings),
        fixtures_section(circuit),
        method_section(circuit, checklist(report)),
        unknowns_section(report),
        assumptions_section(report, circuit),
        sketch_section(),
        photos_section(circuit),
        questions_section(report, circuit, book),
        sources_section(report.findings, book, digest),
        cautions_section(),
    )
    return tuple(section for section in sections if section is not None)


def _amperes(share: Finding | None) -> str:
    """What the breaker carries, for the diagram."""
    if share is None or share.low is None or share.high is None:
        return "load unknown"
    return f"{figures(share.low, share.high, 2)} A of load"  # as in the table


def _lines_for_causes(others: Sequence[Section]) -> int:
    """How many lines of causes the first page has room for beside the other sections on it."""
    room = PAGE - joined_height(others, TEXT_WIDTH["letter"])
    return max(LEAST_LINES, int(room / LINE_HEIGHT))


def _causes_section(causes: Sequence[Cause], lines: int) -> Section:
    """Problems and cautions, one row a cause."""
    if not causes:
        text = "On paper nothing stands in the way. The checks and their sources are on the next sheets."
        return Section("Problems and cautions", (Paragraph(text),))
    rows = list(cause_rows(causes))
    first = _on_first(rows, lines)
    table = Table("", CAUSE_COLUMNS, tuple(rows[:first]), _rest(causes[first:]))
    return Section("Problems and cautions, one row a cause", (table,), together=False)


def _on_first(rows: Sequence[Row], lines: int) -> int:
    """How many of the rows have room in so many lines of the first page, at least one."""
    used = 0
    for place, row in enumerate(rows):
        told = row.cells[-1]
        used += sum(1 + len(line) // LINE for line in (told.text, *told.more))
        if used > lines and place:
            return place
    return len(rows)


def _rest(causes: Sequence[Cause]) -> str:
    """How many causes stand on the next sheet, by outcome, so that the page hides none."""
    counts = Counter(cause.outcome for cause in causes)
    told = ", ".join(f"{count} {_counted(outcome, count)}" for outcome, count in counts.items())
    return f"{len(causes)} more on the next sheet: {told}." if causes else ""


def _counted(outcome: Outcome, count: int) -> str:
    """What so many of an outcome are called: ``1 caution``, ``3 cautions``; what fails or is open has no such word."""
    word = OUTCOME_WORD[outcome].lower()
    return f"{word}s" if count > 1 and outcome is Outcome.CAUTION else word


def _all_causes_section(causes: Sequence[Cause], lines: int) -> Section | None:
    """The causes that the first page has no room for; None without one."""
    told = list(cause_rows(causes))
    rows = tuple(told[_on_first(told, lines) :])
    return Section("More problems and cautions", (Table("", CAUSE_COLUMNS, rows),), together=False) if rows else None


def diagram_section(rows: tuple[LineRow, ...], plan: Across | None, circuit: Circuit) -> Section:
    """The circuit drawn as one line: from left to right where it is short and the form is wide, else as a list."""
    lights = sum(load.pieces for load in circuit.loads)
    description = (
        f"From the panel on: {len(circuit.tree.branch_cables)} runs of cable, {len(circuit.boxes)} boxes, {lights} "
        f"loads, {len(circuit.drivers)} drivers. What is added is drawn in heavy dashed lines and marked NEW. "
        "Every part stands as text in the drawing."
    )
    picture = Picture(
        "One-line diagram of the circuit", description, partial(_drawing, rows, plan), one_line_words(rows)
    )
    return Section("One-line diagram", (picture,), together=False)


def _drawing(rows: tuple[LineRow, ...], plan: Across | None, width: float, size: float, spread: float) -> Drawing:
    if plan is not None and fits_across(width, size):
        return across_drawing(plan, width, size, spread)
    return one_line_drawing(rows, width, size, spread)


def remarks_section() -> Section:
    """The caution, and room for whoever looked at it."""
    return Section(
        "Remarks by the reviewer",
        (
            Paragraph(ONE_LINE, Tone.CAUTION),
            Blank(("☐ reviewed   ☐ not reviewed   ☐ see remarks:",)),
            Blank(("Name", "License or office", "Date"), abreast=True),
        ),
    )
