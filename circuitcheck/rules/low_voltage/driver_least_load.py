"""Driver least load: whether the lights behind a driver reach the least load that its label asks for.

What it asks: where the label of a driver gives a least load, whether the lights draw that much. A strip with resistors
counts with what it draws at the voltage that it gets, since it is less than on its label.

Why: some drivers and electronic transformers do not start, hum or flicker below a certain load.

What to do: take a driver whose least load the lights reach, or one that has none.

Cannot see: a dimmer that lowers what the lights draw, and lights that are taken away later.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from circuitcheck.case import EACH, LESS, MORE, Amount, Answer, Case, CaseRule, Family, Rounding, Things, order, said
from circuitcheck.case.parts import Driver, LowVoltageLoad, Part
from circuitcheck.domain.low_voltage_answers import not_in_tables_answer
from circuitcheck.domain.low_voltage_flow import (
    RUN_WORSE,
    Solved,
    fallen_run,
    feeding,
    not_in_tables,
    output_v,
    run_sources,
    solved_run,
)
from circuitcheck.domain.low_voltage_lights import FALLING, law_of, longer_is_worse, rated_w
from circuitcheck.domain.low_voltage_runs import Run, low_voltage_runs
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.physics.low_voltage_strip import Law
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

_ASK = ("Are the cables to these lights really that long and thin?",)


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer | None:
    """What the lights of one driver draw at least [W].

    None where its label asks for no least load. Where no voltage serves the lights they may draw enough even so; where
    they would not, nobody can tell: over a cable a little shorter they are served, and draw too little.
    """
    least, runs = driver.min_load_w, low_voltage_runs(case).of_driver[driver.id]
    if not least or not runs:
        return None
    drawn, served = 0.0, True
    for run in runs:
        missing = not_in_tables(case, run.key)
        if missing is not None:
            return not_in_tables_answer(driver, missing, "W")
        serves = _serves(case, run)
        served &= serves
        drawn += _drawn(case, run, solved_run(case, run.key) if serves else fallen_run(case, run.key))
    reached = not exceeds(least, drawn)
    rated = sum(rated_w(light) for run in runs for light in run.lights)
    things: Things = {
        "driver": driver.id,
        "least": Amount(least, "W", Rounding.UP),
        "drawn": Amount(drawn if served else rated, "W"),
    }
    if reached and not served:
        outcome = Outcome.PASS
        says = said('The lights behind driver "{driver}" draw the {least} that its label requires.', **things)
    elif served or exceeds(least, rated):
        outcome = Outcome.PASS if reached else Outcome.FAIL
        draw = "draw {drawn}" if reached else "draw only {drawn}" if served else "are rated for only {drawn}"
        says = said('The lights behind driver "{driver}" ' + draw + "; its label requires at least {least}.", **things)
    else:
        outcome = Outcome.UNDETERMINED
        says = said(
            'Cannot tell whether the lights behind driver "{driver}" draw the {least} that its label requires: these '
            "cables may be too long or too thin to serve them.",
            **things,
        )
    return Answer(
        part=driver,
        outcome=outcome,
        says=says,
        open_says=said(
            'Cannot tell yet whether the lights behind driver "{driver}" draw the {least} that its label requires.',
            **things,
        ),
        value=drawn if served else None,
        limit=least,
        unit="W",
        at_least=True,
        sources=merge_sources((book.value("used-as-listed").source,), *(run_sources(case, run.key) for run in runs)),
        keys=_wires(runs) if outcome is Outcome.UNDETERMINED else (driver.entry("min_load"),),
        to_do={
            Outcome.FAIL: ("Use a driver with a lower minimum load.",),
            Outcome.UNDETERMINED: ("Read the minimum load on the driver's label and the watts of its lights.",),
        },
        ask=_ASK if outcome is Outcome.UNDETERMINED else (),
    )


def _wires(runs: Iterable[Run]) -> tuple[Ref, ...]:
    """What to look at where no voltage serves the lights."""
    return tuple(cable.entry(key) for run in runs for cable in run.cables for key in ("length", "size"))


def _serves(case: Case, run: Run) -> bool:
    """Whether what its lights draw can be told: a voltage serves them, or all keep their draw whatever they get."""
    return solved_run(case, run.key).served or all(law_of(light) not in FALLING for light in run.lights)


def _drawn(case: Case, run: Run, state: Solved) -> float:
    """What the lights of a run draw at least [W], in this state of it.

    One whose current falls with its voltage draws what it gets, the others their rating: what the wires lose on top is
    no load to rely on, since a shorter cable loses less.
    """
    fallen = state.served and not solved_run(case, run.key).served
    volts = output_v(run.driver)
    own: defaultdict[str, float] = defaultdict(float)
    for step in run.steps if state.served else ():
        entering = sum(state.cable_a[cable.id] for cable in feeding(step))
        own[step.to_id] += entering
        own[step.from_id] -= entering
    return sum(volts * own[light.id] if fallen or law_of(light) in FALLING else rated_w(light) for light in run.lights)


def _longer(value: float | None, part: Part, case: Case) -> Any:
    """A longer strip draws more where its watts are given by length; else its own conductors only lose more."""
    assert isinstance(part, LowVoltageLoad)  # noqa: S101 - declared for lights only
    worse = longer_is_worse(value, part, case)
    return worse if worse is EACH or part.power_per_length_w_per_m is None else -worse


RULE = CaseRule[Driver](
    name="driver-least-load",
    title="Minimum load of a driver",
    family=Family.LOW_VOLTAGE,
    rank=105,
    subjects=lambda case: case.drivers,
    answer=answer,
    worse={
        **RUN_WORSE,
        "low_voltage_load.power": LESS,
        "low_voltage_load.power_per_length": LESS,
        "low_voltage_load.length": _longer,
        "low_voltage_load.kind": order(Law.CURRENT, Law.POWER, Law.CONDUCTANCE, Law.RESISTOR),
        "driver.min_load": MORE,
    },
)
