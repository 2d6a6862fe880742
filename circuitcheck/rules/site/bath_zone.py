"""Bath zone: paddle fans and receptacles over or beside a tub or shower.

What it asks: for each added paddle fan and each added receptacle, whether it is over or close beside a bathtub or
shower, and how high above its rim.

Why: someone who is wet and stands on wet ground can reach it, or what is plugged into it.

What to do: keep it 3 ft from the tub or shower to every side, or 8 ft above the rim.

Cannot see: switches inside a tub or shower space, fans without a light and without metal in reach, and walls between
the tub and the place. In a small bathroom a receptacle may stand on the farthest wall: it asks. In the edition of 2017
only what is within or straight over the tub is barred: it asks about that.
"""

from __future__ import annotations

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
    order,
    said,
    words_apart,
)
from circuitcheck.case.parts import Load
from circuitcheck.findings import Outcome, Source, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook

RECEPTACLE, FAN, EXHAUST = "receptacle", "fan", "exhaust"
_MOVE = ("Put it 3 ft or more from the tub or shower to every side.",)
_SMALL = ("Is this receptacle on the farthest wall of a bathroom that is too small for the distance?",)
_STRAIGHT_OVER = ("Is this receptacle within the tub or shower, or straight over it?",)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added paddle fan or receptacle keeps out of the zone [ft]."""
    if not load.is_added or not _is_barred(load) or not load.over_bath:
        return None
    zone = book.value("bath-zone-height")
    rule = book.value("receptacle-bath-zone") if load.kind == RECEPTACLE else zone
    things: Things = {
        "thing": load.id,
        "has": Amount(in_unit(load.height_over_bath_m, "ft"), "ft", Rounding.DOWN),
        "least": Amount(in_unit(zone.number, "ft"), "ft", Rounding.UP),
    }
    low = exceeds(zone.number, load.height_over_bath_m)
    by_zone = load.kind != RECEPTACLE or rule.text == "zone"
    outcome, ask = Outcome.FAIL if low else Outcome.PASS, _SMALL if load.kind == RECEPTACLE and low else ()
    says = said(
        '"{thing}" is over or beside a tub or shower, {has} above its rim: it must be {least} above, or farther away.',
        **things,
    )
    if not by_zone:
        outcome, ask = Outcome.CAUTION, _STRAIGHT_OVER
        says = said(
            '"{thing}" is over or beside a tub or shower: within or straight over it no receptacle may be.', **things
        )
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{thing}" is too near to a tub or shower.', **things),
        value=in_unit(load.height_over_bath_m, "ft") if by_zone else None,
        limit=in_unit(zone.number, "ft") if by_zone else None,
        unit="ft",
        at_least=True,
        sources=_sources(load, book),
        keys=(load.entry("over_bath"), load.entry("height_over_bath")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED), _MOVE),
        ask=ask,
    )


def _is_barred(load: Load) -> bool:
    """A receptacle, or a fan that hangs down; an exhaust fan may be there."""
    return load.kind == RECEPTACLE or (load.kind == FAN and load.fan != EXHAUST)


def _sources(load: Load, book: Rulebook) -> tuple[Source, ...]:
    if load.kind == RECEPTACLE:
        return (book.value("receptacle-bath-zone").source,)
    metal = book.find_value("paddle-fan-metal-bath-zone")
    return (book.value("bath-zone-height").source, *((metal.source,) if metal is not None else ()))


RULE = CaseRule[Load](
    name="bath-zone",
    title="Paddle fans and receptacles over or beside a bath",
    family=Family.SITE,
    rank=425,
    subjects=lambda case: case.loads,
    answer=answer,
    worse={
        "load.kind": EACH,  # an exhaust fan is let off, and a receptacle is not
        "load.fan": order(EXHAUST, "paddle"),
        "load.over_bath": MORE,
        "load.height_over_bath": LESS,
    },
    alike={"load.kind": words_apart(RECEPTACLE, FAN)},
)
