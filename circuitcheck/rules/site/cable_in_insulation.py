"""Cable in insulation: several cables touching insulation, or sharing one sealed hole.

What it asks: whether an added cable lies in thermal insulation beside others, and how many cables share a hole that
is sealed with foam or caulk.

Why: heat cannot leave there. Measurements of bundles in sealed holes have passed the limit of the insulation at
moderate load.

What to do: give cables room, spread them over several holes, and let no more than two share one sealed hole.
Otherwise the ampacity is adjusted, which the ampacity check does.

Cannot see: insulation that somebody adds later.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added branch cable that shares a sealed hole, or may touch insulation beside others."""
    most = book.value("cables-in-sealed-hole")
    for cable in circuit.tree.branch_cables:
        if not is_added(cable):
            continue
        together = 1 + cable.sealed_hole_with
        beside = 1 + cable.bundled_with
        key = f"cable.{cable.id}.in_insulation"
        if together > most.number:
            outcome = Outcome.CAUTION
            says = (
                f"{together} cables share a sealed hole with cable {cable.id}: over {most.number:g}, so its "
                "ampacity is adjusted."
            )
        elif beside > most.number and cable.in_insulation is not False:
            outcome = Outcome.CAUTION
            says = (
                f"{beside} cables lie together {'in' if cable.in_insulation else 'and perhaps in'} "
                f"insulation at cable {cable.id}: its ampacity is adjusted."
            )
        elif cable.in_insulation or cable.sealed_hole_with:
            outcome, says = (
                Outcome.PASS,
                (f"No more than {most.number:g} cables lie together in insulation or a hole at cable {cable.id}."),
            )
        else:
            continue
        yield Finding(
            check=RULE.name,
            subject=cable.id,
            outcome=outcome,
            says=says,
            value=float(max(together, beside)),
            limit=most.number,
            unit="cables",
            low=float(max(together, beside)),
            high=float(max(together, beside)),
            sources=(most.source,),
            keys=(f"cable.{cable.id}.sealed_hole_with", key),
            to_do=() if outcome is Outcome.PASS else ("Spread the cables over several holes, or keep them apart.",),
        )


RULE = Rule(
    name="cable-in-insulation",
    title="Cables together in insulation or a sealed hole",
    family="site",
    uses=("value:cables-in-sealed-hole",),
    check=check,
)
