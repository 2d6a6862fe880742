"""One run behind a driver, solved: the voltage at every light and the current in every cable."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from circuitcheck.circuit.model import Cable
from circuitcheck.physics.low_voltage_network import DRIVER, Flow, Network, flow
from circuitcheck.physics.low_voltage_strip import Place, lowest_v
from circuitcheck.rules.low_voltage.light import Light


@dataclass(frozen=True, slots=True)
class Lead:
    """A cable and the resistance of both its conductors at its best and at its worst [ohm]."""

    cable: Cable
    low_ohm: float
    high_ohm: float

    def ohm(self, *, worst: bool) -> float:
        """The resistance at this end [ohm]."""
        return self.high_ohm if worst else self.low_ohm


@dataclass(frozen=True, slots=True)
class Step:
    """One place of a run (a light, or a box where cables are spliced) and the cable or the two that feed it."""

    from_id: str
    to_id: str
    leads: tuple[Lead, ...]
    light: Light | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RunState:
    """A solved run. ``served`` False: no voltage serves every light, so the rest is empty.

    ``lowest_v``: light -> the lowest voltage along it [V]; ``light_w``: light -> what it uses itself [W].
    ``cable_a``: cable -> its current [A].
    ``drawn_w``: what the driver gives to this run, line losses included [W]; ``lost_w`` the losses alone.
    """

    served: bool
    lowest_v: Mapping[str, float]
    light_w: Mapping[str, float]
    cable_a: Mapping[str, float]
    drawn_a: float = 0.0
    drawn_w: float = 0.0
    lost_w: float = 0.0


_UNSERVED = RunState(served=False, lowest_v={}, light_w={}, cable_a={})


def solved(
    driver_id: str,
    output_v: float,
    steps: tuple[Step, ...],
    *,
    worst: bool,
    worst_wires: bool,
    lead_ohm: Mapping[str, float],
) -> RunState:
    """The state of a run with its lights at their worst or best end, and its wires at theirs.

    ``lead_ohm`` replaces the resistance of cables [ohm].
    """
    network = Network()
    onward = {driver_id: DRIVER}
    entry: dict[str, int] = {}
    places: dict[str, Place] = {}
    ohms: dict[str, list[float]] = {}
    for step in steps:
        parent = onward[step.from_id]
        resistances = [lead_ohm.get(lead.cable.id, lead.ohm(worst=worst_wires)) for lead in step.leads]
        ohms[step.to_id] = resistances
        entry[step.to_id] = len(network.parent)
        if step.light is None:
            onward[step.to_id] = network.add(parent, resistances[0])
        else:
            place = step.light.add_to(network, parent, resistances, output_v, worst=worst, worst_wires=worst_wires)
            places[step.to_id] = place
            onward[step.to_id] = place.onward
    found = flow(network, output_v)
    if found is None:
        return _UNSERVED
    cable_a: dict[str, float] = {}
    for step in steps:
        cable_a.update(_currents(step, ohms[step.to_id], entry[step.to_id], network, found, places))
    return RunState(
        served=True,
        lowest_v={name: lowest_v(place, found.voltage_v) for name, place in places.items()},
        light_w={name: _used_w(place, network, found) for name, place in places.items()},
        cable_a=cable_a,
        drawn_a=found.current_a[DRIVER],
        drawn_w=output_v * found.current_a[DRIVER],
        lost_w=found.lost_w,
    )


def _used_w(place: Place, network: Network, found: Flow) -> float:
    """What a light uses itself, all along it [W]."""
    volts = found.voltage_v
    return sum(volts[node] * network.drawn_a(node, volts[node]) for node in place.nodes)


def _currents(
    step: Step, resistances: list[float], entry: int, network: Network, found: Flow, places: Mapping[str, Place]
) -> Mapping[str, float]:
    """The current in each cable that feeds a place: two share it where a strip is fed at both ends."""
    entering = found.current_a[entry]
    if len(step.leads) == 1:
        return {step.leads[0].cable.id: entering}
    first, second = step.leads[0].cable.id, step.leads[1].cable.id
    greater = max(resistances)
    if greater <= 0.0:
        return {first: entering / 2.0, second: entering / 2.0}
    nodes = places[step.to_id].nodes
    returned = (found.voltage_v[network.parent[entry]] - found.voltage_v[nodes[-1]]) / greater
    return (
        {first: entering, second: returned} if resistances[0] <= resistances[1] else {first: returned, second: entering}
    )
