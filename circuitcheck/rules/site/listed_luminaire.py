"""Listed luminaires: the mark of a testing laboratory on each added light.

What it asks: whether each added light carries the mark of a testing laboratory that the local inspector knows.

Why: a light that was never tested may overheat or have metal that comes live. Inspectors turn unmarked ones away.

What to do: look for the mark on the light itself, not only on the carton, before it is bought.

Cannot see: a mark that was copied, and which laboratories the place accepts.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import added_lights
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added light; nothing said about the mark is a reminder, not an open answer."""
    source = book.value("luminaire-listed").source
    for load in added_lights(circuit):
        if load.listed:
            outcome, says = Outcome.PASS, f"{load.id} carries a testing laboratory's mark."
        elif load.listed is False:
            outcome, says = Outcome.FAIL, f"{load.id} carries no testing laboratory's mark."
        else:
            outcome, says = Outcome.CAUTION, f"Look for a testing laboratory's mark on {load.id} before it is put up."
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            sources=(source,),
            keys=(f"load.{load.id}.listed",),
            to_do=() if outcome is Outcome.PASS else ("Choose a light that carries the mark.",),
        )


RULE = Rule(
    name="listed-luminaire",
    title="A testing laboratory's mark on each added light",
    family="site",
    uses=("value:luminaire-listed",),
    check=check,
)
