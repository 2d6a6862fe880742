"""Damp and wet places: whether each added light, driver, fan and heater is marked for where it is.

What it asks: whether the place is dry, damp or wet, whether a light is over or beside a bathtub or shower, whether
spray reaches it, and what its label is marked for. Low-voltage lights and drivers are asked the same; fans and heaters
that are wired in, outdoors and in wet places.

Why: water in a luminaire shorts it or makes its metal live. Outdoors it is damp under a roof and wet without one.

What to do: read the mark on the label: suitable for damp, or for wet locations. Within 8 ft above the rim of a tub or a
shower's threshold use one marked for damp, and for wet where spray reaches it.

Cannot see: where rain and spray really reach, and what the label of a fan over a tub requires. Bathrooms, basements and
crawl spaces may be dry or damp: where it is not given, that is a reminder.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeGuard

from circuitcheck.case import LESS, MORE, Answer, Case, CaseRule, Family, Said, Things, order, said
from circuitcheck.case.parts import Driver, Load, Part
from circuitcheck.domain.luminaires import (
    CORD,
    LIGHT,
    Luminaire,
    is_added_light,
    location_of,
    luminaires,
    place_key,
    room_of,
)
from circuitcheck.findings import Outcome, Source, exceeds
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

WORDS = ("dry", "damp", "wet")
EQUIPMENT, OUTDOORS = ("fan", "heater"), "outdoors"
_TO_DO = ("Read the mark on the label: suitable for damp, or for wet locations; or say where it is.",)


def _subjects(case: Case) -> Iterator[Luminaire | Driver]:
    yield from luminaires(case)
    yield from case.drivers


def answer(part: Luminaire | Driver, case: Case, book: Rulebook) -> Answer | None:
    """What the mark of one added light or driver is worth at its place; nothing in dry places."""
    if isinstance(part, Driver):
        if not part.is_added:
            return None
        place, why, key = case.tree.box[part.box].location, "by its place", Ref("box", part.box, "location")
        sources: tuple[Source, ...] = ()
    elif _is_other_equipment(part):
        key, why = place_key(part, "location"), "by its place"
        place = _place_of_equipment(part, case, book)
        sources = (book.value("equipment-location-mark").source,)
    elif not is_added_light(part):
        return None
    else:
        key = place_key(part, "location")
        place, why, sources = _place_of_light(part, case, book)
    if place == WORDS[0]:
        return None
    mark = part.location_marked
    fits = WORDS.index(mark) >= WORDS.index(place)
    things: Things = {
        "thing": "driver" if isinstance(part, Driver) else part.kind if _is_other_equipment(part) else "light",
        "id": part.id,
        "mark": mark,
        "place": place,
        "why": why,
    }

    def working() -> tuple[Said, ...]:
        return (said("{place}, {why}; marked for {mark} places", **things),)

    return Answer(
        part=part,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=said('The {thing} "{id}" is marked for {mark} locations and is in a {place} one ({why}).', **things),
        open_says=said('Cannot tell yet whether the {thing} "{id}" is marked for the place where it is.', **things),
        to_come=said(
            'Before you buy the {thing} "{id}": its place may be {place}; look for the mark that suits.', **things
        ),
        working=working,
        sources=sources if _is_other_equipment(part) else (book.value("luminaire-location-mark").source, *sources),
        keys=(part.entry("location_marked"), key),
        to_do={Outcome.FAIL: _TO_DO, Outcome.CAUTION: _TO_DO, Outcome.UNDETERMINED: _TO_DO},
    )


def _is_other_equipment(part: Luminaire | Driver) -> TypeGuard[Load]:
    """An added fan or heater that is wired in."""
    return isinstance(part, Load) and part.is_added and part.kind in EQUIPMENT and part.connection != CORD


def _place_of_equipment(load: Load, case: Case, book: Rulebook) -> str:
    """Where equipment that is no light is; indoors only a wet place counts, since a bathroom's fans are made for it.

    Source: NFPA 70, 110.11.
    """
    place = location_of(case, load)
    outside = load.mounting == OUTDOORS or room_of(case, load) in book.value("outdoor-rooms").items
    return place if place == WORDS[2] or (place == WORDS[1] and outside) else WORDS[0]


def _place_of_light(light: Luminaire, case: Case, book: Rulebook) -> tuple[str, str, tuple[Source, ...]]:
    """For what a light has to be marked, why, and what says so."""
    place = location_of(case, light)
    height = book.value("shower-luminaire-height")
    if not light.over_bath or not exceeds(height.number, light.height_over_bath_m):
        return place, "by its place", ()
    asked = book.value("shower-spray-luminaire-mark" if light.in_spray else "shower-luminaire-mark")
    if WORDS.index(asked.text) <= WORDS.index(place):
        return place, "by its place", (asked.source,)
    return asked.text, "in the spray of a shower" if light.in_spray else "over or beside a bath", (asked.source,)


def _outside(value: Any, part: Part, case: Case) -> bool:
    return value in case.book.value("outdoor-rooms").items


RULE = CaseRule["Luminaire | Driver"](
    name="location",
    title="Lights and drivers in damp and wet locations",
    family=Family.SITE,
    rank=410,
    subjects=_subjects,
    answer=answer,
    worse={
        "load.kind": lambda value, part, case: (value == LIGHT, value in EQUIPMENT),
        "load.connection": lambda value, part, case: value != CORD,
        "load.mounting": lambda value, part, case: value == OUTDOORS,
        "box.room": _outside,
        "box.location": order(*WORDS),
        "low_voltage_load.location": order(*WORDS),
        **{
            f"{section}.{key}": worse
            for section in ("load", "low_voltage_load")
            for key, worse in (
                ("over_bath", MORE),
                ("height_over_bath", LESS),
                ("in_spray", MORE),
                ("location_marked", order(*reversed(WORDS))),
            )
        },
        "driver.location_marked": order(*reversed(WORDS)),
    },
)
