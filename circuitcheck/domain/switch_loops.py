"""Switch loops: the cables that carry a lamp's current down to its switch and back."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.case import Case, once
from circuitcheck.case.parts import Cable

SWITCH_LOOP = "switch loop"


@once
def switch_loops(case: Case) -> Mapping[str, tuple[Cable, ...]]:
    """Control id -> the cables of the loop that it sits at the end of, upstream first; without those that have none.

    What the control switches flows through both conductors of each, and through nothing else of them.
    """
    feed = case.tree.feed
    loops: dict[str, tuple[Cable, ...]] = {}
    for control in case.controls:
        cables: list[Cable] = []
        box = control.box
        while box in feed and feed[box].carries == SWITCH_LOOP:
            cables.append(feed[box])
            box = feed[box].from_id
        if cables:
            loops[control.id] = tuple(reversed(cables))
    return loops
