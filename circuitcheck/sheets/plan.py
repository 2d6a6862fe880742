"""The plan of the work, for whoever does it: shut off, joints, cut list, materials, order of work, checks after."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from pathlib import PurePath

from circuitcheck.advice.cutting import cut_list
from circuitcheck.advice.low_voltage_wiring import low_voltage_wiring_of
from circuitcheck.advice.materials import materials_of
from circuitcheck.advice.order import checks_after, dead_test_steps, order_of_work
from circuitcheck.advice.readiness import Readiness, State, readiness_of
from circuitcheck.advice.wiring import BoxWiring, wiring_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Outcome, Report
from circuitcheck.note.answer import finding_rows
from circuitcheck.note.stop_page import BANNER as STOP_BANNER
from circuitcheck.note.stop_page import stop_sections
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Column, Listing, Outline, Paragraph, Row, RowKind, Section, Table, Tone
from circuitcheck.sheets.head import DECIDES, job_facts, safety_section, sheet_outline, signed_section
from circuitcheck.sheets.plan_joints import joints_section, low_voltage_joints_section
from circuitcheck.sheets.plan_lists import cut_section, materials_section, sources_section
from circuitcheck.tables.rulebook import Rulebook

KIND = "plan of the work"
BANNER = "Not a permit: code and electrician decide"

OPEN_COLUMNS = (Column("Answer", 1.2), Column("Check and part", 1.8), Column("What was found", 6))


def plan_outline(report: Report, circuit: Circuit, book: Rulebook, *, digest: str, tool: str, made: date) -> Outline:
    """The plan. ``digest``: SHA-256 of the circuit file's bytes; ``tool``: name and version; ``made``: its date."""
    wiring = wiring_of(circuit)
    ready = readiness_of(report, wiring)
    stopped = ready.state is State.STOP
    sections = stop_sections(report, circuit, book) if stopped else _whole_plan(report, circuit, book, wiring, ready)
    return sheet_outline(
        kind=KIND,
        banner=STOP_BANNER if stopped else BANNER,
        title=circuit.job.title,
        subtitle=f"A {KIND}, worked out from a circuit file by {book.title}. Written {made.isoformat()}.",
        foot=f"{tool}, {report.rulebook}. File {PurePath(report.file).name}, SHA-256 {digest}",
        made=made,
        sections=sections,
    )


def _whole_plan(
    report: Report, circuit: Circuit, book: Rulebook, wiring: Sequence[BoxWiring], ready: Readiness
) -> tuple[Section | None, ...]:
    """What stands on a plan without a finding that stops."""
    work = _work_sections(report, circuit, book, wiring, ready)
    return (_head_section(circuit, book, ready), *work, safety_section())


def _head_section(circuit: Circuit, book: Rulebook, ready: Readiness) -> Section:
    blocks = (
        Paragraph(DECIDES, Tone.CAUTION),
        Paragraph(state_line(ready), Tone.ANSWER),
        job_facts(circuit, book),
    )
    return Section("What this is", blocks)


def state_line(ready: Readiness) -> str:
    """How far the plan is, in a sentence or two."""
    if ready.state is State.NOTHING_OPEN:
        return "Nothing stands open on paper. That is no permission to work."
    counts = Counter(finding.outcome for finding in ready.open)
    parts = [
        f"{counts[Outcome.FAIL]} do not hold" if counts[Outcome.FAIL] else "",
        f"{counts[Outcome.UNDETERMINED]} cannot be told" if counts[Outcome.UNDETERMINED] else "",
    ]
    checks = f" Checks: {', '.join(part for part in parts if part)}." if ready.open else ""
    boxes = len(ready.untold)
    joints = f" In {boxes} box{'es' if boxes > 1 else ''} it cannot be told what joins what." if boxes else ""
    return f"NOT READY: do not work by this plan yet.{checks}{joints}"


def _work_sections(
    report: Report, circuit: Circuit, book: Rulebook, wiring: Sequence[BoxWiring], ready: Readiness
) -> tuple[Section | None, ...]:
    low = low_voltage_wiring_of(circuit)
    cuts = cut_list(circuit, book)
    items = materials_of(circuit, report, book, cuts, wiring, low)
    existing = [one.box.id for one in wiring if one.is_existing]
    return (
        *_open_section(ready, "What stands open before this plan may be followed"),
        Section("Shut off, and prove it dead", (Listing(dead_test_steps(circuit, existing), numbered=True),)),
        order_section(circuit, report, wiring),
        joints_section(wiring),
        low_voltage_joints_section(low),
        cut_section(cuts),
        materials_section(items),
        Section(
            "Checks after",
            (Listing(tuple(typeset(line) for line in checks_after(circuit, report)), boxes=True),),
            together=False,
        ),
        sources_section(items, cuts, book),
        signed_section("Remarks, and who did it"),
    )


def order_section(circuit: Circuit, report: Report, wiring: Sequence[BoxWiring]) -> Section:
    """The phases in one table, numbered through, so that a step can be named."""
    rows: list[Row] = []
    number = 0
    for phase in order_of_work(circuit, report, wiring):
        rows.append(Row((Cell(phase.title),), RowKind.GROUP))
        for step in phase.steps:
            number += 1
            rows.append(Row((Cell(str(number)), Cell(step))))
    columns = (Column("Step", 0.6), Column("What", 9.4))
    note = "The power comes back in the last step and not before. Whoever works keeps the lock or the note."
    return Section("Order of work", (Table("", columns, tuple(rows), note),), together=False)


def _open_section(ready: Readiness, title: str) -> tuple[Section, ...]:
    """What fails, cannot be told or asks for caution."""
    rows = tuple(finding_rows((*ready.open, *ready.cautions)))
    return (Section(title, (Table("", OPEN_COLUMNS, rows),), together=False),) if rows else ()
