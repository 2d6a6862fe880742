"""Low-voltage lights: what they are rated for, how they answer to their voltage, and how they stand in a network."""

from __future__ import annotations

import math
from typing import Any

from circuitcheck.case import EACH, MORE, Case, Direction, expected, order
from circuitcheck.case.parts import LowVoltageLoad, Part
from circuitcheck.domain.low_voltage_runs import low_voltage_runs
from circuitcheck.physics.low_voltage_strip import Feed, Lamp, Law, Strip

#: Kinds whose current falls with their voltage, so that it is never more than the rated one.
FALLING = (Law.RESISTOR, Law.CONDUCTANCE)


def rated_w(light: LowVoltageLoad) -> float:
    """The rated power of a whole light [W]; of a strip its power per length times its length."""
    if light.power_per_length_w_per_m is not None:
        return light.power_per_length_w_per_m * expected(light.length_m, light, "length")
    return expected(light.power_w, light, "power")


def is_strip(light: LowVoltageLoad) -> bool:
    """Whether a light is spread along a length."""
    return light.length_m is not None or light.power_per_length_w_per_m is not None


def law_of(light: LowVoltageLoad) -> Law:
    """How its current answers to its voltage."""
    return Law(light.kind)


def is_fed_at_both_ends(light: LowVoltageLoad | None) -> bool:
    """Whether a light is a strip that a cable to each end feeds."""
    return light is not None and is_strip(light) and light.fed_from == Feed.BOTH_ENDS


def as_built(case: Case, light: LowVoltageLoad, output_v: float, law: Law) -> Lamp | Strip:
    """A light as physics sees it, made for the voltage of its driver [V]; ``law``: how its current is to answer."""
    share = case.book.value("resistor-strip-diode-share").number
    if not is_strip(light):
        return Lamp(law=law, power_w=rated_w(light), rated_v=output_v, diode_share=share)
    return Strip(
        law=law,
        power_w=rated_w(light),
        rated_v=output_v,
        length_m=expected(light.length_m, light, "length"),
        resistance_ohm_per_m=expected(light.resistance_per_length_ohm_per_m, light, "resistance_per_length"),
        diode_share=share,
    )


def keeps_power(value: Any, part: Part, case: Case) -> Any:
    """A light that keeps its power draws more than its rated current as its voltage falls; others never do."""
    return value == Law.POWER


def longer_is_worse(value: float | None, part: Part, case: Case) -> Any:
    """A longer strip is worse; a light at one point has no length (None).

    One that two cables lead to has the better of it as a strip, which both feed, so neither way is always worse.
    """
    if value is None:
        return EACH if part.ref.id in low_voltage_runs(case).paired else -math.inf
    return value


#: From the kind that draws least at a voltage under its own to the kind that draws most.
DRAWS_MOST_LAST = order(Law.RESISTOR, Law.CONDUCTANCE, Law.CURRENT, Law.POWER)

#: Which way is worse, of all that says what a light draws and loses, for whoever asks what arrives or what is drawn.
LIGHTS_WORSE: dict[str, Direction] = {
    "low_voltage_load.power": MORE,
    "low_voltage_load.power_per_length": MORE,
    "low_voltage_load.length": longer_is_worse,
    "low_voltage_load.resistance_per_length": MORE,
    "low_voltage_load.fed_from": order(Feed.BOTH_ENDS, Feed.MIDDLE, Feed.ONE_END),
}
