"""Least load of a dimmer: whether the lamps that it works draw enough.

What it asks: the least load of each dimmer, sensor, timer or smart switch, against what the lamps in its lights really
draw, not what the lights are rated for.

Why: below its least load a dimmer flickers, glows when it is off, or does not turn on.

What to do: pick a control with a lower least load, or one that is made for LED.

Cannot see: what a driver's lights draw when they are dimmed; a driver counts at its full rating.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Rounding,
    Things,
    said,
    words_apart,
)
from circuitcheck.case.parts import Control, Load, Part
from circuitcheck.domain.directions import power_is_worse
from circuitcheck.domain.switching import is_touched, watts_of, watts_of_driver, works
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.tables.rulebook import Rulebook

SWITCH = "switch"
_TO_DO = ("Pick a control with a lower minimum load, or one that is made for LED.",)


def answer(control: Control, case: Case, book: Rulebook) -> Answer | None:
    """What the lamps of one control draw against its least load [W]."""
    if control.min_load_w is None or control.kind == SWITCH:
        return None
    worked = works(case, control)
    if not is_touched(control, worked) or not (worked.lights or worked.drivers):
        return None
    drawn = sum(_drawn(case, load) for load in worked.lights)
    drawn += sum(watts_of_driver(case, driver) for driver in worked.drivers)
    things: Things = {
        "control": control.id,
        "drawn": Amount(drawn, "W", Rounding.DOWN),
        "least": Amount(control.min_load_w, "W", Rounding.UP),
    }
    under = exceeds(control.min_load_w, drawn)
    words = (
        "requires at least {least}, and its lamps draw only {drawn}."
        if under
        else "requires {least}; {drawn} are connected."
    )
    return Answer(
        part=control,
        outcome=Outcome.CAUTION if under else Outcome.PASS,
        says=said('"{control}" ' + words, **things),
        value=drawn,
        limit=control.min_load_w,
        unit="W",
        at_least=True,
        sources=(book.value("control-ratings").source,),
        keys=(control.entry("min_load"),),
        to_do={Outcome.CAUTION: _TO_DO},
    )


def _drawn(case: Case, load: Load) -> float:
    """What the lamps in a light draw today [W]; its rating where they are not given."""
    return watts_of(case, load) if load.fitted_w is None else load.quantity * load.fitted_w


def _less_power_is_worse(value: Any, part: Part, case: Case) -> Any:
    return -power_is_worse(value, part, case)


RULE = CaseRule[Control](
    name="dimmer-least-load",
    title="Whether the lamps of a dimmer draw enough",
    family=Family.SITE,
    rank=385,
    subjects=lambda case: case.controls,
    answer=answer,
    worse={
        "control.kind": EACH,
        "control.min_load": MORE,
        "load.kind": EACH,
        "load.fitted": LESS,
        "supply.voltage": LESS,
        "load.power": _less_power_is_worse,
        "load.apparent": LESS,
        "load.current": LESS,
        "driver.input_power": LESS,
        "driver.input_current": LESS,
        "driver.output_power": LESS,
        "driver.efficiency": MORE,
        "driver.power_factor": LESS,
    },
    alike={"load.kind": words_apart("light")},
)
