"""At which power factor a load loses most on its way: where its volt-amperes are known it is just below one.

What is lost goes by R P + X Q, of the resistance and the reactance of the way. With watts that are known a lower power
factor adds vars. With volt-amperes that are known it takes watts for vars, and most is lost where P to Q is as R to X.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from circuitcheck.case import EACH, Case
from circuitcheck.case.parts import Driver, Load, Part
from circuitcheck.domain.branch import branch, way_to
from circuitcheck.domain.draws import power_at
from circuitcheck.domain.impedance import cable_impedance


def factor_is_worse(value: Any, part: Part, case: Case) -> Any:
    """The more is lost on the way to a load with this power factor, the worse it is."""
    assert isinstance(part, Load | Driver)  # noqa: S101 - declared for their power factor only
    if not _by_volt_amperes(part):
        return -value
    if isinstance(part, Load) and part.fitted_w is not None:
        return EACH  # the lamp in it may add so many vars that they lose more than the label's watts
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
        most = part.apparent_va if part.apparent_va is not None else (part.current_a or 0.0) * case.supply.voltage_v
        turns.append(part.fitted_w / most if most else 1.0)
    yield from (turn for turn in turns if first < turn < last)


def _by_volt_amperes(part: Load | Driver) -> bool:
    """Whether its volt-amperes are known, so that a higher power factor means more watts."""
    if isinstance(part, Load):
        return part.apparent_va is not None or part.current_a is not None
    return part.input_current_a is not None


def _reactance_share(case: Case, part: Load | Driver) -> float:
    """Reactance of the way to a load, as a share of its resistance; of the cables alone, and of no load."""
    nodes = branch(case).nodes
    way = (
        cable for number in way_to(case, branch(case).at.get(part, -1), len(nodes)) for cable in nodes[number].cables
    )
    ohm = sum((impedance.ohm for cable in way if (impedance := cable_impedance(case, cable)) is not None), 0j)
    return ohm.imag / ohm.real if ohm.real else 0.0
