"""Impedance of a cable's conductors from the tables. Shared by every rule that asks what a cable loses."""

from __future__ import annotations

from typing import Any, NamedTuple

from circuitcheck.case import MORE, Case, Direction, once
from circuitcheck.case.parts import Cable, Part
from circuitcheck.domain.cable_kinds import is_nonmetallic
from circuitcheck.domain.conductor_ampacity import equivalent_size
from circuitcheck.findings import Source, merge_sources
from circuitcheck.physics.conductors import resistance_at
from circuitcheck.tables.rulebook import Row, Rulebook

COPPER, ALUMINUM, CLAD = "copper", "aluminum", "copper-clad aluminum"
SOLID, STRANDED = "solid", "stranded"


class Wire(NamedTuple):
    """What decides how much a conductor resists: its size, metal and strands, and how warm it is [degC]."""

    size: str
    material: str
    stranding: str
    celsius: float


class Conductor(NamedTuple):
    """One conductor of a cable: R + jX [ohm/m], and where the numbers stand."""

    ohm_per_m: complex
    sources: tuple[Source, ...]


class CableImpedance(NamedTuple):
    """Both conductors of a whole cable, there and back: R + jX [ohm], and where the numbers stand."""

    ohm: complex
    sources: tuple[Source, ...]


@once
def cable_impedance(case: Case, cable: Cable) -> CableImpedance | None:
    """Both conductors of a cable over its length; None where the tables hold no such conductor."""
    conductor = conductor_of(case, cable)
    return CableImpedance(2.0 * cable.length_m * conductor.ohm_per_m, conductor.sources) if conductor else None


class CableResistance(NamedTuple):
    """Both conductors of a whole cable, there and back [ohm], and where the numbers stand."""

    ohm: float
    sources: tuple[Source, ...]


@once
def cable_resistance(case: Case, cable: Cable) -> CableResistance | None:
    """Both conductors of a low-voltage cable over its length; None where the tables hold no such conductor.

    Reactance is left out: at 60 Hz it changes nothing that shows in sizes that low-voltage lights use.
    """
    resistance = _resistance(case.book, _wire_of(cable))
    return CableResistance(2.0 * cable.length_m * resistance[0], resistance[1]) if resistance else None


def ohm_per_m_of(book: Rulebook, wire: Wire) -> float | None:
    """One conductor, whatever its length; None where the tables hold no such conductor."""
    resistance = _resistance(book, wire)
    return resistance[0] if resistance is not None else None


def conductor_of(case: Case, cable: Cable) -> Conductor | None:
    """One conductor of a cable; None where the tables hold no such conductor."""
    return conductor_impedance(case, _wire_of(cable), cable.type)


def _wire_of(cable: Cable) -> Wire:
    return Wire(cable.size, cable.material, cable.stranding, cable.conductor_temperature_c)


@once
def conductor_impedance(case: Case, wire: Wire, kind: str) -> Conductor | None:
    """A conductor in a cable of this kind.

    A metric size goes by its greatest resistance, which the tables give for copper, or clad. Where the tables hold only
    one stranding of a size, it counts for the other too.
    """
    resistance = _resistance(case.book, wire)
    if resistance is None:
        return None
    ohm_per_m, sources = resistance
    row = _reactance_row(case.book, wire.size)
    reactance = row.printed_number("steel" if in_steel(case.book, kind) else "nonmetallic")
    return Conductor(complex(ohm_per_m, reactance), merge_sources(sources, (row.source,)))


def ohm_before_panel(case: Case) -> float:
    """What the way to the panel resists [ohm]; where nobody knows it, it is left out, and the answer says so."""
    return 0.0 if case.supply.impedance_ohm is None else case.supply.impedance_ohm


def _resistance(book: Rulebook, wire: Wire) -> tuple[float, tuple[Source, ...]] | None:
    """Resistance of one conductor at its temperature [ohm/m]."""
    plain = _plain_resistance(book, wire.size, wire.material, wire.stranding)
    if plain is None:
        return None
    table_c = book.value("resistance-table-temperature").number
    name = "copper-temperature-coefficient" if wire.material == COPPER else "aluminum-temperature-coefficient"
    coefficient = book.value(name)
    sources = (*plain[1], *((coefficient.source,) if wire.celsius != table_c else ()))
    return resistance_at(plain[0], coefficient.number, table_c, wire.celsius), sources


def resistance_share(book: Rulebook, size: str, material: str) -> tuple[float, tuple[Source, ...]] | None:
    """How many times a stranded conductor of copper a conductor of this metal resists; None where no table tells."""
    here, copper = (_plain_resistance(book, size, metal, STRANDED) for metal in (material, COPPER))
    return (here[0] / copper[0], here[1]) if here is not None and copper is not None else None


def in_steel(book: Rulebook, kind: str) -> bool:
    """Whether a kind of cable may have steel around its conductors, which raises their reactance."""
    return not is_nonmetallic(book, kind)


def _plain_resistance(
    book: Rulebook, size: str, material: str, stranding: str
) -> tuple[float, tuple[Source, ...]] | None:
    """Resistance at the table's temperature [ohm/m]."""
    factor = 1.0
    clad_sources: tuple[Source, ...] = ()
    if material == CLAD:
        clad = book.value("copper-clad-aluminum-resistance-factor")
        factor, clad_sources = clad.number, (clad.source,)
    row = book.table("conductors").find(size)
    if row is None:
        plain = _metric_resistance(book, size) if material != ALUMINUM else None
    else:
        column = ALUMINUM if material == ALUMINUM else COPPER
        ohm_per_m = row.number(f"{column}_{stranding}")
        if ohm_per_m is None:  # the book prints solid ones up to 8 AWG, stranded ones of every size
            ohm_per_m = row.printed_number(f"{column}_{STRANDED}")
        plain = (ohm_per_m, row.source)
    return (plain[0] * factor, (plain[1], *clad_sources)) if plain is not None else None


def _metric_resistance(book: Rulebook, size: str) -> tuple[float, Source] | None:
    """The greatest resistance of a metric size in copper, carried from 20 degC to the table's temperature."""
    row = book.table("metric-conductors").find(size)
    if row is None:
        return None
    limit = row.printed_number("greatest_resistance")
    copper = book.value("copper-temperature-coefficient")
    table_c = book.value("resistance-table-temperature").number
    limit_c = book.value("metric-resistance-temperature").number
    return limit / resistance_at(1.0, copper.number, table_c, limit_c), row.source


def _reactance_row(book: Rulebook, size: str) -> Row:
    """The reactance row of a size. One that the table does not hold takes its first row, which has the most.

    A metric size takes the row of the gauge that stands in for it.
    """
    table = book.table("conductor-reactance")
    return table.find(equivalent_size(book, size)[0]) or table.rows[0]


# -- which way is worse for whoever asks what is lost -------------------------------------------------------------


def thin_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A conductor of more resistance is worse, by its resistance in copper."""
    plain = _plain_resistance(case.book, value, COPPER, STRANDED)
    return plain[0] if plain is not None else 0.0


def metal_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Copper before copper-clad aluminum before aluminum, by resistance."""
    return (COPPER, CLAD, ALUMINUM).index(value)


def strands_are_worse(value: Any, part: Part, case: Case) -> Any:
    """A stranded conductor is longer than its cable, and its resistance higher."""
    return value == STRANDED


def steel_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Steel around the conductors raises their reactance."""
    return in_steel(case.book, value)


#: Which way is worse, of all that ``cable_impedance`` reads, for whoever asks what is lost.
IMPEDANCE_WORSE: dict[str, Direction] = {
    "cable.size": thin_is_worse,
    "cable.material": metal_is_worse,
    "cable.stranding": strands_are_worse,
    "cable.type": steel_is_worse,
    "cable.length": MORE,
    "cable.conductor_temperature": MORE,
}


def _turned(direction: Direction) -> Direction:
    return lambda value, part, case: -direction(value, part, case)


#: The same turned round, for whoever asks how much loss the wire explains.
IMPEDANCE_BETTER: dict[str, Direction] = {key: _turned(direction) for key, direction in IMPEDANCE_WORSE.items()}
