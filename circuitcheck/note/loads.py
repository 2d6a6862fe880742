"""The loads and their share of the breaker, from the same sums as the check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.checking.load_rows import LoadRow, LoadRows
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.note.alike import alike_named
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
    Column("Continuous (3 h or more)", 1.3),
    Column("VA", 1.1, numeric=True),
    Column("A", 1.2, numeric=True),
    Column("Share", 0.9, numeric=True),
)


def loads_section(circuit: Circuit, book: Rulebook, held: LoadRows, finding: Finding | None) -> Section:
    """Existing loads, added loads, the sum and what is left."""
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
    more = volt_amperes_of(held.unlisted_a, circuit)
    least, most = (sum(row.apparent_va[end] for row in known) + more[end] for end in (0, 1))
    rows.append(
        Row(
            (
                Cell("All" if len(known) == len(held.rows) else "All that are known"),
                *[Cell("")] * 4,
                Cell(figures(least, most, 0)),
                Cell(figures(low, high, 2)),
                Cell(_share(high, circuit)),
            ),
            RowKind.TOTAL,
        )
    )
    note = f"Share of the {normalised(circuit.supply.breaker_a, 'A')} breaker or fuse at nominal voltage. "
    note += f"Continuous loads count {factor:g} times; where it is not given, the larger figure is shown. "
    note += "The rated load counts, not the lamp installed today."
    if finding is not None:
        note = f"{typeset(finding.says)} {note}"
    return Section("Loads and their share of the breaker", (Table("", COLUMNS, tuple(rows), note),), together=False)


def volt_amperes_of(amperes: tuple[float, float], circuit: Circuit) -> tuple[float, float]:
    """What a current that was measured is in volt-amperes, at the least and at the most."""
    volts = circuit.supply.voltage_v
    return amperes[0] * volts.low, amperes[1] * volts.high


def _unlisted(amperes: tuple[float, float], circuit: Circuit) -> Row:
    return Row(
        (
            Cell("measured, not on the list"),
            *[Cell("")] * 4,
            Cell(figures(*volt_amperes_of(amperes, circuit), 0)),
            Cell(figures(*amperes, 2)),
            Cell(_share(amperes[1], circuit)),
        )
    )


def _rows(group: Sequence[LoadRow], circuit: Circuit) -> Iterator[Row]:
    """A row for each load; those alike in everything that is shown as one, with what they come to together."""
    alike: dict[tuple[object, ...], list[LoadRow]] = {}
    for row in group:
        alike.setdefault(_row([row], circuit).cells[1:], []).append(row)
    for rows in alike.values():
        yield _row(rows, circuit)


def _row(rows: Sequence[LoadRow], circuit: Circuit) -> Row:
    row = rows[0]
    load = circuit.tree.load.get(row.ref.id) if row.ref.section == "load" else None
    pieces = len(rows)
    if load is not None:
        kind, rated = load.kind, load_rating(load)
        pieces *= load.pieces
        fitted = Cell(shown(load.fitted_w.high, "W") if load.fitted_w is not None else "")
    else:
        kind, rated, fitted = "driver", Cell(row.written), Cell("")
    if pieces != 1:
        rated = Cell(f"{pieces} × {rated.text or '?'}", rated.known)
    hours = {True: Cell("yes"), False: Cell("no"), None: Cell("", Known.UNKNOWN)}[row.continuous]
    apparent = sum(one.apparent_va[0] for one in rows), sum(one.apparent_va[1] for one in rows)
    counted = sum(one.counted_a[0] for one in rows), sum(one.counted_a[1] for one in rows)
    return Row(
        (
            Cell(alike_named([one.ref.id for one in rows])),
            Cell(kind or "", Known.UNKNOWN if kind is None else Known.STATED),
            rated,
            fitted,
            hours,
            Cell(figures(*apparent, 0) if row.known else ""),
            Cell(figures(*counted, 2)) if row.known else Cell("", Known.UNKNOWN),
            Cell(_share(counted[1], circuit) if row.known else ""),
        )
    )


def _share(amperes: float, circuit: Circuit) -> str:
    return f"{100 * amperes / circuit.supply.breaker_a.low:.0f} %" if circuit.supply.breaker_a.low else ""
