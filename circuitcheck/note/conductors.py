"""The conductors of the branch circuit with each factor that brings the table's figure down to what they may carry."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.checking.cable_rows import CableRow, cable_rows
from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding
from circuitcheck.note.alike import alike_together
from circuitcheck.note.answer import outcome_word
from circuitcheck.note.known import physical
from circuitcheck.note.part_words import cable_make
from circuitcheck.note.typeset import allowed, needed
from circuitcheck.paper import Cell, Column, Known, Row, Section, Table
from circuitcheck.quantities import rounded_down
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

COLUMNS = (
    Column("Cable", 1.5),
    Column("Conductor", 2.05),
    Column("Length", 1.15),
    Column("Place", 0.9),
    Column("Ampacity before factors", 1.1, numeric=True),
    Column("Correction (ambient)", 1.55, numeric=True),
    Column("Adjustment (conductors)", 1.45, numeric=True),
    Column("Limit, A", 0.8, numeric=True),
    Column("Allowed, A", 1.0, numeric=True),
    Column("Load, A", 0.85, numeric=True),
    Column("Largest breaker", 1.1, numeric=True),
    Column("Answer", 1.0),
)

_WORST = ("fail", "undetermined", "caution", "pass")


def conductors_section(
    circuit: Circuit, book: Rulebook, ampacity: Mapping[str, Finding], breaker: Mapping[str, Finding]
) -> Section:
    """A row for each branch cable, with the findings of ampacity and breaker-vs-wire by cable id."""
    held = cable_rows(circuit, book)
    rows = alike_together(
        [
            _row(cable, held[cable.id], ampacity.get(cable.id), breaker.get(cable.id))
            for cable in circuit.tree.branch_cables
        ],
        spread=(2, 9),
    )
    note = (
        "Worst case where something is unknown. Ampacity before factors: column of the insulation. Limit: column of "
        "the cable type or of the terminals. Largest breaker: by the small-conductor rule or the next standard size."
    )
    return Section("Conductors: ampacity with each factor", (Table("", COLUMNS, tuple(rows), note),), together=False)


def _row(
    cable: Cable,
    held: CableRow,
    ampacity: Finding | None,
    breaker: Finding | None,
) -> Row:
    state = "existing" if not cable.is_added else "NEW"
    carries = Cell("", Known.UNKNOWN) if not held.known else Cell(needed(min(held.load), max(held.load), 2))
    return Row(
        (
            Cell(cable.id, more=(state,)),
            cable_make(cable),
            physical(cable.length_m, "ft"),
            Cell(cable.place or "", Known.STATED if cable.place else Known.UNKNOWN),
            *_factors(cable, held),
            carries,
            Cell(rounded_down(breaker.limit) if breaker is not None and breaker.limit is not None else ""),
            Cell(_worst_word(ampacity, breaker)),
        )
    )


def _factors(cable: Cable, held: CableRow) -> tuple[Cell, ...]:
    worst, best = held.worst, held.best
    if cable.size is None or worst is None or best is None:
        return (Cell("", Known.UNKNOWN), *[Cell("")] * 4)
    air = "not allowed" if worst.ambient_factor is None else f"{worst.ambient_factor:.2f}"
    return (
        Cell(f"{shown_number(worst.insulation_a)}", more=(f"{worst.insulation_column_c} °C",)),
        Cell(air, more=(f"{shown_number(worst.ambient_c * 1.8 + 32)} °F ({shown_number(worst.ambient_c)} °C)",)),
        Cell(f"{worst.count_factor:.2f}", more=(f"{worst.count} conductors",)),
        Cell(rounded_down(worst.held_a), more=(f"{worst.held_column_c} °C",)),
        Cell(allowed(worst.amperes, best.amperes, 1), strong=True),
    )


def _worst_word(*findings: Finding | None) -> str:
    known = [finding for finding in findings if finding is not None]
    return outcome_word(min(known, key=lambda one: _WORST.index(one.outcome))) if known else ""
