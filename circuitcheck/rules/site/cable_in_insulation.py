"""Cable in insulation: several cables touching insulation, or sharing one sealed hole.

What it asks: whether an added cable is in thermal insulation beside others, and how many cables share a hole that
is sealed with foam or caulk.

Why: heat cannot leave there. Measurements of bundles in sealed holes have passed the limit of the insulation at
moderate load.

What to do: give cables room, spread them over several holes, and let no more than two share one sealed hole.
Otherwise the ampacity is adjusted, which the ampacity check does.

Cannot see: insulation that somebody adds later.
"""

from __future__ import annotations

from circuitcheck.case import MORE, Amount, Answer, Case, CaseRule, Family, Things, said
from circuitcheck.case.parts import Cable
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

_APART = ("Spread the cables over several holes, or keep them apart.",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """How many cables share a sealed hole or lie in insulation with one added branch cable."""
    if not cable.is_added:
        return None
    most = book.value("cables-in-sealed-hole")
    together, beside = 1 + cable.sealed_hole_with, 1 + cable.bundled_with
    count = max(together, beside if cable.in_insulation else 1)
    if count == 1:
        return None
    things: Things = {"cable": cable.id, "count": Amount(count), "most": Amount(most.number)}
    if together > most.number:
        says = said('{count} cables share a sealed hole with "{cable}": over {most}, so adjustment applies.', **things)
    elif count > most.number:
        says = said(
            '{count} cables lie together in insulation at "{cable}": over {most}, so adjustment applies.', **things
        )
    else:
        says = said('No more than {most} cables lie together in insulation or a hole at "{cable}".', **things)
    return Answer(
        part=cable,
        outcome=Outcome.CAUTION if count > most.number else Outcome.PASS,
        says=says,
        value=float(count),
        limit=most.number,
        unit="cables",
        sources=(most.source,),
        keys=(cable.entry("sealed_hole_with"), cable.entry("in_insulation")),
        to_do={Outcome.CAUTION: _APART},
    )


RULE = CaseRule[Cable](
    name="cable-in-insulation",
    title="Cables together in insulation or a sealed hole",
    family=Family.SITE,
    rank=470,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={"cable.in_insulation": MORE, "cable.bundled_with": MORE, "cable.sealed_hole_with": MORE},
)
