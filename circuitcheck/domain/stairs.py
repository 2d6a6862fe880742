"""Added lights of the stair of a dwelling that is long enough for switches at each floor level."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import EACH, MORE, Case, Direction
from circuitcheck.case.parts import Driver, Load
from circuitcheck.domain.luminaires import LIGHT
from circuitcheck.findings import exceeds

STAIRWAY = "stairway"

#: Which way is worse, of all that ``is_added_on_stair`` reads.
ON_STAIR_WORSE: dict[str, Direction] = {
    "box.room": lambda value, part, case: value == STAIRWAY,
    "site.stair_risers": MORE,
    "site.dwelling": MORE,
    "load.kind": lambda value, part, case: value == LIGHT,
    "load.origin": EACH,
    "driver.origin": EACH,
}


def may_be_lights(case: Case) -> Iterator[Load | Driver]:
    """Every load and every driver, in file order; which of them are added lights of a stair, ``is_added_on_stair``."""
    yield from case.loads
    yield from case.drivers


def is_added_on_stair(thing: Load | Driver, case: Case) -> bool:
    """Whether it counts as added, is a light or a driver of lights, and is on such a stair of a dwelling."""
    if not thing.is_added or (isinstance(thing, Load) and thing.kind != LIGHT):
        return False
    if case.tree.box[thing.box].room != STAIRWAY or not case.site.dwelling:
        return False
    return not exceeds(case.book.value("stair-switch-risers").number, case.site.stair_risers)


def stair_light_named(thing: Load | Driver) -> str:
    """``the light "hall"``: what it is and what it is called."""
    return f'the {"light" if isinstance(thing, Load) else "driver"} "{thing.id}"'
