"""Which switches belong together, and what the cables between three-way switches carry."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from circuitcheck.advice.nets import HOT, NEUTRAL, Net, NetKind, switched, untold
from circuitcheck.case import expected
from circuitcheck.circuit.model import PANEL, Cable, Circuit, Control

TRAVELERS = "travelers"
THREE_WAY = "three-way"
FOUR_WAY = "four-way"

#: A three-way set has two ends, and two travelers run between any two of its switches.
ENDS = 2
TRAVELER_COUNT = 2


@dataclass(frozen=True, slots=True)
class Switching:
    """The switches of a circuit.

    name_of: control id -> name of the net that it switches (three-way switches of one set share it).
    controls_at: box id -> its controls.
    nets_of: cable id -> what the cables between three-way switches carry, where that could be told.
    terminals_of: control id -> the nets on its terminals, for three-way and four-way switches that could be told.
    open_sets: control id -> why its set could not be told.
    chosen: cables whose third conductor is one choice out of several that would work.
    """

    name_of: Mapping[str, str]
    controls_at: Mapping[str, tuple[Control, ...]]
    nets_of: Mapping[str, tuple[Net, ...]]
    terminals_of: Mapping[str, tuple[Net, ...]]
    open_sets: Mapping[str, str]
    chosen: frozenset[str]


def switching_of(circuit: Circuit) -> Switching:
    """The switches of the circuit, sets of three-way switches worked out where the file says enough."""
    at: dict[str, list[Control]] = {}
    for control in circuit.controls:
        at.setdefault(control.box, []).append(control)
    sets = _sets(circuit.controls)
    names = {control.id: " and ".join(one.id for one in members) for members in sets for control in members}
    work = _Work(circuit)
    for members in sets:
        if any(control.ways in (THREE_WAY, FOUR_WAY) for control in members):
            work.solve(members, names[members[0].id])
    return Switching(
        name_of=names,
        controls_at={box: tuple(controls) for box, controls in at.items()},
        nets_of=work.nets_of,
        terminals_of=work.terminals_of,
        open_sets=work.open_sets,
        chosen=frozenset(work.chosen),
    )


def _sets(controls: Sequence[Control]) -> list[tuple[Control, ...]]:
    """Controls that name one another, in file order; a control that names none is a set of its own."""
    leader = {control.id: control.id for control in controls}

    def first(name: str) -> str:
        while leader[name] != name:
            leader[name] = leader[leader[name]]
            name = leader[name]
        return name

    for control in controls:
        if control.with_id is not None and control.with_id in leader:
            leader[first(control.with_id)] = first(control.id)
    found: dict[str, list[Control]] = {}
    for control in controls:
        found.setdefault(first(control.id), []).append(control)
    return [tuple(members) for members in found.values()]


@dataclass(frozen=True, slots=True)
class _Way:
    """The way from one three-way switch to the other: boxes, the cables between them, and which box is fed."""

    boxes: tuple[str, ...]
    cables: tuple[Cable, ...]
    top: int

    def below(self, index: int) -> str:
        """The downstream end of a cable of the way."""
        return self.boxes[index + 1] if index >= self.top else self.boxes[index]


class _OpenError(Exception):
    """A set of switches that the file does not say enough about."""


class _Work:
    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.needing = _needing_neutral(circuit)
        self.nets_of: dict[str, tuple[Net, ...]] = {}
        self.terminals_of: dict[str, tuple[Net, ...]] = {}
        self.open_sets: dict[str, str] = {}
        self.chosen: set[str] = set()

    def solve(self, members: tuple[Control, ...], name: str) -> None:
        """Find what each cable of the set carries and what each switch has on its terminals, or keep why not."""
        try:
            ends = _two_ends(members)
            way = self._way(ends)
            segments = _segments(way, members)
        except _OpenError as error:
            self.open_sets.update({control.id: str(error) for control in members})
            return
        for index, cable in enumerate(way.cables):
            self.nets_of[cable.id] = (*_travelers(name, segments[index]), *self._rest(way, index, name))
        first_is_hot = way.top != len(way.cables)
        for control, hot, segment in zip(ends, (first_is_hot, not first_is_hot), (0, segments[-1]), strict=True):
            common = HOT if hot else switched(name)
            self.terminals_of[control.id] = (common, *_travelers(name, segment))
        for control in members:
            if control.ways == FOUR_WAY:
                segment = segments[way.boxes.index(control.box)]
                self.terminals_of[control.id] = (*_travelers(name, segment - 1), *_travelers(name, segment))

    def _way(self, ends: tuple[Control, Control]) -> _Way:
        """Raises: _OpenError when the cables on the way are not said to carry travelers."""
        tree = self.circuit.tree
        first, second = (tree.path(control.box) for control in ends)
        if not first or not second or ends[0].box == ends[1].box:
            raise _OpenError("two three-way switches stand in boxes of their own, with a cable of travelers between")
        shared = len([one for one, other in zip(first, second, strict=False) if one.id == other.id])
        up, down = first[shared:], second[shared:]
        for cable in (*up, *down):
            if cable.carries != TRAVELERS or cable.conductors is None or cable.conductors <= TRAVELER_COUNT:
                raise _OpenError(f"it is not given that {cable.id} carries the travelers and one conductor more")
        boxes = [ends[0].box, *(cable.from_id for cable in reversed(up)), *(cable.to_id for cable in down)]
        if PANEL in boxes:
            raise _OpenError("the travelers run through the panel")
        return _Way(tuple(boxes), (*reversed(up), *down), len(up))

    def _rest(self, way: _Way, index: int, name: str) -> tuple[Net, ...]:
        """What a cable of travelers carries besides them."""
        cable = way.cables[index]
        count = expected(cable.conductors, cable, "conductors") - TRAVELER_COUNT
        spare = untold("what it is for is not given")
        if way.below(index) in self.needing:
            needed: tuple[Net, ...] = (NEUTRAL,)
            if 0 < way.top < len(way.cables):
                needed = (untold("between the feed and a switch it would have to be two things"),)
        elif not cable.is_added:
            needed = (untold("in a switch cable that is there it may be the supply or the return"),)
        else:
            self.chosen.add(cable.id)
            needed = (HOT,) if 0 < way.top < len(way.cables) and index < way.top else (switched(name),)
            needed = (*needed, NEUTRAL)
        return (*needed, *[spare] * count)[:count]


def _needing_neutral(circuit: Circuit) -> frozenset[str]:
    """Boxes at or below which something needs a neutral."""
    needing = {load.box for load in circuit.loads} | {driver.box for driver in circuit.drivers}
    needing |= {control.box for control in circuit.controls if control.needs_neutral}
    for cable in reversed(circuit.tree.branch_cables):
        if cable.to_id in needing:
            needing.add(cable.from_id)
    return frozenset(needing)


def _two_ends(members: tuple[Control, ...]) -> tuple[Control, Control]:
    """The two three-way switches of a set. Raises: _OpenError."""
    ends = [control for control in members if control.ways == THREE_WAY]
    if len(ends) != ENDS or any(control.ways not in (THREE_WAY, FOUR_WAY) for control in members):
        raise _OpenError("a three-way set is two three-way switches that name each other, four-way switches between")
    return ends[0], ends[1]


def _segments(way: _Way, members: tuple[Control, ...]) -> tuple[int, ...]:
    """Which pair of travelers each cable of the way carries: a new one behind each four-way switch.

    Raises: _OpenError for a four-way switch that is not on the way.
    """
    crossing = [control.box for control in members if control.ways == FOUR_WAY]
    if len(set(crossing)) != len(crossing) or not set(crossing) <= set(way.boxes[1:-1]):
        raise _OpenError("a four-way switch is not on the way between the two three-way switches")
    segments: list[int] = []
    for box in way.boxes[:-1]:
        segments.append((segments[-1] if segments else 0) + (box in crossing))
    return tuple(segments)


def _travelers(name: str, segment: int) -> tuple[Net, Net]:
    first = TRAVELER_COUNT * segment + 1
    return Net(NetKind.TRAVELER, name, str(first)), Net(NetKind.TRAVELER, name, str(first + 1))
