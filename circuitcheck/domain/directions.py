"""Which way an entry is worse where that depends on the part, shared by the rules that read it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.case import EACH, LESS, MORE, Case, Direction, values_of
from circuitcheck.case.list_apart import MOTOR, RATED, gone_less, listed_less, worse_apart
from circuitcheck.case.parts import Part
from circuitcheck.domain.draws import FAN, HARDWIRED
from circuitcheck.domain.luminaires import LIGHT

RECEPTACLE = "receptacle"


def kind_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A heater or a fan may count a quarter more; a receptacle of unknown use counts with the planning load."""
    given = any(None not in values_of(part, name) for name in ("power_w", "apparent_va", "current_a"))
    worst_first = ("heater", "fan", RECEPTACLE) if given else (RECEPTACLE, "heater", "fan")
    return len(worst_first) - worst_first.index(value) if value in worst_first else 0


def hardwired_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A heater or a motor that is fastened in place counts a quarter more."""
    return value == HARDWIRED


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


def light_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Of a light that goes the watts on its label do not tell what it drew."""
    return value == LIGHT


def less_power_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Of what goes: None takes nothing off a reading."""
    return -(value or 0.0)


#: Which way is worse of what was on while somebody measured and goes: the less it drew, the more the others do.
GONE_WORSE: dict[str, Direction] = {
    "load.on_at_reading": LESS,
    "listed supply.voltage": LISTED_LESS["listed supply.voltage"],
    **gone_less(
        {
            "load.power": less_power_is_worse,
            "load.apparent": LESS,
            "load.current": LESS,
            "load.fitted": LESS,
            "load.kind": light_is_worse,
        }
    ),
}


def no_receptacle_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A receptacle explains most of a reading: what the code plans for it, or what is plugged in if that is more."""
    return value != RECEPTACLE


#: The same for whoever asks what the list explains of a reading.
EXPLAINED_WORSE = {**LISTED_LESS, "listed load.kind": no_receptacle_is_worse}


def receptacles_are_worse(value: Any, part: Part, case: Case) -> Any:
    """More receptacles in a box are worse: with more than one the next standard rating may not be used."""
    return sum(device.kind == RECEPTACLE for device in value)


def receptacle_is_worse(value: Any, part: Part, case: Case) -> Any:
    """With more than one receptacle the next standard rating may not be used."""
    return value == RECEPTACLE


def fan_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A motor that is fastened in place counts a quarter more in the conditions of use of its cable."""
    return value == FAN


#: Which way is worse, of all that ``carried_by`` reads.
CARRIED_WORSE: dict[str, Direction] = {**DRAW_WORSE, **worse_apart(MOTOR, fan_is_worse)}

#: Which way is worse, of all that says whether the next standard rating may be used.
ROUNDING_UP_WORSE: dict[str, Direction] = {
    **worse_apart(RATED, receptacle_is_worse),
    "box.devices": receptacles_are_worse,
}


def volts_turn(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """The voltages between two others at which a fan that is known by its amperes is just 1/8 hp, and just over it.

    Its watts are taken from them; over 1/8 hp a quarter of its amperes comes on top (220.18(A)).
    """
    most_w = case.book.value("small-motor-power").number
    for load in case.loads:
        if FAN in values_of(load, "kind") and HARDWIRED in values_of(load, "connection") and load.current_a:
            turn = most_w / load.current_a
            if first < turn < last:
                yield from (volts for volts in (turn, turn * _JUST_OVER) if volts < last)


#: So much over a limit counts as over it (``findings.exceeds``).
_JUST_OVER = 1.0 + 1e-7


def volts_are_worse(value: Any, part: Part, case: Case) -> Any:
    """Fewer volts mean more amperes; but for fans known by their amperes, which may be large motors only above some."""
    low, *_, high = values_of(part, "voltage_v")
    return EACH if any(volts_turn(low, high, part, case)) else LESS(value, part, case)
