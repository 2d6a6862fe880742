"""What rules of the old form still ask about ampacity with ranges; it goes when the last of them is rewritten."""

from __future__ import annotations

from circuitcheck.circuit.model import Circuit
from circuitcheck.domain.conductor_ampacity import ALUMINUM, COPPER, METAL_OF, has_aluminum
from circuitcheck.tables.rulebook import Rulebook

RECEPTACLE = "receptacle"

#: Names of the tables and values that these functions may cite; a rule that calls them adds them to its ``uses``.
CONDUCTOR_AMPACITY_USES = (
    "ampacity",
    "ambient-correction",
    "conductor-count-adjustment",
    "metric-equivalents",
    "standard-overcurrent-ratings",
    "value:next-size-up-limit",
    "value:next-size-up-with-receptacles",
    "value:small-fuse-ratings",
    "value:receptacles-on-a-device",
)


def metals_of(material: str | None, size: str, book: Rulebook) -> tuple[str, str]:
    """The metal to count at worst and at best.

    An unknown material may be aluminum only in a size for which the ampacity table has aluminum at all.
    """
    if material is None:
        return (ALUMINUM if has_aluminum(book, size) else COPPER), COPPER
    metal = METAL_OF.get(material, ALUMINUM)
    return metal, metal


def metal_assumed(cable_id: str, size: str, book: Rulebook) -> str:
    """What is taken for a cable whose material nobody gave, as a sentence."""
    worst, _ = metals_of(None, size, book)
    if worst == COPPER:
        return f"{cable_id}: material not given; copper is taken, since the ampacity table has no aluminum in {size}."
    return f"{cable_id}: material not given, so aluminum is counted at worst and copper at best."


def receptacles_on(circuit: Circuit, book: Rulebook) -> tuple[int, int]:
    """How many receptacles a circuit feeds at least and at most; a load of unknown kind may be one.

    A device of that kind in a box counts also where no load names what is plugged in. Each is taken as a duplex one,
    which is two receptacles.

    Source: NFPA 70, article 100.
    """
    each = int(book.value("receptacles-on-a-device").number)
    in_boxes = sum(device.kind == RECEPTACLE for box in circuit.boxes for device in box.devices or ())
    loads = sum(load.quantity for load in circuit.loads if load.kind == RECEPTACLE)
    unknown = sum(load.quantity for load in circuit.loads if load.kind is None)
    return each * max(in_boxes, loads), each * max(in_boxes, loads + unknown)


def may_round_up(book: Rulebook, receptacles: int) -> bool:
    """Whether the next larger standard rating may be used on a circuit with so many receptacles."""
    return receptacles <= 1 or book.value("next-size-up-with-receptacles").yes
