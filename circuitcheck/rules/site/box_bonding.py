"""Metal boxes: whether each one that holds new work is joined to the equipment ground.

What it asks: the material of every box that new work touches, and whether a metal one is joined to the equipment
ground.

Why: a loose hot wire makes an unbonded metal box and everything screwed to it live. Unjoined grounds are a usual red
tag.

What to do: with the breaker off and the box tested dead, join the box to the equipment grounds with its own pigtail
and a grounding screw or clip made for it.

Cannot see: whether a screw really bites, and metal plates, yokes and canopies beyond the box.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def _touched(circuit: Circuit) -> Iterator[Box]:
    """The boxes that are added or that an added cable ends in."""
    for box in circuit.boxes:
        cables = circuit.tree.cables_at.get(box.id, ())
        if is_added(box) or any(is_added(cable) for cable in cables):
            yield box


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each touched box that is metal or of unknown material; a plastic box says nothing."""
    source = book.value("metal-box-bonded").source
    for box in _touched(circuit):
        if box.material == "nonmetallic":
            continue
        bonded, material = f"box.{box.id}.bonded", f"box.{box.id}.material"
        needs: tuple[str, ...] = ()
        if box.bonded:
            outcome, says = Outcome.PASS, f"Box {box.id} is joined to the equipment ground."
        elif box.bonded is False and box.material == "metal":
            outcome, says = Outcome.FAIL, f"Metal box {box.id} is not joined to the equipment ground."
        elif is_added(box) and box.bonded is None:
            outcome, says = (
                Outcome.CAUTION,
                f"If new box {box.id} is metal, it has to be joined to the equipment ground.",
            )
        else:
            outcome = Outcome.UNDETERMINED
            needs = tuple(k for k, v in ((material, box.material), (bonded, box.bonded)) if v is None)
            says = f"Cannot tell whether box {box.id} is metal and joined to the equipment ground."
        yield Finding(
            check=RULE.name,
            subject=box.id,
            outcome=outcome,
            says=says,
            working=(
                f"material: {box.material or 'unknown'}",
                f"joined to the equipment ground: {box.bonded}".replace("None", "unknown")
                .replace("True", "yes")
                .replace("False", "no"),
            ),
            sources=(source,),
            needs=needs,
            keys=(bonded, material),
            to_do=()
            if outcome is Outcome.PASS
            else (
                "Breaker off and tested dead: look for a pigtail from the grounds to a screw or clip "
                "in the box; plan one if it is missing.",
            ),
        )


RULE = Rule(
    name="box-bonding",
    title="Metal boxes joined to the equipment ground",
    family="site",
    uses=("value:metal-box-bonded",),
    check=check,
)
