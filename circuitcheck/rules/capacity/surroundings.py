"""Where a cable lies and what it is made of, as far as ampacity goes: the worst and the best that the file allows."""

from __future__ import annotations

from dataclasses import dataclass

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.domain.conductor_ampacity import Corrected, columns_of, corrected_ampacity
from circuitcheck.findings import Source, merge_sources
from circuitcheck.quantities import shown
from circuitcheck.rules.capacity.conductor_ampacity import CONDUCTOR_AMPACITY_USES, metals_of
from circuitcheck.rules.once import once
from circuitcheck.tables.rulebook import Rulebook, Value
from circuitcheck.text import shown_number

PLACES = ("attic", "crawl space", "inside", "outdoors", "underground")

#: Names of the tables and values that these functions may cite; a rule that calls them adds them to its ``uses``.
SURROUNDINGS_USES = (
    *CONDUCTOR_AMPACITY_USES,
    "cable-types",
    "value:terminal-temperature-default",
    "value:ambient-base",
    "value:sealed-hole-cables",
    "value:bundled-cable-conductors",
    "value:bundling-length",
    "value:unknown-cable-conductors",
    *(f"value:ambient-{place.replace(' ', '-')}" for place in PLACES),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """Each pair is (worst, best) [degC or plain numbers]. ``open_keys`` are the keys that make the two differ."""

    insulation_c: tuple[float, float]
    ambient_c: tuple[float, float]
    count: tuple[int, int]
    cable_limit_c: tuple[float | None, float | None]
    terminals_c: tuple[float, float]
    notes: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    open_keys: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def pairs(self) -> tuple[tuple[float | None, float | None], ...]:
        """All that decides ampacity; equal for two cables that lie alike."""
        return (self.insulation_c, self.ambient_c, self.count, self.cable_limit_c, self.terminals_c)

    @property
    def is_certain(self) -> bool:
        """Whether the worst and the best are the same."""
        return all(worst == best for worst, best in self.pairs)


class _Found:
    """What is gathered while a cable is looked at."""

    def __init__(self) -> None:
        self.notes: list[str] = []
        self.assumed: list[str] = []
        self.assumed_keys: list[str] = []
        self.open_keys: list[str] = []
        self.sources: list[Source] = []

    def assume(self, sentence: str, key: str, *, is_open: bool) -> None:
        self.assumed.append(sentence)
        self.assumed_keys.append(key)
        if is_open:
            self.open_keys.append(key)


@once
def branch_surroundings(circuit: Circuit, book: Rulebook) -> dict[str, Surroundings]:
    """Cable id -> the worst and the best that the file leaves open, for each cable of the branch circuit."""
    return {cable.id: surroundings_of(cable, circuit, book) for cable in circuit.tree.branch_cables}


def surroundings_of(cable: Cable, circuit: Circuit, book: Rulebook) -> Surroundings:
    """The worst and the best that the file leaves open for this cable."""
    found = _Found()
    insulation, limit = _cable_type(cable, circuit, book, found)
    ambient = _ambient(cable, book, found)
    count = _count(cable, book, found)
    terminals = _terminals(circuit, book, found)
    return Surroundings(
        insulation_c=insulation,
        ambient_c=ambient,
        count=count,
        cable_limit_c=limit,
        terminals_c=terminals,
        notes=tuple(found.notes),
        assumed=tuple(found.assumed),
        assumed_keys=tuple(found.assumed_keys),
        open_keys=tuple(dict.fromkeys(found.open_keys)),
        sources=merge_sources(found.sources),
    )


def ampacity_range(
    book: Rulebook, size: str, material: str | None, surroundings: Surroundings
) -> tuple[Corrected, Corrected] | None:
    """What a conductor of ``size`` may carry there, at worst and at best; None for a size that no table knows."""
    metals = metals_of(material, size, book)
    ends: list[Corrected] = []
    for end, metal in enumerate(metals):
        if end and metals[0] == metals[1] and surroundings.is_certain:
            return ends[0], ends[0]
        corrected = corrected_ampacity(
            book,
            size,
            metal,
            insulation_c=surroundings.insulation_c[end],
            ambient_c=surroundings.ambient_c[end],
            count=surroundings.count[end],
            cable_limit_c=surroundings.cable_limit_c[end],
            terminals_c=surroundings.terminals_c[end],
        )
        if corrected is None:
            return None
        ends.append(corrected)
    return ends[0], ends[1]


def _cable_type(
    cable: Cable, circuit: Circuit, book: Rulebook, found: _Found
) -> tuple[tuple[float, float], tuple[float | None, float | None]]:
    """Insulation temperature and the column that the cable type holds the final value to, each (worst, best)."""
    columns = columns_of(book.table("ampacity"))
    coolest, hottest = float(columns[0]), float(columns[-1])
    row = book.table("cable-types").find(cable.type) if cable.type is not None else None
    key = f"cable.{cable.id}.type"
    limit: tuple[float | None, float | None]
    if row is None:
        limit, rated = (coolest, None), None
    else:
        found.sources.append(row.source)
        own = row.number("ampacity_limit_temperature")
        limit, rated = (own, own), row.number("insulation_temperature")
    given = cable.insulation_temperature_c
    if given is not None:
        if not given.exact:
            found.open_keys.append(f"cable.{cable.id}.insulation_temperature")
        if row is None:
            found.assume(
                f"{cable.id}: cable type not given, so its ampacity is held to the {shown_number(coolest)} degC column "
                "at worst.",
                key,
                is_open=True,
            )
        return (given.low, given.high), limit
    if rated is not None:
        return (rated, rated), limit
    found.assume(
        f"{cable.id}: what the insulation stands is not known, so {shown_number(coolest)} degC is counted at worst and "
        f"{shown_number(hottest)} degC at best{_years(circuit, book)}.",
        key if row is None else f"cable.{cable.id}.insulation_temperature",
        is_open=True,
    )
    return (coolest, hottest), limit


def _years(circuit: Circuit, book: Rulebook) -> str:
    """What the year of wiring hints at; evidence only, so it changes no number."""
    wired = circuit.site.wired
    row = book.table("cable-types").find("NM-B")
    since = row.number("from_year") if row is not None else None
    if wired is None or since is None:
        return ""
    era = "before" if wired < since else "since"
    hint = "cooler insulation was usual then" if wired < since else "90 degC insulation has been usual"
    return f" (wired in {wired}, {era} {since:.0f}: {hint}, but only the print on the sheath proves it)"


def _ambient(cable: Cable, book: Rulebook, found: _Found) -> tuple[float, float]:
    """The air along the cable, (hottest, coolest) [degC].

    A place gives the hottest; that it may be cooler there is kept open, down to the base of the table of ampacities.
    """
    given = cable.ambient_c
    if given is not None:
        if not given.exact:
            found.open_keys.append(f"cable.{cable.id}.ambient")
        return given.high, given.low
    if cable.place is not None:
        value = book.find_value(f"ambient-{cable.place.replace(' ', '-')}")
        if value is not None:
            coolest = min(value.number, book.value("ambient-base").number)
            found.sources.append(value.source)
            found.assume(
                f"{cable.id}: air at {shown_number(value.number)} degC is taken for this place "
                f"({cable.place}), as common practice has it.",
                f"cable.{cable.id}.ambient",
                is_open=coolest < value.number,
            )
            return value.number, coolest
    usual = [value for place in PLACES if (value := book.find_value(f"ambient-{place.replace(' ', '-')}"))]
    hottest, mildest = max(usual, key=_number), min(usual, key=_number)
    found.sources += (hottest.source, mildest.source)
    found.assume(
        f"{cable.id}: nobody said where it runs, so air at {shown_number(hottest.number)} degC as in a hot attic is "
        f"counted at worst and {shown_number(mildest.number)} degC at best.",
        f"cable.{cable.id}.place",
        is_open=True,
    )
    return hottest.number, mildest.number


def _number(value: Value) -> float:
    return value.number


def _count(cable: Cable, book: Rulebook, found: _Found) -> tuple[int, int]:
    """Current-carrying conductors that heat one another, (most, fewest)."""
    if cable.current_carrying is not None:
        return cable.current_carrying, cable.current_carrying
    if cable.conductors is not None:
        own = (cable.conductors, cable.conductors)
    else:
        unknown = [int(item) for item in book.value("unknown-cable-conductors").items]
        own = (max(unknown), min(unknown))
    # unknown counts at its most: a size that is named as enough has to be enough
    unknown_beside = max(int(item) for item in book.value("unknown-cables-alongside").items)
    beside = unknown_beside if cable.bundled_with is None else cable.bundled_with
    if (
        cable.sealed_hole_with
        and cable.sealed_hole_with + 1 > (sealed_limit := book.value("sealed-hole-cables")).number
    ):
        beside = max(beside, cable.sealed_hole_with)
        found.sources.append(sealed_limit.source)
        found.notes.append(
            f"{cable.sealed_hole_with + 1} cables in one sealed hole count as lying together, however short the hole"
        )
    if beside == 0:
        return own
    each = book.value("bundled-cable-conductors")
    length = book.value("bundling-length")
    found.sources += (each.source, length.source)
    usual = [int(item) for item in book.value("unknown-cable-conductors").items]
    found.notes.append(
        f"{beside} other cable(s) alongside for more than {shown(length.number, length.unit)}, counted with "
        f"{min(usual)} to {max(usual)} current-carrying conductors each"
    )
    found.assume(
        f"{cable.id}: what the cables alongside carry is unknown; {min(usual)} to {max(usual)} conductors each count.",
        f"cable.{cable.id}.current_carrying",
        is_open=True,
    )
    if cable.conductors is None:
        found.assume(
            f"{cable.id}: number of conductors not given, so {own[0]} are counted at worst and {own[1]} at best.",
            f"cable.{cable.id}.conductors",
            is_open=True,
        )
    return own[0] + beside * max(usual), own[1] + beside * min(usual)


def _terminals(circuit: Circuit, book: Rulebook, found: _Found) -> tuple[float, float]:
    """The temperature that the terminals are marked for, (worst, best) [degC]."""
    given = circuit.supply.terminals_c
    if given is not None:
        if not given.exact:
            found.open_keys.append("supply.terminals")
        return given.low, given.high
    usual = book.value("terminal-temperature-default")
    found.sources.append(usual.source)
    return usual.number, usual.number
