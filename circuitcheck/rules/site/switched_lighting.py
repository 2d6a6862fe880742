"""Switched lighting: a room that loses the light which a wall switch turns on.

What it asks: where the work takes a light away from a room of a dwelling that must have one with a wall switch, and the
file has no other fixed light in that room, what takes its place.

Why: whoever comes in at night has to find a switch by the door that gives light.

What to do: keep one light with a wall switch in each living room, bedroom, kitchen, bathroom, hallway, stair and
garage.
In rooms to live in, but for kitchens and bathrooms, a receptacle that a wall switch turns on may do.

Cannot see: lights of other circuits in the room, and rooms that never had a switched light: it asks only where the work
takes one away.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import EACH, MORE, Answer, Case, CaseRule, Family, Things, said, words_apart
from circuitcheck.case.parts import Load
from circuitcheck.domain.luminaires import CORD, LIGHT
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

_ASK = (
    "Does this room keep a light that a wall switch turns on, on this circuit or another? In a room to live in, other "
    "than a kitchen or bathroom, a switched receptacle may do.",
)
_KEEP = ("Keep or plan one light with a wall switch in this room.",)


def _subjects(case: Case) -> Iterator[Load]:
    return (gone.load for gone in case.gone)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Whether the room of a light that goes keeps another one."""
    box = case.tree.box.get(load.box)
    if box is None or not case.site.dwelling or load.kind != LIGHT or load.connection == CORD:
        return None
    rooms = book.value("switched-lighting-rooms")
    room = box.room
    if room not in rooms.items or any(_is_fixed_light(other, case, room) for other in case.loads):
        return None
    things: Things = {"light": load.id, "room": room}
    return Answer(
        part=load,
        outcome=Outcome.CAUTION,
        says=said(
            '"{light}" goes. A {room} must have a light with a wall switch, and the file has no other.', **things
        ),
        sources=(book.value("switched-lighting-places").source, rooms.source),
        keys=(Ref("box", box.id, "room"),),
        to_do={Outcome.CAUTION: _KEEP},
        ask=_ASK,
    )


def _is_fixed_light(load: Load, case: Case, room: str) -> bool:
    return load.kind == LIGHT and load.connection != CORD and case.tree.box[load.box].room == room


RULE = CaseRule[Load](
    name="switched-lighting",
    title="A light with a wall switch in each room that must have one",
    family=Family.SITE,
    rank=340,
    subjects=_subjects,
    answer=answer,
    worse={
        "site.dwelling": MORE,
        "load.kind": EACH,
        "load.connection": EACH,
        "box.room": EACH,
    },
    alike={"load.kind": words_apart("light")},
)
