"""Which conductors join which, in every box that the work opens or adds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from circuitcheck.advice.box_ends import ends_in
from circuitcheck.advice.carrying import Carried, carried_by_cable
from circuitcheck.advice.colors import Color
from circuitcheck.advice.joints import End, EndKind, Joint, JointKind, Joints, joints_of, without_supply
from circuitcheck.advice.nets import HOT, NEUTRAL, Net, NetKind, switched, untold
from circuitcheck.advice.switching import Switching, switching_of
from circuitcheck.circuit.model import PANEL, Box, Cable, Circuit
from circuitcheck.circuit.switched import LOOPS


@dataclass(frozen=True, slots=True)
class BoxWiring:
    """What is joined in one box. ``is_existing``: the box is there already and live until the breaker is off.

    ``taken``: what was taken about existing cables because only one thing could be meant, with the reason.
    ``chosen``: the same about new ones, where it is a plan and nothing to test. ``hot_whites``: cables whose white wire
    is not the neutral, or may not be.
    """

    box: Box
    joints: Joints
    taken: tuple[str, ...]
    chosen: tuple[str, ...]
    hot_whites: tuple[Cable, ...]
    is_existing: bool


def wiring_of(circuit: Circuit) -> tuple[BoxWiring, ...]:
    """Every box that the work touches: the new ones first, farthest from the panel first, those that exist last."""
    switching = switching_of(circuit)
    carried = carried_by_cable(circuit, switching)
    live = _live_nets(circuit, carried, switching)
    touched = [box for box in _farthest_first(circuit) if is_touched(box, circuit, switching)]
    touched.sort(key=lambda box: not box.is_added)
    return tuple(_box_wiring(box, circuit, carried, switching, live) for box in touched)


def is_touched(box: Box, circuit: Circuit, switching: Switching) -> bool:
    """Whether the work adds the box or anything on the branch circuit in it."""
    tree = circuit.tree
    return (
        box.is_added
        or any(cable.is_added for cable in _branch_cables_at(box.id, circuit))
        or any(load.is_added for load in tree.loads_at.get(box.id, ()))
        or any(driver.is_added for driver in tree.drivers_at.get(box.id, ()))
        or any(control.is_added for control in switching.controls_at.get(box.id, ()))
    )


def _branch_cables_at(box_id: str, circuit: Circuit) -> list[Cable]:
    tree = circuit.tree
    return [cable for cable in tree.cables_at.get(box_id, ()) if cable.id not in tree.driver_of]


def _farthest_first(circuit: Circuit) -> list[Box]:
    """The boxes against the order of the tree; boxes that nothing feeds come last."""
    tree = circuit.tree
    fed = [tree.box[node] for node in reversed(tree.order) if node in tree.box]
    known = {box.id for box in fed}
    return [*fed, *(box for box in circuit.boxes if box.id not in known and _branch_cables_at(box.id, circuit))]


def _box_wiring(
    box: Box,
    circuit: Circuit,
    carried: Mapping[str, Carried],
    switching: Switching,
    live: Mapping[Net, set[str]],
) -> BoxWiring:
    ends = ends_in(box, circuit, carried, switching)
    through, rest = _run_through(box, circuit, ends)
    joints = joints_of(rest)
    checked = {net for net in (joint.net for joint in joints.joints) if net in live and box.id not in live[net]}
    joints = without_supply(joints, frozenset(checked))
    cables = [cable for cable in _branch_cables_at(box.id, circuit) if cable.id in carried]
    open_ones = [cable for cable in cables if carried[cable.id].taken]
    return BoxWiring(
        box=box,
        joints=Joints((*joints.joints, *through), joints.untold),
        taken=tuple(_carried_words(cable, carried[cable.id]) for cable in open_ones if not cable.is_added),
        chosen=tuple(_carried_words(cable, carried[cable.id]) for cable in open_ones if cable.is_added),
        hot_whites=tuple(cable for cable in cables if _has_hot_white(cable, carried[cable.id])),
        is_existing=not box.is_added,
    )


def _carried_words(cable: Cable, carried: Carried) -> str:
    nets = ", ".join(net.words for net in carried.nets or ())
    return f"{cable.id}: taken as {nets}, since {carried.taken}"


def _has_hot_white(cable: Cable, carried: Carried) -> bool:
    """Whether a cable of two or more insulated conductors has no neutral among them, or nobody knows it."""
    nets = carried.nets or ()
    if len(nets) > 1 and all(net.told for net in nets):
        return NEUTRAL not in nets
    return cable.carries in LOOPS


def _run_through(box: Box, circuit: Circuit, ends: Sequence[End]) -> tuple[tuple[Joint, ...], list[End]]:
    """Conductors that run through the box uncut, and the ends that are left.

    They can be told apart only where all conductors of one cable run on into one other.
    """
    own = [run for run in box.unbroken or () if run.count and not run.other_circuit]
    if not own:
        return (), list(ends)
    sizes = {run.size for run in own}
    insulated = [end for end in ends if end.kind is EndKind.CABLE and end.net.kind is not NetKind.GROUND]
    cables = list(dict.fromkeys(end.cable for end in insulated))
    pairs = [[end for end in insulated if end.cable == cable] for cable in cables]
    whole = sum(run.count for run in own)
    told = all(end.net.told for end in insulated)
    if told and len(pairs) == 2 and _alike(*pairs) and whole == len(pairs[0]) and {pairs[0][0].size} == sizes:
        joined = tuple(
            Joint(JointKind.THROUGH, one.net, (one, other)) for one, other in zip(pairs[0], pairs[1], strict=True)
        )
        return joined, [end for end in ends if end not in insulated]
    why = untold("some conductors run through this box uncut; which of them is not given")
    return (), [_without_net(end, why, box) if end in insulated and end.size in (None, *sizes) else end for end in ends]


def _alike(one: Iterable[End], other: Iterable[End]) -> bool:
    return [(end.net, end.size) for end in one] == [(end.net, end.size) for end in other]


def _without_net(end: End, why: Net, box: Box) -> End:
    return replace(end, net=why, color=Color(), key=str(box.entry("unbroken")))


def _live_nets(circuit: Circuit, carried: Mapping[str, Carried], switching: Switching) -> dict[Net, set[str]]:
    """For each net with a beginning, the boxes to which the file's cables bring it: hot, neutral, behind a switch."""
    starts: dict[Net, set[str]] = {HOT: {PANEL}, NEUTRAL: {PANEL}}
    for control in circuit.controls:
        net = switched(switching.name_of[control.id])
        three_way = control.id in switching.open_sets or control.id in switching.terminals_of
        if not three_way or net in switching.terminals_of.get(control.id, ()):
            starts.setdefault(net, set()).add(control.box)
    ways: dict[Net, dict[str, list[str]]] = {net: {} for net in starts}
    for cable in circuit.tree.branch_cables:
        for net in set(carried[cable.id].nets or ()) & starts.keys():
            ways[net].setdefault(cable.from_id, []).append(cable.to_id)
            ways[net].setdefault(cable.to_id, []).append(cable.from_id)
    for net, found in starts.items():
        waiting = list(found)
        while waiting:
            for other in ways[net].get(waiting.pop(), ()):
                if other not in found:
                    found.add(other)
                    waiting.append(other)
    return starts
