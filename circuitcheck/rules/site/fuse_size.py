"""Fuses: a screw-in fuse may be far too big for the wire.

What it asks: whether the circuit starts at a fuse, and of which kind.

Why: an ordinary screw-in base takes fuses of several ratings, so somebody may have put in a larger fuse. What is in the
fuse box today says little about the wire.

What to do: compare the fuse with the thinnest wire (the check of breaker against wire does), and ask an electrician for
a base that takes only the right fuse.

Cannot see: the fuse that somebody screws in next year, signs of overfusing, and which class of type S fuse the base
takes.
"""

from __future__ import annotations

from circuitcheck.case import Answer, Case, CaseRule, Family, order, said
from circuitcheck.case.parts import Supply
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

SCREW_IN, TYPE_S, CARTRIDGE = "screw-in", "type S", "cartridge"


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer | None:
    """Whether a larger fuse simply replaces the one that is in; None for a breaker."""
    if supply.device != "fuse":
        return None
    if supply.fuse_type in (TYPE_S, CARTRIDGE):
        outcome, says = Outcome.PASS, said("This is a {kind} fuse. A larger fuse does not fit its base.")
    else:
        outcome = Outcome.CAUTION
        says = said("A larger fuse fits the base of a screw-in fuse. Only the right fuse protects the wire.")
    return Answer(
        part=supply,
        outcome=outcome,
        says=says._replace(things={"kind": supply.fuse_type}),
        sources=(book.value("plug-fuse-interchange").source,),
        keys=(supply.entry("fuse_type"),),
        to_do={Outcome.CAUTION: ("Ask the electrician about a base that takes only the right fuse.",)},
        ask=()
        if outcome is Outcome.PASS
        else ("May this fuse box stay as it is when its circuit is extended, or does an adapter go in?",),
    )


RULE = CaseRule[Supply](
    name="fuse-size",
    title="Screw-in fuses",
    family=Family.SITE,
    rank=280,
    subjects=lambda case: (case.supply,),
    answer=answer,
    worse={"supply.fuse_type": order(TYPE_S, CARTRIDGE, SCREW_IN)},
)
