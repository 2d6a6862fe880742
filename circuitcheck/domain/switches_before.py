"""Which switches stand before a box, a light or another switch of one known circuit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from circuitcheck.case import EACH, Case, Direction, once, order
from circuitcheck.case.along import along
from circuitcheck.case.parts import Cable, Control, Driver, Load, Part
from circuitcheck.circuit.switched import LOOPS, MOST_IN_A_ROW

TRAVELERS = "travelers"
SWITCHED = (*LOOPS, "switched")
BOTH, FEED, TWO_CIRCUITS = "feed and switched", "feed", "two circuits"
#: A switch that a cable's role tells of and nobody named.
UNNAMED = "a switch"

_BY_ROLE = order(FEED, BOTH, TWO_CIRCUITS, *SWITCHED)
FEWER_SWITCHES: Direction = order(*reversed(SWITCHED), TWO_CIRCUITS, BOTH, FEED)


def MORE_SWITCHES(value: Any, part: Part, case: Case) -> Any:  # noqa: N802 - reads as a constant in a rule's table
    """The more switches a cable's role tells of, the more stand before what hangs behind it.

    Where a switch stands behind a cable that it turns off itself, as the file has it, the one that is named before it
    is no other switch, and one that nobody named may be: no way is always worse.
    """
    return EACH if part.ref.id in _turned_off_from_behind(case) else _BY_ROLE(value, part, case)


class Way(NamedTuple):
    """The switches before a box: ``hot`` before the conductor that passes on, ``lights`` before the lights in it."""

    hot: tuple[str, ...] = ()
    lights: tuple[str, ...] = ()


def _behind(case: Case, before: Way, cable: Cable) -> Way:
    """What stands behind a cable. One that is called a feed passes on what was hot before it."""
    if cable.carries == FEED:
        # A constant hot brought on; behind a cable that carries both it is the one that no switch turns off.
        return Way(before.hot, before.hot)
    own = (cable.switched_by,) if cable.switched_by else (UNNAMED,) if cable.carries in SWITCHED else ()
    if cable.switched_by and _brings_travelers(case.tree.feed.get(cable.from_id)):
        # The switch at the far end of travelers and the one at their near end are partners: one switch.
        before = Way(_named(before.hot), _named(before.lights))
    if own == (UNNAMED,) and before.lights:
        own = ()  # the switch that is named before it
        switched: tuple[str, ...] = before.lights
    else:
        along = before.lights if own and set(own) <= set(before.lights) else before.hot
        switched = (*along, *(each for each in own if each not in along))[-MOST_IN_A_ROW:]
    if cable.carries == BOTH or cable.carries in LOOPS:
        # A loop brings down what is hot in the box where it begins, and travelers are hot through the partner alone.
        return Way(before.hot, switched)
    return Way(switched, switched) if own or cable.carries in SWITCHED else before


#: ``(case, box)``: the switches before a box, nearest the panel first; none for a box that no branch cable reaches.
way_to = along(_behind, Way(), reads="carries")


def _brings_travelers(feed: Cable | None) -> bool:
    return feed is not None and feed.carries == TRAVELERS


def _named(switches: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(each for each in switches if each != UNNAMED)


@once
def _turned_off_from_behind(case: Case) -> frozenset[str]:
    """Cables on the way to a switch, from one on that is said to be turned off by that switch or by its partner."""
    names = pairs(case)
    turn_off = {names.get(cable.switched_by) for cable in case.tree.branch_cables if cable.switched_by}
    marked: set[str] = set()
    for control in case.controls:
        own = names[control.id]
        way = case.tree.path(control.box) if own in turn_off else ()
        first = next((place for place, cable in enumerate(way) if names.get(cable.switched_by or "") == own), len(way))
        marked.update(cable.id for cable in way[first:])
    return frozenset(marked)


@once
def pairs(case: Case) -> Mapping[str, str]:
    """Control id -> the one name that stands for it and all that it works with: three-way partners are one switch."""
    stands_for = {control.id: control.id for control in case.controls}
    for control in case.controls:
        if control.with_id in stands_for:
            one, other = stands_for[control.id], stands_for[control.with_id]
            stands_for.update({id: one for id, name in stands_for.items() if name == other})
    return stands_for


def apart(case: Case, switches: Iterable[str]) -> tuple[str, ...]:
    """The switches, without the partners of those that stand there already."""
    names = pairs(case)
    kept: dict[str, str] = {}
    for each in switches:
        kept.setdefault(names.get(each, each), each)
    return tuple(kept.values())


def before_light(case: Case, thing: Load | Driver) -> tuple[str, ...]:
    """The switches before a light or driver; one whose own switch is named hangs on the conductor that it takes."""
    way, own = way_to(case, thing.box), thing.switched_by
    if own is None or own in way.lights:
        return way.lights
    return (*_named(way.hot), own)


def before_control(case: Case, control: Control) -> tuple[str, ...]:
    """The switches before another one, without its own partners."""
    names, hot = pairs(case), apart(case, way_to(case, control.box).hot)
    return tuple(each for each in hot if names.get(each, each) != names[control.id])
