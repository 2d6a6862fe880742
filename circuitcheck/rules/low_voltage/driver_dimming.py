"""Driver dimming: a dimmer in front of a driver, and whether the two are compatible.

What it asks: for each driver behind a dimmer, whether the driver dims at all, in the way of that dimmer, and whether
its maker or the dimmer's names the other.

Why: a dimmer chops the 120 V supply. A driver that is not made for that flickers, hums, drops out or fails, and can
damage the dimmer.

What to do: look for the dimmer in the list that comes with the driver, or for the driver in the dimmer's; else put a
plain switch in its place and dim on the low-voltage side.

Cannot see: control wires of 0-10 V or digital dimming, and how the dimmer is set.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from circuitcheck.case import LESS, Answer, Case, CaseRule, Family, Things, once, order, said
from circuitcheck.case.parts import Control, Driver
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

DIMMER = "dimmer"
NONE, PHASE = "none", "phase"

_TO_DO = ("Choose a dimmer from the driver's own list, or a plain switch and a dimmer on the low-voltage side.",)


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer | None:
    """The control in front of one driver with which it gets along worst; None where no dimmer is in front of it."""
    answers = [_beside(driver, control, book) for control in _in_front(driver, case) if control.kind == DIMMER]
    return max(answers, key=lambda one: one.outcome is Outcome.FAIL, default=None)


def _beside(driver: Driver, dimmer: Control, book: Rulebook) -> Answer:
    """Whether one driver and one dimmer in front of it are compatible."""
    things: Things = {"driver": driver.id, "dimmer": dimmer.id, "way": driver.dimming}
    if driver.dimming == NONE:
        outcome = Outcome.FAIL
        says = said('Driver "{driver}" does not dim, and "{dimmer}" in front of it is a dimmer.', **things)
    elif dimmer.matched:
        outcome = Outcome.PASS
        says = said('Driver "{driver}" dims, and its maker or the dimmer\'s lists it with "{dimmer}".', **things)
    elif driver.dimming == PHASE:
        outcome = Outcome.FAIL
        says = said('Dimmer "{dimmer}" and driver "{driver}" are not compatible.', **things)
    else:
        outcome = Outcome.FAIL
        says = said(
            'Driver "{driver}" dims by {way}, not by a dimmer in its feed, and neither maker lists it with "{dimmer}".',
            **things,
        )
    return Answer(
        part=driver,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether dimmer "{dimmer}" and driver "{driver}" are compatible.', **things),
        sources=(book.value("dimmer-made-for-driver").source,),
        keys=(driver.entry("dimming"), dimmer.entry("matched")),
        to_do={Outcome.FAIL: _TO_DO, Outcome.UNDETERMINED: _TO_DO},
    )


def _in_front(driver: Driver, case: Case) -> Iterator[Control]:
    """The controls that switch the way to a driver's box, or the driver itself."""
    names = _switches_by_box(case).get(driver.box, ())
    own = () if driver.switched_by is None else (driver.switched_by,)
    for name in dict.fromkeys((*names, *own)):
        control = case.control.get(name)
        if control is not None:
            yield control


@once
def _switches_by_box(case: Case) -> Mapping[str, tuple[str, ...]]:
    """Box -> the controls that switch a cable on the way to it; one pass down the tree."""
    switches: dict[str, tuple[str, ...]] = {}
    for node in case.tree.order:
        cable = case.tree.feed.get(node)
        above = switches.get(cable.from_id, ()) if cable is not None else ()
        own = () if cable is None or cable.switched_by is None else (cable.switched_by,)
        switches[node] = (*above, *(name for name in own if name not in above))
    return switches


RULE = CaseRule[Driver](
    name="driver-dimming",
    title="Dimmer and driver that are compatible",
    family=Family.LOW_VOLTAGE,
    rank=200,
    subjects=lambda case: case.drivers,
    answer=answer,
    worse={
        "control.kind": order("switch", DIMMER),
        "control.matched": LESS,
        "driver.dimming": order(PHASE, NONE),  # where nobody lists the pair all are alike
    },
)
