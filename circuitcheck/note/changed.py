"""What the work does to parts that are there: one row each, as found and as planned."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from circuitcheck.circuit.change import ALTER, MOVE, REMOVE, REPLACE, Change
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit, Device, FixtureWires, OtherCable, Unbroken
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Column, Row, Section, Table
from circuitcheck.quantities import Interval
from circuitcheck.refs import Ref

TITLE = "Changes to what is there"
COLUMNS = (Column("Part", 2), Column("What is done", 1.6), Column("Was", 3), Column("Will be", 3.4))

DONE = {REPLACE: "replaced", REMOVE: "removed", MOVE: "moved", ALTER: "changed, the part stays"}


def changes_section(circuit: Circuit) -> Section | None:
    """Every change of a circuit whose changes are carried out; None without one."""
    if circuit.before is None:
        return None
    found = circuit.before.circuit
    rows = [row for change in found.changes for row in _rows(change, found)]
    also = [ref for ref in sorted(circuit.before.gone) if all(change.part != ref for change in found.changes)]
    rows += [Row((Cell(part_words(ref)), Cell("removed with it"), Cell("there"), Cell("gone"))) for ref in also]
    note = "What is not named stays as it was found; of a new part, what is not named is unknown."
    return Section(TITLE, (Table("", COLUMNS, tuple(rows), note),), together=False)


def _rows(change: Change, found: Circuit) -> list[Row]:
    part = _part(found, change.part)
    head = (Cell(part_words(change.part)), Cell(DONE[change.action]))
    if change.action == REMOVE:
        return [Row((*head, Cell("there"), Cell("gone")))]
    was, will_be = _said(change.part.section, change.new, part)
    if change.brought:
        box = _part(found, Ref("box", change.new.get("box", part.box)))
        before, after = _said("box", change.brought, box)
        was, will_be = [*was, *before], [*will_be, *after]
    return [Row((*head, Cell(typeset("; ".join(was)) or "as found"), Cell(typeset("; ".join(will_be)) or "unknown")))]


def _said(section: str, new: Mapping[str, Any], part: Any) -> tuple[list[str], list[str]]:
    """The entries that change, before and after."""
    keys = [key for key in SECTIONS[section].keys.values() if key.attribute in new]
    pairs = [(key.title[0].lower() + key.title[1:], key.attribute) for key in keys]
    return (
        [f"{title}: {value_words(getattr(part, attribute))}" for title, attribute in pairs],
        [f"{title}: {value_words(new[attribute])}" for title, attribute in pairs],
    )


def part_words(ref: Ref) -> str:
    """A part in words: box "attic"."""
    return f'{ref.section.replace("_", "-")} "{ref.id}"' if ref.id else ref.section


def value_words(value: Any) -> str:
    """A value of the model as a person reads it."""
    if value is None:
        return "unknown"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Interval):
        return value.text
    if isinstance(value, tuple):
        return ", ".join(map(value_words, value)) or "none"
    if isinstance(value, Device):
        return value.kind
    if isinstance(value, FixtureWires | Unbroken):
        return f"{value.count} x {value.size}"
    if isinstance(value, OtherCable):
        return f"a cable of {value.conductors} x {value.size}"
    return str(value)


def _part(circuit: Circuit, ref: Ref) -> Any:
    held = getattr(circuit, SECTIONS[ref.section].attribute)
    return held if not ref.id else next(part for part in held if part.id == ref.id)
