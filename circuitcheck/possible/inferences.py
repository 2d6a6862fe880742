"""What follows about an unknown entry from the other entries. Every rule builds on this, so each inference is small,
named by one row of ``tables/possible/``, and has a test of its own.

Each function gets the part as the file has it, the circuit and the book. It answers what the entry can be, None where
the entry is absent (a case then holds None), or ``UNSETTLED`` where it has nothing to say and the row itself counts.
"""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Cable, Circuit, Driver, Load, LowVoltageLoad
from circuitcheck.possible.boxes import BOXES
from circuitcheck.possible.building import BUILDING
from circuitcheck.possible.conditions import CONDITIONS
from circuitcheck.possible.drivers import DRIVERS
from circuitcheck.possible.entry import UNSETTLED, Inference, Later, Possible
from circuitcheck.possible.measured import MEASURED
from circuitcheck.possible.places import PLACES
from circuitcheck.possible.switching import SWITCHING
from circuitcheck.quantities import How, shown
from circuitcheck.tables.rulebook import Rulebook

#: Sections whose metals the ampacity table lists; copper-clad aluminum goes by the aluminum columns.
_METALS = ("copper", "copper-clad aluminum", "aluminum")


#: Those that say something of an entry that the file gives too; the others leave it as it is written.
ALSO_OF_GIVEN = frozenset({"devices", "unbroken", "fixture_wires", "fixture_ground", "burns_all_the_time", "neutral"})


def cable_type(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Of unknown type: every kind that is made for its voltage."""
    if cable.type is not None:
        return None
    low_voltage = cable.id in circuit.tree.driver_of
    rows = book.table("cable-types").rows
    words = tuple(row.key[0] for row in rows if low_voltage or not row.yes("low_voltage"))
    return Possible(words, f"cable type unknown{_years(circuit, book)}")


def _years(circuit: Circuit, book: Rulebook) -> str:
    """What the year of wiring hints at; evidence only, so it changes nothing."""
    wired = circuit.site.wired
    row = book.table("cable-types").find("NM-B")
    since = row.number("from_year") if row is not None else None
    if wired is None or since is None:
        return ""
    era = "before" if wired < since else "since"
    hint = "cooler insulation was usual then" if wired < since else "90 degC insulation has been usual"
    return f" (house wired {wired}, {era} {since:.0f}: {hint}, but only the print on the sheath proves it)"


def cable_size(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Of unknown size: on the branch circuit the usual sizes, behind a driver every size that a file can name."""
    if cable.size is not None:
        return None
    sizes = tuple(row.key[0] for row in book.table("conductors").rows)
    if cable.id in circuit.tree.driver_of:
        metric = tuple(row.key[0] for row in book.table("metric-conductors").rows)
        return Possible((*metric, *sizes), f"size unknown: {metric[0]} to {sizes[-1]}")
    usual = book.value("unknown-conductor-sizes")
    words = sizes[sizes.index(usual.items[0]) : sizes.index(usual.items[-1]) + 1]
    return Possible(words, f"size unknown; {words[0]} to {words[-1]} is assumed", (usual.source,))


def cable_ground(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A ground that was seen in the box at its end came with it; behind a driver there is none."""
    if cable.ground is not None:
        return None
    if cable.id in circuit.tree.driver_of:
        return Possible((False,))
    end = circuit.tree.box.get(cable.to_id)
    if end is not None and end.ground and circuit.tree.feed.get(cable.to_id) is cable:
        return Possible((True,), "a ground was seen in the box at its end, so it has one")
    return UNSETTLED


def material(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Every metal for which the ampacity table has the size; of a metric size the tables hold no aluminum.

    Thin cable for low voltage is also sold in copper-clad aluminum.
    """
    if cable.material is not None:
        return None
    if cable.size is not None and not _has_aluminum(book, cable.size):
        if cable.id in circuit.tree.driver_of:
            return Possible(_METALS[:2], "metal unknown: copper or copper-clad aluminum")
        return Possible(("copper",), f"metal not given; copper, since the tables have no aluminum in {cable.size}")
    sheathed = book.find_value("solid-copper-sizes-nm-b")
    if sheathed is not None and _is_sheathed(cable) and cable.size in sheathed.items:
        says = f"metal not given; NM-B in {cable.size} is assumed to be copper until the print is read"
        return Possible(("copper",), says, (sheathed.source,))
    metals: tuple[str, ...] = _METALS
    if cable.size is not None and book.table("conductors").find(cable.size) is None:
        metals = metals[:2]
    return Possible(metals, "metal unknown")


def _is_sheathed(cable: Cable) -> bool:
    """Whether it is the kind of cable that is younger than the old aluminum cable, by its print."""
    return cable.type == "NM-B"


def _has_aluminum(book: Rulebook, size: str) -> bool:
    equal = book.table("metric-equivalents").find(size)
    table = book.table("ampacity")
    row = table.find(equal.printed_text("awg") if equal is not None else size)
    return row is not None and any(
        row.number(column) is not None for column in table.units if column.startswith("aluminum_")
    )


def stranding(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """The print of NM-B settles it: the book lists the sizes in which its copper is solid."""
    if cable.stranding is not None:
        return None
    solid = book.find_value("solid-copper-sizes-nm-b")
    if solid is None or not _is_sheathed(cable) or cable.size is None or cable.size not in solid.items:
        return UNSETTLED
    if cable.material not in (None, "copper") or cable.known_by.get("material") == How.GUESS:
        return UNSETTLED  # of another metal the specification says nothing
    return Possible(("solid",), f"solid: {cable.type} in {cable.size} is made so", (solid.source,))


def ambient(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """The air of the place where it runs; of an unknown place the coolest to the hottest of all [degC]."""
    if cable.ambient_c is not None:
        return None
    hot = {
        place: value
        for place in ("attic", "crawl space", "inside", "outdoors", "underground")
        if (value := book.find_value(f"ambient-{place.replace(' ', '-')}")) is not None
    }
    base = book.value("ambient-base")
    if cable.place in hot:
        there = hot[cable.place]
        ends = tuple(sorted({min(there.number, base.number), there.number}))
        return Possible(ends, f"air at {shown(there.number, 'degC')} is assumed ({cable.place})", (there.source,))
    coolest, hottest = min(value.number for value in hot.values()), max(value.number for value in hot.values())
    says = (
        f"unknown where it runs; air of {shown(coolest, 'degC')} to {shown(hottest, 'degC')}, as in a hot attic, is "
        "assumed"
    )
    return Possible((coolest, hottest), says, tuple(value.source for value in hot.values()), ask_for="place")


def power(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Volt-amperes or amperes say it too. Into a receptacle goes nothing, or what the book plans for (None)."""
    if load.power_w is not None or load.apparent_va is not None or load.current_a is not None:
        return None
    if load.kind != "receptacle":
        return UNSETTLED
    planning = book.value("receptacle-planning-load")
    says = f"not given what is plugged in; {planning.number:g} VA each is a planning figure, not a measured load"
    site = circuit.site
    if site.dwelling is None:
        return Possible((0.0, None), says, (planning.source,))  # where it is no dwelling the planning figure counts
    if not site.dwelling:
        return Possible((None,), says, (planning.source,))
    return Possible((0.0, None), says, (planning.source,), later=Later.USE)


def load_power_factor(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Heaters and lamps with a filament are plain resistors; the watts of a lampholder are those of such lamps."""
    if load.power_factor is not None:
        return None
    filament = load.lamp in ("incandescent", "halogen")
    lampholder = load.fitted_w is not None and load.kind == "light"
    return Possible((1.0,)) if load.kind == "heater" or filament or lampholder else UNSETTLED


def driver_input(driver: Driver, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Watts in, or watts out with an efficiency, say it too. Of a driver of few watts they may say less than any label
    has amperes, so nothing bounds it below.
    """
    said = driver.input_current_a is not None or driver.input_power_w is not None or driver.output_power_w is not None
    kind = SECTIONS["driver"].keys["input_current"].kind
    if said or kind is None:
        return None
    return Possible((0.0, kind.greatest_si), "input current unknown", bounded=False)


def efficiency(driver: Driver, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Beside amperes or watts in nobody needs it; without an output rating it says nothing."""
    if driver.efficiency is not None or driver.input_current_a is not None or driver.input_power_w is not None:
        return None
    return UNSETTLED if driver.output_power_w is not None else None


def low_voltage_power(light: LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A strip has its power per length."""
    return None if light.power_w is not None or light.power_per_length_w_per_m is not None else UNSETTLED


def strip_length(light: LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A strip whose length nobody gave can have any [m]; None where it is no strip.

    A light of which nobody says any power may be one.
    """
    if light.length_m is not None or light.power_w is not None:
        return None
    kind = SECTIONS["low_voltage_load"].keys["length"].kind
    assert kind is not None  # noqa: S101 - a length is a physical value
    span = kind.least_si, kind.greatest_si
    surely = light.power_per_length_w_per_m is not None
    return Possible(span if surely else (None, *span), "length unknown", bounded=False)


def strip_resistance(light: LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A strip whose own conductors nobody measured: from none to the worst of common practice [ohm/m].

    A light with a length is a strip, whether its power is given per length or in all.
    """
    if light.resistance_per_length_ohm_per_m is not None:
        return None
    if light.power_w is not None and light.length_m is None:
        return None
    worst = book.value("unknown-strip-resistance")
    return Possible((0.0, worst.number), "resistance of its own conductors unknown", (worst.source,))


INFERENCES: Mapping[str, Inference] = {
    **BOXES,
    **BUILDING,
    **CONDITIONS,
    **DRIVERS,
    **MEASURED,
    **PLACES,
    **SWITCHING,
    **{
        function.__name__: function
        for function in (
            cable_type,
            cable_size,
            cable_ground,
            material,
            stranding,
            ambient,
            power,
            load_power_factor,
            driver_input,
            efficiency,
            low_voltage_power,
            strip_length,
            strip_resistance,
        )
    },
}
