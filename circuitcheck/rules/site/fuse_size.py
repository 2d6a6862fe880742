"""Fuses: a screw-in fuse may be far too big for the wire.

What it asks: whether the circuit starts at a fuse, and of which kind.

Why: an ordinary screw-in base takes fuses of several ratings, so somebody may have put in a larger one. What stands
in the fuse box today says little about the wire.

What to do: compare the fuse with the thinnest wire (the breaker-against-wire check does), and ask about fuses whose
base refuses a larger rating.

Cannot see: the fuse that will be screwed in next year, signs of overfusing, and which class of type S fuse the base
takes.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

TAMPER_RESISTING = "type S"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding where the circuit starts at a fuse; nothing for a breaker."""
    supply = circuit.supply
    if supply.device != "fuse":
        return
    source = book.value("plug-fuse-interchange").source
    key = "supply.fuse_type"
    if supply.fuse_type in (TAMPER_RESISTING, "cartridge"):
        outcome = Outcome.PASS
        says = f"The fuse is a {supply.fuse_type} one, which a larger one does not simply replace."
    elif supply.fuse_type is None:
        outcome = Outcome.CAUTION
        says = "Find out what kind of fuse it is: a larger one fits the base of an ordinary screw-in fuse."
    else:
        outcome = Outcome.CAUTION
        says = "A larger screw-in fuse fits the same base, so the wire is protected only while the right fuse is in."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        sources=(source,),
        keys=(key,),
        to_do=() if outcome is Outcome.PASS else ("Ask the electrician about a base that takes only the right fuse.",),
        ask=()
        if outcome is Outcome.PASS
        else ("May this fuse box stay as it is when its circuit is extended, or does an adapter go in?",),
    )


RULE = Rule(
    name="fuse-size",
    title="Screw-in fuses",
    family="site",
    uses=("value:plug-fuse-interchange",),
    check=check,
)
