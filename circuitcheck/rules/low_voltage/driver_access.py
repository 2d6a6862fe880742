"""Driver access: an added driver stays within reach and free of thermal insulation.

What it asks: whether a driver can be reached without opening the finish of the building, and whether thermal insulation
lies around it.

Why: drivers fail before the lights that they feed, and their wiring compartment is a junction box that must stay
reachable. Under insulation a driver runs hotter than it was tested for.

What to do: mount it on framing above the insulation, or in a cabinet, where a person can get to it, and hold insulation
back as far as its label asks.

Cannot see: how far its label asks insulation to stay away, and how hot the place gets.
"""

from __future__ import annotations

from circuitcheck.case import LESS, MORE, Answer, Case, CaseRule, Family, Things, said
from circuitcheck.case.parts import Driver
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

_REACH = "Put it where a person can reach it: a cabinet, a closet, a floored part of the attic."
_CLEAR = "Mount it above the insulation, on framing, and keep the insulation as far away as its label requires."


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added driver stays within reach and out of thermal insulation."""
    if not driver.is_added:
        return None
    things: Things = {"driver": driver.id}
    buried = driver.in_insulation
    if not driver.reachable:
        says = said('Nobody can reach driver "{driver}" without opening a wall, floor or ceiling.', **things)
        to_do = _REACH
    elif buried:
        says = said(
            'Driver "{driver}" is in thermal insulation. It runs hotter there than it was tested for.', **things
        )
        to_do = _CLEAR
    else:
        says = said('Driver "{driver}" stays within reach, and no insulation is around it.', **things)
        to_do = ""
    label = said('Does the label of driver "{driver}" allow thermal insulation around it?', **things)
    return Answer(
        part=driver,
        outcome=Outcome.FAIL if to_do else Outcome.PASS,
        says=says,
        open_says=said(
            'Cannot tell yet whether driver "{driver}" stays within reach and out of thermal insulation.', **things
        ),
        to_come=said('Keep driver "{driver}" within reach and out of thermal insulation.', **things),
        sources=(book.value("driver-stays-reachable").source, book.value("driver-out-of-insulation").source),
        keys=(driver.entry("reachable"), driver.entry("in_insulation")),
        to_do={
            Outcome.FAIL: (to_do,),
            Outcome.UNDETERMINED: (_CLEAR,),
            Outcome.CAUTION: ("Plan a place that a person can reach, clear of insulation.",),
        },
        ask=(str(label),) if buried else (),
    )


RULE = CaseRule[Driver](
    name="driver-access",
    title="Drivers within reach and out of insulation",
    family=Family.LOW_VOLTAGE,
    rank=180,
    subjects=lambda case: case.drivers,
    answer=answer,
    worse={"driver.reachable": LESS, "driver.in_insulation": MORE},
)
