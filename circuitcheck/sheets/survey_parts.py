"""The survey's tables: what is worth finding out about each kind of part, blank or filled from a circuit file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.circuit.model import Box, Circuit, Load
from circuitcheck.note.known import BLANK, physical, word, yes_no
from circuitcheck.note.part_words import box_size, load_rating
from circuitcheck.paper import Cell, Column, Known, Row, Table

#: A blank with the four ways to know an entry under it, one to be circled.
WAYS = "M L G ?"
ASKED = Cell(WAYS, blank=True)

#: Entries of these forms are known in one of the four ways; a name or a date is not.
_KNOWN_SOMEHOW = frozenset((Form.PHYSICAL, Form.WORD, Form.SIZE, Form.YES_NO, Form.WHOLE))


@dataclass(frozen=True, slots=True)
class Asked:
    """A column of a table: its heading, how wide, and the keys of the file it stands for."""

    title: str
    share: float
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartsTable:
    """What is asked about every part of one section. ``rows``: blank rows on a blank sheet."""

    section: str
    title: str
    asked: tuple[Asked, ...]
    rows: int


CABLES = PartsTable(
    "cable",
    "Cables, as far as they can be seen",
    (
        Asked("From", 1.2, ("from",)),
        Asked("To", 1.2, ("to",)),
        Asked("Print on the sheath: type", 1.2, ("type",)),
        Asked("size", 0.9, ("size",)),
        Asked("wires", 0.7, ("conductors",)),
        Asked("ground", 0.8, ("ground",)),
        Asked("metal", 0.9, ("material",)),
        Asked("What it does", 1.3, ("carries",)),
        Asked("Length", 1.2, ("length",)),
        Asked("Runs in", 1.0, ("place",)),
        Asked("Hottest air", 1.0, ("ambient",)),
    ),
    8,
)

BOXES = PartsTable(
    "box",
    "Boxes (what is inside: breaker off, tested dead)",
    (
        Asked("Trade size or marked volume", 1.8, ("trade_size", "volume")),
        Asked("Metal or plastic", 1.2, ("material",)),
        Asked("Clamps inside", 1.0, ("internal_clamps",)),
        Asked("Ground arrives", 1.0, ("ground",)),
        Asked("Neutral in it", 1.0, ("neutral",)),
        Asked("Dry, damp, wet", 1.0, ("location",)),
        Asked("In reach", 0.9, ("reachable",)),
        Asked("Covered", 0.9, ("covered",)),
    ),
    8,
)

LOADS = PartsTable(
    "load",
    "Every load that this breaker turns off",
    (
        Asked("Box or room", 1.5, ("box",)),
        Asked("Kind", 1.1, ("kind",)),
        Asked("How many", 0.9, ("quantity",)),
        Asked("Label, each: W, VA or A", 1.6, ("power", "apparent", "current")),
        Asked("Lamp in it today", 1.2, ("fitted",)),
        Asked("On for 3 h or more", 1.1, ("continuous",)),
        Asked("Hardwired or cord", 1.2, ("connection",)),
        Asked("Switched by", 1.2, ("switched_by",)),
    ),
    12,
)

CONTROLS = PartsTable(
    "control",
    "Switches, dimmers and sensors",
    (
        Asked("Box", 1.5, ("box",)),
        Asked("Kind", 1.2, ("kind",)),
        Asked("Ways", 1.4, ("ways",)),
        Asked("Needs a neutral", 1.1, ("needs_neutral",)),
        Asked("Rated for LED", 1.2, ("rated_led",)),
    ),
    4,
)

DRIVERS = PartsTable(
    "driver",
    "Drivers and transformers",
    (
        Asked("Box", 1.3, ("box",)),
        Asked("Output", 1.1, ("output_voltage",)),
        Asked("dc or ac", 0.8, ("output_kind",)),
        Asked("Output rating", 1.2, ("output_power",)),
        Asked("Input current", 1.2, ("input_current",)),
        Asked("Class 2", 0.8, ("class_2",)),
        Asked("Stays in reach", 1.0, ("reachable",)),
    ),
    0,
)

PARTS = (LOADS, CABLES, BOXES, CONTROLS, DRIVERS)


def blank_table(parts: PartsTable) -> Table:
    """The table with nothing in it."""
    keys = SECTIONS[parts.section].keys
    row = Row((BLANK, *(blank_for(keys[asked.keys[0]]) for asked in parts.asked)))
    return Table("", _columns(parts), (row,) * parts.rows)


def filled_table(parts: PartsTable, circuit: Circuit) -> Table | None:
    """The table with every part of the file, only the unknown left blank; None where there is no such part."""
    section = SECTIONS[parts.section]
    found: Sequence[Any] = getattr(circuit, section.attribute)
    if not found:
        return None
    rows = tuple(
        Row((Cell(part.id), *(_asked_cell(part, asked, parts.section) for asked in parts.asked))) for part in found
    )
    return Table("", _columns(parts), rows)


def key_cell(part: Any, key: Key) -> Cell:
    """An entry of the file, or a blank to write on where it says nothing."""
    value = getattr(part, key.attribute)
    if key.form is Form.PHYSICAL:
        cell = physical(value, key.kind.unit if key.kind is not None else "")
    elif key.form is Form.YES_NO:
        cell = yes_no(part, key.name, value)
    elif key.form is Form.WORD_LIST:
        listed = None if value is None else ", ".join(value) or "none"
        cell = word(part, key.name, listed)
    else:
        cell = word(part, key.name, value)
    return blank_for(key) if cell.known is Known.UNKNOWN else cell


def blank_for(key: Key) -> Cell:
    """A blank for the entry, with the ways to know it where that is a question."""
    return ASKED if key.form in _KNOWN_SOMEHOW else BLANK


def _columns(parts: PartsTable) -> tuple[Column, ...]:
    return (Column("Name", 1.4), *(Column(asked.title, asked.share) for asked in parts.asked))


def _asked_cell(part: Any, asked: Asked, section: str) -> Cell:
    if isinstance(part, Box) and "volume" in asked.keys:
        cell = box_size(part)
        return ASKED if cell.known is Known.UNKNOWN else cell
    if isinstance(part, Load) and "power" in asked.keys:
        cell = load_rating(part)
        return ASKED if cell.known is Known.UNKNOWN else cell
    return key_cell(part, SECTIONS[section].keys[asked.keys[0]])
