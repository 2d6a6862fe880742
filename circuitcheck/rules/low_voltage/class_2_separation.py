"""Class 2 separation: class 2 wires and 120 V wires in one box.

What it asks: whether a box in which low-voltage cables and branch-circuit conductors meet keeps the two apart.

Why: class 2 wire has thin insulation and no protection of its own. A 120 V wire that touches it puts 120 V on a strip
that people touch.

What to do: a box with a listed divider, or two boxes. Where the class 2 wires enter only to connect equipment in that
box, keep them apart from every 120 V wire by the distance that the finding names.

Cannot see: how the wires lie in the box, a sleeve around them, and the inside of a driver's own wiring compartment.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Box, Cable, Circuit
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.quantities import shown
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each box that is on the branch circuit and also holds low-voltage cables."""
    tree = circuit.tree
    on_branch = set(tree.order)
    low = {cable.id for cable in tree.low_voltage_cables}
    for box in circuit.boxes:
        cables = [cable for cable in tree.cables_at.get(box.id, ()) if cable.id in low]
        if cables and box.id in on_branch:
            yield _finding(box, cables, circuit, book)


def _finding(box: Box, cables: list[Cable], circuit: Circuit, book: Rulebook) -> Finding:
    key = f"box.{box.id}.class_2_barrier"
    drivers = {circuit.tree.driver_of[cable.id] for cable in cables}
    kinds = {circuit.tree.driver[driver].class_2 for driver in drivers}
    here = {driver.id for driver in circuit.tree.drivers_at.get(box.id, ())}
    clearance = book.value("class-2-clearance")
    apart = shown(clearance.number, "in")
    sources: tuple[Source, ...] = (book.value("class-2-separation").source, clearance.source)
    needs: tuple[str, ...] = ()
    to_do: tuple[str, ...] = (f"Use a box with a divider for {box.id}, or a second box for the low-voltage wires.",)
    if box.class_2_barrier:
        outcome, to_do = Outcome.PASS, ()
        says = f"A divider in {box.id} keeps the low-voltage wires apart from the 120 V wires."
    elif kinds == {False}:
        outcome = Outcome.CAUTION
        sources = (book.value("mixed-systems-insulation").source,)
        says = (
            f"{box.id} holds 120 V wires and low-voltage wires that are not class 2: all of them need insulation for "
            "the highest voltage in the box."
        )
        to_do = ("Use cable for house wiring on the low-voltage side as well, or keep the two in separate boxes.",)
    elif box.class_2_barrier is None:
        outcome, needs = Outcome.UNDETERMINED, (key,)
        says = f"{box.id} holds 120 V wires and class 2 wires, and the file does not say that a divider parts them."
    elif drivers <= here:
        outcome = Outcome.CAUTION
        says = (
            f"{box.id} has no divider: class 2 wires may be in it only to connect the driver there, at least {apart} "
            "away from every 120 V wire."
        )
    else:
        outcome = Outcome.FAIL
        says = f"{box.id} holds 120 V wires and class 2 wires without a divider between them."
    return Finding(
        check=RULE.name,
        subject=box.id,
        outcome=outcome,
        says=says,
        working=tuple(f"low-voltage cable in {box.id}: {cable.id}" for cable in cables),
        sources=sources,
        needs=needs,
        assumed=(
            (f"{box.id}: whether its low-voltage wires are class 2 is not known; they count as class 2.",)
            if None in kinds
            else ()
        ),
        assumed_keys=tuple(
            f"driver.{driver}.class_2" for driver in sorted(drivers) if circuit.tree.driver[driver].class_2 is None
        ),
        keys=(key,),
        to_do=to_do,
    )


RULE = Rule(
    name="class-2-separation",
    title="Class 2 wires apart from 120 V wires",
    family="low voltage",
    uses=("value:class-2-separation", "value:class-2-clearance", "value:mixed-systems-insulation"),
    check=check,
)
