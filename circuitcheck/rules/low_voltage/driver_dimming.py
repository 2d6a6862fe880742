"""Driver dimming: a dimmer in front of a driver, and whether the two are made for each other.

What it asks: for each driver behind a dimmer, whether the driver dims at all, in the way of that dimmer, and whether
its maker or the dimmer's names the other.

Why: a dimmer chops the 120 V supply. A driver that is not made for that flickers, hums, drops out or fails, and can
damage the dimmer.

What to do: look for the dimmer in the list that comes with the driver, or for the driver in the dimmer's; else put a
plain switch in its place and dim on the low-voltage side.

Cannot see: control wires of 0-10 V or digital dimming, and how the dimmer is set.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Control, Driver
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

DIMMER = "dimmer"
NONE, PHASE = "none", "phase"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each driver and each dimmer that switches its feed."""
    dimmers = {control.id: control for control in circuit.controls if control.kind == DIMMER}
    if not dimmers or not circuit.drivers:
        return
    source = book.value("dimmer-made-for-driver").source
    behind = _dimmers_by_box(circuit, dimmers)
    for driver in circuit.drivers:
        own = (driver.switched_by,) if driver.switched_by in dimmers else ()
        for name in dict.fromkeys((*behind.get(driver.box, ()), *own)):
            yield _finding(driver, dimmers[name], source)


def _dimmers_by_box(circuit: Circuit, dimmers: dict[str, Control]) -> dict[str, tuple[str, ...]]:
    """Box -> the dimmers that switch a cable on the way to it, or that sit on that way; one pass down the tree."""
    found: dict[str, tuple[str, ...]] = {}
    for node in circuit.tree.order:
        cable = circuit.tree.feed.get(node)
        above = found.get(cable.from_id, ()) if cable is not None else ()
        switched = cable.switched_by if cable is not None else None
        if switched in dimmers and switched not in above:
            above = (*above, switched)
        found[node] = above
    return found


def _finding(driver: Driver, dimmer: Control, source: Source) -> Finding:
    kind_key, match_key = f"driver.{driver.id}.dimming", f"control.{dimmer.id}.matched"
    needs: tuple[str, ...] = ()
    if driver.dimming == NONE:
        outcome = Outcome.FAIL
        says = f"{driver.id} does not dim, and {dimmer.id} in front of it is a dimmer."
    elif dimmer.matched is False:
        outcome = Outcome.FAIL
        says = f"{dimmer.id} and {driver.id} are not made for each other."
    elif dimmer.matched and driver.dimming is not None:
        outcome = Outcome.PASS
        says = f"{driver.id} dims, and {dimmer.id} is one that its maker names."
    elif driver.dimming not in (None, PHASE):
        outcome = Outcome.FAIL
        says = (
            f"{driver.id} dims by {driver.dimming}, not by a dimmer in its 120 V feed, and nothing says that "
            f"{dimmer.id} fits."
        )
    else:
        outcome = Outcome.UNDETERMINED
        needs = tuple(key for key, value in ((kind_key, driver.dimming), (match_key, dimmer.matched)) if value is None)
        says = f"Cannot tell whether {dimmer.id} and {driver.id} are made for each other."
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=outcome,
        says=says,
        sources=(source,),
        needs=needs,
        keys=(kind_key, match_key),
        to_do=()
        if outcome is Outcome.PASS
        else ("Take a dimmer from the driver's own list, or a plain switch and a dimmer on the low-voltage side.",),
    )


RULE = Rule(
    name="driver-dimming",
    title="Dimmer and driver made for each other",
    family="low voltage",
    uses=("value:dimmer-made-for-driver",),
    check=check,
)
