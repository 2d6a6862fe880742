"""The box fill worksheet: a row for each box, a column for each kind of allowance, count times volume."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Finding, Part
from circuitcheck.note.alike import alike_together
from circuitcheck.note.answer import outcome_word
from circuitcheck.note.part_words import box_size
from circuitcheck.note.summary import box_numbers
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Column, Row, Section, Table
from circuitcheck.tables.rulebook import Rulebook

#: Columns of allowances, each with how the lines of the count begin that belong to it. What fits none is "other".
ALLOWANCES = (
    ("Conductors", ("insulated conductors", "conductors", "unbroken loops")),
    ("Clamps", ("internal clamps",)),
    ("Fittings", ("stud", "hickey", "fixture stud", "fitting")),
    ("Devices", ("switch", "receptacle", "dimmer", "device", "a device", "sensor", "timer")),
    ("Grounds", ("equipment grounds",)),
    ("Leads", ("luminaire wires",)),
)
OTHER = "Other"

FIRST = (Column("Box", 1.7), Column("Size", 1.7))
LAST = (
    Column("Needs", 1.1, numeric=True),
    Column("Has", 0.9, numeric=True),
    Column("Left", 0.9, numeric=True),
    Column("Answer", 1.2),
)
SHARES = {"Conductors": 1.7, OTHER: 1.8}


def boxes_section(circuit: Circuit, book: Rulebook, findings: Mapping[str, Finding]) -> Section:
    """A row for each box, those alike in everything as one. ``findings``: those of box-fill by box id."""
    used = [
        name
        for name in (*(name for name, _ in ALLOWANCES), OTHER)
        if any(allowance(line) == name for finding in findings.values() for line in finding.parts)
    ]
    rows = alike_together([_row(box, findings.get(box.id), used) for box in circuit.boxes])
    note = (
        f"Each allowance as count × in³, by {book.title}, 314.16(B); their sum is what the box needs. What is unknown "
        "is counted as if it were there; a range runs from what is certain to that worst case."
    )
    columns = (*FIRST, *(Column(name, SHARES.get(name, 1.15)) for name in used), *LAST)
    return Section("Box fill worksheet", (Table("", columns, tuple(rows), note),), together=False)


def _row(box: Box, finding: Finding | None, used: Sequence[str]) -> Row:
    state = "existing" if not box.is_added else "NEW"
    has, needs, left = box_numbers(finding)
    lines = finding.parts if finding is not None else ()
    cells = [_cell([line for line in lines if allowance(line) == name], named=name == OTHER) for name in used]
    if finding is not None and not lines and finding.high is None and used:
        cells[0] = Cell(typeset(finding.says))
    return Row(
        (
            Cell(box.id, more=(state,)),
            box_size(box),
            *cells,
            Cell(needs if needs != "?" else ""),
            Cell(has),
            Cell(left),
            Cell(outcome_word(finding) if finding is not None else ""),
        )
    )


def allowance(line: Part) -> str:
    """The column that a line of the count belongs to."""
    return next((name for name, begins in ALLOWANCES if line.name.startswith(begins)), OTHER)


def _cell(lines: Sequence[Part], *, named: bool) -> Cell:
    """The lines of one allowance, those of one volume each counted together: ``6 × 2.00``."""
    counts: dict[tuple[str, float], float] = {}
    for line in lines:
        count, each = (line.count, line.each) if line.count is not None and line.each is not None else (1, line.value)
        key = (line.name if named else "", each)
        counts[key] = counts.get(key, 0.0) + count
    told = [f"{name} {count:g} × {each:.2f}".lstrip() for (name, each), count in counts.items()]
    return Cell(told[0], more=tuple(told[1:])) if told else Cell("")
