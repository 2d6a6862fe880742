"""Materials at the boxes: the boxes themselves, what holds cable in them, what grounds and what covers them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from circuitcheck.advice.box_sizes import smallest_trade_size
from circuitcheck.advice.item import Group, Item, counted, named
from circuitcheck.circuit.model import PANEL, Box, Cable, Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.quantities import in_unit, rounded_down, rounded_up
from circuitcheck.tables.rulebook import Rulebook

#: Tables of volumes have two decimals.
DIGITS = 4


def box_items(circuit: Circuit, book: Rulebook, fill: Mapping[str, Finding]) -> Iterator[Item]:
    """New boxes of at least the volume needed, and existing ones that are too full. ``fill``: box-fill by box id."""
    yield from _new_boxes(circuit, book, fill, [box for box in circuit.boxes if box.is_added])
    yield from _larger_boxes(circuit, book, fill)


def changed_boxes(circuit: Circuit, book: Rulebook, failing: Mapping[str, Finding]) -> Iterator[Item]:
    """Boxes instead of those that are too small, planned or there. ``failing``: box-fill findings that fail."""
    planned = [box for box in circuit.boxes if box.is_added and box.id in failing]
    yield from _new_boxes(circuit, book, failing, planned)
    yield from _larger_boxes(circuit, book, failing)


def _new_boxes(circuit: Circuit, book: Rulebook, fill: Mapping[str, Finding], boxes: Sequence[Box]) -> Iterator[Item]:
    alike: dict[tuple[str, str, bool], list[Box]] = {}
    for box in boxes:
        alike.setdefault((_what(box, circuit), _planned(box), bool(box.class_2_barrier)), []).append(box)
    for (what, planned, _), same in alike.items():
        ids = [box.id for box in same]
        first = fill.get(ids[0])
        fullest = max(same, key=lambda box: _needed(fill.get(box.id)))  # one size does for all of them
        room = _room(fullest, fill.get(fullest.id), circuit, book)
        yield Item(
            Group.BOXES,
            str(len(ids)),
            f"{what}, at least {room}",
            named(ids),
            f"counted line by line; {planned}",
            first.sources if first is not None else (),
        )


def _larger_boxes(circuit: Circuit, book: Rulebook, fill: Mapping[str, Finding]) -> Iterator[Item]:
    for box in circuit.boxes:
        finding = fill.get(box.id)
        if not box.is_added and finding is not None and finding.outcome in (Outcome.FAIL, Outcome.UNDETERMINED):
            yield _bigger(box, circuit, finding, book)


def _bigger(box: Box, circuit: Circuit, finding: Finding, book: Rulebook) -> Item:
    if finding.outcome is Outcome.UNDETERMINED or finding.limit is None or finding.value is None:
        why = "whether the existing box is big enough is unknown"
        return Item(
            Group.BOXES,
            "perhaps 1",
            f"box of at least {_room(box, finding, circuit, book)}",
            box.id,
            why,
            finding.sources,
        )
    smallest = smallest_trade_size(box, circuit, book)
    size = f", trade size {smallest} or larger" if smallest else ""
    short = max(finding.value, _for_the_power_side(box, finding, circuit, book)) - finding.limit
    has_ring = short <= in_unit(book.value("largest-marked-ring").number, "in^3")
    ring = f", or a ring marked with {rounded_up(short, DIGITS)} in^3 or more" if has_ring else ""
    return Item(
        Group.BOXES,
        "1",
        f"box of at least {_room(box, finding, circuit, book)}{size}{ring}",
        f"in place of {box.id}{', or on it' if has_ring else ''}",
        f"the one that is there has {rounded_down(finding.limit, DIGITS)} in^3; or start the new cable from another "
        "box",
        finding.sources,
    )


def _needed(finding: Finding | None) -> float:
    """What the count needs at worst [in^3]; without end where it is not known, so that it is told first."""
    return math.inf if finding is None or finding.high is None else finding.high


def _room(box: Box, finding: Finding | None, circuit: Circuit, book: Rulebook) -> str:
    """The volume to ask for in a shop: what the count needs at worst, and what an unmarked divider takes of it."""
    if finding is None or finding.high is None:
        return "the volume that box fill requires (unknown)"
    needed = finding.high
    if box.class_2_barrier:
        kind = "metal" if box.material == "metal" else "nonmetallic"
        needed = max(needed, _for_the_power_side(box, finding, circuit, book))
        needed += in_unit(book.value(f"box-fill-barrier-{kind}").number, "in^3")
    return f"{rounded_up(needed, DIGITS)} in^3"


def _for_the_power_side(box: Box, finding: Finding, circuit: Circuit, book: Rulebook) -> float:
    """How large a box with a divider is whose smallest space surely holds the wires of the branch circuit [in^3].

    Without a divider 0. What is no low-voltage cable counts there, at worst.
    """
    if not box.class_2_barrier or finding.high is None:
        return 0.0
    low_voltage = sum(part.value for part in finding.parts if part.subject in circuit.tree.driver_of)
    gangs = max(1, box.gangs or 0, sum(device.gangs for device in box.devices or ()))
    share = min(book.value("divided-box-part").number, 1.0 / gangs)
    return (finding.high - low_voltage) / share


def _planned(box: Box) -> str:
    if box.volume_m3 is not None:
        return f"planned: {rounded_down(in_unit(box.volume_m3.low, 'in^3'), DIGITS)} in^3"
    return f"planned: {box.trade_size}" if box.trade_size is not None else "no size is planned yet"


def _what(box: Box, circuit: Circuit) -> str:
    """What kind of box, as its own mark has to say."""
    luminaire = any(load.kind in ("light", "fan", None) for load in circuit.tree.loads_at.get(box.id, ()))
    made_for = box.made_for or ("luminaire" if luminaire else "device" if box.devices else "junction")
    mounting = {
        "retrofit": "retrofit ",
        "bar hanger": "bar-hanger ",
        "surface": "surface ",
        "framing": "",
        None: "",
    }[box.mounting]
    weights = [load.weight_kg.high for load in circuit.tree.loads_at.get(box.id, ()) if load.weight_kg is not None]
    holds = f" that holds {rounded_up(in_unit(max(weights), 'lb'))} lb" if weights else ""
    gangs = sum(device.gangs for device in box.devices or ())
    wide = f" for {gangs} gangs" if gangs > 1 else ""
    return f"{mounting}box{wide}, {box.material or 'metal or nonmetallic'}, marked for a {made_for}{holds}"


def fitting_items(circuit: Circuit, book: Rulebook) -> Iterator[Item]:
    """Clamps or fittings for the added cables where the box has none of its own."""
    secured = book.value("cable-secured-to-box")
    sure: list[str] = []
    perhaps: list[str] = []
    for cable in circuit.tree.branch_cables:
        for box in _ends(cable, circuit):
            if cable.is_added and _may_need_fitting(box):
                (sure if box.material == "metal" and box.internal_clamps is False else perhaps).append(box.id)
    panel = [cable.id for cable in circuit.tree.branch_cables if cable.is_added and cable.from_id == PANEL]
    if sure or perhaps:
        yield Item(
            Group.FITTINGS,
            counted(len(sure), len(sure) + len(perhaps)),
            "clamp or fitting for one cable, listed for its type",
            named([*sure, *perhaps]),
            "one for each new cable in a box without clamps of its own",
            (secured.source,),
        )
    if panel:
        why = "chosen and fitted by the electrician at the panel"
        yield Item(Group.FITTINGS, str(len(panel)), "cable fitting at the panel", named(panel), why, (secured.source,))


def _ends(cable: Cable, circuit: Circuit) -> Iterator[Box]:
    for node in (cable.from_id, cable.to_id):
        box = circuit.tree.box.get(node)
        if box is not None:
            yield box


def _may_need_fitting(box: Box) -> bool:
    """Whether a cable needs a fitting there: not where the box has clamps, nor at a single-gang plastic box."""
    if box.internal_clamps:
        return False
    single = sum(device.gangs for device in box.devices or ()) == 1
    return box.material != "nonmetallic" or not single


def grounding_items(circuit: Circuit, book: Rulebook) -> Iterator[Item]:
    """A green screw or clip for each new metal box."""
    joined = book.value("equipment-grounds-joined")
    metal = [box.id for box in circuit.boxes if box.is_added and box.material == "metal"]
    perhaps = [box.id for box in circuit.boxes if box.is_added and box.material is None]
    loose = [box.id for box in circuit.boxes if not box.is_added and box.material == "metal" and box.bonded is False]
    if metal or perhaps or loose:
        yield Item(
            Group.GROUNDING,
            counted(len(metal) + len(loose), len(metal) + len(loose) + len(perhaps)),
            "green ground screw or clip for a metal box",
            named([*metal, *loose, *perhaps]),
            "a connection of its own from each metal box to the equipment grounds",
            (joined.source,),
        )


def cover_items(circuit: Circuit, book: Rulebook) -> Iterator[Item]:
    """Plates and covers: every box is closed before power comes back."""
    closed = book.value("box-stays-accessible")
    plates: dict[int, list[str]] = {}
    blanks: list[str] = []
    for box in circuit.boxes:
        if not box.is_added and box.covered is not False:
            continue
        hangs = [load for load in circuit.tree.loads_at.get(box.id, ()) if load.kind != "receptacle"]
        if box.devices:
            plates.setdefault(sum(device.gangs for device in box.devices or ()), []).append(box.id)
        elif not hangs:
            blanks.append(box.id)
    why, sources = "every box is closed", (closed.source,)
    for gangs, ids in sorted(plates.items()):
        what = f"device plate for {gangs} gang" + ("s" if gangs > 1 else "")
        yield Item(Group.COVERS, str(len(ids)), what, named(ids), why, sources)
    if blanks:
        yield Item(Group.COVERS, str(len(blanks)), "blank cover", named(blanks), why, sources)
    lights = [load.box for load in circuit.loads if load.is_added and load.kind in ("light", "fan", None)]
    if lights:
        why = "the luminaire closes the box; its canopy or pan comes with it"
        yield Item(Group.COVERS, str(len(set(lights))), "canopy or pan", named(lights), why, sources)


def plate_items(circuit: Circuit, book: Rulebook) -> Iterator[Item]:
    """Steel plates where cable passes too near the face of the framing."""
    distance, thickness = book.value("cable-edge-distance"), book.value("protection-plate-thickness")
    near = [
        one.id
        for one in circuit.framing
        if one.is_added
        and one.plates is not True
        and (one.cut == "notch" or (one.edge_distance_m is not None and one.edge_distance_m.low < distance.number))
    ]
    passing = [
        cable
        for cable in circuit.tree.branch_cables
        if cable.is_added and cable.run in ("through framing", "along framing", None)
    ]
    close = [c.id for c in passing if c.edge_distance_m is None or c.edge_distance_m.low < distance.number]
    what = f"steel plate, at least {in_unit(thickness.number, 'in'):g} in thick"
    rule = f"where the cable is nearer than {in_unit(distance.number, 'in'):g} in to the face of the framing"
    sources = (distance.source, thickness.source)
    if near:
        yield Item(Group.SUPPORTS, str(len(near)), what, named(near), rule, sources)
    crossed = book.value("framing-spacing")
    if close:
        many = _most_plates([cable for cable in passing if cable.id in close], crossed.number)
        sources_of = (*sources, crossed.source) if many else sources
        why = f"one at each place {rule}"
        yield Item(Group.SUPPORTS, many or "as many as it takes", what, named(close), why, sources_of)
    elif passing and any(cable.plates for cable in passing):
        planned = [cable for cable in passing if cable.plates]
        many = _most_plates(planned, crossed.number)
        sources_of = (*sources, crossed.source) if many else sources
        why = f"the file plans plates; required {rule}"
        yield Item(Group.SUPPORTS, many or "as planned", what, named(one.id for one in planned), why, sources_of)


def _most_plates(cables: Sequence[Cable], spacing_m: float) -> str:
    """At most one plate for each stud or joist that the runs cross; empty where a run or its length is not known."""
    lengths = [cable.length_m.high for cable in cables if cable.length_m is not None and cable.run == "through framing"]
    if len(lengths) < len(cables):
        return ""
    return f"up to {sum(math.ceil(length / spacing_m) for length in lengths)}"
