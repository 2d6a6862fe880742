"""Metal boxes: whether each one that holds new work is joined to the equipment ground.

What it asks: the material of every box that new work touches, and whether a metal one is joined to the equipment
ground.

Why: a loose hot wire makes an unbonded metal box and everything screwed to it live. Unjoined grounds are a usual red
tag.

What to do: with the breaker off and the box tested dead, join the box to the equipment grounds with its own pigtail
and a grounding screw or clip made for it.

Cannot see: whether a screw really bites, and metal plates, yokes and canopies beyond the box.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import LESS, Answer, Case, CaseRule, Family, Said, order, said
from circuitcheck.case.parts import Box
from circuitcheck.domain.work import TOUCH_WORSE, is_touched
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

METAL = "metal"
_LOOK = (
    "Breaker off and tested dead: look for a pigtail from the grounds to a screw or clip in the box; plan one if it is "
    "missing.",
)


def answer(box: Box, case: Case, book: Rulebook) -> Answer | None:
    """Whether one touched metal box is joined to the ground; a plastic box says nothing."""
    if not is_touched(case, box) or box.material != METAL:
        return None
    if box.bonded:
        outcome, says = Outcome.PASS, said('Metal box "{box}" is bonded to the equipment ground.', box=box.id)
    else:
        outcome, says = Outcome.FAIL, said('Metal box "{box}" is not bonded to the equipment ground.', box=box.id)

    def working() -> Iterator[Said]:
        yield said("material: {material}", material=box.material)
        yield said("joined to the equipment ground: {bonded}", bonded="yes" if box.bonded else "no")

    return Answer(
        part=box,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether box "{box}" is metal and bonded to the equipment ground.', box=box.id),
        to_come=said('If new box "{box}" is metal, bond it to the equipment ground.', box=box.id),
        working=working,
        sources=(book.value("metal-box-bonded").source,),
        keys=(box.entry("bonded"), box.entry("material")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _LOOK),
    )


RULE = CaseRule[Box](
    name="box-bonding",
    title="Metal boxes bonded to the equipment ground",
    family=Family.SITE,
    rank=310,
    subjects=lambda case: case.boxes,
    answer=answer,
    worse={**TOUCH_WORSE, "box.material": order("nonmetallic", METAL), "box.bonded": LESS},
)
