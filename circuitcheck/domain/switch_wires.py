"""Through which cables what a switch, or a three-way pair, turns off is fed: where its switches and its loads hang."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from enum import Enum
from heapq import heapify, heappop, heappush
from typing import NamedTuple

from circuitcheck.case import Case, once
from circuitcheck.case.parts import Cable, Control, Driver, Load
from circuitcheck.circuit.switched import MOST_IN_A_ROW
from circuitcheck.domain.switches_before import pairs

#: Of so many loads of one switch it is looked at where each hangs.
MOST_LOADS = 200


class Side(Enum):
    """Where the switches stand, seen from a cable: all before it, all behind it, or some on either side."""

    BEFORE = "before"
    BEHIND = "behind"
    BOTH = "both"


class Crossing(NamedTuple):
    """A cable on the way between the switches that work together and what they turn off.

    before, behind: what they turn off that hangs nearer to the panel than the cable, and what hangs behind it.
    """

    controls: tuple[Control, ...]
    side: Side
    before: tuple[Load | Driver, ...]
    behind: tuple[Load | Driver, ...]


@once
def crossings(case: Case) -> Mapping[str, tuple[Crossing, ...]]:
    """Cable id -> the switches with something of theirs on either side of it. No entry that can be open is read."""
    behind, place = _Behind(case), {node: at for at, node in enumerate(case.tree.order)}
    found: dict[str, tuple[Crossing, ...]] = {}
    for controls, things in _sets(case):
        ends = [part for part in (*controls, *things) if part.box in place]
        if len(ends) < len(controls) + len(things) or not things:
            continue
        for cable in _cables_joining(case, place, {part.box for part in ends}):
            inside = [behind(control.box, cable) for control in controls]
            side = Side.BEHIND if all(inside) else Side.BOTH if any(inside) else Side.BEFORE
            crossing = Crossing(
                controls,
                side,
                tuple(thing for thing in things if not behind(thing.box, cable)),
                tuple(thing for thing in things if behind(thing.box, cable)),
            )
            found[cable.id] = (*found.get(cable.id, ()), crossing)
    return found


def _sets(case: Case) -> Iterable[tuple[tuple[Control, ...], tuple[Load | Driver, ...]]]:
    """The switches that work together, each set once, with what they turn off."""
    names = pairs(case)
    sets: dict[str, list[Control]] = {}
    for control in case.controls:
        sets.setdefault(names[control.id], []).append(control)
    things: dict[str, list[Load | Driver]] = {name: [] for name in sets}
    for thing, switch in _switched_last_by(case):
        if switch in names and len(things[names[switch]]) < MOST_LOADS:
            things[names[switch]].append(thing)
    for name, controls in sets.items():
        yield tuple(controls), tuple(things[name])


def _switched_last_by(case: Case) -> Iterator[tuple[Load | Driver, str]]:
    """What a switch turns off, each with one switch: of several one behind the other it hangs on the last."""
    above: dict[str, tuple[str, ...]] = {}
    for cable in case.tree.branch_cables:
        way = above.get(cable.from_id, ())
        above[cable.to_id] = (*way, cable.switched_by)[-MOST_IN_A_ROW:] if cable.switched_by else way
    things: Iterable[Load | Driver] = (*case.loads, *case.drivers)
    for thing in things:
        way, own = above.get(thing.box, ()), thing.switched_by
        if own is not None and own not in way:
            yield thing, own
        elif way:
            yield thing, way[-1]


def _cables_joining(case: Case, place: Mapping[str, int], boxes: set[str]) -> Iterable[Cable]:
    """The cables on the ways from each of these boxes to each other one: what is farthest climbs first."""
    waiting = [(-place[box], box) for box in boxes]
    heapify(waiting)
    seen = set(boxes)
    while len(waiting) > 1:
        _, box = heappop(waiting)
        cable = case.tree.feed[box]
        yield cable
        if cable.from_id not in seen:
            seen.add(cable.from_id)
            heappush(waiting, (-place[cable.from_id], cable.from_id))


class _Behind:
    """Whether a box is at the far end of a cable, or behind it: by the place of each in the order of a walk."""

    def __init__(self, case: Case) -> None:
        tree = case.tree
        sizes = dict.fromkeys(tree.order, 1)
        for cable in reversed(tree.branch_cables):
            sizes[cable.from_id] += sizes[cable.to_id]
        self._sizes = sizes
        self._first = {tree.order[0]: 0} if tree.order else {}
        next_free = dict.fromkeys(self._first, 1)
        for cable in tree.branch_cables:
            at = next_free[cable.from_id]
            self._first[cable.to_id] = at
            next_free[cable.from_id] = at + sizes[cable.to_id]
            next_free[cable.to_id] = at + 1

    def __call__(self, box: str, cable: Cable) -> bool:
        first = self._first[cable.to_id]
        return first <= self._first[box] < first + self._sizes[cable.to_id]
