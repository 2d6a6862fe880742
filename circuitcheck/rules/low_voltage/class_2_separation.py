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

from circuitcheck.case import LESS, MORE, Amount, Answer, Case, CaseRule, Family, Rounding, Said, Things, said
from circuitcheck.case.parts import Box, Cable
from circuitcheck.findings import Outcome, Source
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook


def _subjects(case: Case) -> Iterator[Box]:
    """Each box that is on the branch circuit and also holds low-voltage cables."""
    on_branch = set(case.tree.order)
    for box in case.boxes:
        if box.id in on_branch and _low_voltage_cables(box, case):
            yield box


def _low_voltage_cables(box: Box, case: Case) -> tuple[Cable, ...]:
    tree = case.tree
    return tuple(cable for cable in tree.cables_at.get(box.id, ()) if cable.id in tree.driver_of)


def answer(box: Box, case: Case, book: Rulebook) -> Answer:
    """Whether one box keeps its low-voltage wires apart from its branch-circuit wires."""
    cables = _low_voltage_cables(box, case)
    drivers = tuple(dict.fromkeys(case.tree.driver_of[cable.id] for cable in cables))
    here = {driver.id for driver in case.tree.drivers_at.get(box.id, ())}
    clearance = book.value("class-2-clearance")
    sources: tuple[Source, ...] = (book.value("class-2-separation").source, clearance.source)
    things: Things = {
        "box": box.id,
        "apart": Amount(in_unit(clearance.number, "in"), "in", Rounding.UP),
    }
    to_do = said('Use a box with a divider for "{box}", or a second box for the low-voltage wires.', **things)
    if box.class_2_barrier:
        outcome = Outcome.PASS
        says = said('A divider in box "{box}" keeps the low-voltage wires apart from the 120 V wires.', **things)
    elif not any(case.tree.driver[driver].class_2 for driver in drivers):
        outcome, sources = Outcome.CAUTION, (book.value("mixed-systems-insulation").source,)
        says = said(
            'Box "{box}" holds 120 V wires and low-voltage wires that are not class 2. All of them need insulation '
            "for the highest voltage in the box.",
            **things,
        )
        to_do = said("Use branch-circuit cable on the low-voltage side too, or keep the two in separate boxes.")
    elif here.issuperset(drivers):
        outcome = Outcome.CAUTION
        says = said(
            'Box "{box}" has no divider. Class 2 wires may enter it only to connect the driver there, at least '
            "{apart} from every 120 V wire.",
            **things,
        )
    else:
        outcome = Outcome.FAIL
        says = said('Box "{box}" holds 120 V wires and class 2 wires without a divider between them.', **things)

    def working() -> tuple[Said, ...]:
        return tuple(said("low-voltage cable in {box}: {cable}", box=box.id, cable=cable.id) for cable in cables)

    return Answer(
        part=box,
        outcome=outcome,
        says=says,
        open_says=said(
            'Cannot tell yet whether a divider in box "{box}" keeps class 2 wires apart from the 120 V wires.',
            **things,
        ),
        working=working,
        sources=sources,
        keys=(box.entry("class_2_barrier"),),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), (str(to_do),)),
    )


RULE = CaseRule[Box](
    name="class-2-separation",
    title="Class 2 wires apart from 120 V wires",
    family=Family.LOW_VOLTAGE,
    rank=160,
    subjects=_subjects,
    answer=answer,
    worse={"box.class_2_barrier": LESS, "driver.class_2": MORE},
)
