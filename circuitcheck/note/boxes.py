"""The boxes with what is counted in each, line by line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Finding, Part
from circuitcheck.note.alike import SHORT, told_once
from circuitcheck.note.answer import outcome_word
from circuitcheck.note.part_words import box_size
from circuitcheck.note.typeset import needed, typeset
from circuitcheck.paper import Cell, Column, Row, Section, Table
from circuitcheck.quantities import down_to
from circuitcheck.tables.rulebook import Rulebook

COLUMNS = (
    Column("Box", 1.4),
    Column("Size", 1.7),
    Column("Count, line by line (how many x in³ each)", 6.2),
    Column("Needs", 1.0, numeric=True),
    Column("Has", 0.8, numeric=True),
    Column("Left", 0.8, numeric=True),
    Column("Answer", 1.2),
)

#: Names of count lines in fewer words; others stay as the check names them.
_SHORT = (("equipment grounds", "grounds"), ("internal clamps", "clamps"))


def boxes_section(circuit: Circuit, book: Rulebook, findings: Mapping[str, Finding]) -> Section:
    """A row for each box. ``findings``: those of box-fill by box id."""
    named = len(circuit.boxes) <= SHORT
    rows = told_once([_row(box, findings.get(box.id), named=named) for box in circuit.boxes])
    note = (
        f"Volumes in in³, counted by {book.title}, 314.16(B). What is not known is counted as if it were there; a "
        "range runs from what is certain to that worst case."
    )
    return Section("Boxes, counted line by line", (Table("", COLUMNS, tuple(rows), note),), together=False)


def _row(box: Box, finding: Finding | None, *, named: bool) -> Row:
    """``named``: cables by name; else only how many there are, so that boxes that are alike can be told once."""
    state = "existing" if box.origin == "existing" else "ADDED"
    if finding is None:
        counted = Cell("")
    elif finding.high is None:
        counted = Cell(typeset(finding.says))
    else:
        counted = Cell(_counted(finding.parts, named=named) or "nothing that counts")
    needs = has = left = ""
    if finding is not None and finding.high is not None and finding.low is not None:
        needs = needed(finding.low, finding.high, 2)
        if finding.limit is not None:
            has, left = down_to(finding.limit, 2), down_to(finding.limit - finding.high, 2)
    return Row(
        (
            Cell(box.id, more=(state,)),
            box_size(box),
            counted,
            Cell(needs),
            Cell(has),
            Cell(left),
            Cell(outcome_word(finding) if finding is not None else ""),
        )
    )


def _counted(lines: Sequence[Part], *, named: bool) -> str:
    """Every line of the count that was judged: first the conductors by the cable they come from, then the rest."""
    wires = [f"{line.subject if named else 'a cable'} {_times(line)}" for line in lines if line.subject]
    rest = [f"{_short(line.name)} {_times(line)}" for line in lines if not line.subject]
    return "; ".join(([f"wires of {', of '.join(wires)}"] if wires else []) + rest)


def _short(name: str) -> str:
    for long, short in _SHORT:
        if name.startswith(long):
            return name.replace(long, short, 1)
    return name


def _times(line: Part) -> str:
    if line.count is None or line.each is None:
        return f"{line.value:.2f}"
    return f"{line.count:g} x {line.each:.2f}"
