"""Cable and nails: the distance of a cable from the face of the wood, or a steel plate.

What it asks: how far each added cable in framing stays from the nearest face, or whether steel plates cover it.

Why: drywall screws and picture nails reach about as deep as the distance that the code requires.

What to do: bore in the middle of the member, keep the distance, or put a steel plate of the thickness that the book
names over each place.

Cannot see: cables already closed in a wall, edges of metal studs, where a bushing goes in each hole, and conduit,
whose thin kinds want plates too.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, Amount, Answer, Case, CaseRule, Family, Rounding, Things, said
from circuitcheck.case.parts import Cable, Part
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook

IN_FRAMING = ("through framing", "along framing")


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """How far one added branch cable in framing stays from the face of the wood [in]."""
    if not cable.is_added or cable.run not in IN_FRAMING or cable.type.endswith("in raceway"):
        return None
    distance, plate = book.value("cable-edge-distance"), book.value("protection-plate-thickness")
    edge, least = in_unit(cable.edge_distance_m, "in"), in_unit(distance.number, "in")
    keeps = not exceeds(distance.number, cable.edge_distance_m)
    things: Things = {
        "cable": cable.id,
        "edge": Amount(edge, "in", Rounding.DOWN),
        "least": Amount(least, "in", Rounding.UP),
        "plate": Amount(in_unit(plate.number, "in"), "in", Rounding.UP),
    }
    if cable.plates:
        says = said('Steel plates cover cable "{cable}" where it runs near the face of the wood.', **things)
    else:
        says = said('Cable "{cable}" stays {edge} from the face of the wood; at least {least} is required.', **things)
    bore = str(said("Drill in the middle of the member, or add a steel plate at least {plate} thick.", **things))
    return Answer(
        part=cable,
        outcome=Outcome.PASS if cable.plates or keeps else Outcome.FAIL,
        says=says,
        open_says=said(
            'Cannot tell yet whether cable "{cable}" stays {least} from the face of the wood or has steel plates.',
            **things,
        ),
        to_come=said(
            'Keep cable "{cable}" at least {least} from the face of the wood, or cover it with {plate} steel plates.',
            **things,
        ),
        value=edge,
        limit=least,
        unit="in",
        at_least=True,
        sources=(distance.source, plate.source),
        keys=(cable.entry("edge_distance"), cable.entry("plates")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), (bore,)),
    )


def _in_framing(value: Any, part: Part, case: Case) -> bool:
    return value in IN_FRAMING


def _not_in_raceway(value: Any, part: Part, case: Case) -> bool:
    return not value.endswith("in raceway")


RULE = CaseRule[Cable](
    name="cable-edge",
    title="Cable away from nails, or behind steel plates",
    family=Family.SITE,
    rank=480,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={
        "cable.run": _in_framing,
        "cable.type": _not_in_raceway,
        "cable.plates": LESS,
        "cable.edge_distance": LESS,
    },
)
