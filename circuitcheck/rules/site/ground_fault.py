"""Ground-fault protection: where the code requires it at new lights and receptacles, and where only a label may.

What it asks: for each added light in a crawl space, each added receptacle in a room that the book lists or in a damp
place, and each added light over a bath, outdoors or in a bathroom, whether the circuit has ground-fault protection.

Why: it cuts the power when current finds its way through a person. In a crawl space or a bathroom one stands on
earth or on wet ground.

What to do: in a crawl space feed the lights behind a ground-fault breaker or device. A new receptacle can carry its
own protection. For lights over a bath read the label: many ask for it.

Cannot see: a protecting device that stands somewhere between the panel and the light, a receptacle within 6 ft of a
sink or a tub, local amendments, and what the label says.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Answer,
    Case,
    CaseRule,
    Family,
    Things,
    order,
    said,
    values_of,
    words_apart,
)
from circuitcheck.case.parts import Load, Part
from circuitcheck.domain.luminaires import LIGHT, place_key, room_of
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook, Value

RECEPTACLE = "receptacle"
PROTECTED = ("ground-fault", "both")
_PROTECTION = Ref("supply", "", "protection")
_ACTED = (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION)
_LABEL_OR_CODE = ("Does the label of the light, or the local code, require ground-fault protection here?",)
_IN_PART = ("Does this receptacle need ground-fault protection?",)
_DEVICE = ("Plan a ground-fault breaker, or a ground-fault device before the crawl space, with the electrician.",)
_OWN = ("Plan a receptacle with its own ground-fault protection, of the tamper-resistant kind.",)
_READ = ("Read the light's label and instructions before it is put up.",)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Whether an added light or receptacle has the ground-fault protection that its room requires."""
    if not load.is_added:
        return None
    if load.kind == LIGHT:
        if room_of(case, load) in book.value("ground-fault-light-rooms").items:
            return _in_a_crawl_space(load, case, book)
        return _by_its_label(load, case, book)
    return _receptacle(load, case, book) if load.kind == RECEPTACLE else None


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


def _receptacle(load: Load, case: Case, book: Rulebook) -> Answer | None:
    dwelling = case.site.dwelling
    elsewhere = book.value("ground-fault-receptacle-rooms-elsewhere")
    rooms = book.value("ground-fault-receptacle-rooms") if dwelling else elsewhere
    perhaps = book.value("ground-fault-receptacle-rooms-in-part")
    room, wet = room_of(case, load), None
    listed_in_part = dwelling and room in perhaps.items
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

    Source: NFPA 70, 210.8(A).
    """
    damp = book.find_value("ground-fault-receptacle-damp-places")
    return damp if damp is not None and case.tree.box[load.box].location in damp.items else None


def _room_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A crawl space is worst for lights; then the rooms of the list for receptacles, and those where one only asks.

    Outside of dwellings another list holds, which names fewer rooms.
    """
    if not all(values_of(case.site, "dwelling")):
        return EACH
    names = (
        "ground-fault-light-rooms",
        "ground-fault-receptacle-rooms",
        "ground-fault-receptacle-rooms-in-part",
        "ground-fault-asked-rooms",
    )
    return tuple(value in case.book.value(name).items for name in names)


RULE = CaseRule[Load](
    name="ground-fault",
    title="Ground-fault protection of new lights and receptacles",
    family=Family.SITE,
    rank=260,
    subjects=lambda case: case.loads,
    answer=answer,
    worse={
        "supply.protection": order("both", "ground-fault", "arc-fault", "none"),
        "site.dwelling": EACH,  # elsewhere another list holds
        "load.kind": EACH,
        "load.over_bath": MORE,
        "load.ground_fault": LESS,
        "box.room": _room_is_worse,
        "box.location": order("dry", "damp", "wet"),
    },
    alike={"load.kind": words_apart("light", "receptacle")},
)
