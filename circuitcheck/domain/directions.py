"""Which way an entry is worse where that depends on the part, shared by the rules that read it."""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, MORE, Case, Direction
from circuitcheck.case.parts import Driver, Load, Part

RECEPTACLE = "receptacle"


def receptacle_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A receptacle of unknown use counts with the planning load; it is worse where nobody gives another figure."""
    return value == RECEPTACLE


def power_is_worse(value: Any, part: Part, case: Case) -> Any:
    """More watts are worse; None stands for the planning load of a receptacle of which nobody knows the use."""
    return case.book.value("receptacle-planning-load").number if value is None else value


def load_factor_for_watts(value: Any, part: Part, case: Case) -> Any:
    """A load known by its amperes or volt-amperes takes the more watts the higher its power factor is."""
    assert isinstance(part, Load)  # noqa: S101 - declared for load.power_factor only
    return value if part.power_w is None else -value


#: Which way is worse, of all that ``draws`` reads, for whoever adds up currents.
DRAW_WORSE: dict[str, Direction] = {
    "supply.voltage": LESS,
    "load.power": power_is_worse,
    "load.apparent": MORE,
    "load.current": MORE,
    "load.power_factor": LESS,
    "load.kind": receptacle_is_worse,
    "driver.input_power": MORE,
    "driver.input_current": MORE,
    "driver.output_power": MORE,
    "driver.efficiency": LESS,
    "driver.power_factor": LESS,
}

Hung = Load | Driver
