"""What can be added where one stands, and adding it. A new part joins the circuit at once, so that it stays a tree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.written.block import Block
from circuitcheck.circuit.written.entry_text import table_text
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.document.history import Change
from circuitcheck.ui.parts.naming import PANEL, all_ids, free_name


@dataclass(frozen=True, slots=True)
class Addition:
    """Something that can be added where one stands: its name for a list, and the sections it makes."""

    name: str
    says: str
    sections: tuple[str, ...]


LIGHT_ON_BOX = Addition("light", "A new light on a new box, with a new cable from here", ("cable", "box", "load"))
BOX_ON_CABLE = Addition("box", "A new box with a new cable from here", ("cable", "box"))
LOAD_IN_BOX = Addition("load", "A light or other load in this box", ("load",))
CONTROL_IN_BOX = Addition("control", "A switch, dimmer or sensor in this box", ("control",))
DRIVER_IN_BOX = Addition(
    "driver", "A driver in this box, with a low-voltage light", ("driver", "cable", "low_voltage_load")
)
STRIP_ON_DRIVER = Addition("strip", "A low-voltage light with its cable from here", ("cable", "low_voltage_load"))
HOLE_FOR_CABLE = Addition("hole", "A hole or notch that this cable runs through", ("framing",))


def additions_at(part: Block | None) -> tuple[Addition, ...]:
    """What can be added at a part; for the job or the place, at the panel."""
    section = part.section if part else "supply"
    if section == "cable":
        return (HOLE_FOR_CABLE, LIGHT_ON_BOX, LOAD_IN_BOX, BOX_ON_CABLE)
    if section in ("driver", "low_voltage_load"):
        return (STRIP_ON_DRIVER, LIGHT_ON_BOX, LOAD_IN_BOX)
    if section in ("box", "load", "control", "light"):
        return (LIGHT_ON_BOX, LOAD_IN_BOX, BOX_ON_CABLE, CONTROL_IN_BOX, DRIVER_IN_BOX)
    return (BOX_ON_CABLE, LIGHT_ON_BOX)


def box_at(document: Document, part: Block | None) -> str:
    """The box (or ``panel``) that stands for a part when something is added there."""
    if part is not None and part.section == "light":
        return next((p.id for p in document.parts if p.number == part.number and p.section == "box"), PANEL)
    if part is None or part.section not in SECTIONS:
        return PANEL
    if part.section == "box":
        return part.id
    if part.section == "cable":
        to = str(part.data.get("to", ""))
        return to if document.named("box", to) else PANEL
    return str(part.data.get("box") or PANEL)


def _first_name(section: str, names: Mapping[str, str]) -> str:
    """What a first part of this section is called; a cable is called after what it leads to."""
    if section == "cable":
        return f"to {names.get('box') or names.get('low_voltage_load')}"
    words = {
        "box": "new 1",
        "load": "lamp 1",
        "low_voltage_load": "strip 1",
        "control": "new switch",
        "framing": "hole 1",
    }
    return words.get(section, f"new {section}")


def add(document: Document, addition: Addition, part: Block | None, *, origin: str = "added") -> Change:
    """Adds at a part. New parts are marked as added; everything else in them is unknown."""
    taken = all_ids(document)
    if addition is LIGHT_ON_BOX and origin == "added":
        return _add_short_light(document, part, taken)
    names: dict[str, str] = {}
    for section in sorted(addition.sections, key=lambda section: section == "cable"):
        names[section] = free_name(_first_name(section, names), taken)
        taken.add(names[section])
    upstream = part.id if part and part.section in ("driver", "low_voltage_load") else box_at(document, part)
    if addition is DRIVER_IN_BOX:
        upstream = names["driver"]
    texts = []
    for section in addition.sections:
        entries: dict[str, object] = {"id": names[section]}
        if section == "cable":
            entries |= {"from": upstream, "to": names.get("box") or names["low_voltage_load"]}
        elif section in ("load", "driver", "control"):
            entries["box"] = names.get("box") or box_at(document, part)
        elif section == "framing":
            entries["cable"] = part.id if part else ""
        entries["origin"] = origin
        if section == "load":
            entries["kind"] = "light"
        texts.append(table_text(section, repeated=True, entries=entries))
    return document.insert(f"add {addition.name}", texts)


def _add_short_light(document: Document, part: Block | None, taken: set[str]) -> Change:
    """Adds a light with its box and its cable in the short form: one ``[[light]]`` table."""
    name = free_name("lamp 1", taken)
    while not taken.isdisjoint((f"{name} box", f"{name} cable")):  # what a light brings is called after it
        taken.add(name)
        name = free_name(name, taken)
    upstream = part.id if part is not None and part.section == "light" else box_at(document, part)
    entries = {"id": name, "from": upstream}
    return document.insert(f"add {LIGHT_ON_BOX.name}", [table_text("light", repeated=True, entries=entries)])
