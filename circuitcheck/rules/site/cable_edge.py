"""Cable and nails: the distance of a cable from the face of the wood, or a steel plate.

What it asks: how far each added cable in framing stays from the nearest face, or whether steel plates cover it.

Why: drywall screws and picture nails reach about as deep as the distance that the book asks for.

What to do: bore in the middle of the member, keep the distance, or put a steel plate of the thickness that the book
names over each place.

Cannot see: cables already closed in a wall, edges of metal studs, where a bushing goes in each hole, and conduit,
whose thin kinds want plates too.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, judge_at_least
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

IN_FRAMING = ("through framing", "along framing")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added branch cable that runs through or along framing; value and limit in inches."""
    distance, plate = book.value("cable-edge-distance"), book.value("protection-plate-thickness")
    limit_in = in_unit(distance.number, "in")
    for cable in circuit.tree.branch_cables:
        if not is_added(cable) or cable.run not in (None, *IN_FRAMING) or (cable.type or "").endswith("in raceway"):
            continue
        key = f"cable.{cable.id}.edge_distance"
        edge = cable.edge_distance_m
        if cable.plates:
            outcome, says = (
                Outcome.PASS,
                f"Steel plates cover cable {cable.id} where it runs near the face of the wood.",
            )
        elif edge is None:
            outcome = Outcome.CAUTION
            says = (
                f"Keep cable {cable.id} at least {limit_in:g} in from the nearest face of the wood, or cover it "
                "with steel plates."
            )
        else:
            outcome = judge_at_least(edge.low, edge.high, distance.number)
            says = (
                f"Cable {cable.id} stays {in_unit(edge.low, 'in'):.3g} in from the face of the wood; "
                f"{limit_in:g} in is asked for."
            )
        yield Finding(
            check=RULE.name,
            subject=cable.id,
            outcome=outcome,
            says=says,
            value=None if edge is None else in_unit(edge.low, "in"),
            limit=limit_in,
            unit="in",
            low=None if edge is None else in_unit(edge.low, "in"),
            high=None if edge is None else in_unit(edge.high, "in"),
            sources=(distance.source, plate.source),
            needs=(key,) if outcome is Outcome.UNDETERMINED else (),
            keys=(key, f"cable.{cable.id}.plates"),
            to_do=()
            if outcome is Outcome.PASS
            else (
                "Bore in the middle of the member, or add a steel plate at least "
                f"{in_unit(plate.number, 'in'):g} in thick.",
            ),
        )


RULE = Rule(
    name="cable-edge",
    title="Cable away from nails, or behind steel plates",
    family="site",
    uses=("value:cable-edge-distance", "value:protection-plate-thickness"),
    check=check,
)
