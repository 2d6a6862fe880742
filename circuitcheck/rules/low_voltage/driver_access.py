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

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Driver
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import EXISTING
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each driver that counts as added."""
    for driver in circuit.drivers:
        if driver.origin != EXISTING:
            yield _finding(driver, circuit, book)


def _finding(driver: Driver, circuit: Circuit, book: Rulebook) -> Finding:
    place = f"driver.{driver.id}"
    box = circuit.tree.box.get(driver.box)
    reachable = driver.reachable
    if reachable is None and box is not None and box.reachable is False:
        reachable = False
    in_attic = _in_attic(driver, circuit)
    needs: tuple[str, ...] = ()
    to_do: tuple[str, ...] = ()
    if reachable is False:
        outcome = Outcome.FAIL
        says = f"{driver.id} could not be reached without opening the building's finish."
        to_do = ("Put it where a person can get to it: a cabinet, a closet, a floored part of the attic.",)
    elif driver.in_insulation:
        outcome = Outcome.FAIL
        says = f"{driver.id} would lie in thermal insulation, where it runs hotter than it was tested for."
        to_do = ("Mount it above the insulation and hold the insulation back as far as its label asks.",)
    elif driver.in_insulation is None and in_attic:
        outcome = Outcome.UNDETERMINED
        needs = (f"{place}.in_insulation",)
        says = f"{driver.id} is in an attic, and the file does not say whether insulation lies around it."
        to_do = ("Plan a place above the insulation, on framing.",)
    elif reachable is None or driver.in_insulation is None:
        outcome = Outcome.CAUTION
        says = f"{driver.id} has to stay within reach and out of thermal insulation; the file does not say so yet."
        to_do = ("Plan a place that can be reached and that insulation stays clear of.",)
    else:
        outcome = Outcome.PASS
        says = f"{driver.id} stays within reach, and no insulation lies around it."
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=outcome,
        says=says,
        sources=(book.value("driver-stays-reachable").source, book.value("driver-out-of-insulation").source),
        needs=needs,
        keys=(f"{place}.reachable", f"{place}.in_insulation"),
        to_do=to_do,
        ask=(f"Does the label of {driver.id} allow thermal insulation around it?",) if driver.in_insulation else (),
    )


def _in_attic(driver: Driver, circuit: Circuit) -> bool:
    """Whether a cable that ends at the driver or its box runs in an attic."""
    cables = (*circuit.tree.cables_at.get(driver.box, ()), *circuit.tree.cables_at.get(driver.id, ()))
    return any(cable.place == "attic" for cable in cables)


RULE = Rule(
    name="driver-access",
    title="Drivers within reach and out of insulation",
    family="low voltage",
    uses=("value:driver-stays-reachable", "value:driver-out-of-insulation"),
    check=check,
)
