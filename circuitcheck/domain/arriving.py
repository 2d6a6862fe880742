"""The volts that arrive at a load: a branch is solved from the measured voltage only where something hangs on it."""

from __future__ import annotations

from typing import NamedTuple

from circuitcheck.case import Case
from circuitcheck.domain.branch import Loss, arriving_v, source_v
from circuitcheck.domain.unlisted_loss import UnlistedLoss
from circuitcheck.findings import exceeds


class Arriving(NamedTuple):
    """The volts that arrive at a node (-1: the panel itself) in the case that counts now.

    less_v: what the current that no load explains loses on the way. at_least_v: so many surely arrive.
    """

    case: Case
    node: int
    less_v: float
    at_least_v: float

    def volts(self) -> float | None:
        """How many arrive; None where no voltages serve it."""
        volts = arriving_v(self.case, self.node)
        return None if volts is None else volts - self.less_v

    def reach(self, needed_v: float, *, less_v: float = 0.0) -> bool:
        """Whether so many volts arrive, where ``less_v`` more are lost."""
        if not exceeds(needed_v, self.at_least_v - less_v):
            return True
        volts = self.volts()
        return volts is not None and not exceeds(needed_v, volts - less_v)


def arriving_at(case: Case, node: int, loss: Loss, unlisted: UnlistedLoss | None) -> Arriving:
    """``loss``: what is lost from nominal voltage on, ``unlisted`` with it: by the current that no load explains."""
    less_v = 0.0 if unlisted is None else unlisted.certain_v + unlisted.before_panel_v
    if node < 0:  # nothing was solved for the panel before, and what is read of the loads counts
        return Arriving(case, node, less_v, Arriving(case, node, less_v, 0.0).volts() or 0.0)
    nominal = case.supply.voltage_v
    # From more than nominal volts no fewer arrive than from these, of which all is solved.
    at_least_v = nominal - loss.before_panel_v - loss.lost_v if source_v(case) >= nominal else 0.0
    return Arriving(case, node, less_v, at_least_v)
