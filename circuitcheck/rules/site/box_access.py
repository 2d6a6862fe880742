"""Box access: every box stays covered and within reach.

What it asks: whether each box that new work touches can be reached without tearing the building, and has its cover.

Why: splices loosen. A box that is buried in a wall or under insulation boards is found again only by its smoke. A
buried box is never a way out of a box that is too full.

What to do: put boxes where they can be reached (an attic counts), cover every one, and say in the plan where it is.

Cannot see: boxes that nobody listed.
"""

from __future__ import annotations

from circuitcheck.case import LESS, Answer, Case, CaseRule, Family, said
from circuitcheck.case.parts import Box
from circuitcheck.domain.work import TOUCH_WORSE, is_touched
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

_PLAN = ("Plan every splice in a covered box that can be reached later.",)


def answer(box: Box, case: Case, book: Rulebook) -> Answer | None:
    """Whether one touched box stays within reach and covered; what hangs on a box covers it."""
    if not is_touched(case, box):
        return None
    hung = bool(case.tree.loads_at.get(box.id))
    if not box.reachable:
        outcome, says = Outcome.FAIL, 'Box "{box}" cannot be reached without opening the building.'
    elif not hung and not box.covered:
        outcome, says = Outcome.FAIL, 'Box "{box}" has no cover.'
    else:
        outcome, says = Outcome.PASS, 'Box "{box}" can be reached and is covered.'
    return Answer(
        part=box,
        outcome=outcome,
        says=said(says, box=box.id),
        open_says=said('Cannot tell yet whether box "{box}" stays accessible.', box=box.id),
        to_come=said('Keep box "{box}" accessible, and cover it when the work is done.', box=box.id),
        sources=(book.value("box-stays-accessible").source,),
        keys=(box.entry("reachable"), box.entry("covered")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _PLAN),
    )


RULE = CaseRule[Box](
    name="box-access",
    title="Boxes stay covered and accessible",
    family=Family.SITE,
    rank=450,
    subjects=lambda case: case.boxes,
    answer=answer,
    worse={**TOUCH_WORSE, "box.reachable": LESS, "box.covered": LESS},
)
