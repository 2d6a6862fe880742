"""Switch box as a source: a box without a neutral cannot feed new lights.

What it asks: whether the existing box that new cable starts from has a neutral, above all where it holds a switch.

Why: a switch loop brings two hot wires and no neutral. A light wired there would have to use the ground as its
return, which puts current on bare metal.

What to do: start from a box that has an always-hot wire and a neutral, often the ceiling box that the switch serves.

Cannot see: whether a bundle of white wires in the back belongs to this circuit. A neutral of another circuit must not
be used.
"""

from __future__ import annotations

from circuitcheck.case import LESS, Answer, Case, CaseRule, Family, Said, said
from circuitcheck.case.parts import Box
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.tables.rulebook import Rulebook

_TO_DO = (
    "Breaker off and tested dead: check whether white wires are joined together in the box and belong to this circuit.",
    "Never use the equipment ground as a neutral.",
)


def answer(box: Box, case: Case, book: Rulebook) -> Answer | None:
    """Whether a box that old cable feeds and an added branch cable starts from has a neutral.

    A box that is put in the place of another one is fed as the old one was.
    """
    if not any(cable.is_added for cable in case.tree.children.get(box.id, ())):
        return None
    if box.is_added and case.tree.feed[box.id].is_added:
        return None
    if exceeds(case.supply.voltage_v, book.value("one-pole-voltage-most").number):
        return None  # two hots and no neutral feed what is on such a circuit
    says: Said
    if box.neutral:
        says = said('Box "{box}" has a neutral for the new lights.', box=box.id)
    else:
        says = said('Box "{box}" has no neutral, so new lights cannot be fed from it.', box=box.id)
    return Answer(
        part=box,
        outcome=Outcome.PASS if box.neutral else Outcome.FAIL,
        says=says,
        open_says=said('Cannot tell yet whether box "{box}" has a neutral to feed new lights.', box=box.id),
        to_come=said('Make sure that box "{box}" has a neutral for the new lights.', box=box.id),
        sources=(book.value("neutral-for-luminaires").source,),
        keys=(box.entry("neutral"),),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED), _TO_DO),
    )


RULE = CaseRule[Box](
    name="switch-box-source",
    title="A switch box without a neutral cannot feed new lights",
    family=Family.SITE,
    rank=320,
    subjects=lambda case: case.boxes,
    answer=answer,
    worse={"box.neutral": LESS, "supply.voltage": LESS},
)
