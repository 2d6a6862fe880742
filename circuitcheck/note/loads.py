"""The loads and their share of the breaker, from the same sums as the check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.checking.load_rows import LoadRow, load_rows
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.note.alike import told_once
from circuitcheck.note.part_words import load_rating
from circuitcheck.note.typeset import figures, typeset
from circuitcheck.paper import Cell, Column, Known, Row, RowKind, Section, Table
from circuitcheck.quantities import normalised, shown
from circuitcheck.tables.rulebook import Rulebook

COLUMNS = (
    Column("Load", 2.6),
    Column("Kind", 1.35),
    Column("Rated, each", 2.1),
    Column("Lamp in it", 1.0),
    Column("3 h or more", 1.1),
    Column("VA", 1.1, numeric=True),
    Column("A counted", 1.2, numeric=True),
    Column("Share", 0.9, numeric=True),
)


def loads_section(circuit: Circuit, book: Rulebook, finding: Finding | None) -> Section:
    """Existing loads, added loads, the sum and what is left."""
    held = load_rows(circuit, book)
    factor = book.value("continuous-load-factor").number
    rows: list[Row] = []
    for title, added in (("Existing", False), ("Added", True)):
        group = [row for row in held.rows if row.added is added]
        if group:
            rows.append(Row((Cell(title),), RowKind.GROUP))
            rows.extend(_rows(group, circuit))
        if not added and held.unlisted_a[1]:
            rows.append(_unlisted(held.unlisted_a, circuit))
    known = [row for row in held.rows if row.known]
    low, high = (sum(row.counted_a[end] for row in known) + held.unlisted_a[end] for end in (0, 1))
    volt_amperes = sum(row.apparent_va[1] for row in known)
    rows.append(
        Row(
            (
                Cell("All" if len(known) == len(held.rows) else "All that are known"),
                *[Cell("")] * 4,
                Cell(f"{volt_amperes:.0f}"),
                Cell(figures(low, high, 2)),
                Cell(_share(high, circuit)),
            ),
            RowKind.TOTAL,
        )
    )
    note = f"Share of the {normalised(circuit.supply.breaker_a, 'A')} breaker or fuse at nominal voltage. "
    note += f"Loads that stay on for 3 hours or more count {factor:g} times; "
    note += "where nobody said, the larger figure is shown. The rated load counts, not the lamp that is in today."
    if finding is not None:
        note = f"{typeset(finding.says)} {note}"
    return Section("Loads and their share of the breaker", (Table("", COLUMNS, tuple(rows), note),), together=False)


def _unlisted(amperes: tuple[float, float], circuit: Circuit) -> Row:
    return Row(
        (
            Cell("measured, not on the list"),
            *[Cell("")] * 5,
            Cell(figures(*amperes, 2)),
            Cell(_share(amperes[1], circuit)),
        )
    )


def _rows(group: Sequence[LoadRow], circuit: Circuit) -> Iterator[Row]:
    made = [_row(row, circuit) for row in group]
    yield from told_once(made, sums=(5, 6, 7))


def _row(row: LoadRow, circuit: Circuit) -> Row:
    load = circuit.tree.load.get(row.ref.id) if row.ref.section == "load" else None
    if load is not None:
        kind, rated = load.kind, load_rating(load)
        if load.quantity != 1:
            rated = Cell(f"{load.quantity} x {rated.text or '?'}", rated.known)
        fitted = Cell(shown(load.fitted_w.high, "W") if load.fitted_w is not None else "")
    else:
        kind, rated, fitted = "driver", Cell(row.written), Cell("")
    hours = {True: Cell("yes"), False: Cell("no"), None: Cell("", Known.UNKNOWN)}[row.continuous]
    return Row(
        (
            Cell(row.ref.id),
            Cell(kind or "", Known.UNKNOWN if kind is None else Known.STATED),
            rated,
            fitted,
            hours,
            Cell(figures(*row.apparent_va, 0) if row.known else ""),
            Cell(figures(*row.counted_a, 2)) if row.known else Cell("", Known.UNKNOWN),
            Cell(_share(row.counted_a[1], circuit) if row.known else ""),
        )
    )


def _share(amperes: float, circuit: Circuit) -> str:
    return f"{100 * amperes / circuit.supply.breaker_a.low:.0f} %" if circuit.supply.breaker_a.low else ""
