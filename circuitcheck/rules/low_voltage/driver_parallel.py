"""Drivers in parallel: one driver's output is not joined to another's.

What it asks: whether two drivers are joined on their low-voltage side, because the file says so or because their
cables meet.

Why: two drivers never share a load evenly. Together they can push more current into a fault than either may, so that
the wiring behind them is no longer class 2, and the current of one can flow back into the other.

What to do: give each driver its own lights and its own wires, or take one driver that is large enough.

Cannot see: drivers that are listed to be joined; their instructions say how, and an electrician decides.
"""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.case import Answer, Case, CaseRule, Family, Things, once, said
from circuitcheck.case.parts import Driver
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer | None:
    """Whether one driver is joined to another, where there are two or more or one is said to be joined."""
    rivals = _said_to_be_joined(case)
    if len(case.drivers) < 2 and not rivals:
        return None
    rival, place = rivals.get(driver.id), ""
    if rival is None:
        rival, place = _meeting(case).get(driver.id, (None, ""))
    loose = _loose_lights(case, driver) if rival is None else ()
    things: Things = {"driver": driver.id, "rival": rival or "", "place": place, "light": loose[0] if loose else ""}
    if rival is not None:
        outcome = Outcome.FAIL
        where = ' at "{place}"' if place else ""
        says = said(
            f'Drivers "{{driver}}" and "{{rival}}" are joined on the low-voltage side{where}. '
            "Only drivers listed for that may be.",
            **things,
        )
    elif loose:
        outcome = Outcome.UNDETERMINED
        says = said(
            'Cannot tell yet which driver feeds "{light}", so driver "{driver}" may be joined to another.', **things
        )
    else:
        outcome = Outcome.PASS
        says = said('Driver "{driver}" has its own lights and wires: nothing joins it to another driver.', **things)
    listed = said(
        'Are drivers "{driver}" and "{rival}" listed to be joined, and do their instructions say how?', **things
    )
    return Answer(
        part=driver,
        outcome=outcome,
        says=says,
        sources=(book.value("paralleled-sources-listed").source,),
        keys=(driver.entry("paralleled_with"),),
        to_do={
            Outcome.FAIL: (
                "Separate the two: give each driver its own lights and wires, or use one driver that is large enough.",
            ),
            Outcome.UNDETERMINED: ("Enter the cable from the driver to each of its lights.",),
        },
        ask=(str(listed),) if rival is not None else (),
    )


@once
def _said_to_be_joined(case: Case) -> Mapping[str, str]:
    """Driver -> the one that the file says it is joined to, from either side."""
    rivals: dict[str, str] = {}
    for driver in case.drivers:
        if driver.paralleled_with is not None:
            rivals[driver.id] = driver.paralleled_with
            rivals.setdefault(driver.paralleled_with, driver.id)
    return rivals


def _loose_lights(case: Case, driver: Driver) -> tuple[str, ...]:
    """Lights that no cable joins to any driver, where the driver itself feeds nothing in the file."""
    feeding, lights = _without_a_feed(case)
    return () if driver.id in feeding else lights


@once
def _without_a_feed(case: Case) -> tuple[frozenset[str], tuple[str, ...]]:
    """The drivers that feed something, and the lights that no cable feeds."""
    tree = case.tree
    fed = {cable.to_id for cable in tree.low_voltage_cables}
    return frozenset(tree.driver_of.values()), tuple(
        light.id for light in case.low_voltage_loads if light.id not in fed
    )


@once
def _meeting(case: Case) -> Mapping[str, tuple[str, str]]:
    """Driver -> (another driver, the place where cables of both end)."""
    tree = case.tree
    first: dict[str, str] = {}
    meeting: dict[str, tuple[str, str]] = {}
    for cable in tree.low_voltage_cables:
        driver = tree.driver_of[cable.id]
        other = first.setdefault(cable.to_id, driver)
        if other != driver:
            meeting.setdefault(driver, (other, cable.to_id))
            meeting.setdefault(other, (driver, cable.to_id))
    return meeting


RULE = CaseRule[Driver](
    name="driver-parallel",
    title="No driver joined to another",
    family=Family.LOW_VOLTAGE,
    rank=170,
    subjects=lambda case: case.drivers,
    answer=answer,
)
