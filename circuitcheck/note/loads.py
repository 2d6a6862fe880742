"""The loads and their share of the breaker, from the same sums as the check."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.note.alike import told_once
from circuitcheck.note.part_words import load_rating
from circuitcheck.note.typeset import figures, typeset
from circuitcheck.paper import Cell, Column, Known, Row, RowKind, Section, Table
from circuitcheck.quantities import shown, up_to
from circuitcheck.rules.branch_loads import Draw, amperes_of, branch_draws, span
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
    """Existing loads, added loads, the sum and what is left; amperes as the check counted them."""
    draws = branch_draws(circuit, book)
    factor = book.value("continuous-load-factor").number
    counted = {part.subject: part.value for part in finding.parts} if finding is not None else {}
    rows: list[Row] = []
    for title, added in (("Existing", False), ("Added", True)):
        group = [draw for draw in draws if draw.added is added]
        if group:
            rows.append(Row((Cell(title),), RowKind.GROUP))
            rows.extend(_rows(group, circuit, factor, counted))
    worst = sum(counted.values())
    low = finding.low if finding is not None and finding.low is not None else worst
    unknown = any(draw.needs for draw in draws)
    volt_amperes = sum(draw.high_va for draw in draws)
    rows.append(
        Row(
            (
                Cell("All" if not unknown else "All that are known"),
                *[Cell("")] * 4,
                Cell(f"{volt_amperes:.0f}"),
                Cell(figures(low, worst, 2)),
                Cell(
                    f"{up_to(100 * worst / circuit.supply.breaker_a.low, 0)} %" if circuit.supply.breaker_a.low else ""
                ),
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


def _rows(draws: Sequence[Draw], circuit: Circuit, factor: float, counted: Mapping[str, float]) -> Iterator[Row]:
    made = [_row(draw, circuit, factor, counted.get(draw.id)) for draw in draws]
    yield from told_once(made, sums=(5, 6, 7))


def _row(draw: Draw, circuit: Circuit, factor: float, worst: float | None) -> Row:
    """``worst``: the amperes that the check counted for it; None where it could not count them."""
    load = circuit.tree.load.get(draw.id) if draw.section == "load" else None
    low = amperes_of(draw, circuit.supply, factor).low
    unknown = worst is None
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
            Cell("", Known.UNKNOWN) if worst is None else Cell(figures(low, worst, 2)),
            Cell("" if worst is None else _share(worst, circuit)),
        )
    )


def _share(amperes: float, circuit: Circuit) -> str:
    return f"{100 * amperes / circuit.supply.breaker_a.low:.0f} %" if circuit.supply.breaker_a.low else ""
