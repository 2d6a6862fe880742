"""Switch loops: the white wire that is hot, and its mark.

What it asks: whether the white conductor of a switch loop is re-marked at both ends, and whether a three-way pair has
the travelers it needs.

Why: white normally means neutral. In a switch loop it carries the full voltage, and the next person is hurt by
trusting the color.

What to do: with the breaker off and the box tested dead, mark the white wire for good at both ends, and use it as the
supply to the switch, not as its return.

Cannot see: which color is on which screw. The finding repeats what the file says. Three-way switches that talk by
radio, or that are wired in ways long forbidden, are not looked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from circuitcheck.circuit.model import Cable, Circuit, Control
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

LOOPS = ("switch loop", "travelers")
#: Black and white: with a third conductor the white may be a neutral.
LOOP_CONDUCTORS = 2


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each switch loop or traveler cable, one for each three-way or four-way control."""
    mark = book.value("white-conductor-remarked")
    for cable in circuit.tree.branch_cables:
        if cable.carries in LOOPS and not _white_is_neutral(circuit, cable):
            key = f"cable.{cable.id}.white_remarked"
            if cable.white_remarked:
                outcome, says = Outcome.PASS, f"The white wire of cable {cable.id}, which is hot, is re-marked."
            elif cable.white_remarked is False:
                outcome, says = (
                    Outcome.FAIL,
                    f"The white wire of cable {cable.id} is hot and carries no mark that says so.",
                )
            else:
                outcome = Outcome.CAUTION
                says = f"The white wire of cable {cable.id} may be hot; the file does not say that it is re-marked."
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
    controls = {control.id: control for control in circuit.controls}
    for control in circuit.controls:
        if control.ways in ("three-way", "four-way"):
            yield _pair(circuit, control, controls, travelers.number, book)


def _white_is_neutral(circuit: Circuit, cable: Cable) -> bool:
    """Whether the white wire has conductors enough beside it, and a neutral is known to be at the cable's end."""
    box = circuit.tree.box[cable.to_id]
    return bool(box.neutral) and cable.conductors is not None and cable.conductors > LOOP_CONDUCTORS


def _pair(
    circuit: Circuit, control: Control, controls: Mapping[str, Control], conductors: float, book: Rulebook
) -> Finding:
    """Whether a three-way control names its partner and the cables between them have conductors enough."""
    source = book.value("three-way-traveler-conductors").source
    key = f"control.{control.id}.with"
    partner = controls.get(control.with_id) if control.with_id is not None else None
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
    """The branch cables on the way from one box to another, through the box where their paths part.

    Both ends climb in turn until their ways meet, so that a pair side by side costs nothing in a long chain.
    """
    feed = circuit.tree.feed
    ends = [one, other]
    ways: list[list[Cable]] = [[], []]
    seen: list[dict[str, int]] = [{one: 0}, {other: 0}]
    turn = 0
    while ends[0] != ends[1]:
        mine, theirs = turn, 1 - turn
        if ends[mine] in feed:
            cable = feed[ends[mine]]
            ways[mine].append(cable)
            ends[mine] = cable.from_id
            seen[mine][cable.from_id] = len(ways[mine])
            if cable.from_id in seen[theirs]:
                return [*ways[mine], *ways[theirs][: seen[theirs][cable.from_id]]]
        elif ends[theirs] not in feed:
            break
        turn = theirs
    return [*ways[0], *ways[1]]


RULE = Rule(
    name="switch-loop",
    title="Switch loops and three-way pairs",
    family="site",
    uses=("value:white-conductor-remarked", "value:three-way-traveler-conductors"),
    check=check,
)
