"""Class 2: whether a driver that is called class 2 can be one, and what follows where it is not.

What it asks: whether the rating of a class 2 driver, and what its lights draw, stay within what a class 2 source may
be rated for at its voltage; and whether that voltage is one of low-voltage lighting at all. An unknown mark counts as
not class 2 and is a caution only: what depends on the mark is asked by the checks about the wiring behind the driver.

Why: behind a class 2 source thin cable without boxes is allowed, because the source itself cannot give enough to start
a fire. That holds only for a source that is listed and marked so. Behind any other source the rules of house wiring
hold for the low-voltage side as well.

What to do: read the label; it says "Class 2" where it is one, and the listing mark decides. Above the limit, use
several class 2 drivers, each with its own wires, or wire the low-voltage side with methods for house wiring.

Cannot see: outputs of different ratings: enter each as a driver of its own. Outputs that share the rating (`outputs`)
count alone, each with its share. Wet places, where the limits are lower.
"""

from __future__ import annotations

from circuitcheck.case import (
    EACH,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Rounding,
    Said,
    Things,
    said,
)
from circuitcheck.case.parts import Driver
from circuitcheck.domain.class_2_limits import class_2_allowance, voltage_steps
from circuitcheck.domain.driver_outputs import largest_share, outputs_of
from circuitcheck.domain.low_voltage_lights import longer_is_worse, rated_w
from circuitcheck.domain.low_voltage_runs import low_voltage_runs
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

_WRONG_OUTPUT = ("Read the output on the label again. If it is right, leave this output to a licensed electrician.",)
_READ_AGAIN = ("Read the label again: the output voltage, the watts of each output, the words Class 2.",)
_HOUSE_WIRING = ("Use no class 2 cable behind it, and no open splices.",)
_FEWER = ("Put some of the lights on a second class 2 driver with its own wires.",)


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer:
    """What one driver is rated for against what a class 2 source of its voltage may be [VA]."""
    volts, kind = driver.output_voltage_v, driver.output_kind
    outputs = outputs_of(driver)
    rating = driver.output_power_w / outputs
    amperes = rating / volts
    ends, current = book.value(f"low-voltage-lighting-{kind}"), book.value("low-voltage-lighting-current")
    allowed = class_2_allowance(book, kind, volts)
    lights_w = _lights_w(case, driver)
    things: Things = {
        "driver": driver.id,
        "rating": Amount(rating, "W"),
        "volts": Amount(volts, "V"),
        "amperes": Amount(amperes, "A"),
        "lights": Amount(lights_w, "W"),
        "most": Amount(allowed.power_va, "VA", Rounding.DOWN),
        "ends": Amount(ends.number, "V"),
        "current": Amount(current.number, "A"),
    }
    outcome = Outcome.FAIL
    to_do: tuple[str, ...] = _WRONG_OUTPUT
    sources = merge_sources((book.value("class-2-source").source,), allowed.sources)
    keys: tuple[str, ...] = ("class_2", "output_power")
    covered = not exceeds(volts, ends.number) and not exceeds(amperes, current.number)
    if exceeds(volts, ends.number):
        sources, keys = (ends.source,), ("output_voltage",)
        says = said(
            'The output of driver "{driver}" is {volts}. These checks cover low-voltage lighting only up to {ends}.',
            **things,
        )
    elif not covered:
        sources, keys = (current.source,), ("output_power", "output_voltage")
        says = said(
            'The output of driver "{driver}" is {amperes}. A low-voltage lighting circuit is rated at most {current}, '
            "so these checks do not cover it.",
            **things,
        )
    elif not driver.class_2:
        outcome, to_do = Outcome.CAUTION, _HOUSE_WIRING
        says = said(
            'Driver "{driver}" counts as not class 2, so the wires behind it follow the rules of house wiring: '
            "branch-circuit cable, splices in boxes.",
            **things,
        )
    elif exceeds(lights_w, allowed.power_va):
        # Whatever rating is found on the label: were it no class 2 source after all, the file would say otherwise.
        to_do, keys = (*_FEWER, *_READ_AGAIN), ("output_power", "class_2")
        says = said(
            'The lights behind driver "{driver}" are rated {lights}. No class 2 source of {volts} may give more than '
            "{most}.",
            **things,
        )
    elif exceeds(rating, allowed.power_va):
        outcome, to_do = Outcome.UNDETERMINED, _READ_AGAIN
        says = said(
            'Cannot tell whether driver "{driver}" is class 2: the file says so, but {rating} is more than the {most} '
            "that a class 2 source of {volts} may give.",
            **things,
        )
    else:
        outcome, to_do = Outcome.PASS, ()
        says = said('Driver "{driver}" is rated {rating}; a class 2 source of {volts} may give up to {most}.', **things)

    def working() -> tuple[Said, ...]:
        return (
            *((said("each of {outputs} outputs counts alone", outputs=Amount(outputs)),) if outputs > 1 else ()),
            said("rating {rating} at {volts} = {amperes}", **things),
            said("a class 2 source of that voltage: at most {most}", **things),
            said("lights behind it, rated: {lights}", **things),
        )

    return Answer(
        part=driver,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet which wiring rules apply behind driver "{driver}".', **things),
        value=rating,
        limit=allowed.power_va if covered else None,
        unit="VA",
        working=working,
        sources=sources,
        keys=tuple(driver.entry(key) for key in keys),
        to_do={Outcome.UNDETERMINED: _READ_AGAIN, outcome: to_do},
        ask=() if covered else ("Which wiring rules apply to this output?",),
    )


def _lights_w(case: Case, driver: Driver) -> float:
    """What the lights on that output of a driver are rated for that feeds most [W]."""
    runs = low_voltage_runs(case).of_driver[driver.id]
    return largest_share((sum(map(rated_w, run.lights)) for run in runs), outputs_of(driver))


RULE = CaseRule[Driver](
    name="class-2",
    title="Class 2 limit of a driver",
    family=Family.LOW_VOLTAGE,
    rank=120,
    subjects=lambda case: case.drivers,
    answer=answer,
    worse={
        "driver.class_2": EACH,
        "driver.output_kind": EACH,
        "driver.output_voltage": EACH,
        "driver.output_power": MORE,
        "low_voltage_load.power": MORE,
        "low_voltage_load.power_per_length": MORE,
        "low_voltage_load.length": longer_is_worse,
    },
    points={"driver.output_voltage": voltage_steps},
)
