"""Equipment ground: whether one reaches every added luminaire.

What it asks: whether an equipment ground arrives in the box that feeds the new work and runs in every added cable,
and what each added luminaire expects.

Why: exposed metal of a luminaire becomes live when a wire comes loose inside. Ground-fault protection lets an old
ungrounded receptacle be replaced; it does not stand in for the ground of new work.

What to do: bring an equipment ground from a point that the book allows, or feed the lights from a grounded box. Ask
the electrician which points count.

Cannot see: whether a bare wire that is there is joined to anything upstream, and whether metal armor serves as the
ground.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit, Load
from circuitcheck.findings import Finding, Outcome, merge_sources
from circuitcheck.rules.parts import added_lights, is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def _armored(cable: Cable, book: Rulebook) -> bool:
    """Whether the cable's own metal armor is the equipment ground."""
    row = book.table("cable-types").find(cable.type) if cable.type else None
    return bool(row and row.cells.get("grounded_armor"))


def _ground_on_way(circuit: Circuit, book: Rulebook, load: Load) -> tuple[bool | None, list[str], list[str]]:
    """Whether a ground runs from the panel to the load's box: (answer, keys that decide, working)."""
    tree = circuit.tree
    needs: list[str] = []
    working: list[str] = []
    missing: list[str] = []
    for cable in tree.path(load.box):
        box = tree.box.get(cable.from_id)
        if box is not None and box.ground is False and not is_added(box):
            missing.append(f"box.{box.id}.ground")
            working.append(f"box {box.id}: no equipment ground arrives")
        if cable.ground is False and not _armored(cable, book):
            missing.append(f"cable.{cable.id}.ground")
            working.append(f"cable {cable.id}: no equipment ground")
        elif cable.ground is None and not _armored(cable, book):
            if not (box is None and tree.box[cable.to_id].ground):
                needs.append(f"cable.{cable.id}.ground")
            working.append(f"cable {cable.id}: equipment ground unknown")
        else:
            working.append(f"cable {cable.id}: equipment ground present")
    if missing:
        return False, missing, working
    return (None if needs else True), needs, working


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added luminaire."""
    required = book.value("luminaire-equipment-ground")
    extension = book.value("ground-for-extension")
    for load in added_lights(circuit):
        present, keys, working = _ground_on_way(circuit, book, load)
        mine = f"load.{load.id}.grounding"
        needs: tuple[str, ...] = ()
        if load.grounding == "double-insulated":
            outcome = Outcome.PASS if present else Outcome.CAUTION
            says = f"{load.id} is double-insulated by its label; the new cable and box still carry an equipment ground."
        elif present is False:
            outcome = Outcome.FAIL
            says = (
                f"No equipment ground reaches {load.id}, and new work needs one; ground-fault protection "
                "does not replace it."
            )
        elif load.grounding == "none":
            outcome = Outcome.FAIL
            says = f"{load.id} has no place for an equipment ground and is not marked as double-insulated."
        elif present is None or load.grounding is None:
            outcome = Outcome.UNDETERMINED
            needs = tuple(keys) + ((mine,) if load.grounding is None else ())
            says = f"Cannot tell whether an equipment ground reaches {load.id} and joins it."
        else:
            outcome = Outcome.PASS
            says = f"An equipment ground runs from the panel to {load.id}."
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            working=tuple(working),
            sources=merge_sources((required.source, extension.source)),
            needs=needs,
            keys=(*keys, mine),
            to_do=()
            if outcome is Outcome.PASS
            else (
                "Breaker off and tested dead: look for a bare or green wire in the box that feeds "
                "the new lights, and have a "
                "licensed electrician confirm that it is joined back to the panel.",
            ),
            ask=("From which point may an equipment ground be brought to this extension?",)
            if outcome is Outcome.FAIL
            else (),
        )


RULE = Rule(
    name="equipment-ground",
    title="An equipment ground to every added luminaire",
    family="site",
    uses=("value:luminaire-equipment-ground", "value:ground-for-extension", "cable-types"),
    check=check,
)
