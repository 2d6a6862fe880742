"""New cable: a thicker one, laid apart from others, or another run. Cable that is there is never made thicker here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from circuitcheck.advice.fixes.step import CHOSEN, OTHER_ROUTE, Asked, Step, chosen, is_there
from circuitcheck.circuit.change import ALTER
from circuitcheck.circuit.edits import Edit, PlanChange
from circuitcheck.circuit.keys.change import OF_THE_WAY
from circuitcheck.circuit.model import Box, Cable, Circuit
from circuitcheck.refs import Ref

#: Sizes that new branch cable of a house comes in, from thin to thick.
SIZES = ("14 AWG", "12 AWG", "10 AWG")


def thicker_steps(asked: Asked) -> Iterator[Step]:
    """Thicker cable: this run alone, then every new run up to it, then every new run."""
    circuit = asked.circuit
    own = asked.part("cables")
    subject = own.to_id if own is not None else _home(asked)
    added = [cable for cable in circuit.tree.branch_cables if not is_there(cable)]
    on_the_way = [cable for cable in circuit.tree.path(subject) if not is_there(cable)] if subject else []
    sets: list[list[Cable]] = [[own]] if own in added else []
    sets += [on_the_way, added]
    seen: set[tuple[str, ...]] = set()
    for cables in sets:
        for size in SIZES:
            thin = [cable for cable in cables if _is_thinner(cable, size)]
            key = (size, *(cable.id for cable in thin))
            if thin and key not in seen:
                seen.add(key)
                yield _of_size(thin, size, circuit)


def _home(asked: Asked) -> str | None:
    part = asked.part("loads") or asked.part("drivers")
    return part.box if part is not None else None


def _is_thinner(cable: Cable, size: str) -> bool:
    return cable.size in SIZES and SIZES.index(cable.size) < SIZES.index(size)


def _of_size(cables: Sequence[Cable], size: str, circuit: Circuit) -> Step:
    edits: list[Edit] = [
        chosen(circuit, "cable", cable, {"size": size, "product": None, "white_remarked": cable.white_remarked})
        for cable in cables
    ]
    ends = dict.fromkeys(end for cable in cables for end in (cable.from_id, cable.to_id))
    boxes = (circuit.tree.box.get(end) for end in ends)
    edits += _resized_devices([box for box in boxes if box is not None], size, circuit)
    names = ", ".join(f'"{cable.id}"' for cable in cables)
    says = f"Choose {size} for new cable {names}."
    costs = CHOSEN * len(cables) + 0.2 * SIZES.index(size)
    return Step(says, tuple(edits), costs, family=f"thicker {names}", strength=SIZES.index(size))


def _resized_devices(boxes: Iterable[Box], size: str, circuit: Circuit) -> Iterator[Edit]:
    """A device in a box with thicker wire counts by that wire: a smaller size that was noted is no longer true."""
    for box in boxes:
        thin = [device for device in box.devices or () if device.size in SIZES and device.size != size]
        if not any(SIZES.index(str(device.size)) < SIZES.index(size) for device in thin):
            continue
        devices: list[dict[str, Any]] = [
            {"kind": device.kind, "gangs": device.gangs, "size": size if device in thin else device.size}
            for device in box.devices or ()
        ]
        devices = [{key: value for key, value in device.items() if value is not None} for device in devices]
        entries = {"devices": devices}
        yield PlanChange(Ref("box", box.id), ALTER, entries) if is_there(box) else chosen(circuit, "box", box, entries)


def apart_steps(asked: Asked) -> Iterator[Step]:
    """Cable that lies with others laid apart from them."""
    cable = asked.part("cables")
    if cable is None or cable.bundled_with == 0:
        return
    entries: dict[str, Any] = {"bundled_with": 0}
    if cable.current_carrying is not None:
        entries["current_carrying"] = None
    says = f'Lay cable "{cable.id}" apart from other cables along its whole run.'
    if not is_there(cable):
        yield Step(says, (chosen(asked.circuit, "cable", cable, entries),), CHOSEN)
    elif cable.current_carrying is None:
        yield Step(says, (PlanChange(Ref("cable", cable.id), ALTER, {"bundled_with": 0}),), OTHER_ROUTE)


def inside_steps(asked: Asked) -> Iterator[Step]:
    """A new run taken through a cooler place: its length has to be measured again."""
    cable = asked.part("cables")
    if cable is None or is_there(cable) or cable.place == "inside":
        return
    away = [key for key in OF_THE_WAY if key != "place"]
    entries = {**dict.fromkeys(away), "place": "inside"}
    unsets = frozenset(str(cable.entry(key)) for key in away)
    says = f'Run cable "{cable.id}" inside the house instead, where it is cool and dry, and measure the new run.'
    yield Step(says, (chosen(asked.circuit, "cable", cable, entries),), OTHER_ROUTE, unsets)


def planned_number_steps(asked: Asked) -> Iterator[Step]:
    """A number of the plan at the limit that the check names: where a cable is held, how much of it is left free."""
    cable, limit = asked.part("cables"), asked.finding.limit
    for key, words in _PLANNED.get(asked.finding.check, {}).items():
        if cable is not None and not is_there(cable) and limit is not None and f".{key}" in "".join(asked.finding.keys):
            value = f"{limit:.6g} {asked.finding.unit}"
            says = f'Plan cable "{cable.id}" with {words} {value}.'
            yield Step(says, (chosen(asked.circuit, "cable", cable, {key: value}),), CHOSEN)


#: Check -> keys that a plan can set to the limit, and how a sentence calls them.
_PLANNED = {
    "cable-support": {
        "support_spacing": "a support at least every",
        "support_from_box": "a support from each box within",
    },
    "free-conductor": {"free_length": "free conductor at each box of at least"},
}


def plates_steps(asked: Asked) -> Iterator[Step]:
    """Steel plates where a new cable passes near the face of the framing, guard strips where people climb in."""
    cable = asked.part("cables")
    if cable is None or is_there(cable):
        return
    key = {"cable-edge": "plates", "attic-protection": "guard_strips"}[asked.finding.check]
    if getattr(cable, key) is not True:
        what = {"plates": "steel plates over the framing", "guard_strips": "guard strips along the framing"}[key]
        says = f'Plan {what} for cable "{cable.id}".'
        yield Step(says, (chosen(asked.circuit, "cable", cable, {key: True}),), CHOSEN)


def _has_power_always(box: Box, circuit: Circuit) -> bool:
    """Whether an always-hot conductor and a neutral are known to be in the box: its feed comes unswitched."""
    path = circuit.tree.path(box.id)
    return bool(path) and all(cable.carries in ("feed", None) for cable in path) and box.neutral is not False


def other_feed_steps(asked: Asked) -> Iterator[Step]:
    """New cable taken from another box of the circuit; the length and the way of it are unknown until measured."""
    circuit = asked.circuit
    box = asked.part("boxes") or _feeding_box(asked)
    if box is None:
        return
    starts = [cable for cable in circuit.tree.children.get(box.id, ()) if not is_there(cable)]
    if not starts:
        return
    below = _below(box.id, circuit)
    upstream = [cable.from_id for cable in circuit.tree.path(box.id)]
    nearest = sorted(circuit.boxes, key=lambda other: -upstream.index(other.id) if other.id in upstream else 1)
    for other in nearest:
        if other.id == box.id or other.id in below or not is_there(other) or not _has_power_always(other, circuit):
            continue
        if all(_can_start_at(cable, other, circuit) for cable in starts):
            yield _from_box(starts, other, circuit)


def _feeding_box(asked: Asked) -> Box | None:
    """The last box that is there already on the way to what the finding is about."""
    home, tree = _home(asked), asked.circuit.tree
    way = [tree.box[node] for node in (home, *(cable.from_id for cable in tree.path(home))) if node in tree.box] if (
        home is not None) else []  # fmt: skip
    return next((box for box in way if is_there(box)), None)


def _can_start_at(cable: Cable, other: Box, circuit: Circuit) -> bool:
    """Whether what a cable carries can be had there: what a switch turns off starts at the switch, or in the box that
    feeds its loop, where the loop brings it back.
    """
    if cable.carries in (None, "feed"):
        return True
    for control in circuit.controls:
        loop = circuit.tree.feed.get(control.box)
        looped = loop is not None and loop.carries == "switch loop" and loop.from_id == other.id
        if control.id == cable.switched_by and (control.box == other.id or looped):
            return True
    return False


def _below(start: str, circuit: Circuit) -> set[str]:
    """What is fed by the new cables that leave a box."""
    waiting = [cable.to_id for cable in circuit.tree.children.get(start, ()) if not is_there(cable)]
    found: set[str] = set()
    while waiting:
        node = waiting.pop()
        found.add(node)
        waiting += [cable.to_id for cable in circuit.tree.children.get(node, ())]
    return found


def _from_box(cables: Sequence[Cable], other: Box, circuit: Circuit) -> Step:
    entries: dict[str, Any] = {**dict.fromkeys(OF_THE_WAY), "from": other.id}
    edits = tuple(chosen(circuit, "cable", cable, entries) for cable in cables)
    unsets = frozenset(str(cable.entry(key)) for cable in cables for key in OF_THE_WAY)
    names = ", ".join(f'"{cable.id}"' for cable in cables)
    says = f'Take new cable {names} from box "{other.id}" instead, and measure the new run.'
    return Step(says, edits, OTHER_ROUTE * len(cables), unsets)
