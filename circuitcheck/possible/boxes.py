"""What follows about the unknown entries of a box from what else the file says of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from circuitcheck.circuit.model import Box, Circuit, Device, FixtureWires, Load, OtherCable, Unbroken
from circuitcheck.possible.entry import UNSETTLED, Inference, Later, Possible, is_surely_added
from circuitcheck.possible.usual_leads import usual_leads, wired_in
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook

_RECEPTACLE, _CORD = "receptacle", "cord"


def volume(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A box whose trade size is given has the volume of the table; of one with neither nobody knows it."""
    if box.volume_m3 is not None or box.trade_size is not None:
        return None
    return Possible((None,), "marked volume and trade size unknown")


def depth(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A box with a device and no trade size is taken to be deep enough; the shallowest box tells what rests on it."""
    if box.depth_m is not None or box.trade_size is not None or not box.devices:
        return None
    shallow = book.value("box-depth-plain")
    says = "depth not given; deep enough for its device is assumed"
    return Possible((None, shallow.number), says, (shallow.source,), presumed=True)


def devices(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A switch or a receptacle stands on a yoke, so a box that lists no device may hold one for each of them.

    So may one that lists fewer. Where its devices are told, nothing plugged in tells of a receptacle: another rule asks
    about that.
    """
    there, perhaps = _on_devices(box, circuit, plugged_in=box.devices is None)
    if box.devices:
        return _more_than_listed(box, box.devices, there)
    all_told = [*there, *perhaps]
    if not all_told:
        return Possible(((),))
    says = f"{all_told[0]} is there and no device is listed; one for each switch and receptacle is assumed"
    unlisted = Device(kind="a device that is not listed")
    return Possible(tuple((unlisted,) * count for count in range(len(all_told) + 1)), says)


def _more_than_listed(box: Box, listed: tuple[Device, ...], there: list[str]) -> Possible | None:
    """A list may leave out a switch or a receptacle, such as one that the work brings; or two of them share a yoke.

    Where the gangs of the box are told and what is listed fills them, no other yoke has a place there.
    """
    more = len(there) - len(listed)
    told = box.gangs is not None and box.known_by.get("gangs") != How.GUESS
    if more <= 0 or (told and sum(device.gangs for device in listed) >= (box.gangs or 0)):
        return None
    says = f"{', '.join(there)} are there and fewer devices are listed; up to one for each is assumed"
    left_out = Device(kind="a device left off the list")
    return Possible(tuple((*listed, *(left_out,) * count) for count in range(more + 1)), says)


def _is_certain(load: Load, key: str) -> bool:
    return load.known_by.get(key) != How.GUESS


def _on_devices(box: Box, circuit: Circuit, *, plugged_in: bool) -> tuple[list[str], list[str]]:
    """What stands on a yoke in a box: its switches and receptacles, or something that plugs in there.

    Then what perhaps does: a load of which it is not certain that it is none of these. What plugs in may plug into one
    of those that may be receptacles, so it asks for none beside them.
    """
    loads = circuit.tree.loads_at.get(box.id, ())
    receptacles = [load.id for load in loads if load.kind == _RECEPTACLE and _is_certain(load, "kind")]
    there = [control.id for control in circuit.controls if control.box == box.id] + receptacles
    plugs = [load.id for load in loads if load.connection == _CORD and _is_certain(load, "connection")]
    perhaps = [load.id for load in loads if load.kind is None or not _is_certain(load, "kind")]
    if plugged_in and not receptacles and plugs:
        there.append(plugs[0])
        perhaps = [name for name in perhaps if name != plugs[0]] if plugs[0] in perhaps else perhaps[1:]
    if plugged_in and not receptacles and not plugs and not perhaps:
        perhaps = [load.id for load in loads if load.connection is None or not _is_certain(load, "connection")][:1]
    return there, perhaps


def fixture_wires(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """None where nothing hardwired is in the box, else at the most what its kind usually brings, at the least none.

    What somebody counted is believed.
    """
    wires, _, source = usual_leads(box, circuit, book)
    if box.fixture_wires is not None:
        return _fewer_than_two_each(box, box.fixture_wires, circuit, wires)
    if source is None:
        return Possible(((),))
    thick, _, _ = usual_leads(box, circuit, book, thick=True)
    count = sum(each.count for each in wires)
    says = f"leads of the light or driver not counted; none to {count} of {wires[0].size} are assumed"
    return Possible(((), wires, thick) if thick != wires else ((), wires), says, (source,))


def _fewer_than_two_each(
    box: Box, counted: tuple[FixtureWires, ...], circuit: Circuit, usual: tuple[FixtureWires, ...]
) -> Possible | None:
    """What was counted may be the leads of what was there before; but a bare lampholder brings none.

    So it is believed, and told where two for each of the lights and drivers would turn the answer.
    """
    names, pieces = wired_in(box, circuit)
    drivers = circuit.tree.drivers_at.get(box.id, ())
    fewer = 2 * pieces - sum(each.count for each in counted)
    if fewer <= 0 or (pieces < 2 and not drivers):
        return None
    says = f"fewer than two leads are counted for each of {', '.join(names)}; no more are assumed"
    more = (*counted, FixtureWires(size=usual[0].size, count=fewer))
    return Possible((counted, more), says, presumed=True)


def fixture_ground(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """None where nothing hardwired in the box has a ground lead."""
    if box.fixture_ground == "none":
        return Possible((None,))
    if box.fixture_ground is not None:
        return None
    _, size, source = usual_leads(box, circuit, book)
    if size is None or source is None:
        return Possible((None,))
    _, thick, _ = usual_leads(box, circuit, book, thick=True)
    sizes = (size,) if thick in (None, size) else (size, thick)
    return Possible((None, *sizes), "unknown whether the light's own ground lead enters the box", (source,))


def unbroken(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Conductors that run through without a splice may be another circuit's, which come on top of the cables'.

    Where none are listed there are none, and that is told where two more would turn the answer.
    """
    if box.unbroken is None:
        if is_surely_added(box):
            return Possible(((),))
        more = (Unbroken(size=book.value("cable-of-another-circuit").text, count=2, other_circuit=True),)
        return Possible(
            ((), more), "no conductors that run through unbroken are listed; none are assumed", presumed=True
        )
    if all(run.other_circuit is not None for run in box.unbroken):
        return None
    ways = tuple(
        tuple(replace(run, other_circuit=way) if run.other_circuit is None else run for run in box.unbroken)
        for way in (False, True)
    )
    says = "unknown whether the unbroken conductors are another circuit's; they are counted on top"
    return Possible(ways, says, ask_for="unbroken.other_circuit")


def other_cables(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A box of two gangs or more may be shared with another circuit, if not all its devices are this circuit's."""
    if box.other_cables is not None:
        return None
    gangs = _gangs(box) + (box.known_by.get("gangs") == How.GUESS)  # a guess may be short by one
    own = len(_on_devices(box, circuit, plugged_in=True)[0])
    if gangs < 2 or own >= gangs:
        return Possible(((),))
    size = book.value("cable-of-another-circuit")
    cables = tuple(OtherCable(size=size.text, conductors=2) for _ in range(gangs - max(own, 1)))
    return Possible(((), cables), "unknown whether cables of another circuit end in it", (size.source,))


def gangs(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """As many as its devices are wide; where those are a guess perhaps one."""
    if box.gangs is not None:
        return None
    guessed = box.known_by.get("devices") == How.GUESS
    return Possible(tuple(sorted({1, _gangs(box)} if guessed else {_gangs(box)})))


def _gangs(box: Box) -> int:
    return box.gangs or sum(device.gangs for device in box.devices or ()) or 1


def class_2_barrier(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A barrier parts power from class 2 wires, so a box without such wires has none."""
    if box.class_2_barrier is not None:
        return None
    cables = circuit.tree.cables_at.get(box.id, ())
    low_voltage = any(cable.id in circuit.tree.driver_of for cable in cables)
    return UNSETTLED if low_voltage else Possible((False,))


def support_limit(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A box held by the wall finish whose mark nobody read may be made for no more than a light luminaire [kg].

    So may one of which nobody knows how it is held.
    """
    if box.support_limit_kg is not None or box.mounting not in (None, "retrofit"):
        return None
    if box.made_for not in (None, "luminaire", "fan"):
        return None
    light, full = book.value("device-box-luminaire-weight"), book.value("luminaire-box-support")
    return Possible((light.number, full.number), "the weight it is marked for is unknown", (light.source, full.source))


def reachable(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A box behind a light, a switch or a receptacle is reached by taking that off; to keep it so is work to come."""
    tree = circuit.tree
    held = bool(box.devices or tree.loads_at.get(box.id)) or any(control.box == box.id for control in circuit.controls)
    if box.reachable is not None or not held:
        return UNSETTLED if box.reachable is None else None
    return Possible((False, True), "unknown whether it stays accessible", later=Later.WORK_TO_COME)


def covered(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Whoever opens a box closes it again: a cover is work to come."""
    if box.covered is not None:
        return None
    return Possible((False, True), "unknown whether it has a cover", later=Later.WORK_TO_COME)


def fan(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Only a fan is of one kind or the other, and what may be a fan."""
    return None if load.fan is not None or load.kind not in (None, "fan") else UNSETTLED


BOXES: Mapping[str, Inference] = {
    function.__name__: function
    for function in (
        volume,
        depth,
        devices,
        fixture_wires,
        fixture_ground,
        unbroken,
        other_cables,
        gangs,
        class_2_barrier,
        support_limit,
        reachable,
        covered,
        fan,
    )
}
