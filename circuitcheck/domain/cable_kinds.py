"""What the table of cable types says of a kind of cable: every kind that a file can name has its row."""

from __future__ import annotations

from circuitcheck.case.parts import Cable
from circuitcheck.tables.rulebook import Row, Rulebook


def kind_of_cable(book: Rulebook, kind: str) -> Row:
    """The row of a kind of cable."""
    return book.table("cable-types").printed_row(kind)


def insulation_of_kind_c(book: Rulebook, kind: str) -> float:
    """What the conductors of a kind of cable stand [degC]."""
    return kind_of_cable(book, kind).printed_number("insulation_temperature")


def insulation_c(book: Rulebook, cable: Cable) -> float:
    """What the conductors of a cable stand [degC]: as marked on them, else as its kind does."""
    marked = cable.insulation_temperature_c
    return insulation_of_kind_c(book, cable.type) if marked is None else marked


def is_nonmetallic(book: Rulebook, kind: str) -> bool:
    """Whether a kind of cable has no metal around its conductors."""
    return bool(kind_of_cable(book, kind).yes("nonmetallic"))


def is_for_branch_circuits(book: Rulebook, kind: str) -> bool:
    """Whether new branch circuits are wired with it."""
    return bool(kind_of_cable(book, kind).yes("branch_circuit"))


def is_for_low_voltage(book: Rulebook, kind: str) -> bool:
    """Whether it is made for low voltage."""
    return bool(kind_of_cable(book, kind).yes("low_voltage"))


def has_grounded_armor(book: Rulebook, kind: str) -> bool:
    """Whether its armor counts as an equipment ground."""
    return bool(kind_of_cable(book, kind).yes("grounded_armor"))
