"""Loop and neutral: what is said of a cable and of the white wire in it, and cannot be for a two-wire switch loop.

What it asks: whether the file says that a neutral is in a box, or that a load is there already, and that the cable
which feeds the box is a switch loop of two conductors; and whether it says that a white wire has no mark, and not what
the cable carries.

Why: of the two wires of such a loop, one is the feed and the other the switched hot. Either there is a third conductor,
or the white wire was taken for a neutral, or the cable is no loop. Which one decides whether anything may be fed from
that box.

What to do: breaker off and tested dead, then count the insulated conductors of the loop.

Cannot see: a neutral of another circuit in the same box, which must not be used.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import EvidenceRule
from circuitcheck.circuit.model import PANEL, Box, Cable, Circuit, Load
from circuitcheck.findings import Finding, Outcome
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook

LOOP, LOOP_CONDUCTORS = "switch loop", 2


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One question for each box whose two entries cannot both be true."""
    yield from _white_wires(circuit, book)
    for box in circuit.boxes:
        feed = circuit.tree.feed.get(box.id)
        if feed is None or feed.carries != LOOP or feed.conductors != LOOP_CONDUCTORS:
            continue
        works = _works_there(box, circuit)
        if box.neutral:
            says, entry = f'Box "{box.id}" is said to have a neutral', box.entry("neutral")
        elif works is not None:
            says, entry = f'Load "{works.id}" is said to be in box "{box.id}" already', works.entry("origin")
        else:
            continue
        needs = (str(entry), str(feed.entry("conductors")), str(feed.entry("carries")))
        yield Finding(
            check=RULE.name,
            subject=box.id,
            outcome=Outcome.UNDETERMINED,
            says=(
                f'{says}, but cable "{feed.id}" is said to be a switch loop of two conductors, which brings no '
                "neutral. One of the two is wrong."
            ),
            sources=(book.value("neutral-for-luminaires").source,),
            needs=needs,
            keys=needs,
            to_do=("Breaker off and tested dead: count the insulated conductors of the loop in the box.",),
        )


def _white_wires(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Each white wire that is said to have no mark, where it may be hot: nobody said what its cable carries."""
    for cable in circuit.tree.branch_cables:
        told = cable.white_remarked is False and cable.known_by.get("white_remarked") != How.GUESS
        if not told or cable.carries is not None or cable.from_id == PANEL or _brings_a_neutral(cable, circuit):
            continue
        needs = (str(cable.entry("carries")),)
        yield Finding(
            check=RULE.name,
            subject=cable.id,
            outcome=Outcome.UNDETERMINED,
            says=(
                f'The white wire of cable "{cable.id}" is said to have no mark, and what the cable carries is not '
                "given: in a switch loop, or between three-way switches, white may be hot and has to be marked."
            ),
            sources=(book.value("white-conductor-remarked").source,),
            needs=needs,
            keys=needs,
            to_do=(
                "Breaker off and tested dead: see whether the white wire is joined to other white ones, which are the "
                "neutral, or to a black one or a switch.",
            ),
        )


def _brings_a_neutral(cable: Cable, circuit: Circuit) -> bool:
    """Whether the white one of two wires surely is the neutral."""
    two = cable.conductors == LOOP_CONDUCTORS and cable.known_by.get("conductors") != How.GUESS
    box = circuit.tree.box[cable.to_id]
    seen = box.neutral is True and box.known_by.get("neutral") != How.GUESS
    return two and (seen or _works_there(box, circuit) is not None)


def _works_there(box: Box, circuit: Circuit) -> Load | None:
    """A load that is in a box already, where no more than a guess says so none."""
    loads = circuit.tree.loads_at.get(box.id, ())
    told = (load for load in loads if load.origin == "existing" and load.known_by.get("origin") != How.GUESS)
    return next(told, None)


RULE = EvidenceRule(
    name="loop-and-neutral",
    title="A neutral at the end of a two-wire switch loop, and a white wire without a mark",
    rank=345,
    check=check,
)
