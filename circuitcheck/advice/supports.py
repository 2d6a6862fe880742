"""How many staples or straps each added cable needs."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from circuitcheck.circuit.model import Box, Cable, Circuit
from circuitcheck.findings import Source
from circuitcheck.quantities import Interval
from circuitcheck.tables.rulebook import Rulebook, Value

#: A hair less than a whole support is no support more: lengths in inches are not whole in meters.
NOISE = 1e-9


class Way(StrEnum):
    """How a run is held."""

    STAPLED = "stapled along its whole length"
    THROUGH = "through holes in framing, stapled near each box"
    FISHED = "fished, not stapled inside closed spaces"
    OTHER = "held another way than by staples"


@dataclass(frozen=True, slots=True)
class Supports:
    """The supports of one run. ``low`` and ``high`` bound their number; ``high`` is None where the length is not known.

    ``near_m``: from each box to the first, upstream end first; ``spacing_m``: between the others.
    """

    cable: Cable
    way: Way
    low: int
    high: int | None
    near_m: tuple[float, float]
    spacing_m: float
    sources: tuple[Source, ...]


def supports_of(circuit: Circuit, book: Rulebook) -> tuple[Supports, ...]:
    """The supports of every added branch cable that is held by staples or straps."""
    return tuple(_supports(cable, circuit, book) for cable in circuit.tree.branch_cables if cable.is_added)


def _supports(cable: Cable, circuit: Circuit, book: Rulebook) -> Supports:
    spacing, near = book.value("cable-support-spacing"), book.value("cable-support-from-box")
    close = book.value("cable-support-from-box-without-clamp")
    boxes = circuit.tree.box
    ends = [boxes.get(cable.from_id), boxes.get(cable.to_id)]
    wanted = [_at_most(cable.support_from_box_m, close if _needs_close(box) else near) for box in ends]
    between = _at_most(cable.support_spacing_m, spacing)
    way, more = _way(cable, book)
    used = [spacing, near, *([close] if any(_needs_close(box) for box in ends) else []), *more]
    sources = tuple(value.source for value in used)
    plain = Supports(cable, way, 0, 0, (wanted[0], wanted[1]), between, sources)
    if way in (Way.FISHED, Way.OTHER):
        return plain
    low, high = _number(cable.length_m, way, wanted, between)
    return Supports(cable, way, low, high, plain.near_m, between, plain.sources)


def _number(length: Interval | None, way: Way, near: list[float], spacing: float) -> tuple[int, int | None]:
    if length is None:
        return 1, 2 if way is Way.THROUGH else None
    count = [_count(end, near[0], near[1], spacing) for end in (length.low, length.high)]
    return (min(count[0], 2), min(count[1], 2)) if way is Way.THROUGH else (count[0], count[1])


def _count(length_m: float, near_m: float, other_m: float, spacing_m: float) -> int:
    """One near each box and the others between them; a short run needs one that is near enough to both."""
    between = length_m - near_m - other_m
    if between <= NOISE:
        return 1
    return 1 + math.ceil(between / spacing_m - NOISE)


def _at_most(said: Interval | None, limit: Value) -> float:
    """What the file says, held to the limit."""
    return min(limit.number, said.low) if said is not None and said.low > 0 else limit.number


def _needs_close(box: Box | None) -> bool:
    """A single-gang plastic box known to be without clamps: the first staple stands closer."""
    if box is None or box.material != "nonmetallic" or box.internal_clamps is not False:
        return False
    return sum(device.gangs for device in box.devices or ()) == 1


def _way(cable: Cable, book: Rulebook) -> tuple[Way, tuple[Value, ...]]:
    row = book.table("cable-types").find(cable.type) if cable.type is not None else None
    if row is not None and not row.yes("nonmetallic"):
        return Way.OTHER, ()
    if cable.run in ("in raceway", "buried"):
        return Way.OTHER, ()
    if cable.run == "fished":
        return Way.FISHED, (book.value("cable-fished-unsupported"),)
    if cable.run == "through framing":
        return Way.THROUGH, (book.value("cable-through-framing-supported"),)
    return Way.STAPLED, ()
