"""What a conductor may carry where it lies: pure functions for a given cable and for any size that might replace it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Source, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook, Table
from circuitcheck.text import shown_number

RECEPTACLE = "receptacle"
COPPER = "copper"
ALUMINUM = "aluminum"

#: Which metal's columns of a table hold for a material; copper-clad aluminum goes by the aluminum columns.
METAL_OF = {COPPER: COPPER, ALUMINUM: ALUMINUM, "copper-clad aluminum": ALUMINUM}

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrected:
    """What a conductor may carry [A] and how that came about.

    ``insulation_a`` is the table's figure in the column ``insulation_column_c``. ``ambient_factor`` None: such air is
    not allowed for this insulation. ``held_a`` is the cap of the cable type or the terminals; ``held_by`` names it.
    """

    amperes: float
    size: str
    metal: str
    insulation_column_c: int
    insulation_a: float
    ambient_c: float
    ambient_factor: float | None
    count: int
    count_factor: float
    held_by: str
    held_column_c: int
    held_a: float
    sources: tuple[Source, ...]

    def working(self) -> tuple[str, ...]:
        """The steps, each with its numbers."""
        if self.insulation_a == 0.0:
            return (f"{self.size} {self.metal}: the table gives no ampacity at {self.insulation_column_c} degC",)
        start = f"{self.size} {self.metal}, {self.insulation_column_c} degC column: {shown_number(self.insulation_a)} A"
        if self.ambient_factor is None:
            air = f"air at {shown_number(self.ambient_c)} degC: not allowed for this insulation, so 0 A"
            return (start, air)
        left = self.insulation_a * self.ambient_factor * self.count_factor
        steps = (
            start,
            f"x {self.ambient_factor:.2f} for air at {shown_number(self.ambient_c)} degC",
            f"x {self.count_factor:.2f} for {self.count} current-carrying conductors together",
            f"= {shown_number(left)} A",
        )
        held = f"held to {shown_number(self.held_a)} A, the {self.held_column_c} degC column of the {self.held_by}"
        return (*steps, held) if exceeds(left, self.held_a) else steps


def equivalent_size(book: Rulebook, size: str) -> tuple[str, tuple[Source, ...]]:
    """The size by which the tables know this conductor (a metric one by its stand-in), and the source of that."""
    row = book.table("metric-equivalents").find(size)
    return (row.text("awg") or size, (row.source,)) if row is not None else (size, ())


def has_aluminum(book: Rulebook, size: str) -> bool:
    """Whether the ampacity table has aluminum in this size (a metric one by its stand-in)."""
    table = book.table("ampacity")
    row = table.find(equivalent_size(book, size)[0])
    return row is not None and any(row.number(f"{ALUMINUM}_{column}") is not None for column in columns_of(table))


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


def columns_of(table: Table) -> tuple[int, ...]:
    """The insulation temperatures that have a column in the ampacity table, coolest first [degC]."""
    return _columns_named(tuple(table.units))


@cache
def _columns_named(names: tuple[str, ...]) -> tuple[int, ...]:
    prefix = f"{COPPER}_"
    return tuple(sorted(int(name.removeprefix(prefix)) for name in names if name.startswith(prefix)))


def column_at_most(columns: Iterable[int], temperature_c: float) -> int | None:
    """The hottest column that does not pass ``temperature_c``, or None."""
    fitting = [column for column in columns if not exceeds(column, temperature_c)]
    return max(fitting, default=None)


def corrected_ampacity(
    book: Rulebook,
    size: str,
    metal: str,
    *,
    insulation_c: float,
    ambient_c: float,
    count: int,
    cable_limit_c: float | None,
    terminals_c: float,
) -> Corrected | None:
    """What a conductor of ``size`` and ``metal`` may carry [A]; None where the tables do not know the size.

    Starts from the column of its insulation, multiplies by the factor of the 5 degC band that holds ``ambient_c``
    (never interpolated) and by the factor for ``count`` current-carrying conductors, and is held to the columns of the
    cable type (``cable_limit_c``, None: the type sets none) and of the terminals.

    Rises with: size, insulation_c. Falls with: ambient_c, count.
    Source: NFPA 70, 310.15, 110.14(C), 334.80.
    """
    awg, stand_in = equivalent_size(book, size)
    table = book.table("ampacity")
    row = table.find(awg)
    if row is None:
        return None
    columns = columns_of(table)
    coolest = columns[0]
    insulation = column_at_most(columns, insulation_c)
    insulation_a = (row.number(f"{metal}_{insulation}") if insulation is not None else None) or 0.0
    band = book.table("ambient-correction").band(ambient_c)
    factor = band.number(f"factor_{insulation}") if band is not None and insulation is not None else None
    group = book.table("conductor-count-adjustment").band(count)
    group_factor = (group.number("factor") if group is not None else None) or 0.0
    held_c, held_by = terminals_c, "terminals"
    if cable_limit_c is not None and not exceeds(cable_limit_c, terminals_c):
        held_c, held_by = cable_limit_c, "cable type"
    held = column_at_most(columns, held_c) or coolest
    held_a = row.number(f"{metal}_{held}") or 0.0
    return Corrected(
        amperes=min(insulation_a * (factor or 0.0) * group_factor, held_a),
        size=size if size == awg else f"{size} (as {awg})",
        metal=metal,
        insulation_column_c=insulation if insulation is not None else coolest,
        insulation_a=insulation_a,
        ambient_c=ambient_c,
        ambient_factor=factor,
        count=count,
        count_factor=group_factor,
        held_by=held_by,
        held_column_c=held,
        held_a=held_a,
        sources=merge_sources(
            (row.source,),
            stand_in,
            (band.source,) if band is not None else (),
            (group.source,) if group is not None else (),
        ),
    )


def greatest_breaker(book: Rulebook, ampacity_a: float, *, may_round_up: bool) -> tuple[float, tuple[Source, ...]]:
    """The largest standard rating that protects a conductor of this ampacity [A], and the sources.

    Between two standard ratings the next larger one may be used where ``may_round_up``; else the ampacity itself is
    the limit.

    Source: NFPA 70, 240.4(B), 240.6(A).
    """
    limit = book.value("next-size-up-limit")
    if not may_round_up or ampacity_a <= 0.0 or exceeds(ampacity_a, limit.number):
        return ampacity_a, (limit.source,)
    small = book.value("small-fuse-ratings")
    for rating in sorted(float(item) for item in small.items):
        if not exceeds(ampacity_a, rating):
            return rating, (limit.source, small.source)
    row = book.table("standard-overcurrent-ratings").first_at_least("rating", ampacity_a)
    if row is None:
        return ampacity_a, (limit.source,)
    return row.number("rating") or ampacity_a, (limit.source, row.source)


def receptacles_on(circuit: Circuit, book: Rulebook) -> tuple[int, int]:
    """How many receptacles a circuit feeds at least and at most; a load of unknown kind may be one.

    A device of that kind in a box counts also where no load names what is plugged in. Each is taken as a duplex one,
    which is two receptacles.

    Source: NFPA 70, article 100.
    """
    each = int(book.value("receptacles-on-a-device").number)
    in_boxes = sum(device.kind == RECEPTACLE for box in circuit.boxes for device in box.devices)
    loads = sum(load.quantity for load in circuit.loads if load.kind == RECEPTACLE)
    unknown = sum(load.quantity for load in circuit.loads if load.kind is None)
    return each * max(in_boxes, loads), each * max(in_boxes, loads + unknown)


def may_round_up(book: Rulebook, receptacles: int) -> bool:
    """Whether the next larger standard rating may be used on a circuit with so many receptacles."""
    return receptacles <= 1 or book.value("next-size-up-with-receptacles").yes
