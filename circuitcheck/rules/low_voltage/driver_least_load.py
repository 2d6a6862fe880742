"""Driver least load: whether the lights behind a driver reach the least load that its label asks for.

What it asks: where the label of a driver gives a least load, whether the lights draw that much. A strip with resistors
counts with what it draws at the voltage that it gets, since it is less than on its label.

Why: some drivers and electronic transformers do not start, hum or flicker below a certain load.

What to do: take a driver whose least load the lights reach, or one that has none.

Cannot see: a dimmer that lowers what the lights draw, and lights that are taken away later.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from circuitcheck.case import EACH, LESS, MORE, Amount, Answer, Case, CaseRule, Family, Rounding, Things, order, said
from circuitcheck.case.parts import Driver, LowVoltageLoad, Part
from circuitcheck.domain.low_voltage_answers import not_in_tables_answer
from circuitcheck.domain.low_voltage_flow import RUN_WORSE, feeding, not_in_tables, output_v, run_sources, solved_run
from circuitcheck.domain.low_voltage_lights import FALLING, law_of, longer_is_worse, rated_w
from circuitcheck.domain.low_voltage_runs import Run, low_voltage_runs
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.physics.low_voltage_strip import Law
from circuitcheck.tables.rulebook import Rulebook


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer | None:
    """What the lights of one driver draw at least [W].

    None where its label asks for no least load, and where ``low-voltage-drop`` says already that no voltage serves
    lights that draw what they get; but even at their rating they may be too few.
    """
    least, runs = driver.min_load_w, low_voltage_runs(case).of_driver[driver.id]
    if not least or not runs:
        return None
    drawn, served = 0.0, True
    for run in runs:
        missing = not_in_tables(case, run.key)
        if missing is not None:
            return not_in_tables_answer(driver, missing, "W")
        watts = _drawn(case, run)
        served &= watts is not None
        drawn += sum(map(rated_w, run.lights)) if watts is None else watts
    things: Things = {"driver": driver.id, "least": Amount(least, "W", Rounding.UP), "drawn": Amount(drawn, "W")}
    reached = not exceeds(least, drawn)
    if reached and not served:
        return None
    return Answer(
        part=driver,
        outcome=Outcome.PASS if reached else Outcome.FAIL,
        says=said(
            'The lights behind driver "{driver}" draw {drawn}; its label requires at least {least}.'
            if reached
            else 'The lights behind driver "{driver}" draw only {drawn}; its label requires at least {least}.'
            if served
            else 'The lights behind driver "{driver}" are rated for only {drawn}; its label requires at least {least}.',
            **things,
        ),
        open_says=said(
            'Cannot tell yet whether the lights behind driver "{driver}" draw the {least} that its label requires.',
            **things,
        ),
        value=drawn if served else None,
        limit=least,
        unit="W",
        at_least=True,
        sources=merge_sources((book.value("used-as-listed").source,), *(run_sources(case, run.key) for run in runs)),
        keys=(driver.entry("min_load"),),
        to_do={
            Outcome.FAIL: ("Use a driver with a lower minimum load.",),
            Outcome.UNDETERMINED: ("Read the minimum load on the driver's label and the watts of its lights.",),
        },
    )


def _drawn(case: Case, run: Run) -> float | None:
    """What the lights of a run draw at least [W]; None where no voltage serves them and some draw what they get.

    One whose current falls with its voltage draws what it gets, the others their rating: what the wires lose on top is
    no load to rely on, since a shorter cable loses less.
    """
    state, volts = solved_run(case, run.key), output_v(run.driver)
    if not state.served and any(law_of(light) in FALLING for light in run.lights):
        return None
    own: defaultdict[str, float] = defaultdict(float)
    for step in run.steps if state.served else ():
        entering = sum(state.cable_a[cable.id] for cable in feeding(step))
        own[step.to_id] += entering
        own[step.from_id] -= entering
    return sum(volts * own[light.id] if law_of(light) in FALLING else rated_w(light) for light in run.lights)


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
