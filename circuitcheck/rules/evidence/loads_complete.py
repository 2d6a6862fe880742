"""Whether the list of loads is complete: everything that goes dead with this breaker stands in the file.

What it asks: whether somebody turned this breaker off, walked the house, the garage and the yard, and listed all that
was dead.

Why: every answer about amperes counts the loads in the file. A freezer in the garage that nobody listed makes a circuit
fit on paper only. Circuits reach into rooms where nobody expects them.

What to do: turn the breaker off and try each outlet, switch, built-in appliance and outdoor light. List whatever is
dead.

Cannot see: what was overlooked on the walk, and what is plugged in only at times.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import EvidenceRule
from circuitcheck.circuit.added_work import guessed_origins, has_added_work
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook

KEY = "supply.loads_complete"
WALK = ("Breaker off: walk the house, the garage and the yard, and list everything that is dead.",)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding about the circuit: unknown is a caution, a list that is known to be short leaves the answer open."""
    if not has_added_work(circuit) and not guessed_origins(circuit):
        return
    supply = circuit.supply
    complete = None if supply.known_by.get("loads_complete") == How.GUESS else supply.loads_complete
    if complete:
        outcome, says = Outcome.PASS, "The file says that every load on this breaker is listed."
    elif complete is None:
        outcome = Outcome.CAUTION
        says = "Unknown whether every load on this breaker is listed; only what is listed counts."
    else:
        outcome = Outcome.UNDETERMINED
        says = "Cannot tell yet what is on this breaker: the list of loads is not complete."
    settled = outcome is Outcome.PASS
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        sources=(book.value("loads-listed-by-walking").source,),
        needs=() if settled else (KEY,),
        keys=(KEY,),
        to_do=() if settled else WALK,
    )


RULE = EvidenceRule(
    name="loads-complete",
    title="Whether every load on the breaker is listed",
    rank=210,
    check=check,
)
