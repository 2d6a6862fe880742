"""Switch loops: the white wire that is hot, and its mark.

What it asks: whether the white conductor of a switch loop is re-marked at both ends, and whether a three-way pair has
the travelers it needs.

Why: white normally means neutral. In a switch loop it carries the full voltage, and the next person is hurt by
trusting the color.

What to do: with the breaker off and the box tested dead, mark the white wire for good at both ends, and use it as the
supply to the switch, not as its return.

Cannot see: which color is on which screw. The finding repeats what the file says.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit, Control
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

LOOPS = ("switch loop", "travelers")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each switch loop or traveler cable, one for each three-way or four-way control."""
    mark = book.value("white-conductor-remarked")
    for cable in circuit.tree.branch_cables:
        if cable.carries in LOOPS:
            key = f"cable.{cable.id}.white_remarked"
            if cable.white_remarked:
                outcome, says = Outcome.PASS, f"The white wire of {cable.id}, which is hot, is re-marked."
            elif cable.white_remarked is False:
                outcome, says = Outcome.FAIL, f"The white wire of {cable.id} is hot and carries no mark that says so."
            else:
                outcome = Outcome.CAUTION
                says = f"The white wire of {cable.id} may be hot; the file does not say that it is re-marked."
            yield Finding(
                check=RULE.name,
                subject=cable.id,
                outcome=outcome,
                says=says,
                sources=(mark.source,),
                keys=(key,),
                to_do=()
                if outcome is Outcome.PASS
                else (
                    "Breaker off and tested dead: mark the white wire at both ends, and treat every "
                    "white wire as live.",
                ),
            )
    travelers = book.value("three-way-traveler-conductors")
    for control in circuit.controls:
        if control.ways in ("three-way", "four-way"):
            yield _pair(circuit, control, travelers.number, book)


def _pair(circuit: Circuit, control: Control, conductors: float, book: Rulebook) -> Finding:
    """Whether a three-way control names its partner and the cables between them have conductors enough."""
    source = book.value("three-way-traveler-conductors").source
    key = f"control.{control.id}.with"
    partner = next((other for other in circuit.controls if other.id == control.with_id), None)
    if partner is None:
        return Finding(
            check=RULE.name,
            subject=control.id,
            outcome=Outcome.UNDETERMINED,
            says=f"{control.id} works as a {control.ways} switch, and the file does not say with which other one.",
            sources=(source,),
            needs=(key,),
            keys=(key,),
        )
    between = _between(circuit, control.box, partner.box)
    unknown = tuple(f"cable.{cable.id}.conductors" for cable in between if cable.conductors is None)
    short = [cable for cable in between if cable.conductors is not None and cable.conductors < conductors]
    if short:
        outcome = Outcome.FAIL
        says = (
            f"Between {control.id} and {partner.id} run fewer than {conductors:g} insulated "
            f"conductors in {short[0].id}: "
            "a three-way pair needs two travelers and one more."
        )
    elif unknown:
        outcome, says = Outcome.UNDETERMINED, f"Cannot tell whether {control.id} and {partner.id} have their travelers."
    else:
        outcome, says = (
            Outcome.PASS,
            (f"{control.id} and {partner.id} have the conductors of a three-way pair between them."),
        )
    return Finding(
        check=RULE.name,
        subject=control.id,
        outcome=outcome,
        says=says,
        working=tuple(f"{cable.id}: {cable.conductors or 'unknown'} insulated conductors" for cable in between),
        sources=(source,),
        needs=unknown if outcome is Outcome.UNDETERMINED else (),
        keys=(key, *unknown),
    )


def _between(circuit: Circuit, one: str, other: str) -> list[Cable]:
    """The branch cables on the way from one box to another, through the box where their paths part."""
    first, second = circuit.tree.path(one), circuit.tree.path(other)
    shared = {cable.id for cable in first} & {cable.id for cable in second}
    return [cable for cable in (*first, *second) if cable.id not in shared]


RULE = Rule(
    name="switch-loop",
    title="Switch loops and three-way pairs",
    family="site",
    uses=("value:white-conductor-remarked", "value:three-way-traveler-conductors"),
    check=check,
)
