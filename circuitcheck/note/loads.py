"""The loads and their share of the breaker, from the same sums as the check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.note.alike import told_once
from circuitcheck.note.part_words import load_rating
from circuitcheck.note.typeset import figures, typeset
from circuitcheck.paper import Cell, Column, Known, Row, RowKind, Section, Table
from circuitcheck.quantities import shown
from circuitcheck.rules.branch_loads import Amperes, Draw, amperes_of, branch_draws, span, total_amperes
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
    draws = branch_draws(circuit, book)
    factor = book.value("continuous-load-factor").number
    rows: list[Row] = []
    for title, added in (("Existing", False), ("Added", True)):
        group = [draw for draw in draws if draw.added is added]
        if group:
            rows.append(Row((Cell(title),), RowKind.GROUP))
            rows.extend(_rows(group, circuit, factor))
    total = total_amperes(draws, circuit.supply, factor)
    unknown = any(draw.needs for draw in draws)
    volt_amperes = sum(draw.high_va for draw in draws)
    rows.append(
        Row(
            (
                Cell("All" if not unknown else "All that are known"),
                *[Cell("")] * 4,
                Cell(f"{volt_amperes:.0f}"),
                Cell(figures(total.low, total.worst, 2)),
                Cell(_share(total, circuit)),
            ),
            RowKind.TOTAL,
        )
    )
    breaker = circuit.supply.breaker_a
    note = f"Share of the {span(breaker.low, breaker.high, 'A')} breaker or fuse at nominal voltage. "
    note += f"Loads that stay on for 3 hours or more count {factor:g} times; "
    note += "where nobody said, the larger figure is shown. The rated load counts, not the lamp that is in today."
    if finding is not None:
        note = f"{typeset(finding.says)} {note}"
    return Section("Loads and their share of the breaker", (Table("", COLUMNS, tuple(rows), note),), together=False)


def _rows(draws: Sequence[Draw], circuit: Circuit, factor: float) -> Iterator[Row]:
    made = [_row(draw, circuit, factor) for draw in draws]
    yield from told_once(made, sums=(5, 6, 7))


def _row(draw: Draw, circuit: Circuit, factor: float) -> Row:
    load = circuit.tree.load.get(draw.id) if draw.section == "load" else None
    one = amperes_of(draw, circuit.supply, factor)
    unknown = bool(draw.needs)
    if load is not None:
        rated = load_rating(load)
        if load.quantity != 1:
            rated = Cell(f"{load.quantity} x {rated.text or '?'}", rated.known)
        fitted = Cell(shown(load.fitted_w.high, "W") if load.fitted_w is not None else "")
    else:
        rated, fitted = Cell(draw.written.split(";")[0] or "driver input"), Cell("")
    hours = {True: Cell("yes"), False: Cell("no"), None: Cell("", Known.UNKNOWN)}[draw.continuous]
    return Row(
        (
            Cell(draw.id),
            Cell(draw.kind or "", Known.UNKNOWN if draw.kind is None else Known.STATED),
            rated,
            fitted,
            hours,
            Cell("" if unknown else figures(draw.low_va, draw.high_va, 0)),
            Cell("", Known.UNKNOWN) if unknown else Cell(figures(one.low, one.worst, 2)),
            Cell("" if unknown else _share(one, circuit)),
        )
    )


def _share(amperes: Amperes, circuit: Circuit) -> str:
    return f"{100 * amperes.worst / circuit.supply.breaker_a.low:.0f} %" if circuit.supply.breaker_a.low else ""
