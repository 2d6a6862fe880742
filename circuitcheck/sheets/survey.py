"""The survey: a sheet to walk the house with, blank, or filled from a circuit file with only the unknowns left open."""

from __future__ import annotations

from datetime import date
from pathlib import PurePath
from typing import Any

from circuitcheck.circuit.guide import entry_guide, key_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.job import ROOMS
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Report
from circuitcheck.note.known import BLANK
from circuitcheck.note.program_faults import fault_paragraphs
from circuitcheck.note.stop_page import BANNER as STOP_BANNER
from circuitcheck.note.stop_page import stopping
from circuitcheck.note.summary import touched_boxes
from circuitcheck.paper import (
    Cell,
    Column,
    Facts,
    Listing,
    Outline,
    Paragraph,
    Row,
    Section,
    Squares,
    Table,
    Tone,
)
from circuitcheck.safety import ONE_LINE, SHORT
from circuitcheck.sheets.survey_open import open_sections
from circuitcheck.sheets.survey_parts import ASKED, PARTS, PartsTable, blank_for, blank_table, filled_table, key_cell
from circuitcheck.sheets.survey_stop import survey_stop_sections

KIND = "survey sheet"
BANNER = "To find out, not a permission to work"

PURPOSE = "What to look at before anybody decides whether lights can be added."
FILLED_PURPOSE = f"{PURPOSE} What the file already says is filled in; only unknowns are blank."
STOP_PURPOSE = "Who was called, and what they found. Nothing else is asked until that is settled."

START = (
    "Nothing on this sheet asks you to open anything first: look, read labels, switch the breaker, measure along the "
    "way. The cover of the panel stays on. Where only an open box tells, the breaker is off and locked or tagged "
    "first, and every wire in the box is tested dead; or leave it blank for the electrician."
)

KNOWN_WAYS = (
    "Under each blank, circle how you know it: M measured, L read from a label, G guessed, ? not known (an answer too)."
)

#: Titles of entries whose own title would not be enough on paper.
TITLES = {
    ("supply", "breaker"): "Number on its handle or face",
    ("supply", "device"): "A breaker or a fuse?",
    ("supply", "protection"): "Words beside a TEST button",
    ("supply", "panel"): "Which panel, and where",
    ("job", "place"): "House and room, in your words",
}

#: Entries about the people and the place, and about the circuit at the panel, in the order of the walk.
PEOPLE = (
    ("job", "place"),
    ("site", "room"),
    ("site", "owner_occupied"),
    ("site", "dwelling_units"),
    ("site", "work_by"),
    ("site", "permit"),
    ("site", "wired"),
    ("site", "attic_access"),
    ("job", "prepared_by"),
    ("job", "date"),
)
PANEL = (
    ("supply", "panel"),
    ("supply", "slot"),
    ("supply", "breaker"),
    ("supply", "device"),
    ("supply", "fuse_type"),
    ("supply", "poles"),
    ("supply", "handle_tie"),
    ("supply", "protection"),
    ("supply", "shared_neutral"),
    ("supply", "serves"),
)
READINGS = (
    ("supply", "measured_voltage"),
    ("supply", "loaded_voltage"),
    ("supply", "loaded_current"),
    ("supply", "measured_current"),
    ("supply", "other_leg_current"),
)
WHO_AND_WHERE, AT_THE_PANEL, METER = "Who and where", "The breaker and the panel, cover on", "Meter readings"

#: The heading under which an entry that is asked once has its blank.
PLACES = {
    **dict.fromkeys(PEOPLE, WHO_AND_WHERE),
    **dict.fromkeys(PANEL, AT_THE_PANEL),
    **dict.fromkeys(READINGS, METER),
}

READING_COLUMNS = (
    Column("Reading", 3),
    Column("Value", 1.6),
    Column("Meter", 1.6),
    Column("What was switched on", 2.4),
    Column("Date", 1.2),
)

INSIDE_COLUMNS = (
    Column("Box", 1.2),
    Column("Each cable in it, and what it does", 3),
    Column("Switches and outlets", 1.6),
    Column("Stud or hickey", 1),
    Column("Fixture leads: size, how many", 1.6),
    Column("Ring or raised cover", 1.2),
    Column("Colors joined", 1.8),
)
NEW_COLUMNS = (
    Column("Light, switch or driver", 1.8),
    Column("Place", 1.2),
    Column("Label: W, VA or A", 1.3),
    Column("Listing mark", 1),
    Column("Weight", 1),
    Column("Supply wire °C", 1),
    Column("Way of its cable", 1.8),
    Column("Length by tape", 1.2),
)
PHOTOS = (
    "The breaker's handle and the label inside the panel's door; the panel's own cover stays on.",
    "The print on the sheath of each cable that can be seen.",
    "The ceiling or wall around each box, from below, and the label of each light.",
    "The route that new cable would take.",
)

#: Rooms that are often forgotten stand on the sheet by name.
WALK = (
    "hallway", "stairway", "bedroom", "bathroom", "kitchen", "living room", "closet", "laundry", "garage", "basement",
    "attic", "outdoors",
)  # fmt: skip

GUIDED = (
    ("supply", "breaker"),
    ("supply", "protection"),
    ("supply", "shared_neutral"),
    ("cable", "size"),
    ("cable", "type"),
    ("cable", "conductors"),
    ("cable", "material"),
    ("cable", "length"),
    ("cable", "ambient"),
    ("cable", "carries"),
    ("box", "trade_size"),
    ("box", "volume"),
    ("box", "internal_clamps"),
    ("box", "ground"),
    ("box", "neutral"),
    ("load", "power"),
    ("load", "fitted"),
    ("load", "continuous"),
    ("supply", "measured_voltage"),
    ("supply", "loaded_voltage"),
    ("supply", "measured_current"),
)


def survey_outline(report: Report | None, circuit: Circuit | None, *, tool: str, made: date) -> Outline:
    """The sheet, blank where ``circuit`` is None."""
    circuit = as_planned(circuit) if circuit is not None else None
    stopped = report is not None and circuit is not None and bool(stopping(report))
    if report is not None and circuit is not None and stopped:
        sections, purpose = survey_stop_sections(report, circuit), STOP_PURPOSE
    else:
        sections, purpose = _sections(report, circuit), PURPOSE if circuit is None else FILLED_PURPOSE
    told = fault_paragraphs(report) if report is not None else ()
    if told:
        sections = (Section("A check is missing", told), *sections)
    title = f"Survey: {circuit.job.title}" if circuit is not None else "Survey of a lighting circuit"
    return Outline(
        kind=KIND,
        banner=STOP_BANNER if stopped else BANNER,
        title=title,
        subtitle=purpose,
        foot=f"{tool}{f', {PurePath(circuit.file).name}' if circuit is not None else ''}",
        made=(made.year, made.month, made.day),
        landscape=not stopped,
        sections=sections,
    )


def _sections(report: Report | None, circuit: Circuit | None) -> tuple[Section, ...]:
    """What stands on the sheet for the walk."""
    return (
        _start(),
        *(open_sections(report, circuit, PLACES) if report is not None and circuit is not None else ()),
        Section(WHO_AND_WHERE, (_facts(PEOPLE, circuit, asked=False),)),
        Section(AT_THE_PANEL, (_facts(PANEL, circuit, asked=True),)),
        _signs(circuit),
        _walk(circuit),
        *(section for parts in PARTS if (section := _parts(parts, circuit)) is not None),
        _inside(circuit),
        *((_new_parts(),) if circuit is None else ()),
        _readings(circuit),
        Section("Sketch", (Squares(10),), together=False),
        Section("Photos to bring", (Listing(PHOTOS, boxes=True, numbered=True),)),
        *_guide(report, circuit),
        Section("Before anything is opened", (Listing(SHORT[1:]),)),
    )


def _start() -> Section:
    return Section(
        "Before you start", (Paragraph(START, Tone.CAUTION), Paragraph(KNOWN_WAYS), Paragraph(ONE_LINE, Tone.SMALL))
    )


def _cannot_apply(name: str, circuit: Circuit | None) -> bool:
    """Whether an entry about the panel is no question here: the kind of fuse at a breaker, one handle tied to none."""
    if circuit is None:
        return False
    supply = circuit.supply
    if name == "fuse_type":
        return supply.device == "breaker"
    if name == "other_leg_current":
        return supply.shared_neutral is False and (supply.poles or 1) == 1
    return name == "handle_tie" and supply.shared_neutral is False and supply.poles == 1


def _facts(keys: tuple[tuple[str, str], ...], circuit: Circuit | None, *, asked: bool) -> Facts:
    """Entries of the file, blank where it says nothing; ``asked``: with the ways to know them."""
    pairs: list[tuple[str, Cell]] = []
    for section, name in keys:
        if _cannot_apply(name, circuit):
            continue
        key = SECTIONS[section].keys[name]
        cell = blank_for(key) if circuit is None else key_cell(_part(circuit, section), key)
        pairs.append((TITLES.get((section, name), key.title), BLANK if cell.blank and not asked else cell))
    return Facts(tuple(pairs))


def _part(circuit: Circuit, section: str) -> Any:
    return getattr(circuit, SECTIONS[section].attribute)


def _signs(circuit: Circuit | None) -> Section:
    seen = circuit.site.signs if circuit is not None else None
    title = "Danger signs: leave everything alone and call a licensed electrician"
    if seen is not None:
        text = f"Looked for: {', '.join(seen)} seen." if seen else "Looked for, none seen."
        return Section(title, (Paragraph(text),))
    key = SECTIONS["site"].keys["signs"]
    return Section(title, (Listing((*key.words, "looked, and saw none of these"), boxes=True),))


def _walk(circuit: Circuit | None) -> Section:
    """Room by room, what goes dark; of a file only blank rows for what it does not list yet."""
    columns = (
        Column("Room", 1.3),
        Column("Lights: how many, largest lamp each may have", 2.6),
        Column("Outlets: what is plugged in", 2.4),
        Column("Fans, heaters, other", 1.8),
    )
    rooms = WALK if circuit is None else ()
    rows = [Row((Cell(room), BLANK, BLANK, BLANK)) for room in rooms if room in ROOMS]
    rows += [Row((BLANK,) * 4)] * 3
    text = (
        "Switch the breaker off, walk every room with a lamp to plug in, and write down all that is dead: outdoors, "
        "garage and attic too. Do not trust the list on the panel's door. What is dead may still have another live "
        "circuit in its box."
    )
    title = (
        "What this breaker turns off"
        if circuit is None
        else "What else this breaker turns off and is not in the file yet"
    )
    return Section(title, (Paragraph(text), Table("", columns, tuple(rows))), together=False)


def _inside(circuit: Circuit | None) -> Section:
    """What only an open box tells, for the checks and the plan: a row for each existing box that the work touches."""
    names = [Cell(box.id) for box in touched_boxes(circuit) if not box.is_added] if circuit else [BLANK] * 6
    rows = tuple(Row((name, *[BLANK] * (len(INSIDE_COLUMNS) - 1))) for name in names or [BLANK] * 2)
    text = (
        "Breaker off and locked or tagged, then every wire tested dead; or leave it to the electrician. A cable does "
        "one of these: feed, switched, both, switch loop, travelers."
    )
    return Section("Inside each box", (Paragraph(text), Table("", INSIDE_COLUMNS, rows)), together=False)


def _new_parts() -> Section:
    """The lights, switches and cables that are planned."""
    rows = (Row((BLANK,) * len(NEW_COLUMNS)),) * 6
    return Section("What is to be added", (Table("", NEW_COLUMNS, rows),), together=False)


def _parts(parts: PartsTable, circuit: Circuit | None) -> Section | None:
    if circuit is None:
        return Section(parts.title, (blank_table(parts),), together=False) if parts.rows else None
    table = filled_table(parts, circuit)
    return Section(parts.title, (table,), together=False) if table is not None else None


def _readings(circuit: Circuit | None) -> Section:
    text = (
        "A plug-in meter with a display reads voltage and load at an outlet without opening anything. Clamp readings "
        "at the panel are for an electrician."
    )
    asked = [(section, name) for section, name in READINGS if not _cannot_apply(name, circuit)]
    rows = tuple(_reading_row(section, name, circuit) for section, name in asked)
    more = (Row((BLANK, ASKED, BLANK, BLANK, BLANK)),) if circuit is None else ()
    return Section(METER, (Paragraph(text), Table("", READING_COLUMNS, (*rows, *more))))


def _reading_row(section: str, name: str, circuit: Circuit | None) -> Row:
    """A reading with room for the meter, what was on, and when; only for one that is still to be taken."""
    key = SECTIONS[section].keys[name]
    cell = ASKED if circuit is None else key_cell(_part(circuit, section), key)
    rest = BLANK if cell.blank else Cell("")
    return Row((Cell(key.title), cell, rest, rest, rest))


def _guide(report: Report | None, circuit: Circuit | None) -> tuple[Section, ...]:
    """How to read each entry, the cheapest way first; of a file only what is blank and was not told further up."""
    told = {key_of(unknown.key) for unknown in report.unknowns} if report is not None else set()
    rows = []
    for section, name in GUIDED:
        if circuit is not None and ((section, name) in told or not _is_blank(section, name, circuit)):
            continue
        guide = entry_guide(section, name)
        caution = (guide.caution_in_short,) if guide.caution_in_short else ()
        ways = Cell(guide.read[0], more=(*guide.read[1:3], *caution))
        rows.append(Row((Cell(f"{SECTIONS[section].title}: {guide.title}"), ways)))
    columns = (Column("What", 2.2), Column("How to read it, the cheapest way first", 7))
    return (Section("How to read each", (Table("", columns, tuple(rows)),), together=False),) if rows else ()


def _is_blank(section: str, name: str, circuit: Circuit) -> bool:
    """Whether the sheet leaves that entry blank of any part. A box is known by its trade size or its volume."""
    held = _part(circuit, section)
    parts = held if isinstance(held, tuple) else (held,)
    if name in ("trade_size", "volume"):
        return any(part.trade_size is None and part.volume_m3 is None for part in parts)
    return any(getattr(part, SECTIONS[section].keys[name].attribute) is None for part in parts)
