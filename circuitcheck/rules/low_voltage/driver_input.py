"""Driver input: what a driver draws from the branch circuit, and how that is counted.

What it asks: the volt-amperes and the current with which each driver counts on the 120 V circuit, and whether the
breaker in front of it is no larger than low-voltage lighting may hang on.

Why: a driver draws more than its lamps use, since part of the power turns into heat in it, and because of its power
factor the breaker sees more still. The code counts the amperes on its label, not the watts of the lamps.

What to do: read the input current at 120 V from the driver's label. With efficiency and power factor instead, the
output rating is divided by both.

Cannot see: the rush of current at the moment of switching on, which can trip a breaker when many drivers start at once.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Driver, Supply
from circuitcheck.findings import Finding, Outcome, exceeds, merge_sources
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.driver_draw import DRIVER_DRAW_USES, driver_draw
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each driver."""
    for driver in circuit.drivers:
        yield _finding(driver, circuit.supply, book)


def _finding(driver: Driver, supply: Supply, book: Rulebook) -> Finding:
    draw = driver_draw(driver, supply, book)
    largest = book.value("low-voltage-supply-breaker")
    key = f"driver.{driver.id}.input_current"
    sources = merge_sources(draw.sources, (largest.source,))
    if exceeds(supply.breaker_a.low, largest.number):
        return Finding(
            check=RULE.name,
            subject=driver.id,
            outcome=Outcome.FAIL,
            says=(
                f"{driver.id} would hang on a {shown_number(supply.breaker_a.low)} A circuit; low-voltage lighting may "
                f"be fed from {shown_number(largest.number)} A at most."
            ),
            sources=sources,
            keys=("supply.breaker",),
            to_do=(f"Feed {driver.id} from a lighting circuit of {shown_number(largest.number)} A or less.",),
        )
    if draw.low_va is None or draw.high_va is None or draw.low_w is None or draw.high_w is None:
        return Finding(
            check=RULE.name,
            subject=driver.id,
            outcome=Outcome.UNDETERMINED,
            says=f"Cannot tell what {driver.id} draws from the circuit: its label has not been read.",
            unit="VA",
            sources=sources,
            needs=draw.needs,
            keys=(key,),
        )
    amperes = span(draw.low_va / supply.voltage_v.high, draw.high_va / supply.voltage_v.low, "A")
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=Outcome.PASS,
        says=(
            f"{driver.id} counts as {span(draw.low_va, draw.high_va, 'VA')} ({amperes}) on the breaker and as "
            f"{span(draw.low_w, draw.high_w, 'W')} in the voltage drop."
        ),
        value=draw.high_va,
        unit="VA",
        low=draw.low_va,
        high=draw.high_va,
        working=draw.working,
        sources=sources,
        assumed=draw.assumed,
        assumed_keys=draw.assumed_keys,
        keys=(key,),
    )


RULE = Rule(
    name="driver-input",
    title="What a driver draws from the branch circuit",
    family="low voltage",
    uses=(*DRIVER_DRAW_USES, "value:low-voltage-supply-breaker"),
    check=check,
)
