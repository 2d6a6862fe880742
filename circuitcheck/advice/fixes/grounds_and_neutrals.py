"""A conductor that is missing in new cable: the equipment ground, or the neutral at a new switch."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.advice.fixes.step import CHOSEN, Asked, Step, chosen, is_there
from circuitcheck.circuit.edits import Edit
from circuitcheck.circuit.model import Cable

#: What a cable that ends at a switch carries, and with how many insulated conductors it brings a neutral besides.
_WITH_NEUTRAL = {"switch loop": 3, "travelers": 4}


def grounded_cable_steps(asked: Asked) -> Iterator[Step]:
    """New cable with an equipment ground, all along the way to what has none."""
    part = asked.part("loads") or asked.part("drivers") or asked.part("controls")
    if part is None:
        return
    circuit = asked.circuit
    bare = [cable for cable in circuit.tree.path(part.box) if not is_there(cable) and cable.ground is not True]
    if not bare:
        return
    boxes = [circuit.tree.box[cable.to_id] for cable in bare if cable.to_id in circuit.tree.box]
    edits: list[Edit] = [chosen(circuit, "cable", cable, {"ground": True, "product": None}) for cable in bare]
    edits += [
        chosen(circuit, "box", box, {"ground": True}) for box in boxes if not is_there(box) and box.ground is False
    ]
    names = ", ".join(f'"{cable.id}"' for cable in bare)
    yield Step(f"Choose cable with an equipment ground for {names}.", tuple(edits), CHOSEN * len(bare))


def neutral_cable_steps(asked: Asked) -> Iterator[Step]:
    """A new cable to a new switch with one conductor more, which brings the neutral."""
    control = asked.part("controls")
    if control is None:
        return
    circuit = asked.circuit
    box, feed = circuit.tree.box[control.box], circuit.tree.feed.get(control.box)
    if is_there(box) or feed is None or is_there(feed) or box.neutral is True:
        return
    start = circuit.tree.box.get(feed.from_id)
    if start is not None and start.neutral is False:
        return
    count = _with_neutral(feed)
    entries: dict[str, Any] = {"conductors": count} if count is not None and count != feed.conductors else {}
    edits: list[Edit] = [chosen(circuit, "box", box, {"neutral": True})]
    if entries:
        edits.append(chosen(circuit, "cable", feed, {**entries, "product": None}))
    with_count = f" with {count} insulated conductors" if entries else ""
    says = f'Run cable "{feed.id}"{with_count} so that it brings a neutral to box "{box.id}".'
    yield Step(says, tuple(edits), CHOSEN + 0.5)


def _with_neutral(cable: Cable) -> int | None:
    """How many insulated conductors bring a neutral besides what the cable carries; None where it stays."""
    least = _WITH_NEUTRAL.get(cable.carries or "")
    return None if least is None or cable.conductors is None else max(least, cable.conductors)
