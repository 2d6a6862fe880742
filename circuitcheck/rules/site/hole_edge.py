"""Hole and nails: how far a hole or notch leaves its cable from the face of the wood, or a steel plate.

What it asks: the distance from each hole to the nearest edge of the wood, of new cuts and of old ones that the work
uses, or whether a steel plate covers the place. A notch always needs a plate.

Why: drywall screws and picture nails reach about as deep as the distance that the code requires.

What to do: bore in the middle of the member; else nail a steel plate over the place.

Cannot see: metal framing, and old holes whose cable ends at no box that the work touches.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, Amount, Answer, Case, CaseRule, Family, Rounding, Things, order, said
from circuitcheck.case.parts import Framing, Part
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook

NOTCH = "notch"
_PLATE = ("Put a steel plate over the spot, or run the cable another way.",)


def answer(framing: Framing, case: Case, book: Rulebook) -> Answer | None:
    """How far one hole is from the edge of the member [in]."""
    if not framing.is_added and not _is_used(framing, case):
        return None
    distance, plate = book.value("cable-edge-distance"), book.value("protection-plate-thickness")
    edge_m = 0.0 if framing.cut == NOTCH else framing.edge_distance_m
    keeps = framing.plates or not exceeds(distance.number, edge_m)
    things: Things = {
        "cut": framing.id,
        "member": framing.member,
        "edge": Amount(in_unit(edge_m, "in"), "in", Rounding.DOWN),
        "least": Amount(in_unit(distance.number, "in"), "in", Rounding.UP),
        "plate": Amount(in_unit(plate.number, "in"), "in", Rounding.UP),
    }
    if framing.plates:
        says = said('A steel plate covers "{cut}".', **things)
    elif framing.cut == NOTCH:
        says = said('"{cut}" is a notch without a steel plate over it.', **things)
    else:
        says = said('"{cut}" is {edge} from the edge of the {member}; {least} or a plate is required.', **things)
    return Answer(
        part=framing,
        outcome=Outcome.PASS if keeps else Outcome.FAIL,
        says=says,
        open_says=said('Cannot tell yet whether "{cut}" is {least} from the edge or has a steel plate.', **things),
        to_come=said(
            'Keep "{cut}" at least {least} from the edge of the wood, or cover it with a {plate} steel plate.',
            **things,
        ),
        value=in_unit(edge_m, "in"),
        limit=in_unit(distance.number, "in"),
        unit="in",
        at_least=True,
        sources=(distance.source, plate.source),
        keys=(framing.entry("edge_distance"), framing.entry("plates")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED), _PLATE),
    )


def _is_used(framing: Framing, case: Case) -> bool:
    """Whether the cable in an old hole is new, or ends at a box on which the work hangs something."""
    tree = case.tree
    cable = tree.cable.get(framing.cable) if framing.cable is not None else None
    if cable is None:
        return False
    return bool(cable.is_added) or any(
        part.is_added
        for box in (cable.from_id, cable.to_id)
        for part in (*tree.cables_at.get(box, ()), *tree.loads_at.get(box, ()), *tree.drivers_at.get(box, ()))
    )


def _a_notch(value: Any, part: Part, case: Case) -> bool:
    return bool(value == NOTCH)


RULE = CaseRule[Framing](
    name="hole-edge",
    title="Holes away from nails, or behind steel plates",
    family=Family.SITE,
    rank=520,
    subjects=lambda case: case.framing,
    answer=answer,
    worse={
        "framing.cut": _a_notch,
        "framing.edge_distance": LESS,
        "framing.plates": LESS,
        "framing.member": order(),  # it is only named
    },
)
