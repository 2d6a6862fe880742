"""What the work touches. A part that stays as it is needs no judging: only danger signs there stop the job."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.case import EACH, Case, Direction
from circuitcheck.case.parts import Box, Cable

#: What ``is_touched`` reads of parts whose origin is open.
TOUCH_WORSE: Mapping[str, Direction] = dict.fromkeys(
    ("box.origin", "cable.origin", "load.origin", "driver.origin", "control.origin"), EACH
)


def is_touched(case: Case, box: Box) -> bool:
    """Whether the work opens this box: it is added or changed, or something added is connected in it.

    A part whose origin is unknown counts as added.
    """
    tree = case.tree
    return (
        box.is_added
        or box.id in case.opened
        or any(cable.is_added for cable in tree.cables_at.get(box.id, ()))
        or any(load.is_added for load in tree.loads_at.get(box.id, ()))
        or any(driver.is_added for driver in tree.drivers_at.get(box.id, ()))
        or any(control.is_added for control in case.controls if control.box == box.id)
    )


#: Ways to run on which a cable lies open unless something conceals it.
EXPOSED = ("on a surface", "across framing", "along framing", "fished")


def is_used(cable: Cable, case: Case) -> bool:
    """Whether the work adds the cable, or hangs something on a box at its end."""
    tree = case.tree
    return cable.is_added or any(
        part.is_added
        for box in (cable.from_id, cable.to_id)
        for part in (*tree.cables_at.get(box, ()), *tree.loads_at.get(box, ()), *tree.drivers_at.get(box, ()))
    )
