"""Driver supply wire: the insulation of the 120 V conductors next to an added driver.

What it asks: whether the branch-circuit cables that end in the box of an added driver have insulation for the
temperature that conductors within a few inches of a driver need.

Why: a driver gives off heat where its supply conductors are. Cable from before the middle of the 1980s has insulation
for 60 degC, which turns brittle there and crumbles.

What to do: end the old cable in a box of its own, within reach, and run a short length of new cable from there to the
driver; or choose a driver that is marked for cooler wire.

Cannot see: how far the conductors lie from the driver, and a marking that allows cooler wire.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit, Driver
from circuitcheck.findings import Finding, Outcome, exceeds, merge_sources
from circuitcheck.quantities import shown
from circuitcheck.rules.parts import EXISTING
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each driver that counts as added and whose box a branch cable reaches."""
    low = circuit.tree.driver_of
    for driver in circuit.drivers:
        if driver.origin == EXISTING:
            continue
        cables = [cable for cable in circuit.tree.cables_at.get(driver.box, ()) if cable.id not in low]
        if cables:
            yield _finding(driver, cables, book)


def _finding(driver: Driver, cables: list[Cable], book: Rulebook) -> Finding:
    asked, near = book.value("driver-supply-wire-temperature"), book.value("driver-supply-wire-distance")
    wanted = shown_number(asked.number)
    table = book.table("cable-types")
    too_cool: list[str] = []
    unknown: list[str] = []
    working: list[str] = []
    sources = [asked.source, near.source]
    ends: list[float] = []
    needs: tuple[str, ...] = ()
    for cable in cables:
        row = table.find(cable.type) if cable.type is not None else None
        given = cable.insulation_temperature_c
        rated = given.low if given is not None else (row.number("insulation_temperature") if row is not None else None)
        if given is None and row is not None:
            sources.append(row.source)
        if rated is None:
            unknown.append(cable.id)
            working.append(f"{cable.id}: insulation not known")
            continue
        ends.append(rated)
        working.append(f"{cable.id}: insulation for {shown_number(rated)} degC")
        if exceeds(asked.number, rated):
            best = given.high if given is not None else rated
            (too_cool if exceeds(asked.number, best) else unknown).append(cable.id)
    if too_cool:
        outcome = Outcome.FAIL
        says = (
            f"{too_cool[0]} ends beside {driver.id}, and its insulation is not for the {wanted} degC that wire within "
            f"{shown(near.number, 'in')} of a driver needs."
        )
    elif unknown:
        outcome = Outcome.UNDETERMINED
        needs = tuple(f"cable.{name}.insulation_temperature" for name in unknown)
        says = (
            f"Cannot tell whether the insulation of {unknown[0]} stands {wanted} degC, as wire beside {driver.id} must."
        )
    else:
        outcome = Outcome.PASS
        says = f"The 120 V wire beside {driver.id} has insulation for {wanted} degC."
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=outcome,
        says=says,
        value=min(ends, default=None),
        limit=asked.number,
        unit="degC",
        low=min(ends, default=None),
        high=max(ends, default=None),
        working=tuple(working),
        sources=merge_sources(sources),
        needs=needs,
        keys=tuple(f"cable.{cable.id}.insulation_temperature" for cable in cables),
        to_do=()
        if outcome is Outcome.PASS
        else (
            "Breaker off and tested dead: end the old cable in a box of its own and run new cable to the driver, or "
            "read on the driver whether cooler wire will do.",
        ),
    )


RULE = Rule(
    name="driver-supply-wire",
    title="Insulation of the 120 V wire beside a driver",
    family="low voltage",
    uses=("cable-types", "value:driver-supply-wire-temperature", "value:driver-supply-wire-distance"),
    check=check,
)
