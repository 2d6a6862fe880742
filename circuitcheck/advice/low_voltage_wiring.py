"""Which low-voltage conductors join which, behind each driver."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from circuitcheck.advice.joints import End, EndKind, Joints, joints_of
from circuitcheck.advice.nets import Net, NetKind, untold
from circuitcheck.circuit.model import Cable, Circuit, Driver

#: How the two sides of an output are called, by kind of output.
SIDES = {"dc": ("plus", "minus"), "ac": ("side 1", "side 2"), None: ("side 1", "side 2")}


@dataclass(frozen=True, slots=True)
class LowVoltagePlace:
    """A driver, a splice point or a light, and what is joined there."""

    name: str
    driver: str
    joints: Joints


def low_voltage_wiring_of(circuit: Circuit) -> tuple[LowVoltagePlace, ...]:
    """Every place behind the drivers at which the work adds something, from the driver outward."""
    return tuple(place for driver in circuit.drivers for place in _places(driver, circuit))


def _places(driver: Driver, circuit: Circuit) -> Iterator[LowVoltagePlace]:
    tree = circuit.tree
    cables = [cable for cable in tree.low_voltage_cables if tree.driver_of[cable.id] == driver.id]
    at: dict[str, list[Cable]] = {driver.id: []}
    for cable in cables:
        at.setdefault(cable.from_id, []).append(cable)
        at.setdefault(cable.to_id, []).append(cable)
    for place, found in at.items():
        if not driver.is_added and not any(cable.is_added for cable in found):
            continue
        for name, meeting in _meetings(place, found, circuit):
            ends = [end for cable in meeting for end in _cable_ends(cable, driver)]
            ends += _part_ends(place, driver, circuit)
            yield LowVoltagePlace(name, driver.id, joints_of(ends))


def _meetings(place: str, cables: list[Cable], circuit: Circuit) -> Iterator[tuple[str, list[Cable]]]:
    """Where the cables of a place meet: a strip with several has leads at each end, one end for each cable."""
    light = circuit.tree.low_voltage_load.get(place)
    if light is not None and light.power_per_length_w_per_m is not None and len(cables) > 1:
        yield from ((f"{place}, where {cable.id} ends", [cable]) for cable in cables)
    else:
        yield place, cables


def _nets(driver: Driver) -> tuple[Net, Net]:
    first, second = SIDES[driver.output_kind]
    return Net(NetKind.LOW_VOLTAGE, driver.id, first), Net(NetKind.LOW_VOLTAGE, driver.id, second)


def _cable_ends(cable: Cable, driver: Driver) -> Iterator[End]:
    nets = _nets(driver)
    plain = End(EndKind.CABLE, cable.id, nets[0], cable.size, cable.material, cable.id, cable.is_added)
    if cable.conductors is None:
        yield replace(plain, net=untold("how many conductors it has is not known"), key=str(cable.entry("conductors")))
        return
    for number in range(cable.conductors):
        net = (
            nets[number] if number < len(nets) else untold("an output has two sides; what this one is for is not said")
        )
        yield replace(plain, net=net, key=str(cable.entry("conductors")))


def _part_ends(place: str, driver: Driver, circuit: Circuit) -> Iterator[End]:
    """The output of the driver, or the leads of a light."""
    light = circuit.tree.low_voltage_load.get(place)
    for net in _nets(driver):
        if place == driver.id:
            yield End(EndKind.TERMINAL, f"{place}, output", net, added=driver.is_added, feeds=True)
        elif light is not None:
            yield End(EndKind.TERMINAL, place, net, added=light.is_added)
