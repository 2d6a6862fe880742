"""Box access: every box stays covered and within reach.

What it asks: whether each box that new work touches can be reached without tearing the building, and has its cover.

Why: splices loosen. A box that is buried in a wall or under insulation boards is found again only by its smoke. A
buried box is never a way out of a box that is too full.

What to do: put boxes where they can be reached (an attic counts), cover every one, and say in the plan where it is.

Cannot see: boxes that nobody listed.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each box that is added or that an added cable ends in."""
    source = book.value("box-stays-accessible").source
    for box in circuit.boxes:
        added = is_added(box)
        if not added and not any(is_added(cable) for cable in circuit.tree.cables_at.get(box.id, ())):
            continue
        reach, cover = f"box.{box.id}.reachable", f"box.{box.id}.covered"
        needs: tuple[str, ...] = ()
        if box.reachable is False:
            outcome, says = Outcome.FAIL, f"Box {box.id} cannot be reached without opening the building."
        elif box.covered is False and not circuit.tree.loads_at.get(box.id):
            outcome, says = Outcome.FAIL, f"Box {box.id} has no cover."
        elif box.reachable is None and not added:
            outcome, needs = Outcome.UNDETERMINED, (reach,)
            says = f"Cannot tell whether box {box.id} stays within reach."
        elif box.reachable is None:
            outcome, says = Outcome.CAUTION, f"New box {box.id} has to stay within reach and covered."
        elif box.covered is None and not circuit.tree.loads_at.get(box.id):
            outcome, says = Outcome.CAUTION, f"Box {box.id} can be reached; it needs a cover when the work is done."
        else:
            outcome, says = Outcome.PASS, f"Box {box.id} can be reached and is covered."
        yield Finding(
            check=RULE.name,
            subject=box.id,
            outcome=outcome,
            says=says,
            sources=(source,),
            needs=needs,
            keys=(reach, cover),
            to_do=() if outcome is Outcome.PASS else ("Plan every splice in a covered box that can be reached later.",),
        )


RULE = Rule(
    name="box-access",
    title="Boxes stay covered and within reach",
    family="site",
    uses=("value:box-stays-accessible",),
    check=check,
)
