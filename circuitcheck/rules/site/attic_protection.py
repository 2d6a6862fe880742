"""Cable in an attic: guard strips, by the kind of access.

What it asks: how the attic is entered, how added cable runs there, whether it is near the hatch, and whether guard
strips protect it.

Why: people step and store things where they can get in. Cable over the tops of joists is crushed there first.

What to do: run along the side of the framing, or protect cable that crosses the tops with guard strips at least as
high as the cable.

Cannot see: whether a pull-down ladder counts as permanent: the trade is divided, so it asks. Cable across the faces
of rafters counts too within 7 ft of the floor; the file does not tell it from cable over joists.
"""

from __future__ import annotations

from circuitcheck.case import LESS, MORE, Amount, Answer, Case, CaseRule, Family, Said, Things, order, said
from circuitcheck.case.parts import Cable
from circuitcheck.findings import Outcome
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook

PERMANENT = ("permanent stairs", "permanent ladder")
DISPUTED = "pull-down ladder"
#: Runs that lie beside or inside the framing, or out of reach.
PROTECTED = ("along framing", "through framing", "in raceway", "fished", "buried")
_PLAN = ("Plan the route along the framing, or guard strips as high as the cable.",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added branch cable in an attic is protected where people climb in."""
    if not cable.is_added or cable.place != "attic" or cable.run == "in raceway":
        return None
    near = book.value("attic-hatch-distance")
    things: Things = {"cable": cable.id, "run": cable.run, "near": Amount(in_unit(near.number, "ft"), "ft")}
    outcome, says = _judged(cable, case.site.attic_access, things)
    return Answer(
        part=cable,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether cable "{cable}" needs guard strips.', **things),
        to_come=said(
            'Run cable "{cable}" along the framing, or give it guard strips where it crosses: everywhere with '
            "permanent stairs or ladder, else within {near} of the hatch.",
            **things,
        ),
        working=lambda: (
            said("access: {access}; run: {run}", access=case.site.attic_access, run=cable.run),
            said("near the hatch: {near}", near="yes" if cable.near_hatch else "no"),
        ),
        sources=(near.source,),
        keys=(
            cable.entry("run"),
            cable.entry("guard_strips"),
            case.site.entry("attic_access"),
        ),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _PLAN),
        ask=("Does a pull-down ladder count as permanent access, so that the whole attic needs guard strips?",)
        if outcome is Outcome.CAUTION
        else (),
    )


def _judged(cable: Cable, access: str, things: Things) -> tuple[Outcome, Said]:
    if cable.run in PROTECTED:
        return Outcome.PASS, said(
            'Cable "{cable}" runs {run} in the attic, where no guard strips are required.', **things
        )
    if cable.guard_strips:
        return Outcome.PASS, said('Guard strips protect cable "{cable}" in the attic.', **things)
    if access == "none":
        return Outcome.PASS, said('Nobody can get into the attic where cable "{cable}" runs.', **things)
    if access in PERMANENT or cable.near_hatch:
        says = said('Cable "{cable}" crosses the attic framing without guard strips where people climb in.', **things)
        return Outcome.FAIL, says
    if access == DISPUTED:
        says = said(
            'Cable "{cable}" has no guard strips. Whether a pull-down ladder requires them everywhere is disputed.',
            **things,
        )
        return Outcome.CAUTION, says
    says = said('Cable "{cable}" stays more than {near} from the hatch, where no guard strips are required.', **things)
    return Outcome.PASS, says


RULE = CaseRule[Cable](
    name="attic-protection",
    title="Cable in an attic, by the kind of access",
    family=Family.SITE,
    rank=510,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={
        "cable.place": order("inside", "attic"),
        "cable.run": order(*PROTECTED, "on a surface", "across framing"),
        "cable.guard_strips": LESS,
        "cable.near_hatch": MORE,
        "site.attic_access": order("none", "hatch", DISPUTED, *PERMANENT),
    },
)
