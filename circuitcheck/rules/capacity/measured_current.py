"""Measured current: whether a clamp reading agrees with the list of loads.

What it asks: the current that was measured with everything on, against the sum of the existing loads on the list.

Why: measured beats computed. A reading above the sum means that something on the circuit is not on the list, and
every answer built on that list is too kind.

What to do: look again for what goes dead with this breaker, also outdoors, in the garage and in the attic. Take
readings from an electrician; nobody should open a panel to get one.

Cannot see: loads that were off while the reading was taken, and a clamp put around two wires, which reads nothing.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, exceeds, merge_sources
from circuitcheck.rules.branch_loads import BRANCH_LOAD_USES, branch_draws, draw_sources, span, total_amperes
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

KEY = "supply.measured_current"


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for the circuit [A], when somebody measured; never more than a caution."""
    measured = circuit.supply.measured_current_a
    if measured is None:
        return
    origins = {f"load.{load.id}": load.origin for load in circuit.loads}
    origins |= {f"driver.{driver.id}": driver.origin for driver in circuit.drivers}
    # What the file calls added was not there yet when somebody measured.
    draws = [draw for draw in branch_draws(circuit, book) if origins[draw.key] != "added"]
    unknown = [draw for draw in draws if draw.needs]
    total = total_amperes(draws, circuit.supply, 1.0)
    reading, listed = span(measured.low, measured.high, "A"), span(total.low, total.high, "A")
    over = exceeds(measured.high, total.high)
    if over and unknown:
        missing = ", ".join(draw.id for draw in unknown)
        says = f"{reading} were measured and the known loads make {listed}; nobody knows yet what {missing} draws."
    elif over:
        says = f"{reading} were measured, but the existing loads on the list make only {listed}: something is missing."
    else:
        says = f"{reading} were measured, no more than the {listed} of the existing loads on the list."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=Outcome.CAUTION if over else Outcome.PASS,
        says=says,
        value=measured.high,
        limit=total.high,
        unit="A",
        low=measured.low,
        high=measured.high,
        working=(f"existing loads at nominal voltage, without the factor for continuous loads: {listed}",),
        sources=merge_sources((book.value("measured-over-listed").source,), draw_sources(draws)),
        keys=(KEY,),
        to_do=("Look again for everything that goes dead with this breaker, and put it on the list.",) if over else (),
    )


RULE = Rule(
    name="measured-current",
    title="Whether a clamp reading agrees with the list of loads",
    family="capacity",
    uses=(*BRANCH_LOAD_USES, "value:measured-over-listed"),
    check=check,
)
