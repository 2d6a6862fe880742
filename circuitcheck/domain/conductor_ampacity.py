"""What a conductor may carry where it lies: pure functions for a given cable and for any size that might replace it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from circuitcheck.case import Amount, Rounding, Said, said
from circuitcheck.findings import Source, exceeds, merge_sources
from circuitcheck.quantities import shown
from circuitcheck.tables.rulebook import Row, Rulebook, Table

COPPER = "copper"
ALUMINUM = "aluminum"

#: Which metal's columns of a table hold for a material; copper-clad aluminum goes by the aluminum columns.
METAL_OF = {COPPER: COPPER, ALUMINUM: ALUMINUM, "copper-clad aluminum": ALUMINUM}


class Conditions(NamedTuple):
    """All that decides ampacity beside size and metal [degC and plain numbers]; ``notes`` say how the count came about.

    cable_limit_c: the column that the kind of cable is limited to; None: it sets none.
    """

    insulation_c: float
    ambient_c: float
    conductors: int
    cable_limit_c: float | None
    terminals_c: float
    notes: tuple[Said, ...] = ()
    sources: tuple[Source, ...] = ()


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

    @property
    def before_a(self) -> float:
        """The ampacity before correction and adjustment, within the column of the cable type or the terminals [A]."""
        return min(self.insulation_a, self.held_a)

    def working(self) -> Iterator[Said]:
        """The steps, each with its numbers."""
        conductor = f"{self.size} {self.metal}"
        column = Amount(self.insulation_column_c, "degC")
        if self.insulation_a == 0.0:
            yield said("{conductor}: the table gives no ampacity at {column}", conductor=conductor, column=column)
            return
        start = Amount(self.insulation_a, "A")
        yield said("{conductor}, {column} column: {start}", conductor=conductor, column=column, start=start)
        air = both_degrees(self.ambient_c)
        if self.ambient_factor is None:
            yield said("air at {air}: not allowed for this insulation, so 0 A", air=air)
            return
        left = self.insulation_a * self.ambient_factor * self.count_factor
        yield said("x {factor} for air at {air}", factor=f"{self.ambient_factor:.2f}", air=air)
        yield said(
            "x {factor} for {count} current-carrying conductors together",
            factor=f"{self.count_factor:.2f}",
            count=Amount(self.count),
        )
        yield said("= {left}", left=Amount(left, "A", Rounding.DOWN))
        if exceeds(left, self.held_a):
            yield said(
                "limited to {held}, the {column} column of the {by}",
                held=Amount(self.held_a, "A"),
                column=Amount(self.held_column_c, "degC"),
                by=self.held_by,
            )


def both_degrees(celsius: float) -> str:
    """A temperature for people: ``140 degF (60 degC)``."""
    return f"{shown(celsius, 'degF')} ({shown(celsius, 'degC')})"


def equivalent_size(book: Rulebook, size: str) -> tuple[str, tuple[Source, ...]]:
    """The size by which the tables know this conductor (a metric one by its stand-in), and the source of that."""
    row = book.table("metric-equivalents").find(size)
    return (row.printed_text("awg"), (row.source,)) if row is not None else (size, ())


def has_aluminum(book: Rulebook, size: str) -> bool:
    """Whether the ampacity table has aluminum in this size (a metric one by its stand-in)."""
    table = book.table("ampacity")
    row = table.find(equivalent_size(book, size)[0])
    return row is not None and any(row.number(f"{ALUMINUM}_{column}") is not None for column in columns_of(table))


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


def _figure(row: Row, metal: str, column_c: int) -> float:
    """What the ampacity table gives in a column [A]; where it gives nothing, nothing may flow."""
    printed = row.number(f"{metal}_{column_c}")
    return 0.0 if printed is None else printed


def corrected_ampacity(book: Rulebook, size: str, metal: str, conditions: Conditions) -> Corrected | None:
    """What a conductor of ``size`` and ``metal`` may carry [A]; None where the tables do not know the size.

    Starts from the column of its insulation, multiplies by the factor of the 5 degC band that holds the air
    (never interpolated) and by the factor for the current-carrying conductors together, and is held to the columns of
    the cable type and of the terminals.

    Rises with: size, insulation_c. Falls with: ambient_c, conductors.
    Source: NFPA 70, 310.15, 110.14(C), 334.80.
    """
    ambient_c, count, cable_limit_c = conditions.ambient_c, conditions.conductors, conditions.cable_limit_c
    awg, stand_in = equivalent_size(book, size)
    table = book.table("ampacity")
    row = table.find(awg)
    if row is None:
        return None
    columns = columns_of(table)
    coolest = columns[0]
    insulation = column_at_most(columns, conditions.insulation_c)
    insulation_a = _figure(row, metal, insulation) if insulation is not None else 0.0
    band = book.table("ambient-correction").band(ambient_c)
    factor = band.number(f"factor_{insulation}") if band is not None and insulation is not None else None
    group = book.table("conductor-count-adjustment").printed_band(count)
    group_factor = group.printed_number("factor")
    held_c, held_by = conditions.terminals_c, "terminals"
    if cable_limit_c is not None and not exceeds(cable_limit_c, held_c):
        held_c, held_by = cable_limit_c, "cable type"
    held = column_at_most(columns, held_c) or coolest
    held_a = _figure(row, metal, held)
    return Corrected(
        amperes=min(insulation_a * (0.0 if factor is None else factor) * group_factor, held_a),
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
            (group.source,),
        ),
    )
