"""Dimmers and other controls: rated watts, number of lamps, and what they may work.

What it asks: the rated watts and the most lamps of each dimmer, sensor, timer or smart switch, against the lights and
drivers that it works, and whether it works a fan, a receptacle or anything else that is no light.

Why: the watts in large print are for incandescent lamps. For LED the same dimmer may carry a quarter of that or less.
A dimmer on a receptacle or a motor can destroy what is connected, and overheat.

What to do: read the LED rating in the instructions. When it is not printed, it is unknown: pick a control that states
it. Give a fan a switch or a speed control listed for motors.

Cannot see: whether lamp and dimmer get along; makers' lists of tried pairs decide that. Ratings in volt-amperes, and
the lower rating of a dimmer whose fins were broken off to sit beside others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

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
    Said,
    Things,
    order,
    said,
    values_of,
    words_apart,
)
from circuitcheck.case.parts import Control, Part
from circuitcheck.domain.directions import power_is_worse
from circuitcheck.domain.switching import is_touched, watts_of, watts_of_driver, works
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.findings import Part as Share
from circuitcheck.tables.rulebook import Rulebook

DIMMER, SWITCH = "dimmer", "switch"
INCANDESCENT = ("incandescent", "halogen")
_TO_DO = ("Read the LED rating, the minimum load and the number of lamps in the control's instructions.",)
_ACTED = dict.fromkeys((Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED), _TO_DO)


class Rating(NamedTuple):
    """One control and one thing to ask about it."""

    control: Control
    asks: Callable[[Control, Case, Rulebook], Answer | None]


def answer(subject: Rating, case: Case, book: Rulebook) -> Answer | None:
    """What one dimmer, sensor, timer or smart switch that new work touches may carry."""
    control = subject.control
    if control.kind == SWITCH or not is_touched(control, works(case, control)):
        return None
    return subject.asks(control, case, book)


def _watts(control: Control, case: Case, book: Rulebook) -> Answer | None:
    """The watts of its lights and drivers, and of other loads, against its rating."""
    worked = works(case, control)
    loads = (*worked.lights, *(load for load in worked.others if load.kind != "receptacle"))
    if not loads and not worked.drivers:
        return None
    rows = [Share(load.id, watts_of(case, load), load.id) for load in loads]
    rows += [Share(driver.id, watts_of_driver(case, driver), driver.id) for driver in worked.drivers]
    hot = bool(loads) and not worked.drivers and not worked.others and all(load.lamp in INCANDESCENT for load in loads)
    rating, key = (control.rated_incandescent_w, "rated_incandescent") if hot else (control.rated_led_w, "rated_led")
    total = sum(row.value for row in rows)
    things: Things = {
        "control": control.id,
        "watts": Amount(total, "W", Rounding.UP),
        "kind": "incandescent" if hot else "LED",
        "rated": Amount(rating, "W", Rounding.DOWN),
    }
    headline = "" if hot else " Its incandescent rating does not stand in for it."
    return Answer(
        part=control,
        outcome=Outcome.FAIL if exceeds(total, rating) else Outcome.PASS,
        says=said('"{control}" controls {watts} of {kind} lights; it is rated {rated}.', **things),
        open_says=said(
            'Cannot tell yet whether "{control}" can control its {kind} lights ({watts}, from what is known).'
            + headline,
            **things,
        ),
        value=total,
        limit=rating,
        unit="W",
        sources=(book.value("control-ratings").source,),
        keys=(control.entry(key),),
        rows=tuple(rows),
        to_do=_ACTED,
    )


def _lamps(control: Control, case: Case, book: Rulebook) -> Answer | None:
    """The number of its lamps against the most that it is made for."""
    lamps = sum(load.quantity for load in works(case, control).lights)
    if control.max_lamps is None or not lamps:
        return None
    return Answer(
        part=control,
        outcome=Outcome.FAIL if lamps > control.max_lamps else Outcome.PASS,
        says=said(
            '"{control}" controls {lamps} lamps; it is made for at most {most}.',
            control=control.id,
            lamps=str(lamps),
            most=str(control.max_lamps),
        ),
        value=float(lamps),
        limit=float(control.max_lamps),
        unit="lamps",
        sources=(book.value("control-ratings").source,),
        keys=(control.entry("max_lamps"),),
        to_do=_ACTED,
    )


def _others(control: Control, case: Case, book: Rulebook) -> Answer | None:
    """Whether it works something that is no light."""
    others = works(case, control).others
    if not others:
        return None
    things: Things = {
        "control": control.id,
        "kind": control.kind,
        "others": ", ".join(f'{load.kind} "{load.id}"' for load in others),
    }
    says: Said = said(
        '"{control}" controls {others}. The code lets a {kind} control only fixed lights, unless it is listed '
        "for more.",
        **things,
    )
    return Answer(
        part=control,
        outcome=Outcome.FAIL if control.kind == DIMMER else Outcome.CAUTION,
        says=says,
        open_says=said('Cannot tell yet whether "{control}" controls only fixed lights.', **things),
        sources=merge_sources((book.value("dimmer-on-fixed-lights").source,)),
        keys=(control.entry("kind"),),
        to_do=_ACTED,
    )


def _subjects(case: Case) -> Iterator[Rating]:
    return (Rating(control, asks) for control in case.controls for asks in (_watts, _lamps, _others))


def _lamp_is_worse(value: Any, part: Part, case: Case) -> Any:
    """The LED rating of a control is mostly the lower one: a lamp that may be LED counts as LED.

    Not where it may be the higher one, nor where a rating is unknown: then it counts which of them is asked for.
    """
    for control in case.controls:
        if max(values_of(control, "rated_led_w")) > min(values_of(control, "rated_incandescent_w")):
            return EACH
    return value not in INCANDESCENT


def _is_incandescent(value: Any, book: Rulebook) -> Any:
    """Of a lamp no more is asked than which of the two ratings counts."""
    return value in INCANDESCENT


RULE = CaseRule[Rating](
    name="dimmer-rating",
    title="The load on a dimmer or sensor",
    family=Family.SITE,
    rank=380,
    subjects=_subjects,
    answer=answer,
    worse={
        "control.kind": order(SWITCH, "sensor", "timer", "smart switch", DIMMER),
        "control.rated_led": LESS,
        "control.rated_incandescent": LESS,
        "load.kind": EACH,  # a light adds its watts, and what is no light may not be worked at all
        "load.lamp": _lamp_is_worse,
        "supply.voltage": MORE,
        "load.power": power_is_worse,
        "load.apparent": MORE,
        "load.current": MORE,
        "load.fitted": MORE,
        "driver.input_power": MORE,
        "driver.input_current": MORE,
        "driver.output_power": MORE,
        "driver.efficiency": LESS,
        "driver.power_factor": MORE,
    },
    alike={"load.kind": words_apart("light", "receptacle"), "load.lamp": _is_incandescent},
)
