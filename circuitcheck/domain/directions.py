"""Which way an entry is worse where that depends on the part, shared by the rules that read it."""

from __future__ import annotations

from typing import Any

from circuitcheck.case import EACH, LESS, MORE, Case, Direction
from circuitcheck.case.list_apart import listed_less
from circuitcheck.case.parts import Part

RECEPTACLE = "receptacle"


def kind_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A heater or a fan may count a quarter more; a receptacle of unknown use counts with the planning load."""
    held, entries = vars(part), vars(part).get("_open", {})
    given = any(
        held.get(name) is not None or (name in entries and None not in entries[name].possible.options)
        for name in ("power_w", "apparent_va", "current_a")
    )
    worst_first = ("heater", "fan", RECEPTACLE) if given else (RECEPTACLE, "heater", "fan")
    return len(worst_first) - worst_first.index(value) if value in worst_first else 0


def hardwired_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A heater or a motor that is fastened in place counts a quarter more."""
    return value == "hardwired"


def power_is_worse(value: Any, part: Part, case: Case) -> Any:
    """More watts are worse; None stands for the planning load of a receptacle of which nobody knows the use."""
    return case.book.value("receptacle-planning-load").number if value is None else value


#: Which way is worse, of all that ``load_draw`` reads, for whoever adds up currents.
LOAD_DRAW_WORSE: dict[str, Direction] = {
    "supply.voltage": LESS,
    "load.power": power_is_worse,
    "load.apparent": MORE,
    "load.current": MORE,
    "load.fitted": MORE,
    "load.power_factor": LESS,
    "load.kind": kind_is_worse,
    "load.connection": hardwired_is_worse,
}

#: The same of ``driver_draw``.
DRIVER_DRAW_WORSE: dict[str, Direction] = {
    "supply.voltage": LESS,
    "driver.input_power": MORE,
    "driver.input_current": MORE,
    "driver.output_power": MORE,
    "driver.efficiency": LESS,
    "driver.power_factor": LESS,
}

#: The same of ``draws``.
DRAW_WORSE: dict[str, Direction] = {**LOAD_DRAW_WORSE, **DRIVER_DRAW_WORSE}

#: The same turned round, for whoever asks how much of a reading the list leaves unexplained.
LISTED_LESS = listed_less({kind: worse for kind, worse in DRAW_WORSE.items() if kind != "load.connection"})


def receptacles_are_worse(value: Any, part: Part, case: Case) -> Any:
    """More receptacles in a box are worse: with more than one the next standard rating may not be used."""
    return sum(device.kind == RECEPTACLE for device in value)


def receptacle_is_worse(value: Any, part: Part, case: Case) -> Any:
    """With more than one receptacle the next standard rating may not be used."""
    return value == RECEPTACLE


def kind_is_worse_for_a_rating(value: Any, part: Part, case: Case) -> Any:
    """A heater or a fan draws more, a receptacle forbids the next rating: what may be either is worse in no one way."""
    kind = vars(part).get("_open", {}).get("kind")
    may_be = kind.possible.options if kind is not None else ()
    return EACH if RECEPTACLE in may_be and "heater" in may_be else kind_is_worse(value, part, case)


#: Which way is worse, of all that says whether the next standard rating may be used.
ROUNDING_UP_WORSE: dict[str, Direction] = {"load.kind": receptacle_is_worse, "box.devices": receptacles_are_worse}
