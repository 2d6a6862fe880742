"""Impedance of a cable's conductors from the tables, at its best and at its worst end.

Shared by every rule that asks what a cable loses. What the file does not say about a cable (material, stranding, kind)
is taken at the worst that the tables allow for that size, and said so.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.circuit.model import Cable
from circuitcheck.domain.conductor_ampacity import has_aluminum
from circuitcheck.findings import Source, merge_sources
from circuitcheck.physics.conductors import resistance_at
from circuitcheck.tables.rulebook import Row, Rulebook

#: What ``Impedances`` may cite; a rule that uses it adds them to its ``uses``.
CABLE_IMPEDANCE_USES = (
    "conductors",
    "metric-conductors",
    "metric-equivalents",
    "conductor-reactance",
    "ampacity",
    "cable-types",
    "value:copper-temperature-coefficient",
    "value:aluminum-temperature-coefficient",
    "value:copper-clad-aluminum-resistance-factor",
    "value:resistance-table-temperature",
    "value:metric-resistance-temperature",
)

COPPER, ALUMINUM, CLAD = "copper", "aluminum", "copper-clad aluminum"
SOLID, STRANDED = "solid", "stranded"


class ConductorImpedance(NamedTuple):
    """One conductor: R + jX [ohm/m] at both ends, what was taken at the worst end, and where the numbers stand.

    ``worst`` holds what the high end stands for where the file is silent: material, stranding, kind of cable.
    """

    low: complex
    high: complex
    material: str
    stranding: str
    steel: bool
    sources: tuple[Source, ...]


class CableImpedance(NamedTuple):
    """Both conductors of a whole cable, there and back: R + jX [ohm] at both ends.

    ``needs`` names the keys without which nothing can be said (then both ends are zero); ``loose`` the keys that keep
    the ends apart; ``assumed`` says what was taken for unknown keys, and ``assumed_keys`` names those.
    """

    low: complex = 0j
    high: complex = 0j
    conductor: ConductorImpedance | None = None
    needs: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()


class Impedances:
    """The impedances of one circuit's cables under one rulebook; equal conductors are looked up once."""

    def __init__(self, book: Rulebook) -> None:
        """``book``: the rulebook whose tables are read."""
        self._book = book
        self._known: dict[tuple[object, ...], ConductorImpedance | None] = {}

    def conductor(self, cable: Cable, size: str) -> ConductorImpedance | None:
        """One conductor of ``cable`` if it were of ``size``; None where the tables hold no such conductor."""
        heat = cable.conductor_temperature_c
        ends = None if heat is None else (heat.low, heat.high)
        asked = (size, cable.material, cable.stranding, cable.type, ends)
        if asked not in self._known:
            self._known[asked] = _conductor(self._book, size, cable.material, cable.stranding, cable.type, ends)
        return self._known[asked]

    def cable(self, cable: Cable) -> CableImpedance:
        """Both conductors of the cable as it is."""
        key = f"cable.{cable.id}."
        needs = []
        conductor = None
        if cable.size is None:
            needs.append(key + "size")
        else:
            conductor = self.conductor(cable, cable.size)
            if conductor is None:
                needs.append(key + "material" if cable.material is None else key + "size")
        if cable.length_m is None:
            needs.append(key + "length")
        if needs or conductor is None or cable.length_m is None:
            return CableImpedance(needs=tuple(needs))
        assumed, assumed_keys = _assumptions(cable, conductor)
        loose: list[str] = []
        if conductor.low != conductor.high:
            loose.extend(name for name in assumed_keys if name != key + "material" or conductor.material != COPPER)
        if not cable.length_m.exact:
            loose.append(key + "length")
        if cable.conductor_temperature_c is not None and not cable.conductor_temperature_c.exact:
            loose.append(key + "conductor_temperature")
        return CableImpedance(
            low=2.0 * cable.length_m.low * conductor.low,
            high=2.0 * cable.length_m.high * conductor.high,
            conductor=conductor,
            loose=tuple(loose),
            assumed=assumed,
            assumed_keys=assumed_keys,
        )


def _assumptions(cable: Cable, conductor: ConductorImpedance) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What was taken for the keys that the file leaves out: sentences and keys."""
    taken = {
        "material": None if cable.material else conductor.material,
        "stranding": None if cable.stranding else conductor.stranding,
        "type": None if cable.type else ("steel raceway" if conductor.steel else "non-metallic"),
    }
    found = [(name, value) for name, value in taken.items() if value is not None]
    if not found:
        return (), ()
    what = ", ".join(f"{name} as {value}" for name, value in found)
    return (
        (f"cable {cable.id}: not given and taken at the worst for voltage drop: {what}",),
        tuple(f"cable.{cable.id}.{name}" for name, _ in found),
    )


def _conductor(
    book: Rulebook,
    size: str,
    material: str | None,
    stranding: str | None,
    kind: str | None,
    ends_c: tuple[float, float] | None,
) -> ConductorImpedance | None:
    table_c = book.value("resistance-table-temperature").number
    low_c, high_c = ends_c if ends_c is not None else (table_c, table_c)
    found = list(_candidates(book, size, material, stranding, table_c))
    if not found:
        return None
    best = min(found, key=lambda one: one.at(low_c, table_c))
    worst = max(found, key=lambda one: one.at(high_c, table_c))
    row = _reactance_row(book, size)
    kind_row = book.table("cable-types").find(kind) if kind is not None else None
    nonmetallic = kind_row.yes("nonmetallic") if kind_row is not None else None
    plain, steel = row.number("nonmetallic") or 0.0, row.number("steel") or 0.0
    return ConductorImpedance(
        low=complex(best.at(low_c, table_c), steel if nonmetallic is False else plain),
        high=complex(worst.at(high_c, table_c), plain if nonmetallic else steel),
        material=worst.material,
        stranding=worst.stranding,
        steel=not nonmetallic,
        sources=merge_sources(
            worst.sources, (row.source,), (worst.coefficient_source,) if low_c != table_c or high_c != table_c else ()
        ),
    )


class _Candidate(NamedTuple):
    """One conductor that the file's words leave possible: ohm/m at the table's temperature."""

    material: str
    stranding: str
    ohm_per_m: float
    coefficient_per_k: float
    coefficient_source: Source
    sources: tuple[Source, ...]

    def at(self, celsius: float, table_c: float) -> float:
        return resistance_at(self.ohm_per_m, self.coefficient_per_k, table_c, celsius)


def _candidates(
    book: Rulebook, size: str, material: str | None, stranding: str | None, table_c: float
) -> Iterator[_Candidate]:
    """Every conductor that the file leaves possible and the tables hold.

    An unknown material may be aluminum only in a size for which the ampacity table has aluminum at all.
    """
    copper = book.value("copper-temperature-coefficient")
    row = book.table("conductors").find(size)
    if row is None:
        yield from _metric_candidates(book, size, material, table_c)
        return
    materials = (material,) if material is not None else _possible_materials(book, size)
    for metal in materials:
        factor, coefficient, column = 1.0, copper, metal
        extra: tuple[Source, ...] = ()
        if metal == CLAD:
            clad = book.value("copper-clad-aluminum-resistance-factor")
            factor, extra, column = clad.number, (clad.source,), COPPER
        if metal != COPPER:
            coefficient = book.value("aluminum-temperature-coefficient")
        for strands, ohm_per_m in _by_stranding(row, column, stranding):
            yield _Candidate(
                metal, strands, ohm_per_m * factor, coefficient.number, coefficient.source, (row.source, *extra)
            )


def _possible_materials(book: Rulebook, size: str) -> tuple[str, ...]:
    return (COPPER, CLAD, ALUMINUM) if has_aluminum(book, size) else (COPPER,)


def _by_stranding(row: Row, column: str, stranding: str | None) -> Iterator[tuple[str, float]]:
    """The row's resistances for that stranding, for both where it is unknown, for the other where only that exists."""
    both = [(name, row.number(f"{column}_{name}")) for name in (SOLID, STRANDED)]
    known = [(name, value) for name, value in both if value is not None]
    wanted = [pair for pair in known if stranding in (None, pair[0])]
    yield from wanted or known


def _metric_candidates(book: Rulebook, size: str, material: str | None, table_c: float) -> Iterator[_Candidate]:
    """A metric size by its resistance limit, carried from 20 degC to the table's temperature. Copper, or clad.

    The limits hold for copper; the tables have none for plain aluminum.
    """
    row = book.table("metric-conductors").find(size)
    limit = row.number("greatest_resistance") if row is not None else None
    if row is None or limit is None:
        return
    copper = book.value("copper-temperature-coefficient")
    limit_c = book.value("metric-resistance-temperature").number
    ohm_per_m = limit / resistance_at(1.0, copper.number, table_c, limit_c)
    materials = (material,) if material is not None else _possible_materials(book, _stand_in(book, size) or size)
    if COPPER in materials:
        yield _Candidate(COPPER, SOLID, ohm_per_m, copper.number, copper.source, (row.source,))
    if CLAD in materials:
        clad = book.value("copper-clad-aluminum-resistance-factor")
        aluminum = book.value("aluminum-temperature-coefficient")
        yield _Candidate(
            CLAD, SOLID, ohm_per_m * clad.number, aluminum.number, aluminum.source, (row.source, clad.source)
        )


def _stand_in(book: Rulebook, size: str) -> str | None:
    """The gauge that stands in for a metric size, None for a size that has none."""
    row = book.table("metric-equivalents").find(size)
    return row.text("awg") if row is not None else None


def _reactance_row(book: Rulebook, size: str) -> Row:
    """The reactance row of a size. Beyond both ends of the table its nearest row counts, which changes next to nothing.

    A metric size takes the row of the gauge that stands in for it.
    """
    table = book.table("conductor-reactance")
    row = table.find(size)
    if row is None:
        stand_in = _stand_in(book, size)
        row = table.find(stand_in) if stand_in is not None else None
    if row is not None:
        return row
    areas = book.table("conductors")
    last = areas.find(*table.rows[-1].key)
    here = areas.find(size)
    thick = here is not None and last is not None and (here.number("area") or 0.0) > (last.number("area") or 0.0)
    return table.rows[-1] if thick else table.rows[0]
