"""The plan of the work, for whoever does it: shut off, joints, cut list, materials, order of work, checks after."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import PurePath

from circuitcheck.advice.cutting import cut_list
from circuitcheck.advice.item import listed
from circuitcheck.advice.low_voltage_wiring import low_voltage_wiring_of
from circuitcheck.advice.materials import items_for_changes, items_for_runs, materials_of
from circuitcheck.advice.order import Phase, checks_after, dead_test_steps, order_of_work, order_until_known
from circuitcheck.advice.order_changes import replaced_boxes
from circuitcheck.advice.readiness import PERMIT_ANSWERED, Readiness, State, readiness_of, settled_cables
from circuitcheck.advice.wiring import BoxWiring, wiring_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Finding, Report
from circuitcheck.note.answer import finding_rows
from circuitcheck.note.changed import changes_section
from circuitcheck.note.program_faults import fault_paragraphs
from circuitcheck.note.stop_page import BANNER as STOP_BANNER
from circuitcheck.note.stop_page import stop_sections
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Column, Listing, Outline, Paragraph, Row, RowKind, Section, Table, Tone
from circuitcheck.sheets.head import DECIDES, job_facts, safety_section, sheet_outline, signed_section
from circuitcheck.sheets.plan_joints import joints_section, low_voltage_joints_section, switches_section, untold_section
from circuitcheck.sheets.plan_lists import cut_section, items_table, materials_section, sources_section
from circuitcheck.tables.rulebook import Rulebook

KIND = "plan of the work"
BANNER = "Not a permit: code and electrician decide"

NOT_READY_BANNER = "Not ready: do not work by this yet"

_BANNERS = {
    State.STOP: STOP_BANNER,
    State.MUST_CHANGE: NOT_READY_BANNER,
    State.UNKNOWN: NOT_READY_BANNER,
    State.NOTHING_OPEN: BANNER,
}

POWER_LAST = "The power comes back in the last step and not before. Whoever works keeps the lock or the note."

OPEN_COLUMNS = (Column("Answer", 1.2), Column("Check and part", 1.8), Column("What was found", 6))


WHY_NOTHING = (
    "No order of work, list of joints, cut list or list of materials stands here: what has to change may change every "
    "one of them."
)
WHY_HERE = (
    "The order ends here. Joints, other materials, closing and power are left out, since what is unknown could change "
    "them."
)


def plan_outline(report: Report, circuit: Circuit, book: Rulebook, *, digest: str, tool: str, made: date) -> Outline:
    """The plan. ``digest``: SHA-256 of the circuit file's bytes; ``tool``: name and version; ``made``: its date."""
    circuit = as_planned(circuit)
    wiring = wiring_of(circuit)
    ready = readiness_of(report, wiring)
    return sheet_outline(
        kind=KIND,
        banner=_BANNERS[ready.state],
        title=circuit.job.title,
        subtitle=f"A {KIND}, worked out from a circuit file by {book.title}. Written {made.isoformat()}.",
        foot=f"{tool}, {report.rulebook}. File {PurePath(report.file).name}, SHA-256 {digest}",
        made=made,
        sections=_sections(report, circuit, book, wiring, ready),
    )


def _sections(
    report: Report, circuit: Circuit, book: Rulebook, wiring: Sequence[BoxWiring], ready: Readiness
) -> tuple[Section | None, ...]:
    if ready.state is State.STOP:
        return (*_faults(report), *stop_sections(report, circuit, book))
    if ready.state is State.MUST_CHANGE:
        sections: tuple[Section | None, ...] = _change_sections(report, circuit, book, ready)
    elif ready.state is State.UNKNOWN:
        sections = _unknown_sections(circuit, book, wiring, ready)
    else:
        sections = _work_sections(report, circuit, book, wiring, ready)
    head = _head_section(circuit, book, ready, report)
    return (*_faults(report), head, changes_section(circuit), *sections, safety_section())


def _faults(report: Report) -> tuple[Section, ...]:
    told = fault_paragraphs(report)
    return (Section("A check is missing", told),) if told else ()


def _head_section(circuit: Circuit, book: Rulebook, ready: Readiness, report: Report) -> Section:
    blocks = (
        Paragraph(DECIDES, Tone.CAUTION),
        Paragraph(state_line(ready, circuit, len(report.faults)), Tone.ANSWER),
        job_facts(circuit, book),
    )
    return Section("What this is", blocks)


def state_line(ready: Readiness, circuit: Circuit, faults: int = 0) -> str:
    """How far the plan is, in a sentence or two."""
    if ready.state is State.NOTHING_OPEN:
        asked = circuit.site.permit in PERMIT_ANSWERED
        needed = "the inspection, where there is a permit" if asked else "the permit office's answer"
        return f"On paper every check passes. Still needed: {needed}. This is no permission to work."
    fails, unknown, boxes = len(ready.fails), len(ready.unknown), len(ready.untold)
    parts = [
        f"{fails} problem{'s' if fails > 1 else ''}" if fails else "",
        f"{unknown} still unknown" if unknown else "",
        f"{boxes} box{'es' if boxes > 1 else ''} in which it is unknown what joins what" if boxes else "",
        f"{faults} check{'s' if faults > 1 else ''} missing through a fault of the program" if faults else "",
    ]
    return f"NOT READY: do not work by this plan yet. {listed([part for part in parts if part])}."


def _change_sections(report: Report, circuit: Circuit, book: Rulebook, ready: Readiness) -> tuple[Section, ...]:
    """What must change, and nothing to buy, to cut, to run or to join for what fails."""
    items = items_for_changes(circuit, report, book)
    takes = (items_table("What the change takes", items),) if items else ()
    return (
        Section(
            "What must change first",
            (Table("", OPEN_COLUMNS, tuple(finding_rows(ready.fails))), *takes, Paragraph(WHY_NOTHING, Tone.CAUTION)),
            together=False,
        ),
        *_findings_section(ready.unknown, "What is unknown besides"),
        *_findings_section(ready.cautions, "Cautions"),
    )


def _unknown_sections(
    circuit: Circuit, book: Rulebook, wiring: Sequence[BoxWiring], ready: Readiness
) -> tuple[Section | None, ...]:
    """What is unknown, and the work that no answer can change: cable run and joined to nothing."""
    settled = settled_cables(ready, circuit)
    cuts = cut_list(circuit, book, settled)
    items = items_for_runs(circuit, book, cuts)
    return (
        *_findings_section(ready.unknown, "What is still unknown"),
        untold_section(wiring),
        *_findings_section(ready.cautions, "Cautions"),
        order_section(order_until_known(circuit, ready), WHY_HERE),
        cut_section(cuts),
        materials_section(items) if items else None,
        sources_section(items, cuts, book) if items else None,
    )


def _work_sections(
    report: Report, circuit: Circuit, book: Rulebook, wiring: Sequence[BoxWiring], ready: Readiness
) -> tuple[Section | None, ...]:
    low = low_voltage_wiring_of(circuit)
    cuts = cut_list(circuit, book)
    items = materials_of(circuit, report, book, cuts, wiring)
    replaced = replaced_boxes(circuit)
    existing = [one.box.id for one in wiring if one.is_existing or one.box.id in replaced]
    return (
        *_findings_section(ready.cautions, "Cautions"),
        Section("Shut off, and prove it dead", (Listing(dead_test_steps(circuit, existing), numbered=True),)),
        order_section(order_of_work(circuit, wiring), POWER_LAST),
        joints_section(wiring),
        switches_section(wiring),
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


def order_section(phases: Sequence[Phase], note: str) -> Section:
    """The phases in one table, numbered through, so that a step can be named."""
    rows: list[Row] = []
    number = 0
    for phase in phases:
        rows.append(Row((Cell(phase.title),), RowKind.GROUP))
        for step in phase.steps:
            number += 1
            rows.append(Row((Cell(str(number)), Cell(step))))
    columns = (Column("Step", 0.6), Column("What", 9.4))
    return Section("Order of work", (Table("", columns, tuple(rows), note),), together=False)


def _findings_section(findings: Sequence[Finding], title: str) -> tuple[Section, ...]:
    rows = tuple(finding_rows(findings))
    return (Section(title, (Table("", OPEN_COLUMNS, rows),), together=False),) if rows else ()
