"""Driver input: what a driver draws from the branch circuit, and how that is counted.

What it asks: the volt-amperes and the current with which each driver counts on the circuit, against its breaker; and
whether that breaker is no larger than low-voltage lighting may be fed from.

Why: a driver draws more than its lights use, since part of the power turns into heat in it, and because of its power
factor the breaker sees more still. The code counts the amperes on its label, not the watts of the lights.

What to do: read the input current from the driver's label. With efficiency and power factor instead, the output rating
is divided by both.

Cannot see: the rush of current at the moment of switching on, which can trip a breaker when many drivers start at once.
"""

from __future__ import annotations

from circuitcheck.case import EACH, Amount, Answer, Case, CaseRule, Family, Said, Things, said
from circuitcheck.case.parts import Driver
from circuitcheck.domain.directions import DRIVER_DRAW_WORSE
from circuitcheck.domain.draws import driver_draw
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer:
    """What one driver counts for on the breaker [VA]."""
    breaker, largest = case.supply.breaker_a, book.value("low-voltage-supply-breaker")
    draw = driver_draw(case, driver)
    apparent, room = draw.amperes * case.supply.voltage_v, breaker * case.supply.voltage_v
    amounts: Things = {
        "driver": driver.id,
        "apparent": Amount(apparent, "VA"),
        "amperes": Amount(draw.amperes, "A"),
        "watts": Amount(draw.power.real, "W"),
        "breaker": Amount(breaker, "A"),
        "largest": Amount(largest.number, "A"),
    }
    keys: tuple[Ref, ...] = (driver.entry("input_current"),)
    too_large = exceeds(breaker, largest.number)
    if too_large:
        says = said(
            'Driver "{driver}" would be fed from a {breaker} circuit. Low-voltage lighting may be fed from {largest} '
            "at most.",
            **amounts,
        )
        keys = (case.supply.entry("breaker"), *keys)
    elif exceeds(draw.amperes, breaker):
        says = said('Driver "{driver}" alone draws {amperes}, more than the {breaker} breaker is rated for.', **amounts)
    else:
        says = said(
            'Driver "{driver}" counts as {apparent} ({amperes}) on the breaker and as {watts} in the voltage drop.',
            **amounts,
        )
    fits = not too_large and not exceeds(draw.amperes, breaker)

    def working() -> tuple[Said, ...]:
        return (
            said(draw.written.template + " = {amperes}", **{**draw.written.things, **amounts}),
            said(
                "{amperes} x {volts} = {apparent}, of which {watts} are real power",
                volts=Amount(case.supply.voltage_v, "V"),
                **amounts,
            ),
        )

    return Answer(
        part=driver,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=says,
        open_says=said(
            'Cannot tell yet whether driver "{driver}" may be fed from this circuit: the breaker is {breaker}, the '
            "driver draws {amperes}, and low-voltage lighting may be fed from {largest} at most.",
            **amounts,
        ),
        value=apparent,
        limit=room,
        unit="VA",
        working=working,
        sources=merge_sources(draw.sources, (largest.source,)),
        keys=keys,
        to_do={
            Outcome.FAIL: (
                f"Feed it from a lighting circuit of {shown_number(largest.number)} A or less that has room for it.",
            ),
            Outcome.UNDETERMINED: ("Read the input current on the driver's label and the number on the handle.",),
        },
    )


RULE = CaseRule[Driver](
    name="driver-input",
    title="What a driver draws from the branch circuit",
    family=Family.LOW_VOLTAGE,
    rank=110,
    subjects=lambda case: case.drivers,
    answer=answer,
    worse={**DRIVER_DRAW_WORSE, "supply.breaker": EACH, "supply.voltage": EACH},
)
