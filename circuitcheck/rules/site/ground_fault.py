"""Ground-fault protection: where the code requires it at what is added, and where only a label may.

What it asks: for each added light in a crawl space, each added receptacle in a room that the book lists or in a damp
place, each added light over a bath, outdoors or in a bathroom, and from 2020 on each other piece of equipment that is
wired in outdoors at a dwelling, whether the circuit has ground-fault protection. Of a driver in a crawl space it asks.

Why: it cuts the power when current finds its way through a person. In a crawl space or a bathroom one stands on
earth or on wet ground.

What to do: in a crawl space feed the lights behind a ground-fault breaker or device. A new receptacle can carry its
own protection. For lights over a bath read the label: many ask for it.

Cannot see: a protecting device that stands somewhere between the panel and the light, a receptacle within 6 ft of a
sink or a tub, local amendments, what the label says, and whether an outlet for a fan with a light counts as one for a
light, which is let off outdoors.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.case import EACH, LESS, MORE, Answer, Case, CaseRule, Family, Things, order, said, words_apart
from circuitcheck.case.parts import Driver, Load
from circuitcheck.domain.luminaires import CORD, LIGHT, place_key, room_of
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook, Value

RECEPTACLE, OUTDOORS = "receptacle", "outdoors"
PROTECTED = ("ground-fault", "both")
_PROTECTION = Ref("supply", "", "protection")
_ACTED = (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION)
_LABEL_OR_CODE = ("Does the label of the light, or the local code, require ground-fault protection here?",)
_IN_PART = ("Does this receptacle need ground-fault protection?",)
_DEVICE = ("Plan a ground-fault breaker, or a ground-fault device before the crawl space, with the electrician.",)
_OWN = ("Plan a receptacle with its own ground-fault protection, of the tamper-resistant kind.",)
_READ = ("Read the light's label and instructions before it is put up.",)
_NOTHING: tuple[str, ...] = ()
_LIGHTING = ("Does this outlet count as one for a light, which needs no ground-fault protection outdoors?",)
_DRIVER = ("Does the outlet of a driver count as one for a light, which needs ground-fault protection there?",)
_IN_GARAGE = ("Does equipment that is wired in inside of a garage need ground-fault protection?",)
_BREAKER = ("Plan a ground-fault breaker, or a ground-fault device before the outlet, with the electrician.",)


def _subjects(case: Case) -> Iterator[Load | Driver]:
    yield from case.loads
    yield from case.drivers


def answer(part: Load | Driver, case: Case, book: Rulebook) -> Answer | None:
    """Whether something added has the ground-fault protection that its place requires."""
    if not part.is_added:
        return None
    if isinstance(part, Driver):
        return _driver(part, case, book)
    if part.kind == LIGHT:
        if room_of(case, part) in book.value("ground-fault-light-rooms").items:
            return _in_a_crawl_space(part, case, book)
        return _by_its_label(part, case, book)
    return _receptacle(part, case, book) if part.kind == RECEPTACLE else _equipment(part, case, book)


def _in_a_crawl_space(load: Load, case: Case, book: Rulebook) -> Answer:
    things: Things = {"light": load.id, "room": room_of(case, load)}
    if case.supply.protection in PROTECTED:
        outcome = Outcome.PASS
        says = said('The circuit of "{light}" has ground-fault protection, as lights in a {room} require.', **things)
    else:
        outcome = Outcome.FAIL
        says = said('"{light}" is in a {room}: it needs ground-fault protection, and its circuit has none.', **things)
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{light}" needs ground-fault protection and has it.', **things),
        sources=(book.value("ground-fault-light-rooms").source,),
        keys=(_PROTECTION, place_key(load, "room")),
        to_do=dict.fromkeys(_ACTED, _DEVICE),
    )


def _by_its_label(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """A light for which the book requires nothing, but its label or the place may."""
    rooms, asked = book.value("ground-fault-light-rooms"), book.value("ground-fault-asked-rooms")
    room = room_of(case, load)
    if not load.over_bath and room not in asked.items:
        return None
    things: Things = {"light": load.id, "room": room}
    protected = case.supply.protection in PROTECTED
    outcome = Outcome.PASS
    if protected:
        says = said('The circuit of "{light}" has ground-fault protection.', **things)
    elif load.over_bath:
        outcome = Outcome.CAUTION
        says = said('"{light}" is over or beside a bath: its label may require ground-fault protection.', **things)
    else:
        says = said(
            'The code requires no ground-fault protection for "{light}" ({room}); its label or local code may.',
            **things,
        )
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{light}" needs ground-fault protection and has it.', **things),
        sources=((book.find_value("ground-fault-outdoor-lights-free") or rooms).source, asked.source),
        keys=(_PROTECTION, load.entry("over_bath")),
        to_do=dict.fromkeys(_ACTED, _READ),
        ask=() if protected else _LABEL_OR_CODE,
    )


def _driver(driver: Driver, case: Case, book: Rulebook) -> Answer | None:
    """A driver where lights need it: the outlet feeds lighting, and is no outlet for a luminaire by its name."""
    rooms, room = book.value("ground-fault-light-rooms"), case.tree.box[driver.box].room
    if room not in rooms.items:
        return None
    things: Things = {"driver": driver.id, "room": room}
    protected = case.supply.protection in PROTECTED
    if protected:
        says = said('The circuit of driver "{driver}" has ground-fault protection.', **things)
    else:
        says = said(
            'Driver "{driver}" is in a {room}, where lights need ground-fault protection, and its circuit has none.',
            **things,
        )
    return Answer(
        part=driver,
        outcome=Outcome.PASS if protected else Outcome.CAUTION,
        says=says,
        open_says=said('Cannot tell yet whether driver "{driver}" needs ground-fault protection and has it.', **things),
        sources=(rooms.source,),
        keys=(_PROTECTION, Ref("box", driver.box, "room")),
        to_do=dict.fromkeys(_ACTED, _DEVICE),
        ask=() if protected else _DRIVER,
    )


def _equipment(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Equipment that is wired in outdoors at a dwelling, and no light.

    Source: NFPA 70, 210.8(F).
    """
    outside = book.find_value("ground-fault-outdoor-equipment-rooms")
    if outside is None or load.connection == CORD or not case.site.dwelling:
        return None
    room, rule, key = room_of(case, load), outside, place_key(load, "room")
    perhaps = book.find_value("ground-fault-outdoor-equipment-rooms-in-part")
    listed = room in outside.items
    if not listed and load.mounting == OUTDOORS:
        listed, key = True, load.entry("mounting")
    if not listed:
        if perhaps is None or room not in perhaps.items:
            return None
        rule = perhaps
    things: Things = {"thing": load.id, "where": "outdoors" if listed else f"in a {room}"}
    outcome, ask = Outcome.PASS, _NOTHING
    if case.supply.protection in PROTECTED:
        says = said('The circuit of "{thing}" has ground-fault protection.', **things)
    elif listed:
        outcome, ask = Outcome.FAIL, _LIGHTING
        says = said(
            '"{thing}" is wired in {where}: it needs ground-fault protection, and its circuit has none.', **things
        )
    else:
        outcome, ask = Outcome.CAUTION, _IN_GARAGE
        says = said(
            '"{thing}" is wired in {where}: it may need ground-fault protection, and its circuit has none.', **things
        )
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{thing}" needs ground-fault protection and has it.', **things),
        sources=(rule.source,),
        keys=(_PROTECTION, key),
        to_do=dict.fromkeys(_ACTED, _BREAKER),
        ask=ask,
    )


def _receptacle(load: Load, case: Case, book: Rulebook) -> Answer | None:
    dwelling = case.site.dwelling
    elsewhere = book.value("ground-fault-receptacle-rooms-elsewhere")
    rooms = book.value("ground-fault-receptacle-rooms") if dwelling else elsewhere
    perhaps = book.value("ground-fault-receptacle-rooms-in-part" + ("" if dwelling else "-elsewhere"))
    room, wet = room_of(case, load), None
    listed_in_part = room in perhaps.items
    if room not in rooms.items:
        wet = _damp_place(load, case, book)
        if wet is None and not listed_in_part:
            return None
    in_part = listed_in_part and wet is None
    things: Things = {
        "receptacle": load.id,
        "room": room if wet is None else f"{case.tree.box[load.box].location} place",
        "note": perhaps.note,
    }
    if case.supply.protection in PROTECTED:
        outcome = Outcome.PASS
        says = said('The circuit of "{receptacle}" has ground-fault protection, which a {room} requires.', **things)
    elif load.ground_fault:
        outcome = Outcome.PASS
        says = said('"{receptacle}" has ground-fault protection of its own, which a {room} requires.', **things)
    elif in_part:
        outcome = Outcome.CAUTION
        says = said('"{receptacle}" ({room}) may need ground-fault protection: {note}', **things)
    else:
        outcome = Outcome.FAIL
        says = said('"{receptacle}" ({room}) needs ground-fault protection, and has none.', **things)
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{receptacle}" needs ground-fault protection and has it.', **things),
        sources=(rooms.source if wet is None else wet.source, *((perhaps.source,) if in_part else ())),
        keys=(_PROTECTION, place_key(load, "room" if wet is None else "location")),
        to_do=dict.fromkeys(_ACTED, _OWN),
        to_come=said('"{receptacle}" needs ground-fault protection: use one that carries its own.', **things),
        ask=_IN_PART if in_part and outcome is Outcome.CAUTION else (),
    )


def _damp_place(load: Load, case: Case, book: Rulebook) -> Value | None:
    """What an edition says of damp and wet places indoors, where the receptacle is in one; None where it says nothing.

    Source: NFPA 70, 210.8(A) and (B).
    """
    damp = book.find_value("ground-fault-receptacle-damp-places" + ("" if case.site.dwelling else "-elsewhere"))
    return damp if damp is not None and case.tree.box[load.box].location in damp.items else None


#: The lists of rooms: what is in the same of them is alike.
_ROOMS = (
    "ground-fault-light-rooms",
    "ground-fault-asked-rooms",
    "ground-fault-receptacle-rooms",
    "ground-fault-receptacle-rooms-in-part",
    "ground-fault-receptacle-rooms-elsewhere",
    "ground-fault-receptacle-rooms-in-part-elsewhere",
    "ground-fault-outdoor-equipment-rooms",
    "ground-fault-outdoor-equipment-rooms-in-part",
)


def _lists_of(value: Any, book: Rulebook) -> Any:
    lists = (book.find_value(name) for name in _ROOMS)
    return tuple(rooms is not None and value in rooms.items for rooms in lists)


RULE = CaseRule["Load | Driver"](
    name="ground-fault",
    title="Ground-fault protection of new lights, receptacles and equipment outdoors",
    family=Family.SITE,
    rank=260,
    subjects=_subjects,
    answer=answer,
    worse={
        "supply.protection": order("both", "ground-fault", "arc-fault", "none"),
        "site.dwelling": EACH,  # elsewhere other lists hold
        "load.kind": EACH,
        "load.connection": lambda value, part, case: value != CORD,
        "load.mounting": lambda value, part, case: value == OUTDOORS,
        "load.over_bath": MORE,
        "load.ground_fault": LESS,
        "box.room": EACH,
        "box.location": order("dry", "damp", "wet"),
    },
    alike={"load.kind": words_apart(LIGHT, RECEPTACLE), "box.room": _lists_of},
)
