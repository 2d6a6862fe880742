"""What the conductors of a low-voltage cable may carry in their conditions of use."""

from __future__ import annotations

import math
from typing import NamedTuple

from circuitcheck.case import Amount, Case, Said, once, said
from circuitcheck.case.parts import Cable
from circuitcheck.domain.conditions_of_use import ampacity_of, conditions_of
from circuitcheck.domain.conductor_ampacity import COPPER, both_degrees, column_at_most, equivalent_size
from circuitcheck.domain.impedance import resistance_share
from circuitcheck.findings import Source, merge_sources
from circuitcheck.tables.rulebook import Rulebook


class Carries(NamedTuple):
    """What a cable may carry [A], and how that came about."""

    amperes: float
    working: tuple[Said, ...]
    sources: tuple[Source, ...]


@once
def low_voltage_ampacity(case: Case, cable: Cable) -> Carries | None:
    """What a low-voltage cable may carry; None where no table holds its conductors and its insulation stands the air.

    The figures for fixture wires stand in for sizes under 14 AWG, since the book has none for cable that feeds
    low-voltage lights; from 14 AWG on those of house wiring count. Fixture wires are copper: another metal counts with
    the current that heats it as much, since heat goes with the current squared and the resistance.
    """
    size, stand_in = equivalent_size(case.book, cable.size)
    row = case.book.table("fixture-wire-ampacity").find(size)
    if row is None or not is_thin(case.book, size):
        whole = ampacity_of(case, cable)
        if whole is None:
            return _nothing_in_such_air(case, cable)
        return Carries(whole.amperes, tuple(whole.working()), whole.sources)
    start = row.printed_number("ampacity")
    working = [said("{size} as fixture wire: {start}", size=size, start=Amount(start, "A"))]
    sources: list[Source] = [row.source, *stand_in]
    if cable.material != COPPER:
        resists = resistance_share(case.book, cable.size, cable.material)
        if resists is None:
            return _nothing_in_such_air(case, cable)
        share = 1.0 / math.sqrt(resists[0])
        start *= share
        sources += resists[1]
        working.append(said("x {share} for {metal}: as much heat", share=f"{share:.2f}", metal=cable.material))
    factor, count_factor, factors = _factors(case, cable, working)
    amperes = start * factor * count_factor
    working.append(said("= {amperes}", amperes=Amount(amperes, "A")))
    return Carries(amperes, tuple(working), merge_sources(sources, factors))


def _nothing_in_such_air(case: Case, cable: Cable) -> Carries | None:
    """Conductors of no table may carry nothing either in air that is not allowed for their insulation."""
    working: list[Said] = []
    factor, _, sources = _factors(case, cable, working)
    return Carries(0.0, tuple(working), sources) if factor == 0.0 else None


def has_figure(book: Rulebook, size: str, material: str) -> bool:
    """Whether some table tells what a conductor of this size and metal may carry in any air, be it nothing."""
    equivalent, _ = equivalent_size(book, size)
    if book.table("fixture-wire-ampacity").find(equivalent) is None or not is_thin(book, equivalent):
        return book.table("ampacity").find(equivalent) is not None
    return material == COPPER or resistance_share(book, size, material) is not None


def _factors(case: Case, cable: Cable, working: list[Said]) -> tuple[float, float, tuple[Source, ...]]:
    """The factors for the air and for the conductors together; their lines go into ``working``.

    Cool air allows no more than the table of fixture wires prints: no text raises its figures.
    """
    conditions = conditions_of(case, cable)
    table = case.book.table("ambient-correction")
    row = table.band(conditions.ambient_c)
    column = column_at_most(factor_columns(case.book), conditions.insulation_c)
    factor = row.number(f"factor_{column}") if row is not None and column is not None else None
    factor = min(factor, 1.0) if factor is not None else None
    group = case.book.table("conductor-count-adjustment").printed_band(conditions.conductors)
    together = group.printed_number("factor")
    air = both_degrees(conditions.ambient_c)
    if factor is None:
        working.append(said("air at {air}: not allowed for this insulation, so 0 A", air=air))
    else:
        working.append(said("x {factor} for air at {air}", factor=f"{factor:.2f}", air=air))
    working.append(
        said(
            "x {factor} for {count} current-carrying conductors together",
            factor=f"{together:.2f}",
            count=Amount(conditions.conductors),
        )
    )
    working.extend(conditions.notes)
    sources = [*conditions.sources, *((row.source,) if row is not None else ()), group.source]
    return 0.0 if factor is None else factor, together, tuple(sources)


def factor_columns(book: Rulebook) -> tuple[int, ...]:
    """The insulation temperatures that have a factor for the air, coolest first [degC]."""
    names = (name for name in book.table("ambient-correction").units if name.startswith("factor_"))
    return tuple(sorted(int(name.removeprefix("factor_")) for name in names))


def is_thin(book: Rulebook, size: str) -> bool:
    """Whether a size is thinner than the thinnest conductor of house wiring."""
    table = book.table("conductors")
    first = book.table("branch-circuit-conductors").rows[0].printed_text(COPPER)
    here, house = table.find(size), table.find(first)
    if here is None or house is None:
        return True
    return here.printed_number("area") < house.printed_number("area")
