"""Added luminaires of both kinds, on the branch circuit and behind a driver: where each is and what it is called."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from circuitcheck.case import Case
from circuitcheck.case.parts import Load, LowVoltageLoad
from circuitcheck.refs import Ref

LIGHT, CORD, PENDANT, RECESSED = "light", "cord", "pendant", "recessed"

Luminaire: TypeAlias = "Load | LowVoltageLoad"


def luminaires(case: Case) -> Iterator[Luminaire]:
    """Every load and every low-voltage light, in file order; which of them are added luminaires, ``is_added_light``."""
    yield from case.loads
    yield from case.low_voltage_loads


def is_added_light(light: Luminaire) -> bool:
    """Whether it counts as added and is a luminaire."""
    return light.is_added and (isinstance(light, LowVoltageLoad) or light.kind == LIGHT)


def room_of(case: Case, light: Luminaire) -> str:
    """The room in which it is: its own, or its box's."""
    return light.room if isinstance(light, LowVoltageLoad) else case.tree.box[light.box].room


def location_of(case: Case, light: Luminaire) -> str:
    """Whether its place is dry, damp or wet: its own place, or its box's."""
    return light.location if isinstance(light, LowVoltageLoad) else case.tree.box[light.box].location


def place_key(light: Luminaire, key: str) -> Ref:
    """The entry that holds ``room`` or ``location`` of a light."""
    return light.entry(key) if isinstance(light, LowVoltageLoad) else Ref("box", light.box, key)


def hangs(light: Luminaire) -> bool:
    """Whether it hangs: a pendant, or on a cord."""
    return light.mounting == PENDANT or (isinstance(light, Load) and light.connection == CORD)
