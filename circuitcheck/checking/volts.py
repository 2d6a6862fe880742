"""The volts that arrive everywhere on the branch circuit, as the check of voltage drop works them out: for pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from circuitcheck.case.making import case_of
from circuitcheck.checking.asking import Asker
from circuitcheck.circuit.model import PANEL, Circuit
from circuitcheck.domain.branch import arriving_v, branch, loss_to, way_is_in_tables
from circuitcheck.rules.capacity.voltage_drop import RULE
from circuitcheck.tables.rulebook import Rulebook


class Arriving(NamedTuple):
    """What is lost on the way to a place [V], and what arrives there at worst [V].

    known: whether nothing without a bound is open about it. least_v, most_v: both ends of the loss; None where no
    voltages satisfy the loads.
    """

    known: bool
    least_v: float | None
    most_v: float | None
    arrives_v: float | None


@dataclass(frozen=True, slots=True)
class BranchVolts:
    """The solved branch circuit. ``panel_v``: the two ends of the voltage there; ``measured``: somebody read it.

    nominal_v: the two ends of the nominal voltage. limit_percent: what is recommended for a branch circuit.
    boxes, parts: by the ids of boxes, and of loads and drivers.
    """

    panel_v: tuple[float, float]
    nominal_v: tuple[float, float]
    measured: bool
    impedance_ohm: tuple[float, float] | None
    limit_percent: float
    boxes: Mapping[str, Arriving]
    parts: Mapping[str, Arriving]


def branch_volts(circuit: Circuit, book: Rulebook) -> BranchVolts:
    """The circuit solved in the worst and in the best case for the voltage drop."""
    supply = circuit.supply
    asker = Asker(RULE, case_of(circuit, book))
    panel = supply.measured_voltage_v or supply.voltage_v
    with asker.in_case(worst=True):
        tree = branch(asker.case)
    at = {node: _arriving(asker, node) for node in sorted({*tree.at.values(), *tree.at_box.values()})}
    return BranchVolts(
        panel_v=(panel.low, panel.high),
        nominal_v=(supply.voltage_v.low, supply.voltage_v.high),
        measured=supply.measured_voltage_v is not None,
        impedance_ohm=(supply.impedance_ohm.low, supply.impedance_ohm.high) if supply.impedance_ohm else None,
        limit_percent=100.0 * book.value("voltage-drop-recommended-branch").number,
        boxes={box: at[node] for box, node in tree.at_box.items() if box != PANEL},
        parts={part.id: at[node] for part, node in tree.at.items()},
    )


def _arriving(asker: Asker, node: int) -> Arriving:
    with asker.in_case(worst=False):
        best = loss_to(asker.case, node)
    with asker.in_case(worst=True):
        listed = way_is_in_tables(asker.case, node)
        worst = loss_to(asker.case, node)
        arrives = arriving_v(asker.case, node) if worst is not None else None
        reading = asker.case.reading
        unbounded = reading.asked_of(reading.read)
    return Arriving(
        known=listed and not unbounded,
        least_v=best.lost_v if best is not None else None,
        most_v=worst.lost_v if worst is not None else None,
        arrives_v=arrives,
    )
