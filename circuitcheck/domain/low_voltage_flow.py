"""What flows in the runs behind a driver: volts at the lights, current in the cables, watts that the driver gives."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from circuitcheck.case import LESS, MORE, Case, Direction, once
from circuitcheck.case.parts import Cable, Driver, LowVoltageLoad
from circuitcheck.domain.impedance import cable_resistance, metal_is_worse, strands_are_worse, thin_is_worse
from circuitcheck.domain.low_voltage_lights import (
    FALLING,
    LIGHTS_WORSE,
    as_built,
    is_fed_at_both_ends,
    law_of,
    rated_w,
)
from circuitcheck.domain.low_voltage_runs import Run, Step, low_voltage_runs
from circuitcheck.findings import Source, merge_sources
from circuitcheck.physics.low_voltage_network import DRIVER, Flow, Network, flow
from circuitcheck.physics.low_voltage_strip import Feed, Lamp, Law, Place, Strip, add_lamp, add_strip, lowest_v

#: In a run of more places than this no light is solved apart from the others, so that the time stays in step with them.
MOST_SOLVED_APART = 24
#: Stands for no volts at all where current is worked out from power [V].
NEXT_TO_NOTHING = 1e-3


class Solved(NamedTuple):
    """A run with its lights at the voltage that they get. ``served`` False: no voltage serves them, the rest is empty.

    lowest_v, highest_v: light -> the lowest and the highest voltage along it [V]. cable_a: cable -> its current [A].
    drawn_w: what the driver gives to this run, with what the wires turn into heat [W].
    """

    served: bool
    lowest_v: Mapping[str, float]
    highest_v: Mapping[str, float]
    cable_a: Mapping[str, float]
    drawn_w: float


class Counted(NamedTuple):
    """What a run asks for at the ratings of its lights: each cable's current [A], and what the driver gives [W].

    A light whose current falls with its voltage counts with its rated current, as on its label; one that keeps its
    power counts with the current that it draws at the voltage that it gets. So nothing here gets less when a wire gets
    longer, and every range is judged by its ends.
    """

    cable_a: Mapping[str, float]
    drawn_w: float


class _Fed(NamedTuple):
    """A step of a run in its network: its leads [ohm], the node at their end, and the light there."""

    step: Step
    lead_ohm: list[float]
    entry: int
    place: Place | None


_UNSERVED = Solved(False, {}, {}, {}, 0.0)


def output_v(driver: Driver) -> float:
    """The voltage that a driver holds [V]."""
    return max(driver.output_voltage_v, NEXT_TO_NOTHING)


@once
def not_in_tables(case: Case, key: str) -> Cable | None:
    """The first cable of a run whose conductors the tables do not hold."""
    run = low_voltage_runs(case).by_key[key]
    return next((cable for cable in run.cables if cable_resistance(case, cable) is None), None)


@once
def run_sources(case: Case, key: str) -> tuple[Source, ...]:
    """Where the resistance of the cables of a run stands, and how its lights answer to their voltage."""
    run = low_voltage_runs(case).by_key[key]
    resistances = (cable_resistance(case, cable) for cable in run.cables)
    bent = any(law_of(light) is Law.RESISTOR for light in run.lights)
    return merge_sources(
        *(resistance.sources for resistance in resistances if resistance is not None),
        (case.book.value("resistor-strip-diode-share").source,) if bent else (),
    )


def feeding(step: Step) -> tuple[Cable, ...]:
    """The cables that count at a place: both only for a strip that is fed at both ends."""
    return step.cables if is_fed_at_both_ends(step.light) else step.cables[:1]


def solved_for(case: Case, run: Run, light: LowVoltageLoad) -> Solved:
    """The run of a light as it settles, for what that light gets.

    Of the other lights, those whose current falls with their voltage count with their rated current, so that a longer
    cable to another light never raises the voltage here. Where they are very many, so does the light itself.
    """
    if not any(other is not light and law_of(other) in FALLING for other in run.lights):
        return solved_run(case, run.key)
    if len(run.steps) > MOST_SOLVED_APART:
        return _solved_at_rating(case, run.key)
    return _solved_apart(case, run.key, light)


@once
def _solved_apart(case: Case, key: str, light: LowVoltageLoad) -> Solved:
    return _solved(case, low_voltage_runs(case).by_key[key], rated=True, apart=light)


@once
def _solved_at_rating(case: Case, key: str) -> Solved:
    return _solved(case, low_voltage_runs(case).by_key[key], rated=True)


@once
def solved_run(case: Case, key: str) -> Solved:
    """A run as it settles. A conductor that no table holds counts as no resistance: ask ``not_in_tables`` first."""
    return _solved(case, low_voltage_runs(case).by_key[key], rated=False)


@once
def fallen_run(case: Case, key: str) -> Solved:
    """A run as it settles if every light had resistors: of all kinds those draw least over the same wires."""
    return _solved(case, low_voltage_runs(case).by_key[key], rated=False, every=Law.RESISTOR)


@once
def counted_run(case: Case, key: str) -> Counted | None:
    """What a run asks for at the ratings of its lights; None where no voltage serves lights that keep their power."""
    run = low_voltage_runs(case).by_key[key]
    keeps_power = any(law_of(light) is Law.POWER for light in run.lights)
    shared = any(len(feeding(step)) > 1 for step in run.steps)
    if keeps_power or shared:
        state = _solved_at_rating(case, key)
        if state.served:
            return Counted(_with_second_feeds(run, state.cable_a), state.drawn_w)
        if keeps_power:
            return None
    volts = output_v(run.driver)
    carried: dict[str, float] = {}
    for step in reversed(run.steps):
        own = rated_w(step.light) / volts if step.light is not None else 0.0
        carried[step.to_id] = carried.get(step.to_id, 0.0) + own
        carried[step.from_id] = carried.get(step.from_id, 0.0) + carried[step.to_id]
    amperes = {cable.id: carried[step.to_id] for step in run.steps for cable in feeding(step)}
    return Counted(_with_second_feeds(run, amperes), sum(rated_w(light) for light in run.lights))


def _with_second_feeds(run: Run, amperes: Mapping[str, float]) -> Mapping[str, float]:
    """A second feed of a place is counted as if it carried as much as the first."""
    at = {step.to_id: amperes[step.cables[0].id] for step in run.steps}
    beside = (*run.left_out, *(cable for step in run.steps for cable in step.cables[1:]))
    return {**{cable.id: at[cable.to_id] for cable in beside}, **amperes}


def _solved(
    case: Case, run: Run, *, rated: bool, apart: LowVoltageLoad | None = None, every: Law | None = None
) -> Solved:
    """``rated``: lights whose current falls with their voltage draw their rated current, all but the one ``apart``.

    ``every``: how the current of every light answers, whatever kind it is.
    """
    volts = output_v(run.driver)
    network = Network()
    onward = {run.driver.id: DRIVER}
    fed: list[_Fed] = []
    for step in run.steps:
        parent, entry = onward[step.from_id], len(network.parent)
        lead_ohm = [_ohm(case, cable) for cable in feeding(step)]
        place: Place | None = None
        if step.light is None:
            onward[step.to_id] = network.add(parent, lead_ohm[0])
        else:
            law = every or law_of(step.light)
            if rated and law in FALLING and step.light is not apart:
                law = Law.CURRENT
            place = _added(network, parent, lead_ohm, step, as_built(case, step.light, volts, law))
            onward[step.to_id] = place.onward
        fed.append(_Fed(step, lead_ohm, entry, place))
    settled = flow(network, volts)
    if settled is None:
        return _UNSERVED
    cable_a: dict[str, float] = {}
    for each in fed:
        cable_a.update(_currents(each, network, settled))
    places = {each.step.to_id: each.place for each in fed if each.place is not None}
    return Solved(
        served=True,
        lowest_v={name: lowest_v(place, settled.voltage_v) for name, place in places.items()},
        highest_v={name: max(settled.voltage_v[node] for node in place.nodes) for name, place in places.items()},
        cable_a=cable_a,
        drawn_w=volts * settled.current_a[DRIVER],
    )


def _ohm(case: Case, cable: Cable) -> float:
    resistance = cable_resistance(case, cable)
    return resistance.ohm if resistance is not None else 0.0


def _added(network: Network, parent: int, lead_ohm: list[float], step: Step, light: Lamp | Strip) -> Place:
    """A light behind leads of these resistances, two for a strip with a lead to each end [ohm]."""
    if isinstance(light, Lamp):
        return add_lamp(network, parent, lead_ohm[0], light)
    assert step.light is not None  # noqa: S101 - it is what stands there
    feed, back = Feed(step.light.fed_from), lead_ohm[1] if len(lead_ohm) > 1 else None
    return add_strip(network, parent, lead_ohm[0], light, feed, return_ohm=back, carries_on=step.carries_on)


def _currents(fed: _Fed, network: Network, settled: Flow) -> Mapping[str, float]:
    """The current in each cable that feeds a place: two share it where a strip is fed at both ends."""
    step, lead_ohm, entry, place = fed
    entering = settled.current_a[entry]
    if len(lead_ohm) == 1 or place is None:
        return {step.cables[0].id: entering}
    first, second = step.cables[0].id, step.cables[1].id
    greater = max(lead_ohm)
    if greater <= 0.0:
        return {first: entering / 2.0, second: entering / 2.0}
    returned = (settled.voltage_v[network.parent[entry]] - settled.voltage_v[place.nodes[-1]]) / greater
    return {first: entering, second: returned} if lead_ohm[0] <= lead_ohm[1] else {first: returned, second: entering}


#: Which way is worse, of all that the wiring behind a driver loses, for whoever asks what arrives or what is drawn. How
#: the kinds of lights are ordered depends on what is asked.
RUN_WORSE: dict[str, Direction] = {
    **LIGHTS_WORSE,
    "driver.output_voltage": LESS,
    "cable.length": MORE,
    "cable.size": thin_is_worse,
    "cable.material": metal_is_worse,
    "cable.stranding": strands_are_worse,
    "cable.conductor_temperature": MORE,
}
