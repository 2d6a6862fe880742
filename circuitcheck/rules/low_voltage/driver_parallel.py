"""Drivers in parallel: one driver's output is not joined to another's.

What it asks: whether two drivers are joined on their low-voltage side, by the file's word or by cables that meet.

Why: two drivers never share a load evenly. Together they can push more current into a fault than either may, so that
the wiring behind them is no longer class 2, and the current of one can flow back into the other.

What to do: give each driver its own lights and its own wires, or take one driver that is large enough.

Cannot see: drivers that are listed to be joined; their instructions say how, and an electrician decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each driver where there are two or more, or where one is said to be joined to another."""
    if len(circuit.drivers) < 2 and not any(driver.paralleled_with for driver in circuit.drivers):
        return
    source = book.value("paralleled-sources-listed").source
    meeting = _meeting(circuit)
    rivals: dict[str, str] = {}
    for driver in circuit.drivers:
        if driver.paralleled_with is not None:
            rivals[driver.id] = driver.paralleled_with
            rivals.setdefault(driver.paralleled_with, driver.id)
    for driver in circuit.drivers:
        key = f"driver.{driver.id}.paralleled_with"
        rival, place = rivals.get(driver.id), None
        if rival is None and driver.id in meeting:
            rival, place = meeting[driver.id]
        if rival is None:
            doubt = _doubt(circuit, driver.id)
            yield Finding(
                check=RULE.name,
                subject=driver.id,
                outcome=Outcome.UNDETERMINED if doubt else Outcome.PASS,
                says=(
                    f"Cannot tell which driver feeds {doubt[0]}, so {driver.id} may be joined to another."
                    if doubt
                    else f"{driver.id} has lights and wires of its own: nothing joins it to another driver."
                ),
                sources=(source,),
                needs=tuple(f"driver.{driver.id}.paralleled_with" for _ in doubt[:1]),
                keys=(key,),
            )
            continue
        where = "" if place is None else f" at {place}"
        yield Finding(
            check=RULE.name,
            subject=driver.id,
            outcome=Outcome.FAIL,
            says=f"{driver.id} and {rival} are joined on their low-voltage side{where}; only listed pairs may be.",
            sources=(source,),
            keys=(key,),
            to_do=("Part the two: each driver with lights and wires of its own, or one driver that is large enough.",),
            ask=(f"Are {driver.id} and {rival} listed to be joined, and do their instructions say how?",),
        )


def _doubt(circuit: Circuit, driver_id: str) -> tuple[str, ...]:
    """Lights that no cable joins to any driver, where the driver itself feeds nothing in the file."""
    tree = circuit.tree
    if driver_id in tree.driver_of.values():
        return ()
    fed = {cable.to_id for cable in tree.low_voltage_cables}
    return tuple(load.id for load in circuit.low_voltage_loads if load.id not in fed)


def _meeting(circuit: Circuit) -> dict[str, tuple[str, str]]:
    """Driver -> (another driver, the place where cables of both end)."""
    tree = circuit.tree
    first: dict[str, str] = {}
    found: dict[str, tuple[str, str]] = {}
    for cable in tree.low_voltage_cables:
        driver = tree.driver_of[cable.id]
        other = first.setdefault(cable.to_id, driver)
        if other != driver:
            found.setdefault(driver, (other, cable.to_id))
            found.setdefault(other, (driver, cable.to_id))
    return found


RULE = Rule(
    name="driver-parallel",
    title="No driver joined to another",
    family="low voltage",
    uses=("value:paralleled-sources-listed",),
    check=check,
)
