"""The three small tables of the first page: the panel directory, the loads, and the boxes that the work touches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from circuitcheck.advice.directory import directory_wording
from circuitcheck.checking.load_rows import LoadRow, LoadRows
from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Finding
from circuitcheck.note.causes import quoted
from circuitcheck.note.loads import volt_amperes_of
from circuitcheck.note.typeset import figures, needed
from circuitcheck.paper import Abreast, Cell, Column, Paragraph, Row, RowKind, Section, Table
from circuitcheck.quantities import down_to, normalised

LOAD_COLUMNS = (
    Column("Loads", 1.2),
    Column("VA", 1.7, numeric=True),
    Column("A", 1.6, numeric=True),
    Column("Share", 0.8, numeric=True),
)
BOX_COLUMNS = (
    Column("Boxes the work touches (in³)", 3),
    Column("Has", 0.9, numeric=True),
    Column("Needs", 1.8, numeric=True),
    Column("Left", 1.3, numeric=True),
)

#: Boxes of this page that have a row of their own, or share one with others alike; the rest is on the next sheet.
MOST_BOXES = 5

MOST_NAMED = 3


def summary_section(circuit: Circuit, held: LoadRows, fill: Mapping[str, Finding]) -> Section:
    """The tables. ``fill``: box-fill findings by box id."""
    directory = Paragraph(f"Panel directory, to write in: “{directory_wording(circuit)}”")
    return Section("", (directory, Abreast((_loads(circuit, held), _boxes(circuit, fill)), (1, 1.15))), together=False)


def _loads(circuit: Circuit, held: LoadRows) -> Table:
    there, new = [row for row in held.rows if not row.added], [row for row in held.rows if row.added]
    rows = [
        _load_row("existing", there, held.unlisted_a, circuit, RowKind.PLAIN),
        _load_row("added", new, (0.0, 0.0), circuit, RowKind.PLAIN),
        _load_row("total", [*there, *new], held.unlisted_a, circuit, RowKind.TOTAL),
    ]
    known = [row for row in held.rows if row.known]
    hours = [row for row in known if row.continuous is not False]
    low, high = _amperes([row for row in hours if row.continuous], (0.0, 0.0))[0], _amperes(hours, (0.0, 0.0))[1]
    unknown = len(held.rows) - len(known)
    note = f"Share of {normalised(circuit.supply.breaker_a, 'A')}."
    note += f" Continuous (3 hours or more): {figures(low, high, 2)} A of the total." if known or not unknown else ""
    note += f" {unknown} of unknown wattage not counted." if unknown else ""
    return Table("", LOAD_COLUMNS, tuple(rows), note)


def _load_row(name: str, rows: Sequence[LoadRow], more: tuple[float, float], circuit: Circuit, kind: RowKind) -> Row:
    """Sums of what is known; what is not is never shown as nothing."""
    known = [row for row in rows if row.known]
    unknown = len(rows) > len(known)
    if unknown and not known and not any(more):
        return Row((Cell(name), *[Cell("unknown")] * 3), kind)
    low, high = _amperes(known, more)
    measured = volt_amperes_of(more, circuit)
    least, most = (sum(row.apparent_va[end] for row in known) + measured[end] for end in (0, 1))
    breaker = circuit.supply.breaker_a.low
    share = f"{100 * high / breaker:.0f} %" if breaker else ""
    texts = (figures(least, most, 0), figures(low, high, 2), share)
    return Row((Cell(name), *(Cell(f"{text} + ?" if unknown and text else text) for text in texts)), kind)


def _amperes(rows: Sequence[LoadRow], more: tuple[float, float]) -> tuple[float, float]:
    return sum(row.counted_a[0] for row in rows) + more[0], sum(row.counted_a[1] for row in rows) + more[1]


def _boxes(circuit: Circuit, fill: Mapping[str, Finding]) -> Table:
    """Boxes alike in what is shown share a row."""
    alike: dict[tuple[str, str, str], list[Box]] = {}
    for box in touched_boxes(circuit):
        alike.setdefault(box_numbers(fill.get(box.id)), []).append(box)
    rows = []
    for (has, needs, left), boxes in list(alike.items())[:MOST_BOXES]:
        count = f"{len(boxes)} alike: " if len(boxes) > 1 else ""
        name = f"{count}{quoted([box.id for box in boxes], MOST_NAMED)}"
        rows.append(Row((Cell(name), *(Cell(text) for text in (has, needs, left)))))
    rest = sum(len(boxes) for boxes in list(alike.values())[MOST_BOXES:])
    note = f"{rest} more on the next sheet." if rest else ""
    if not rows:
        return Table("", BOX_COLUMNS, (Row((Cell("none"), *[Cell("")] * 3)),))
    return Table("", BOX_COLUMNS, tuple(rows), note)


def box_numbers(finding: Finding | None) -> tuple[str, str, str]:
    """What a box has, needs and has left, as text; empty or in words where it is not known."""
    if finding is None:
        return "", "", ""
    needs = needed(finding.low, finding.high, 2) if finding.low is not None and finding.high is not None else "?"
    if finding.limit is None:
        return "unknown", needs, ""
    left = down_to(finding.limit - finding.high, 2) if finding.high is not None else ""
    return down_to(finding.limit, 2), needs, left


def touched_boxes(circuit: Circuit) -> list[Box]:
    """The boxes that the work adds, or in which it adds something."""
    added = {end for cable in circuit.cables if cable.is_added for end in (cable.from_id, cable.to_id)}
    for parts in (circuit.loads, circuit.drivers, circuit.controls):
        added |= {part.box for part in parts if part.is_added}
    return [box for box in circuit.boxes if box.is_added or box.id in added]
