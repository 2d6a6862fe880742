"""What each control of a known circuit works: its lights, its drivers, and what else hangs on it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from circuitcheck.case import Case, once
from circuitcheck.case.parts import Control, Driver, Load
from circuitcheck.circuit.switched import killed_by
from circuitcheck.domain.draws import driver_draw


class Works(NamedTuple):
    """What one control works. ``lights``: loads that are lights; ``others``: loads that are not."""

    lights: tuple[Load, ...]
    others: tuple[Load, ...]
    drivers: tuple[Driver, ...]


@once
def switched(case: Case) -> Mapping[str, tuple[str, ...]]:
    """Control id -> ids of the loads and drivers that go off with it."""
    killed = killed_by(case.tree.branch_cables, (*case.loads, *case.drivers), case.controls)
    return {control: tuple(names) for control, names in killed.items()}


def works(case: Case, control: Control) -> Works:
    """What a control works, each kind in file order."""
    names, tree = switched(case).get(control.id, ()), case.tree
    loads = [tree.load[name] for name in names if name in tree.load]
    return Works(
        tuple(load for load in loads if load.kind == "light"),
        tuple(load for load in loads if load.kind != "light"),
        tuple(tree.driver[name] for name in names if name in tree.driver),
    )


def is_touched(control: Control, worked: Works) -> bool:
    """Whether the control itself or something that it works is added."""
    return control.is_added or any(part.is_added for parts in worked for part in parts)


def watts_of(case: Case, load: Load) -> float:
    """The real power of all pieces of a load [W]; where only volt-amperes or amperes are known they stand in, being
    more. A lamp above the label counts as it is. Nothing where it is not given, as of a receptacle.
    """
    if load.power_w is not None:
        rated = load.power_w
    elif load.apparent_va is not None:
        rated = load.apparent_va
    elif load.current_a is not None:
        rated = load.current_a * case.supply.voltage_v
    else:
        rated = 0.0
    return load.quantity * (rated if load.fitted_w is None else max(rated, load.fitted_w))


def watts_of_driver(case: Case, driver: Driver) -> float:
    """What goes into a driver at full rating [W]."""
    return driver_draw(case, driver).power.real
