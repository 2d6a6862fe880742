"""Air space: cable in a space that the heating or cooling blows air through.

What it asks: for each added cable that runs in such a space, whether its kind may. In a dwelling, cable may cross a
joist or stud bay used as a duct from side to side. Along it, only metal-clad kinds may run, or low-voltage cable
marked for plenums.

Why: when a sheath burns there, the blower carries its smoke to every room.

What to do: take another route, or cross the space by the shortest one.

Cannot see: a space that nobody entered in the file, boxes in it, ducts of sheet metal, and whether a conduit or an
armor has a plastic cover.
"""

from __future__ import annotations

from circuitcheck.case import EACH, LESS, Answer, Case, CaseRule, Family, Things, said
from circuitcheck.case.parts import Cable
from circuitcheck.domain.cable_kinds import is_for_low_voltage, is_nonmetallic
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

NONE, CROSSED, FOLLOWED = "none", "crossed", "followed"
_OTHER_WAY = (
    "Take another route, or cross the space from side to side. Behind a driver, use cable marked CL2P or CL3P.",
)
_METAL = ("Is the conduit or armor of metal, without a plastic cover?",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added cable may run in a space that air is blown through."""
    if not cable.is_added or cable.air_space == NONE:
        return None
    low_voltage = is_for_low_voltage(book, cable.type)
    things: Things = {"cable": cable.id, "type": cable.type}
    if cable.air_space == CROSSED and case.site.dwelling:
        outcome = Outcome.PASS
        says = said('Cable "{cable}" crosses a space that air is blown through, as it may in a dwelling.', **things)
    elif not is_nonmetallic(book, cable.type):
        outcome = Outcome.CAUTION
        says = said('Cable "{cable}" ({type}) may run in a space for air only if its cover is plain metal.', **things)
    elif low_voltage and cable.plenum_marked:
        outcome, says = Outcome.PASS, said('Cable "{cable}" is marked for spaces that air is blown through.', **things)
    else:
        outcome = Outcome.FAIL
        says = said('Cable "{cable}" is {type}, which may not run in a space that air is blown through.', **things)
    return Answer(
        part=cable,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether cable "{cable}" may run in a space for air.', **things),
        sources=(
            book.value("air-space-crossing").source,
            *((book.value("air-space-low-voltage").source,) if low_voltage else ()),
        ),
        keys=(cable.entry("air_space"), cable.entry("type")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED), _OTHER_WAY),
        ask=_METAL if outcome is Outcome.CAUTION else (),
    )


RULE = CaseRule[Cable](
    name="air-space",
    title="Cable in a space that air is blown through",
    family=Family.SITE,
    rank=465,
    subjects=lambda case: (*case.tree.branch_cables, *case.tree.low_voltage_cables),
    answer=answer,
    worse={
        "cable.air_space": EACH,
        "cable.type": EACH,
        "cable.plenum_marked": LESS,
        "site.dwelling": LESS,
    },
    alike={"cable.type": lambda value, book: (is_for_low_voltage(book, value), is_nonmetallic(book, value))},
)
