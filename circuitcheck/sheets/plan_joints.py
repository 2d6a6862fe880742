"""The list of joints: for every box that the work opens, which conductors join which."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from circuitcheck.advice.box_ends import THE_BOX
from circuitcheck.advice.item import boxes_named, listed, named
from circuitcheck.advice.joints import End, EndKind, Joint, JointKind, Untold
from circuitcheck.advice.low_voltage_wiring import LowVoltagePlace
from circuitcheck.advice.materials_joining import composition
from circuitcheck.advice.nets import NetKind
from circuitcheck.advice.wiring import BoxWiring
from circuitcheck.note.part_words import entry_words
from circuitcheck.paper import Cell, Column, Known, Listing, Paragraph, Row, RowKind, Section, Table, Tone

COLUMNS = (Column("What", 1.7), Column("Conductors", 4.2), Column("How", 3.2))

SWITCH_COLUMNS = (
    Column("Terminal or lead", 1.7),
    Column("What it is", 2.2),
    Column("Conductor", 3.6),
    Column("How", 2.4),
)

#: More boxes than this, and those that are wired alike are told once.
SHORT = 12

#: Fewer alike than this stay as they are.
MANY = 4

GENERAL = (
    "One conductor under one terminal, unless it is marked for more: else a splice, and a pigtail to the terminal.",
    "Colors are how the cable is planned. In existing cable a color proves nothing: it is what to expect, "
    "and to be proved dead and by test. A white wire that the list calls re-identified is hot: mark it at both ends.",
    "A device has terminals or leads: the conductor goes to its terminal, or is spliced to its lead.",
    "Never use the equipment ground as a neutral, nor a neutral of another circuit.",
    "Wires of luminaires are mostly stranded and thinner: the connector's label has to list that mix.",
)

MAKE_SURE = (
    "verify first: operate every switch and watch what goes off; where that does not settle it, an electrician does"
)

WHO = (
    "What is unknown here is told by whoever opens the box dead and tests it: a licensed electrician where that "
    "is not plain. Write it into the circuit file and make the plan again. Until then, join nothing in these boxes."
)


def joints_section(wiring: Sequence[BoxWiring]) -> Section:
    """All boxes, the new ones from the far end toward the panel, the existing ones last."""
    blocks: list[Paragraph | Listing | Table] = [Listing(GENERAL)]
    rows = [row for group in _alike(wiring) for row in _box_rows(group)]
    if rows:
        blocks.append(Table("", COLUMNS, tuple(rows)))
    else:
        blocks.append(Paragraph("The work opens no box of this circuit."))
    return Section("Splices and terminations", tuple(blocks), together=False)


def switches_section(wiring: Sequence[BoxWiring]) -> Section | None:
    """Every switch that the work touches: a row for each conductor, with the terminal it goes to; None without one."""
    rows: list[Row] = []
    for one in wiring:
        devices = dict.fromkeys(end.device for joint in one.joints.joints for end in joint.ends if end.device)
        devices |= dict.fromkeys(untold.end.device for untold in one.joints.untold if untold.end.device)
        for device in devices:
            rows.append(Row((Cell(f"“{device}” in box “{one.box.id}”"),), RowKind.GROUP))
            rows += _switch_rows(device, one)
    if not rows:
        return None
    return Section("Each switch, conductor by conductor", (Table("", SWITCH_COLUMNS, tuple(rows)),), together=False)


def _switch_rows(device: str, one: BoxWiring) -> Iterator[Row]:
    for joint in one.joints.joints:
        for end in joint.ends:
            if end.device == device:
                others = " + ".join(_end(other) for other in joint.ends if other is not end)
                pigtail = joint.kind is JointKind.SPLICE and end.kind is EndKind.TERMINAL
                by = f"a pigtail from the splice of {others}" if pigtail else others
                yield Row((Cell(_side(end), strong=True), Cell(joint.net.words), Cell(by), Cell(_how_ends(joint))))
    for untold in one.joints.untold:
        if untold.end.device == device:
            why = f"unknown: {untold.why}"
            yield Row((Cell(_side(untold.end)), Cell("", Known.UNKNOWN), Cell(""), Cell(why)))


def _side(end: End) -> str:
    """The terminal of a switch as its own marking has it: the last words of the part."""
    side = end.part.rpartition(", ")[2] if ", " in end.part else ""
    return "ground" if end.net.kind is NetKind.GROUND else side or end.part


def _how_ends(joint: Joint) -> str:
    if joint.kind is JointKind.CAPPED:
        return "stays free; a lead is capped by itself"
    return "to its terminal, or spliced to its lead"


def untold_section(wiring: Sequence[BoxWiring]) -> Section | None:
    """The boxes in which it cannot be told what joins what, why, and which entries would tell; None without one."""
    untold = [one for one in wiring if one.joints.untold]
    if not untold:
        return None
    who = Paragraph(f"In {boxes_named(one.box.id for one in untold)} it cannot all be told. {WHO}", Tone.CAUTION)
    rows: list[Row] = []
    for group in _alike(untold):
        rows.append(_box_heading(group))
        rows += _untold_rows(group[0].joints.untold)
    return Section("Splices still unknown", (who, Table("", COLUMNS, tuple(rows))), together=False)


def low_voltage_joints_section(places: Sequence[LowVoltagePlace]) -> Section | None:
    """What is joined behind the drivers; None without one."""
    if not places:
        return None
    rows: list[Row] = []
    for place in places:
        rows.append(Row((Cell(f"{place.name} (behind {place.driver})"),), RowKind.GROUP))
        rows += [_joint_row(joint) for joint in place.joints.joints]
        rows += _untold_rows(place.joints.untold)
    note = "Keep these apart from the power conductors, in their own box or behind a barrier. Watch the polarity."
    return Section("Splices behind the drivers", (Table("", COLUMNS, tuple(rows), note),), together=False)


def _alike(wiring: Sequence[BoxWiring]) -> list[list[BoxWiring]]:
    """Boxes that are wired alike together, where there are many; else each by itself."""
    if len(wiring) <= SHORT:
        return [[one] for one in wiring]
    groups: dict[object, list[BoxWiring]] = {}
    for one in wiring:
        groups.setdefault(_signature(one), []).append(one)
    return [part for group in groups.values() for part in ([group] if len(group) >= MANY else [[one] for one in group])]


def _signature(one: BoxWiring) -> object:
    """What two boxes have in common when one may stand for the other."""
    joints = tuple((joint.kind, joint.net, composition(joint), joint.is_new) for joint in one.joints.joints)
    return (
        one.is_existing,
        bool(one.taken or one.chosen or one.hot_whites),
        joints,
        tuple(untold.why for untold in one.joints.untold),
    )


def _box_heading(group: Sequence[BoxWiring]) -> Row:
    first = group[0]
    where = f"{first.box.room}; " if first.box.room else ""
    state = f"{where}{'existing, opened last' if first.is_existing else 'NEW'}"
    more = f"; wired alike: {named(one.box.id for one in group[1:])}" if len(group) > 1 else ""
    return Row((Cell(f"Box “{first.box.id}” ({state}){more}"),), RowKind.GROUP)


def _box_rows(group: Sequence[BoxWiring]) -> Iterator[Row]:
    first = group[0]
    yield _box_heading(group)
    for joint in first.joints.joints:
        if joint.is_new:
            yield _joint_row(joint)
    old = [joint for joint in first.joints.joints if not joint.is_new]
    if old:
        what = listed([joint.net.words for joint in old])
        yield Row((Cell("stays"), Cell(what), Cell("the work adds nothing to these splices: leave them")))
    for taken in first.taken:
        yield Row((Cell("assumed", Known.GUESS), Cell(taken), Cell(MAKE_SURE)))
    for chosen in first.chosen:
        yield Row((Cell("chosen"), Cell(chosen), Cell("keep to it in every box of this run")))
    if first.hot_whites:
        whites = listed([cable.id for cable in first.hot_whites])
        yield Row((Cell("white, but hot"), Cell(whites), Cell("re-identify the white wire here, and treat it as live")))


def _joint_row(joint: Joint) -> Row:
    return Row((Cell(joint.net.words, strong=True), Cell(_conductors(joint)), Cell(_how(joint))))


def _conductors(joint: Joint) -> str:
    if joint.kind is JointKind.TERMINAL:
        cable, terminal = sorted(joint.ends, key=lambda end: end.kind is not EndKind.CABLE)
        return f"{_end(cable)} → {_terminal(terminal)}"
    return " + ".join(_end(end) for end in joint.ends)


def _end(end: End) -> str:
    maybe = " (if there is one)" if end.perhaps else ""
    if end.kind is EndKind.TERMINAL:
        return f"pigtail to {_terminal(end)}{maybe}"
    if end.kind is EndKind.LEAD:
        return f"{'ground lead' if end.net.kind is NetKind.GROUND else 'lead'} of “{end.part}”{maybe}"
    return f"{_colored(end)}{maybe}"


def _colored(end: End) -> str:
    """A conductor of a cable by its color: ``black of “to wall 1”``; one that is there already is to be proved."""
    color = f"{end.color.words} of " if end.color.name else ""
    return f"{color}“{end.cable}”{'' if end.added else ', existing: to be proved'}"


def _terminal(end: End) -> str:
    ground = end.net.kind is NetKind.GROUND and end.part != THE_BOX
    return f"ground screw or lead of {end.part}" if ground else end.part


def _how(joint: Joint) -> str:
    if joint.kind is JointKind.SPLICE:
        return f"splice of {composition(joint)}"
    if joint.kind is JointKind.TERMINAL:
        return "to its terminal, or spliced to its lead"
    if joint.kind is JointKind.CAPPED:
        return "capped by itself, with a connector listed for one conductor"
    return "runs through uncut"


def _untold_rows(untold: Iterable[Untold]) -> Iterator[Row]:
    """One row for each reason, with the ends that it holds back and the entries that would settle it."""
    reasons: dict[str, list[Untold]] = {}
    for one in untold:
        reasons.setdefault(one.why, []).append(one)
    for why, held in reasons.items():
        parts = dict.fromkeys(_held(one.end) for one in held)
        keys = list(dict.fromkeys(one.end.key for one in held if one.end.key))
        told = f"; this would settle it: {listed([entry_words(key) for key in keys])}" if keys else ""
        yield Row((Cell("", Known.UNKNOWN), Cell(listed(list(parts))), Cell(f"unknown: {why}{told}")))


def _held(end: End) -> str:
    if end.kind is EndKind.CABLE:
        kind = "the ground" if end.net.kind is NetKind.GROUND else "conductors"
        return f"{kind} of {end.cable}"
    return f"{'lead' if end.kind is EndKind.LEAD else 'terminal'} of {end.part}"
