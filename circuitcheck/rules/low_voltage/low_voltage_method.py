"""Low-voltage wiring method: which kind of cable may run from a driver to its lights, in the open and in a wall.

What it asks: whether each cable behind a driver is of a kind that may be used where it runs: class 2 cable only behind
a class 2 source, branch-circuit cable anywhere, cord and the thin leads of strips never inside a wall.

Why: what is hidden in a wall is not seen when it fails. Cord and strip leads are not made for that, and class 2 cable
counts on a source that cannot give enough to start a fire.

What to do: in walls and ceilings use cable marked CL2 or CL3 behind a class 2 driver, or cable for branch circuits;
change to the strip's own lead only where it comes out.

Cannot see: leads that are listed together with the light for such use, plenums and risers, and height above the floor.
"""

from __future__ import annotations

from circuitcheck.case import EACH, LESS, MORE, Answer, Case, CaseRule, Family, Things, said
from circuitcheck.case.parts import Cable
from circuitcheck.domain.cable_kinds import is_for_branch_circuits, is_for_low_voltage, kind_of_cable
from circuitcheck.findings import Outcome, Source, merge_sources
from circuitcheck.tables.rulebook import Rulebook

#: Kinds of cable that are class 2 wiring: they count on the source behind them.
CLASS_2_CABLES = ("class 2 cable", "class 3 cable")

_TO_DO = ("Use cable marked CL2 or CL3 behind a class 2 driver, or branch-circuit cable.",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer:
    """Whether one cable behind a driver is of a kind that may run where it does."""
    driver = case.tree.driver[case.tree.driver_of[cable.id]]
    things: Things = {"cable": cable.id, "type": cable.type, "driver": driver.id}
    of_kind: tuple[Source, ...] = (book.value("cord-not-concealed").source,)
    if cable.type in CLASS_2_CABLES:
        of_kind = (book.value("class-2-source").source,)
        outcome = Outcome.PASS if driver.class_2 else Outcome.FAIL
        if driver.class_2:
            says = said('Cable "{cable}" is {type} behind the class 2 driver "{driver}".', **things)
        else:
            says = said('Cable "{cable}" is {type}, but driver "{driver}" is not a class 2 source.', **things)
    elif _is_house_wiring(cable, book):
        outcome, of_kind = Outcome.PASS, ()
        says = said('Cable "{cable}" is cable for house wiring ({type}), in a wall or in the open.', **things)
    elif cable.concealed:
        outcome = Outcome.FAIL
        says = said('Cable "{cable}" is {type}, which may not run inside a wall, floor or ceiling.', **things)
    elif is_for_low_voltage(book, cable.type):
        outcome = Outcome.PASS
        says = said('Cable "{cable}" is the light\'s own lead and runs in the open.', **things)
    else:
        outcome = Outcome.CAUTION
        says = said('Cable "{cable}" is {type}: in the open only where the light is listed with it.', **things)
    return Answer(
        part=cable,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether cable "{cable}" may run where it does.', **things),
        sources=merge_sources(
            (book.value("low-voltage-concealed-wiring").source,), of_kind, (kind_of_cable(book, cable.type).source,)
        ),
        keys=(cable.entry("type"), cable.entry("concealed")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _TO_DO),
    )


def _is_house_wiring(cable: Cable, book: Rulebook) -> bool:
    """Whether it is a kind for branch circuits; an old kind counts where it is there already, and cord never."""
    old = not cable.is_added and not is_for_low_voltage(book, cable.type) and "cord" not in cable.type
    return old or is_for_branch_circuits(book, cable.type)


RULE = CaseRule[Cable](
    name="low-voltage-method",
    title="Kind of cable behind a driver",
    family=Family.LOW_VOLTAGE,
    rank=150,
    subjects=lambda case: case.tree.low_voltage_cables,
    answer=answer,
    worse={"cable.type": EACH, "cable.concealed": MORE, "driver.class_2": LESS},
)
