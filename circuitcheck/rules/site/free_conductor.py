"""Free conductor: how much wire is left to work with at each box.

What it asks: the length of free conductor that each added cable leaves at its boxes.

Why: short wires cannot be joined well and break when they are bent again. A short wire that was lengthened by a
pigtail is not the same thing: the splice then sits in the back of the box.

What to do: leave the length from where the conductor comes out of its sheath, and past the opening of a small box.

Cannot see: wires that are already cut short. Whether a spliced-on length counts differs by edition: ask.
"""

from __future__ import annotations

from circuitcheck.case import LESS, Amount, Answer, Case, CaseRule, Family, Rounding, Things, said
from circuitcheck.case.parts import Cable
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """How much free conductor one added cable leaves [in]."""
    if not cable.is_added:
        return None
    least, past = book.value("free-conductor-length"), book.value("free-conductor-past-opening")
    splice = book.value("free-conductor-may-be-spliced")
    free, limit = in_unit(cable.free_length_m, "in"), in_unit(least.number, "in")
    things: Things = {
        "cable": cable.id,
        "free": Amount(free, "in", Rounding.DOWN),
        "least": Amount(limit, "in", Rounding.UP),
    }
    short = exceeds(least.number, cable.free_length_m)
    reach = (f"Let the wire reach at least {in_unit(past.number, 'in'):g} in past the opening of a small box as well.",)
    return Answer(
        part=cable,
        outcome=Outcome.FAIL if short else Outcome.PASS,
        says=said('Cable "{cable}" leaves {free} of free conductor; {least} is required.', **things),
        open_says=said(
            'Cannot tell yet whether cable "{cable}" leaves enough free conductor: {free}; {least} is required.',
            **things,
        ),
        to_come=said('Leave at least {least} of free conductor of cable "{cable}" at each box.', **things),
        value=free,
        limit=limit,
        unit="in",
        at_least=True,
        working=lambda: (said("{splice}", splice=splice.text),),
        sources=(least.source, past.source, splice.source),
        keys=(cable.entry("free_length"),),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), reach),
        ask=("May a free conductor that is too short be lengthened by a splice here?",) if short else (),
    )


RULE = CaseRule[Cable](
    name="free-conductor",
    title="Free conductor at each box",
    family=Family.SITE,
    rank=505,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={"cable.free_length": LESS},
)
