"""Clearance: closets, insulation, combustible surfaces, and the zone over a tub or shower.

What it asks: where each added light is: in a clothes closet its kind and its distance from the storage space; its
distance from insulation and from combustible surfaces; and whether it hangs over a bath. Low-voltage lights are asked
about closets and baths too.

Why: a hot lamp near clothes, insulation or wood starts fires. Someone who is wet can reach a light that hangs over a
tub.

What to do: choose a light made for the place (fully enclosed in closets, marked for insulation contact in insulated
ceilings), or move it.

Cannot see: what will be stored there later, lighting track, and recessed low-voltage lights in insulation. Which part
of a closet is its storage space, the code draws; the file takes one distance. On a wall of a closet a light may only be
above the door, which the file does not tell. Paddle fans and receptacles beside a bath have a check of their own: see
bath-zone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

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
    said,
    words_apart,
)
from circuitcheck.case.parts import Load
from circuitcheck.domain.luminaires import (
    CORD,
    LIGHT,
    PENDANT,
    RECESSED,
    Luminaire,
    hangs,
    is_added_light,
    luminaires,
    room_of,
)
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook, Value

CLOSET, LED, FLUORESCENT, INCANDESCENT = "closet", "LED", "fluorescent", "incandescent"
_TO_DO = ("Choose a light made for the place, or move it.",)
_ACTED = (Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED)


class Clearance(NamedTuple):
    """One light and one thing to ask about it."""

    light: Luminaire
    asks: Callable[[Luminaire, Case, Rulebook], Answer | None]


class Distance(NamedTuple):
    """What a light keeps and the least that it must [m]; ``key``: where the file says it; ``words``: from what."""

    key: str
    has_m: float
    least_m: float
    words: str


def answer(subject: Clearance, case: Case, book: Rulebook) -> Answer | None:
    """What one added light keeps or does not keep of one clearance; distances in inches."""
    return subject.asks(subject.light, case, book) if is_added_light(subject.light) else None


def _answer(light: Luminaire, rule: Value, outcome: Outcome, says: Said, question: str, *keys: str) -> Answer:
    return Answer(
        part=light,
        outcome=outcome,
        says=says,
        open_says=said("Cannot tell yet whether " + question, **says.things),
        sources=(rule.source,),
        keys=tuple(light.entry(key) for key in keys),
        to_do=dict.fromkeys(_ACTED, _TO_DO),
    )


def _distance(light: Luminaire, rule: Value, distance: Distance) -> Answer:
    """A distance against the least that is required."""
    key, has_m, least_m, words = distance
    things: Things = {
        "light": light.id,
        "has": Amount(in_unit(has_m, "in"), "in", Rounding.DOWN),
        "least": Amount(in_unit(least_m, "in"), "in", Rounding.UP),
    }
    return Answer(
        part=light,
        outcome=Outcome.FAIL if exceeds(least_m, has_m) else Outcome.PASS,
        says=said('The light "{light}" is {has} ' + words + "; at least {least} is required.", **things),
        open_says=said('Cannot tell yet whether the light "{light}" is {least} ' + words + ".", **things),
        to_come=said('Keep the light "{light}" at least {least} ' + words + ".", **things),
        value=in_unit(has_m, "in"),
        limit=in_unit(least_m, "in"),
        unit="in",
        at_least=True,
        sources=(rule.source,),
        keys=(light.entry(key),),
        to_do=dict.fromkeys(_ACTED, _TO_DO),
    )


# -- clothes closets -------------------------------------------------------------------------------------------------


def _lamp(light: Luminaire) -> str:
    """The kind of lamp; a low-voltage light without filament is LED."""
    if isinstance(light, Load):
        return light.lamp
    return INCANDESCENT if light.kind == INCANDESCENT else LED


def _closet_kind(light: Luminaire, case: Case, book: Rulebook) -> Answer | None:
    """Whether the kind of light is allowed in a closet; None where it is and only the distance counts."""
    if room_of(case, light) != CLOSET:
        return None
    rule = book.value("closet-open-lamps")
    keys = ("lamp", "enclosed", "closet_marked") if isinstance(light, Load) else ("kind", "enclosed", "closet_marked")
    question = 'the light "{light}" is of a kind allowed in a clothes closet.'
    if light.mounting == PENDANT:
        says = said('The light "{light}" hangs down, and no pendant is allowed in a clothes closet.', light=light.id)
        return _answer(light, rule, Outcome.FAIL, says, question, "mounting")
    lamp = _lamp(light)
    if light.mounting != RECESSED and lamp in (LED, FLUORESCENT) and light.closet_marked:
        says = said('The light "{light}" is marked for use inside the storage space of a closet.', light=light.id)
        return _answer(light, rule, Outcome.PASS, says, question, *keys)
    if lamp == FLUORESCENT or light.enclosed:
        return None
    hot = "an open LED lamp" if lamp == LED else "an open hot lamp"
    says = said(
        'The light "{light}" has {lamp}. In a clothes closet a lamp is fully enclosed, or the light marked for it.',
        light=light.id,
        lamp=hot,
    )
    return _answer(light, rule, Outcome.FAIL, says, question, *keys)


def _closet_distance(light: Luminaire, case: Case, book: Rulebook) -> Answer | None:
    """How far it is from the storage space, where its kind is allowed outside of it only."""
    if room_of(case, light) != CLOSET or _closet_kind(light, case, book) is not None:
        return None
    near = light.mounting == RECESSED or _lamp(light) == FLUORESCENT
    rule = book.value("closet-clearance-recessed" if near else "closet-clearance-surface")
    words = "from the storage space of the closet"
    return _distance(light, rule, Distance("closet_distance", light.closet_distance_m, rule.number, words))


# -- insulation and what burns ---------------------------------------------------------------------------------------


def _insulation(light: Luminaire, case: Case, book: Rulebook) -> Answer | None:
    if not isinstance(light, Load) or light.mounting != RECESSED:
        return None
    rule = book.value("recessed-insulation-distance")
    keys = ("insulation_contact", "in_insulation")
    question = 'the light "{light}" may touch the insulation around it.'
    if light.insulation_contact:
        says = said('The light "{light}" is marked for contact with insulation.', light=light.id)
        return _answer(light, rule, Outcome.PASS, says, question, *keys)
    if not light.in_insulation:
        least = Amount(in_unit(rule.number, "in"), "in", Rounding.UP)
        says = said('No insulation is within {least} of the light "{light}".', light=light.id, least=least)
        return _answer(light, rule, Outcome.PASS, says, question, *keys)
    says = said('The light "{light}" lies in insulation and is not marked for contact with it.', light=light.id)
    return _answer(light, rule, Outcome.FAIL, says, question, *keys)


def _recessed(light: Luminaire, case: Case, book: Rulebook) -> Answer | None:
    """Wood and the like beside a recessed light that is not marked for contact with insulation."""
    if not isinstance(light, Load) or light.mounting != RECESSED or light.insulation_contact:
        return None
    rule = book.value("recessed-combustible-distance")
    has, words = light.combustible_distance_m, "from wood and anything else that burns"
    return _distance(light, rule, Distance("combustible_distance", has, rule.number, words))


def _label(light: Luminaire, case: Case, book: Rulebook) -> Answer | None:
    """The clearance that its own label requires."""
    if not isinstance(light, Load) or light.combustible_clearance_m is None:
        return None
    rule, words = book.value("luminaire-label-clearance"), "from anything that burns, as its label requires"
    has, asked = light.combustible_distance_m, light.combustible_clearance_m
    return _distance(light, rule, Distance("combustible_distance", has, asked, words))


# -- baths -----------------------------------------------------------------------------------------------------------


def _bath(light: Luminaire, case: Case, book: Rulebook) -> Answer | None:
    """Pendants and lights on cords keep out of the zone over and beside a tub or shower."""
    if not light.over_bath or not hangs(light):
        return None
    rule, words = book.value("bath-zone-height"), "above the rim of the tub or the shower's threshold"
    return _distance(light, rule, Distance("height_over_bath", light.height_over_bath_m, rule.number, words))


_ASKS = (_closet_kind, _closet_distance, _insulation, _recessed, _label, _bath)


def _subjects(case: Case) -> Iterator[Clearance]:
    return (Clearance(light, asks) for light in luminaires(case) for asks in _ASKS)


#: Asked of both kinds of light: in a closet a short distance is worse, over a bath a low one.
_OF_BOTH = {
    "mounting": EACH,
    "enclosed": EACH,  # an open lamp fails by its kind, an enclosed one by its distance
    "closet_marked": EACH,
    "closet_distance": LESS,
    "over_bath": MORE,
    "height_over_bath": LESS,
}


RULE = CaseRule[Clearance](
    name="clearance",
    title="Closets, insulation, combustible surfaces, baths",
    family=Family.SITE,
    rank=420,
    subjects=_subjects,
    answer=answer,
    worse={
        "load.kind": lambda value, part, case: value == LIGHT,
        "load.connection": lambda value, part, case: value == CORD,
        "load.insulation_contact": LESS,
        "load.in_insulation": MORE,
        "load.combustible_distance": LESS,
        "load.combustible_clearance": MORE,
        "load.lamp": EACH,
        "low_voltage_load.kind": EACH,
        "box.room": lambda value, part, case: value == CLOSET,
        "low_voltage_load.room": lambda value, part, case: value == CLOSET,
        **{f"{section}.{key}": way for section in ("load", "low_voltage_load") for key, way in _OF_BOTH.items()},
    },
    alike={
        "load.mounting": words_apart(RECESSED, PENDANT),
        "low_voltage_load.mounting": words_apart(RECESSED, PENDANT),
        "load.lamp": words_apart(LED, FLUORESCENT),
    },
)
