"""Equipment ground: whether one reaches every added luminaire.

What it asks: whether an equipment ground arrives in the box that feeds the new work and runs in every added cable,
and what each added luminaire expects.

Why: exposed metal of a luminaire becomes live when a wire comes loose inside. Ground-fault protection lets an old
ungrounded receptacle be replaced; it does not stand in for the ground of new work.

What to do: bring an equipment ground from a point that the book allows, or feed the lights from a grounded box. Ask
the electrician which points count.

Cannot see: whether a bare wire that is there is joined to anything upstream, how a ground that the file says arrives
in an old box got there, and whether old metal armor or conduit serves as the ground.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitcheck.circuit.model import PANEL, Cable, Circuit
from circuitcheck.findings import Finding, Outcome, merge_sources
from circuitcheck.rules.parts import added_lights, is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

#: Steps and keys that a way keeps, the steps nearest the light, so that a chain of thousands stays linear.
_MOST = 24


def _armored(cable: Cable, book: Rulebook) -> bool:
    """Whether the cable's own metal armor is the equipment ground."""
    row = book.table("cable-types").find(cable.type) if cable.type else None
    return bool(row and row.cells.get("grounded_armor"))


@dataclass(frozen=True, slots=True)
class _Way:
    """How the ground fares from the panel to one box: keys that break it, keys not known, and the steps.

    ``doubted``: the box in which a ground is said to arrive although the cable that feeds it has none.
    """

    missing: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    doubted: str = ""

    @property
    def present(self) -> bool | None:
        """Whether a ground arrives; None where that is not known."""
        if self.missing:
            return False
        return None if self.needs else True

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys that decide."""
        return self.missing or self.needs


def _ways(circuit: Circuit, book: Rulebook) -> dict[str, _Way]:
    """Box id -> how the ground fares up to it, from the panel down: each box adds one cable to the way before it."""
    tree = circuit.tree
    ways = {PANEL: _Way()}
    for cable in tree.branch_cables:
        before = ways[cable.from_id]
        missing, needs = list(before.missing), list(before.needs)
        working = list(before.working)
        box = tree.box.get(cable.from_id)
        if box is not None and box.ground is False and not is_added(box):
            missing.append(f"box.{box.id}.ground")
            working.append(f"box {box.id}: no equipment ground arrives")
        if cable.ground is False and not _armored(cable, book):
            missing.append(f"cable.{cable.id}.ground")
            working.append(f"cable {cable.id}: no equipment ground")
        elif cable.ground is None and not _armored(cable, book):
            needs.append(f"cable.{cable.id}.ground")
            working.append(f"cable {cable.id}: equipment ground unknown")
        else:
            working.append(f"cable {cable.id}: equipment ground present")
        end = tree.box[cable.to_id]
        doubted = before.doubted
        if end.ground and not is_added(end):
            doubted = end.id if missing else doubted
            missing, needs = [], []
            working.append(f"box {end.id}: an equipment ground arrives, as the file says")
        ways[cable.to_id] = _Way(tuple(missing[:_MOST]), tuple(needs[:_MOST]), tuple(working[-_MOST:]), doubted)
    return ways


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added luminaire."""
    required = book.value("luminaire-equipment-ground")
    extension = book.value("ground-for-extension")
    ways = _ways(circuit, book)
    for load in added_lights(circuit):
        way = ways.get(load.box, _Way())
        present, keys = way.present, way.keys
        mine = f"load.{load.id}.grounding"
        needs: tuple[str, ...] = ()
        if load.grounding == "double-insulated":
            outcome = Outcome.PASS if present else Outcome.CAUTION
            says = f"{load.id} is double-insulated by its label; the new cable and box still carry an equipment ground."
        elif load.grounding == "none" and load.metal_parts is False and present:
            outcome = Outcome.PASS
            says = f"{load.id} has no metal that can be touched; its box still gets an equipment ground."
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
            needs = keys + ((mine,) if load.grounding is None else ())
            says = f"Cannot tell whether an equipment ground reaches {load.id} and joins it."
        elif way.doubted:
            outcome = Outcome.CAUTION
            says = f"A ground is said to arrive in box {way.doubted}, though its cable has none: find out from where."
        else:
            outcome = Outcome.PASS
            says = f"An equipment ground runs from the panel to {load.id}."
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            working=way.working,
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
            if present is False or way.doubted
            else (),
        )


RULE = Rule(
    name="equipment-ground",
    title="An equipment ground to every added luminaire",
    family="site",
    uses=("value:luminaire-equipment-ground", "value:ground-for-extension", "cable-types"),
    check=check,
)
