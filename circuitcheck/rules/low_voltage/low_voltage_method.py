"""Low-voltage wiring method: which kind of cable may run from a driver to its lights, in the open and in a wall.

What it asks: whether each cable behind a driver is of a kind that may be used where it runs: class 2 cable only behind
a class 2 source, cable for house wiring anywhere, cord and the thin leads of strips never inside a wall.

Why: what is hidden in a wall is not seen when it fails. Cord and strip leads are not made for that, and class 2 cable
counts on a source that cannot give enough to start a fire.

What to do: in walls and ceilings use cable marked CL2 or CL3 behind a class 2 driver, or cable for branch circuits;
change to the strip's own lead only where it comes out.

Cannot see: leads that are listed together with the light for such use, plenums and risers, and height above the floor.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit, Driver
from circuitcheck.findings import Finding, Outcome, Source, merge_sources
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Row, Rulebook

#: Kinds of cable that are class 2 wiring: they count on the source behind them.
CLASS_2_CABLES = ("class 2 cable", "class 3 cable")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each cable behind a driver."""
    for cable in circuit.tree.low_voltage_cables:
        driver = circuit.tree.driver[circuit.tree.driver_of[cable.id]]
        yield _finding(cable, driver, book)


def _finding(cable: Cable, driver: Driver, book: Rulebook) -> Finding:
    row = book.table("cable-types").find(cable.type) if cable.type is not None else None
    allowed = book.value("low-voltage-concealed-wiring").source
    outcome, says, needs, source = _judged(cable, driver, row, book)
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=says,
        sources=merge_sources((allowed,), (source,) if source is not None else (), (row.source,) if row else ()),
        needs=needs,
        keys=(f"cable.{cable.id}.type", f"cable.{cable.id}.concealed"),
        to_do=()
        if outcome is Outcome.PASS
        else ("Use cable marked CL2 or CL3 behind a class 2 driver, or cable for branch circuits.",),
    )


def _judged(
    cable: Cable, driver: Driver, row: Row | None, book: Rulebook
) -> tuple[Outcome, str, tuple[str, ...], Source | None]:
    """Outcome, sentence, keys that are needed, and one more source."""
    if row is None:
        return (
            Outcome.UNDETERMINED,
            f"Cannot tell whether cable {cable.id} may run where it does: what kind of cable it is has not been read.",
            (f"cable.{cable.id}.type",),
            None,
        )
    if cable.type in CLASS_2_CABLES:
        source = book.value("class-2-source").source
        if driver.class_2:
            says = f"Cable {cable.id} is {cable.type} behind a class 2 source, {driver.id}: in a wall or in the open."
            return Outcome.PASS, says, (), source
        if driver.class_2 is None:
            says = f"Cable {cable.id} is {cable.type}: only if {driver.id} is a class 2 source, which is not known."
            return Outcome.UNDETERMINED, says, (f"driver.{driver.id}.class_2",), source
        says = f"Cable {cable.id} is {cable.type}, but {driver.id} is not a class 2 source."
        return Outcome.FAIL, says, (), source
    if row.yes("branch_circuit") or (cable.origin == "existing" and not row.yes("low_voltage") and _is_cable(cable)):
        return (
            Outcome.PASS,
            f"Cable {cable.id} is cable for house wiring ({cable.type}), in a wall or in the open.",
            (),
            None,
        )
    cord = book.value("cord-not-concealed").source
    if cable.concealed:
        says = f"Cable {cable.id} is {cable.type}, which may not be hidden in a wall, floor or ceiling."
        return Outcome.FAIL, says, (), cord
    if cable.concealed is None:
        says = f"Cable {cable.id} is {cable.type}: only in the open, and the file does not say whether it is hidden."
        return Outcome.UNDETERMINED, says, (f"cable.{cable.id}.concealed",), cord
    if row.yes("low_voltage"):
        return Outcome.PASS, f"Cable {cable.id} is the light's own lead and runs in the open.", (), cord
    says = f"Cable {cable.id} is {cable.type}: in the open only where the light is listed with it."
    return Outcome.CAUTION, says, (), cord


def _is_cable(cable: Cable) -> bool:
    return cable.type is not None and "cord" not in cable.type


RULE = Rule(
    name="low-voltage-method",
    title="Kind of cable behind a driver",
    family="low voltage",
    uses=(
        "cable-types",
        "value:low-voltage-concealed-wiring",
        "value:class-2-source",
        "value:cord-not-concealed",
    ),
    check=check,
)
