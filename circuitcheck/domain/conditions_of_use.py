"""In what conditions a cable is used, as far as ampacity goes: its insulation, the air, what lies beside it."""

from __future__ import annotations

import math
from typing import Any

from circuitcheck.case import EACH, LESS, MORE, Amount, Case, Direction, Later, Said, once, order, said
from circuitcheck.case.parts import Cable, Part
from circuitcheck.domain.cable_kinds import kind_of_cable
from circuitcheck.domain.conductor_ampacity import (
    ALUMINUM,
    METAL_OF,
    Conditions,
    Corrected,
    corrected_ampacity,
    equivalent_size,
)
from circuitcheck.findings import Source, merge_sources
from circuitcheck.quantities import shown
from circuitcheck.tables.rulebook import Rulebook

UF_B = "UF-B"
TRAVELERS = "travelers"
#: Places where underground feeder cable is used as such, and not in the stead of sheathed cable indoors.
_OUTSIDE = ("outdoors", "underground")


@once
def conditions_of(case: Case, cable: Cable) -> Conditions:
    """The conditions in which a cable is used."""
    row = kind_of_cable(case.book, cable.type)
    insulation = cable.insulation_temperature_c
    sources = [row.source]
    if insulation is None:
        insulation = row.printed_number("insulation_temperature")
    if cable.type == UF_B and cable.place in _OUTSIDE:
        own = case.book.value("uf-b-ampacity-temperature")
        insulation = min(insulation, own.number)
        sources.append(own.source)
    count, notes, counted = _count(case, cable)
    return Conditions(
        insulation_c=insulation,
        ambient_c=cable.ambient_c,
        conductors=count,
        cable_limit_c=row.number("ampacity_limit_temperature"),
        terminals_c=case.supply.terminals_c,
        notes=notes,
        sources=merge_sources(sources, counted),
    )


@once
def ampacity_of(case: Case, cable: Cable) -> Corrected | None:
    """What a cable may carry in its conditions [A]; None for a size that no table knows."""
    return _ampacity_at(case, cable.size, cable.material, conditions_of(case, cable)._replace(notes=(), sources=()))


@once
def _ampacity_at(case: Case, size: str, material: str, conditions: Conditions) -> Corrected | None:
    """The same by its numbers alone: nearly all cables of a circuit lie in a few ways."""
    return ampacity_in(case.book, size, material, conditions)


@once
def bare_ampacity_of(case: Case, cable: Cable) -> Corrected | None:
    """What the table gives for a cable of this insulation in plain conditions, before correction and adjustment [A]."""
    base = case.book.value("ambient-base").number
    plain = conditions_of(case, cable)._replace(ambient_c=base, conductors=1, notes=(), sources=())
    return _ampacity_at(case, cable.size, cable.material, plain)


def ampacity_in(book: Rulebook, size: str, material: str, conditions: Conditions) -> Corrected | None:
    """What a conductor of any size may carry in these conditions [A]; None for a size that no table knows."""
    return corrected_ampacity(book, size, METAL_OF.get(material, ALUMINUM), conditions)


def _count(case: Case, cable: Cable) -> tuple[int, tuple[Said, ...], tuple[Source, ...]]:
    """Current-carrying conductors that heat one another, how that came about, and the sources.

    Of a pair of travelers only one carries current at a time. Spare conductors count.

    Source: NFPA 70, 310.15(C)(1) (2017: 310.15(B)(3)(a)), 334.80.
    """
    given = cable.current_carrying
    beside, notes, sources = cables_alongside(case, cable)
    if given is not None:
        return given, notes, sources
    own = cable.conductors
    if own > 2 and cable.carries == TRAVELERS:
        own -= 1
    each = case.book.value("bundled-cable-conductors")
    return own + beside * int(each.number), notes, sources


def cables_alongside(case: Case, cable: Cable) -> tuple[int, tuple[Said, ...], tuple[Source, ...]]:
    """How many other loaded cables heat this one, a line that says so, and the sources."""
    beside = cable.bundled_with
    notes: list[Said] = []
    sources: list[Source] = []
    limit = case.book.value("sealed-hole-cables")
    if cable.sealed_hole_with and cable.sealed_hole_with + 1 > limit.number:
        beside = max(beside, cable.sealed_hole_with)
        sources.append(limit.source)
        notes.append(
            said(
                "{cables} cables in one sealed hole count as lying together, however short the hole",
                cables=Amount(cable.sealed_hole_with + 1),
            )
        )
    if beside:
        length, each = case.book.value("bundling-length"), case.book.value("bundled-cable-conductors")
        sources += (length.source, each.source)
        notes.append(
            Said(
                "{cables} other cable(s) alongside for more than {length}, each with at least {each} current-carrying "
                "conductors",
                Later(
                    lambda: {
                        "cables": Amount(beside),
                        "length": shown(length.number, length.unit),
                        "each": Amount(each.number),
                    }
                ),
            )
        )
    return beside, tuple(notes), tuple(sources)


def type_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Cooler insulation is worse, and of two alike the one that is limited to a cooler column.

    The kinds between are in no strict order, but the first and the last are the best and the worst in every way: out of
    doors a cable for burial stands no more than its column, whatever is marked on its conductors.
    """
    assert isinstance(part, Cable)  # noqa: S101 - declared for cable.type only
    row = kind_of_cable(case.book, value)
    held = value == UF_B and part.place in _OUTSIDE
    limit = row.number("ampacity_limit_temperature")
    return -row.printed_number("insulation_temperature"), -math.inf if limit is None else -limit, held


def size_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A thinner conductor is worse."""
    row = case.book.table("conductors").find(equivalent_size(case.book, value)[0])
    return -row.printed_number("area") if row is not None else 0.0


def outside_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A cable for burial goes by its column there, whatever is marked on its conductors."""
    return value in _OUTSIDE


#: Which way is worse, of all that decides what a cable may carry.
CONDITIONS_WORSE: dict[str, Direction] = {
    "cable.type": type_is_worse,
    "cable.size": size_is_worse,
    "cable.material": order("copper", "copper-clad aluminum", "aluminum"),
    "cable.insulation_temperature": LESS,
    "cable.place": outside_is_worse,
    "cable.ambient": MORE,
    "cable.conductors": MORE,
    "cable.current_carrying": MORE,
    "cable.bundled_with": MORE,
    "cable.sealed_hole_with": MORE,
    "cable.carries": EACH,
    "supply.terminals": LESS,
}
