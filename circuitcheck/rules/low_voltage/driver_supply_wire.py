"""Driver supply wire: the insulation of the 120 V conductors next to an added driver.

What it asks: whether the branch-circuit cables that end in the box of an added driver have insulation for the
temperature that conductors within a few inches of a driver need.

Why: a driver gives off heat where its supply conductors are. Cable from before the middle of the 1980s has insulation
for 60 °C (140 °F), which turns brittle there and crumbles.

What to do: end the old cable in a box of its own, within reach, and run a short length of new cable from there to the
driver; or choose a driver that is marked for cooler wire.

Cannot see: how far the conductors lie from the driver, and a marking that allows cooler wire.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, Answer, Case, CaseRule, Family, Said, Things, said
from circuitcheck.case.parts import Driver, Part
from circuitcheck.domain.cable_kinds import insulation_c, insulation_of_kind_c, kind_of_cable
from circuitcheck.domain.conductor_ampacity import both_degrees
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.quantities import shown
from circuitcheck.tables.rulebook import Rulebook

_TO_DO = (
    "Read the printing on the cable sheath, and on the driver whether cooler wire is allowed.",
    "Usual remedy: end the old cable in a box of its own and run new cable from there to the driver.",
)


def _cooler_is_worse(value: Any, part: Part, case: Case) -> Any:
    """The type whose insulation takes less is worse."""
    return -insulation_of_kind_c(case.book, value)


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer | None:
    """Value and limit in degC: the coolest insulation of the branch cables at one added driver, and what it needs."""
    low = case.tree.driver_of
    cables = [cable for cable in case.tree.cables_at.get(driver.box, ()) if cable.id not in low]
    if not cables or not driver.is_added:
        return None
    asked, near = book.value("driver-supply-wire-temperature"), book.value("driver-supply-wire-distance")
    rated = {cable: insulation_c(book, cable) for cable in cables}
    coolest = min(cables, key=lambda cable: rated[cable])
    things: Things = {
        "driver": driver.id,
        "cable": coolest.id,
        "has": both_degrees(rated[coolest]),
        "wanted": both_degrees(asked.number),
        "near": shown(near.number, "in"),
    }
    fits = not exceeds(asked.number, rated[coolest])
    if fits:
        says = said('The branch-circuit wire beside driver "{driver}" has insulation rated {wanted}.', **things)
    else:
        says = said(
            'Cable "{cable}" ends beside driver "{driver}" with insulation rated {has}. Wire within {near} of a driver '
            "needs {wanted}.",
            **things,
        )
    kinds = [kind_of_cable(book, cable.type) for cable in cables if cable.insulation_temperature_c is None]

    def working() -> tuple[Said, ...]:
        return tuple(
            said("cable {cable}: insulation for {has}", cable=cable.id, has=both_degrees(rated[cable]))
            for cable in cables
        )

    return Answer(
        part=driver,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=says,
        open_says=said(
            'Cannot tell yet whether the insulation of the wire beside driver "{driver}" is for {wanted}.', **things
        ),
        value=rated[coolest],
        limit=asked.number,
        unit="degC",
        working=working,
        sources=merge_sources((asked.source, near.source), tuple(kind.source for kind in kinds)),
        keys=tuple(cable.entry("insulation_temperature") for cable in cables),
        to_do={Outcome.FAIL: _TO_DO, Outcome.UNDETERMINED: _TO_DO},
    )


RULE = CaseRule[Driver](
    name="driver-supply-wire",
    title="Insulation of the 120 V wire beside a driver",
    family=Family.LOW_VOLTAGE,
    rank=190,
    subjects=lambda case: case.drivers,
    answer=answer,
    worse={"cable.insulation_temperature": LESS, "cable.type": _cooler_is_worse},
)
