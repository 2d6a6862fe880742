"""Recessed lights and their own wiring boxes."""

from __future__ import annotations

from circuitcheck.case import Case
from circuitcheck.case.parts import Box, Load

RECESSED = "recessed"


def recessed_light(case: Case, box: Box) -> Load | None:
    """The recessed light whose own wiring box this is: no volume and no trade size is known of the box itself."""
    if box.volume_m3 is not None or box.trade_size is not None:
        return None
    lights = (load for load in case.tree.loads_at.get(box.id, ()) if load.kind == "light")
    return next((load for load in lights if load.mounting == RECESSED), None)


def is_wiring_box(case: Case, box: Box) -> bool:
    """Whether a box is the wiring box of a recessed light: its label says how many conductors it takes."""
    return recessed_light(case, box) is not None
