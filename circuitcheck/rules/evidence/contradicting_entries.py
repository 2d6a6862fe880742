"""Entries that contradict each other: two things that the file says and that cannot both be true.

What it asks: whether the meter reading is near the voltage of the circuit, and does not rise under load; whether a two-
pole breaker and a three-wire cable, or a cable of two circuits, stand beside "not shared"; whether a cable of the
branch circuit has one conductor only; whether a two-wire circuit of 240 V is said to have a neutral, or a box with a
light on 120 V none; whether a place outdoors is said to be dry; whether a driver gives more than it takes; whether a
ground is in a box whose cables bring none; whether only a low-voltage cable leads to a load of the branch circuit; and
whether a lamp is larger than its holder's label.

Why: one of the two is wrong, and which one decides other answers. A judgment that used only one of them would hang on
which was the slip.

What to do: look at both again, and correct the one that is wrong. Where both are right, something else is wrong with
the circuit: the finding says what that may be.

Cannot see: a wrong entry that agrees with the others, and entries that only a person would find odd. A neutral in a box
at the end of a two-wire switch loop has a check of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.case import EvidenceRule
from circuitcheck.circuit.dry_outdoors import dry_outdoors
from circuitcheck.circuit.model import PANEL, Box, Cable, Circuit, Control, Driver, Load, Supply
from circuitcheck.findings import Finding, Outcome, Source, exceeds
from circuitcheck.quantities import How, Interval, normalised
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

_WIRES_OF_A_SHARED_NEUTRAL = 3
_WIRES_OF_A_TWO_WIRE_CABLE = 2
ARMOR = "metal armor"
TWO_CIRCUITS = "two circuits"
LOOK_AGAIN = "Look at both again, and correct the one that is wrong."


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One question for each two entries that cannot both be true; both are named."""
    yield from _voltages(circuit.supply, book)
    yield from _poles(circuit, book)
    yield from _two_circuits(circuit, book)
    yield from _single_conductors(circuit, book)
    yield from _dry_outdoors(circuit, book)
    yield from _neutrals(circuit, book)
    yield from _no_neutrals(circuit, book)
    yield from _grounds(circuit, book)
    yield from _low_voltage_feeds(circuit, book)
    for driver in circuit.drivers:
        yield from _driver(driver, circuit.supply, book)
    for load in circuit.loads:
        yield from _lamp(load, circuit.supply, book)


def _question(subject: str, says: str, keys: tuple[str, ...], source: Source, *to_do: str) -> Finding:
    return Finding(
        check=RULE.name,
        subject=subject,
        outcome=Outcome.UNDETERMINED,
        says=f"{says} One of the two is wrong.",
        sources=(source,),
        needs=keys,
        keys=keys,
        to_do=(LOOK_AGAIN, *to_do),
    )


def _voltages(supply: Supply, book: Rulebook) -> Iterator[Finding]:
    """A reading that belongs to another nominal voltage, and one that is higher under load than without."""
    read, loaded = supply.measured_voltage_v, supply.loaded_voltage_v
    if read is None:
        return
    nominal, share = supply.voltage_v, book.value("meter-voltage-tolerance")
    if exceeds(nominal.low * (1.0 - share.number), read.high) or exceeds(read.low, nominal.high * (1.0 + share.number)):
        yield _question(
            "circuit",
            f"The meter showed {normalised(read, 'V')}, but the circuit is given as {normalised(nominal, 'V')}.",
            ("supply.voltage", "supply.measured_voltage"),
            share.source,
            "Where both are right, use nothing on the circuit, and call the power company or a licensed electrician.",
        )
    rise = book.value("loaded-voltage-rise")
    if loaded is not None and exceeds(loaded.low, read.high + rise.number):
        yield _question(
            "circuit",
            f"The voltage is given as {normalised(read, 'V')} without the load and {normalised(loaded, 'V')} with it. "
            "A load never raises it.",
            ("supply.loaded_voltage", "supply.measured_voltage"),
            rise.source,
            "Where both are right, the neutral may be loose or shared: leave the breaker off and call a licensed "
            "electrician now.",
        )


def _poles(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """A two-pole breaker and a three-wire cable are what a shared neutral looks like."""
    supply = circuit.supply
    told = _is_told(supply, "shared_neutral") and _is_told(supply, "poles")
    if not told or supply.shared_neutral is not False or (supply.poles or 1) < 2:
        return
    between_hots = book.value("multiwire-open-together")
    if supply.voltage_v.low > book.value("one-pole-voltage-most").number:
        return  # two hots and no neutral need two poles
    for cable in circuit.tree.children.get(PANEL, ()):
        wires = cable.conductors
        if wires is not None and wires >= _WIRES_OF_A_SHARED_NEUTRAL and _is_told(cable, "conductors"):
            yield _question(
                "circuit",
                f'The breaker has {supply.poles} poles and cable "{cable.id}" has {wires} insulated '
                "conductors, but the neutral is given as not shared.",
                ("supply.poles", "supply.shared_neutral", str(cable.entry("conductors"))),
                between_hots.source,
                "Turn off both poles, and treat the neutral as live until an electrician has looked in the panel.",
            )
            return


def _two_circuits(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """A cable that carries the hots of two circuits with one neutral, on a circuit that is said to share none.

    With two conductors more than a shared neutral takes, each circuit has a neutral of its own.
    """
    supply = circuit.supply
    if supply.shared_neutral is not False or not _is_told(supply, "shared_neutral"):
        return
    for cable in circuit.tree.branch_cables:
        told = cable.carries == TWO_CIRCUITS and _is_told(cable, "carries")
        if told and (cable.conductors is None or cable.conductors <= _WIRES_OF_A_SHARED_NEUTRAL):
            yield _question(
                "circuit",
                f'Cable "{cable.id}" is said to carry two circuits with one neutral, but the neutral is given as not '
                "shared.",
                (str(cable.entry("carries")), "supply.shared_neutral"),
                book.value("multiwire-open-together").source,
                "Turn off both breakers, and treat the neutral as live until an electrician has looked in the panel.",
            )
            return


def _single_conductors(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Each cable of the branch circuit that is said to hold one insulated conductor: current needs a way back too."""
    for cable in circuit.tree.branch_cables:
        if cable.conductors == 1 and _is_told(cable, "conductors"):
            yield _question(
                cable.id,
                f'Cable "{cable.id}" is part of the branch circuit, but is said to hold one insulated conductor: the '
                "current needs a second one to come back.",
                (str(cable.entry("conductors")),),
                book.value("neutral-for-luminaires").source,
                "Count the wires with insulation, without the equipment ground.",
            )


def _dry_outdoors(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Where something new hangs outdoors a place is damp at best: under a roof, by the book's own definition."""
    outside = book.value("outdoor-rooms")
    for each in dry_outdoors(circuit, outside.items):
        yield _question(
            each.subject,
            f'"{each.subject}" is given as in a dry location, but {each.why}. Outdoors a place is damp under a roof, '
            "else wet.",
            each.keys,
            outside.source,
            "A porch that is closed in all around counts as a sunroom.",
        )


def _neutrals(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """A neutral in a box of a circuit whose two wires from the panel are both hot."""
    one_pole = book.value("one-pole-voltage-most")
    leaving = circuit.tree.children.get(PANEL, ())
    two_wires = all(
        cable.conductors == _WIRES_OF_A_TWO_WIRE_CABLE and _is_told(cable, "conductors") for cable in leaving
    )
    if not leaving or not two_wires or not exceeds(circuit.supply.voltage_v.low, one_pole.number):
        return
    box = next((box for box in circuit.boxes if box.neutral and _is_told(box, "neutral")), None)
    if box is not None:
        yield _question(
            box.id,
            f'Box "{box.id}" is said to have a neutral, but both wires of a two-wire circuit of '
            f"{normalised(circuit.supply.voltage_v, 'V')} are hot.",
            (f"box.{box.id}.neutral", "supply.voltage", f"cable.{leaving[0].id}.conductors"),
            one_pole.source,
        )


def _no_neutrals(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Each box of a one-pole circuit that is said to hold no neutral, with something in it that needs one.

    What is new brings what its cable has: that an old box has none was seen before.
    """
    one_pole, source = book.value("one-pole-voltage-most"), book.value("neutral-for-luminaires").source
    if exceeds(circuit.supply.voltage_v.high, one_pole.number):
        return
    for box in circuit.boxes:
        if box.neutral is not False or not _is_told(box, "neutral"):
            continue
        feed = circuit.tree.feed.get(box.id)
        if not box.is_added and feed is not None and (feed.is_added or not _is_told(feed, "origin")):
            continue
        hung: tuple[Load | Driver, ...] = (
            *circuit.tree.loads_at.get(box.id, ()),
            *circuit.tree.drivers_at.get(box.id, ()),
        )
        part = next((each for each in hung if _is_told(each, "box") and _is_told(each, "origin")), None)
        if part is not None:
            yield _question(
                box.id,
                f'Box "{box.id}" is said to have no neutral, but "{part.id}" in it needs one for its current to come '
                "back. The equipment ground may not stand in for it.",
                (str(box.entry("neutral")), str(part.entry("box"))),
                source,
            )


class _Missing(NamedTuple):
    """Why no ground can come to a box: the entry that says so, and how to say it."""

    ref: Ref
    says: str


def _grounds(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """A ground in an old box to which none comes: asked where the way to the added work leads through it."""
    on_the_way = _boxes_on_the_way(circuit)
    source = book.value("ground-for-extension").source
    lost: dict[str, _Missing | None] = {}
    for cable in circuit.tree.branch_cables:
        box = circuit.tree.box[cable.to_id]
        missing = _without_ground(cable, book) or lost.get(cable.from_id)
        if box.ground and missing and not box.is_added and _is_told(box, "ground"):
            if box.id in on_the_way:
                yield _ground(box, missing, source)
            missing = None  # told once; what comes after it starts from this box
        elif box.ground is False and _is_told(box, "ground"):
            missing = missing or _Missing(
                Ref("box", box.id, "ground"), f'box "{box.id}" before it is said to have none'
            )
        lost[box.id] = missing


def _ground(box: Box, missing: _Missing, source: Source) -> Finding:
    return _question(
        box.id,
        f'Box "{box.id}" is said to have a ground, but {missing.says}.',
        (str(box.entry("ground")), str(missing.ref)),
        source,
        "Where a ground wire of its own was brought to the box, an electrician confirms where it starts.",
    )


def _without_ground(cable: Cable, book: Rulebook) -> _Missing | None:
    """Why no ground can run in a cable; None where one may."""
    kind = cable.type if _is_told(cable, "type") else None
    row = book.table("cable-types").find(kind) if kind is not None else None
    if row is not None and row.yes("grounded_armor"):
        return None
    of_kind = Ref("cable", cable.id, "type")
    if kind is None and cable.sheath == ARMOR and not cable.ground:
        return _Missing(of_kind, f'the kind of armored cable "{cable.id}" is unknown, and only some kinds bring one')
    if kind in book.value("ungrounded-cable-types").items and cable.ground is None:
        return _Missing(of_kind, f'cable "{cable.id}" before it is {kind}, which brings none')
    if cable.ground is False and _is_told(cable, "ground"):
        return _Missing(Ref("cable", cable.id, "ground"), f'cable "{cable.id}" before it is said to have none')
    return None


def _boxes_on_the_way(circuit: Circuit) -> set[str]:
    """The boxes that feed something added, with the panel's side of them."""
    tree = circuit.tree
    hung: tuple[Load | Driver | Control, ...] = (*circuit.loads, *circuit.drivers, *circuit.controls)
    ends = [part.box for part in hung if _may_be_added(part)]
    ends += [end for cable in tree.branch_cables if _may_be_added(cable) for end in (cable.from_id, cable.to_id)]
    found: set[str] = set()
    for end in ends:
        while end in tree.feed and end not in found:
            found.add(end)
            end = tree.feed[end].from_id
    return found


def _may_be_added(part: Load | Driver | Control | Cable) -> bool:
    return part.is_added or part.known_by.get("origin") == How.GUESS


def _low_voltage_feeds(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """A load or driver of the branch circuit in a box that only a low-voltage cable feeds."""
    on_branch = set(circuit.tree.order)
    feed = {cable.to_id: cable for cable in circuit.tree.low_voltage_cables}
    hung: tuple[Load | Driver, ...] = (*circuit.loads, *circuit.drivers)
    for part in hung:
        if part.box in on_branch or part.box not in feed:
            continue
        cable, kind = feed[part.box], "Driver" if isinstance(part, Driver) else "Load"
        yield _question(
            part.id,
            f'{kind} "{part.id}" is listed on the branch circuit, but only low-voltage cable "{cable.id}" feeds its '
            f'box "{part.box}".',
            (str(part.entry("box")), str(cable.entry("to"))),
            book.value("used-as-listed").source,
            "List a light behind a driver as a low-voltage light, and the cable that feeds the box, if there is one.",
        )


def _driver(driver: Driver, supply: Supply, book: Rulebook) -> Iterator[Finding]:
    """A driver gives less than it takes: the difference is its heat."""
    given = driver.output_power_w
    if given is None:
        return
    takes = [("input_power", driver.input_power_w, "W")]
    if driver.input_current_a is not None:
        volts = supply.voltage_v
        apparent = Interval(driver.input_current_a.low * volts.low, driver.input_current_a.high * volts.high)
        takes.append(("input_current", apparent, "VA"))
    for key, taken, unit in takes:
        if taken is not None and exceeds(given.low, taken.high):
            yield _question(
                driver.id,
                f'Driver "{driver.id}" is given an output of {normalised(given, "W")} and an input of only '
                f"{normalised(taken, unit)}.",
                (str(driver.entry(key)), str(driver.entry("output_power"))),
                book.value("driver-counted-by-input-rating").source,
                "Read its label again: input and output are easily mixed up.",
            )
            return


def _lamp(load: Load, supply: Supply, book: Rulebook) -> Iterator[Finding]:
    """A lamp above the label of its holder is too hot for it; the larger counts in every sum."""
    if load.fitted_w is None:
        return
    rated, key, unit = load.power_w, "power", "W"
    if rated is None and load.apparent_va is not None:
        rated, key, unit = load.apparent_va, "apparent", "VA"
    elif rated is None and load.current_a is not None:
        volts = supply.voltage_v
        rated, key = Interval(load.current_a.low * volts.low, load.current_a.high * volts.high), "current"
        unit = "VA"
    if rated is None or not exceeds(load.fitted_w.low, rated.high):
        return
    keys = (str(load.entry("fitted")), str(load.entry(key)))
    yield Finding(
        check=RULE.name,
        subject=load.id,
        outcome=Outcome.CAUTION,
        says=f'Light "{load.id}" has a {normalised(load.fitted_w, "W")} lamp in it, more than the '
        f"{normalised(rated, unit)} of its label. The larger counts here; the lamp is too hot for its holder.",
        sources=(book.value("used-as-listed").source,),
        needs=keys,
        keys=keys,
        to_do=("Switch it off, let it cool, and fit a lamp within the label; look for scorched leads.",),
    )


def _is_told(part: Supply | Box | Cable | Load | Driver, key: str) -> bool:
    """Whether an entry is more than a guess: a guess is open, and its own check asks for it."""
    return part.known_by.get(key) != How.GUESS


RULE = EvidenceRule(
    name="contradicting-entries",
    title="Entries that cannot both be true",
    rank=215,
    check=check,
)
