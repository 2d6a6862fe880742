"""How the wiring behind each driver hangs together.

A driver holds its output voltage, so the cables that leave it do not know of one another: each of them with all that
hangs on it is a run.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.case import Case, once
from circuitcheck.case.parts import Cable, Driver, LowVoltageLoad


class Step(NamedTuple):
    """One place of a run: a light, or a box where cables are spliced (``light`` None).

    cables: what feeds it; a second one where another comes from the same place, which counts for a strip that is fed at
    both ends. carries_on: a further cable leaves the light.
    """

    from_id: str
    to_id: str
    cables: tuple[Cable, ...]
    light: LowVoltageLoad | None
    carries_on: bool


class Run(NamedTuple):
    """Cables and lights that hang on one cable (or two to one strip) from a driver, parents first.

    left_out: cables that feed a place which is fed already, and so count for nothing at the lights.
    """

    driver: Driver
    steps: tuple[Step, ...]
    left_out: tuple[Cable, ...]

    @property
    def key(self) -> str:
        """The id of the first cable, by which the run is known."""
        return self.steps[0].cables[0].id

    @property
    def lights(self) -> Iterator[LowVoltageLoad]:
        """The lights, in the order in which they are fed."""
        return (step.light for step in self.steps if step.light is not None)

    @property
    def cables(self) -> Iterator[Cable]:
        """The cables that count, in the order in which they are fed."""
        return (cable for step in self.steps for cable in step.cables)


class Runs(NamedTuple):
    """All runs: by the driver, by the ids of lights and splice boxes, by the ids of cables, and by their keys.

    paired: the two cables that may share the current of a strip, by their ids and by that of the strip.
    """

    of_driver: dict[str, list[Run]]
    at: dict[str, Run]
    with_cable: dict[str, Run]
    by_key: dict[str, Run]
    step_at: dict[str, Step]
    paired: dict[str, tuple[Cable, ...]]


@once
def low_voltage_runs(case: Case) -> Runs:
    """The runs of every driver. Linear in the size of the circuit; nothing of it is ever open."""
    tree = case.tree
    feeds: dict[str, list[Cable]] = {}
    for cable in tree.low_voltage_cables:
        feeds.setdefault(cable.to_id, []).append(cable)
    onward = {cable.from_id for cable in tree.low_voltage_cables}
    steps: dict[str, list[Step]] = {}
    left_out: dict[str, list[Cable]] = {}
    first_of: dict[str, str] = {}
    for cable in tree.low_voltage_cables:
        place = cable.to_id
        if place in first_of:
            continue
        first = cable.id if cable.from_id in tree.driver else first_of[cable.from_id]
        first_of[place] = first
        light = tree.low_voltage_load.get(place)
        others = [other for other in feeds[place] if other is not cable]
        twins = [other for other in others if other.from_id == cable.from_id] if light is not None else []
        counted = (cable, *twins[:1])
        steps.setdefault(first, []).append(Step(cable.from_id, place, counted, light, place in onward))
        left_out.setdefault(first, []).extend(other for other in others if other not in counted)
    made = Runs({driver.id: [] for driver in case.drivers}, {}, {}, {}, {}, {})
    for first, gathered in steps.items():
        run = Run(tree.driver[tree.driver_of[first]], tuple(gathered), tuple(left_out[first]))
        made.of_driver[run.driver.id].append(run)
        made.by_key[run.key] = run
        for step in run.steps:
            made.at[step.to_id] = run
            made.step_at[step.to_id] = step
            if len(step.cables) > 1:
                made.paired.update(dict.fromkeys((step.to_id, *(cable.id for cable in step.cables)), step.cables))
        for cable in (*run.cables, *run.left_out):
            made.with_cable.setdefault(cable.id, run)
    return made
