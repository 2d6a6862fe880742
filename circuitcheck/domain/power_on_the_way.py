"""At which power factor, and of how many watts, a load loses most on its way where its volt-amperes are known.

What is lost goes by R P + X Q, of the resistance and the reactance of the way. With watts that are known a lower power
factor adds vars. With volt-amperes that are known it takes watts for vars, and most is lost where P to Q is as R to X:
just below a power factor of one. So it is where the watts themselves are open.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from circuitcheck.case import EACH, LESS, Case, Direction, expected, values_of
from circuitcheck.case.parts import Driver, Load, Part
from circuitcheck.domain.branch import branch, way_to
from circuitcheck.domain.directions import power_is_worse
from circuitcheck.domain.draws import power_at
from circuitcheck.domain.impedance import cable_impedance

#: Of so many loads in one switch loop each power factor is tried at every value.
_MOST_TRIED = 4


def factor_is_worse(value: Any, part: Part, case: Case) -> Any:
    """The more is lost on the way to a load with this power factor, the worse it is."""
    assert isinstance(part, Load | Driver)  # noqa: S101 - declared for their power factor only
    if not _by_volt_amperes(part):
        return -value
    if isinstance(part, Load) and (part.fitted_w is not None or _shares_a_loop(case, part)):
        # The lamp in it may add so many vars that they lose more than the label's watts; in a switch loop that others
        # share each watt of it stands for theirs too.
        return EACH
    power = power_at(case, part, value)
    return power.real + _reactance_share(case, part) * power.imag


def factor_turns(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """The power factors between two others at which the most or the least is lost."""
    assert isinstance(part, Load | Driver)  # noqa: S101 - declared for their power factor only
    if not _by_volt_amperes(part):
        return
    turns = [math.cos(math.atan(_reactance_share(case, part)))]
    if isinstance(part, Load) and part.fitted_w is not None:
        # The lamp in it takes more than the label below this factor, so that vars add to known watts there.
        most = part.apparent_va
        if most is None:
            most = expected(part.current_a, part, "current") * case.supply.voltage_v
        if most:
            turns.append(part.fitted_w / most)
    yield from (turn for turn in turns if first < turn < last)


def watts_are_worse(value: Any, part: Part, case: Case) -> Any:
    """More watts are worse; where the volt-amperes beside them are known, the more is lost on the way."""
    assert isinstance(part, Load | Driver)  # noqa: S101 - declared for their power only
    apparent = _apparent_beside_watts(case, part)
    return power_is_worse(value, part, case) if apparent is None else _lost_by(case, part, value, apparent)


def watts_turn(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """The watts between two others at which most is lost."""
    assert isinstance(part, Load | Driver)  # noqa: S101 - declared for their power only
    apparent = _apparent_beside_watts(case, part)
    if apparent is not None and first is not None:
        most = _watts_that_lose_most(case, part, apparent)
        yield from (turn for turn in (most,) if first < turn < last)


def output_is_worse(value: Any, part: Part, case: Case) -> Any:
    """As ``watts_are_worse``, of what a driver gives."""
    assert isinstance(part, Driver)  # noqa: S101 - declared for a driver only
    return value if part.efficiency is None else watts_are_worse(value / part.efficiency, part, case)


def output_turns(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """As ``watts_turn``, of what a driver gives."""
    assert isinstance(part, Driver)  # noqa: S101 - declared for a driver only
    share = part.efficiency
    if share is not None:
        yield from (share * turn for turn in watts_turn(first / share, last / share, part, case))


def efficiency_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A driver that gives as much and loses more takes more; beside amperes no way is always worse."""
    assert isinstance(part, Driver)  # noqa: S101 - declared for a driver only
    return -value if part.input_current_a is None else EACH


def efficiency_turns(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """As ``watts_turn``, of the share that a driver gives of what it takes.

    What it gives is looked up as it may be, and not in the case: there it may hang on the efficiency.
    """
    assert isinstance(part, Driver)  # noqa: S101 - declared for a driver only
    for out in values_of(part, "output_power_w"):
        if out:
            yield from (out / turn for turn in watts_turn(out / last, out / first, part, case))


def _apparent_beside_watts(case: Case, part: Load | Driver) -> float | None:
    """The volt-amperes of one piece that its label gives beside its watts; None where it is known by watts."""
    if isinstance(part, Load):
        return part.apparent_va
    return part.input_current_a * case.supply.voltage_v if part.input_current_a is not None else None


def _lost_by(case: Case, part: Load | Driver, watts: float, apparent_va: float) -> float:
    """What so many watts of these volt-amperes lose on the way, in proportion."""
    watts = min(watts, apparent_va)
    return watts + _reactance_share(case, part) * math.sqrt(apparent_va**2 - watts**2)


def _watts_that_lose_most(case: Case, part: Load | Driver, apparent_va: float) -> float:
    return apparent_va * math.cos(math.atan(_reactance_share(case, part)))


def _shares_a_loop(case: Case, part: Load) -> bool:
    """Whether loads of one switch, of which few have open power factors, share the conductors that feed this one."""
    node = branch(case).at.get(part, -1)
    switched = branch(case).nodes[node].switched if node >= 0 else ()
    still_open = [load for load in switched if len(values_of(load, "power_factor")) > 1]
    return len(switched) > 1 and len(still_open) <= _MOST_TRIED


def _by_volt_amperes(part: Load | Driver) -> bool:
    """Whether its volt-amperes are known, so that a higher power factor means more watts."""
    if isinstance(part, Load):
        return part.apparent_va is not None or part.current_a is not None
    return part.input_current_a is not None


def _reactance_share(case: Case, part: Load | Driver) -> float:
    """Reactance of the way to a load, as a share of its resistance; of the cables alone, and of no load."""
    nodes, at = branch(case).nodes, branch(case).at
    numbers = way_to(case, at[part], len(nodes)) if part in at else ()
    way = (cable for number in numbers for cable in nodes[number].cables)
    ohm = sum((impedance.ohm for cable in way if (impedance := cable_impedance(case, cable)) is not None), 0j)
    return ohm.imag / ohm.real if ohm.real else 0.0


def volts_are_worse(value: Any, part: Part, case: Case) -> Any:
    """Fewer volts lose the larger share of them. But where a meter says what arrives at the panel, more volts mean more
    watts of all that is known by its amperes, and less is left of what was read: then no way is always worse.
    """
    return EACH if case.supply.measured_voltage_v is not None else LESS(value, part, case)


def volts_turn(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """What the meter showed: the panel may be just at its nominal voltage."""
    read = case.supply.measured_voltage_v
    if read is not None and first < read < last:
        yield read


#: Which way is worse for what is lost on the way, of all that says which power flows.
POWER_WORSE: dict[str, Direction] = {
    "supply.voltage": volts_are_worse,
    "load.power_factor": factor_is_worse,
    "driver.power_factor": factor_is_worse,
    "load.power": watts_are_worse,
    "driver.input_power": watts_are_worse,
    "driver.output_power": output_is_worse,
    "driver.efficiency": efficiency_is_worse,
}
#: Where between its ends it may be worst.
POWER_TURNS: dict[str, Callable[[Any, Any, Part, Case], Iterable[Any]]] = {
    "supply.voltage": volts_turn,
    "load.power_factor": factor_turns,
    "driver.power_factor": factor_turns,
    "load.power": watts_turn,
    "driver.input_power": watts_turn,
    "driver.output_power": output_turns,
    "driver.efficiency": efficiency_turns,
}
