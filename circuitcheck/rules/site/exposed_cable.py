"""Exposed cable: open sheathed cable that the work adds or uses, and whether something could damage it.

What it asks: whether cable on a surface, on framing or fished is open, and whether things are moved, hung or stored
there.

Why: a nail, a shovel or a bicycle cuts an open cable, and nobody notices until it burns.

What to do: keep open cable close to the surface, and guard it with conduit or boards where it could be hit.

Cannot see: damage that is already there, and cables of the circuit that end at no box which the work touches.
"""

from __future__ import annotations

from circuitcheck.case import LESS, MORE, Answer, Case, CaseRule, Family, Things, said
from circuitcheck.case.parts import Cable
from circuitcheck.domain.cable_kinds import is_nonmetallic
from circuitcheck.domain.work import EXPOSED, is_used
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

_GUARD = ("Guard the cable with conduit or boards where something could hit it, or move it.",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """Whether one open cable that the work adds or uses could be damaged."""
    if cable.concealed or cable.run not in EXPOSED or cable.place == "attic" or not is_used(cable, case):
        return None
    if not is_nonmetallic(book, cable.type):
        return None
    value = book.value("exposed-cable-on-surface")
    things: Things = {"cable": cable.id}
    if cable.exposed_to_damage:
        says = said('Cable "{cable}" is open where it could be hit, hung on or cut.', **things)
    else:
        says = said('Open cable "{cable}" runs where nothing is likely to damage it.', **things)
    return Answer(
        part=cable,
        outcome=Outcome.FAIL if cable.exposed_to_damage else Outcome.PASS,
        says=says,
        open_says=said('Cannot tell yet whether open cable "{cable}" could be hit, hung on or cut.', **things),
        to_come=said(
            'Run open cable "{cable}" close to the surface, and guard it where it could be damaged.', **things
        ),
        sources=(value.source,),
        keys=(cable.entry("exposed_to_damage"),),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _GUARD),
    )


RULE = CaseRule[Cable](
    name="exposed-cable",
    title="Open cable where something could damage it",
    family=Family.SITE,
    rank=500,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={
        "cable.concealed": LESS,
        "cable.run": lambda value, part, case: value in EXPOSED,
        "cable.place": lambda value, part, case: value != "attic",
        "cable.type": lambda value, part, case: is_nonmetallic(case.book, value),
        "cable.exposed_to_damage": MORE,
    },
)
