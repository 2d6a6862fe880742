"""Switch loops: the cables that carry a lamp's current down to its switch and back."""

from __future__ import annotations

from circuitcheck.circuit.model import Cable, Circuit

SWITCH_LOOP = "switch loop"


def switch_loops(circuit: Circuit) -> dict[str, tuple[Cable, ...]]:
    """Control id -> the cables of the loop that it sits at the end of, upstream first; without those that have none.

    What the control switches flows through both conductors of each, and through nothing else of them.
    """
    feed = circuit.tree.feed
    loops: dict[str, tuple[Cable, ...]] = {}
    for control in circuit.controls:
        cables: list[Cable] = []
        box = control.box
        while box in feed and feed[box].carries == SWITCH_LOOP:
            cables.append(feed[box])
            box = feed[box].from_id
        if cables:
            loops[control.id] = tuple(reversed(cables))
    return loops
