"""Protection at the panel: an arc-fault or ground-fault device of the same rating. Never a larger breaker or fuse."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.advice.fixes.step import AT_PANEL, Asked, Step
from circuitcheck.circuit.change import ALTER
from circuitcheck.circuit.edits import PlanChange
from circuitcheck.refs import Ref

#: Check -> the protection that it asks for.
ASKED_BY = {"arc-fault": "arc-fault", "ground-fault": "ground-fault"}
_NAMES = {"both": "arc-fault and ground-fault"}


def protection_steps(asked: Asked) -> Iterator[Step]:
    """A breaker of the kind that is asked for. A fuse has none, and two circuits with one neutral take another one."""
    supply = asked.circuit.supply
    if supply.device == "fuse" or supply.shared_neutral:
        return
    wanted = ASKED_BY[asked.finding.check]
    if supply.protection not in (None, "none", wanted):
        wanted = "both"
    if wanted != supply.protection:
        named = _NAMES.get(wanted, wanted)
        says = (
            f"Have an electrician fit {named} protection at the panel, of a kind made for this panel and of the same "
            "rating as the breaker that is there."
        )
        yield Step(says, (PlanChange(Ref("supply"), ALTER, {"protection": wanted}),), AT_PANEL)
