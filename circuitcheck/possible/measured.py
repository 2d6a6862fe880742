"""What a reading says about an unknown entry: the volts lost under a load bound the wire on the way there."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Source, exceeds, merge_sources
from circuitcheck.physics.conductors import resistance_at
from circuitcheck.possible.entry import UNSETTLED, Inference, Possible
from circuitcheck.quantities import in_unit, rounded_up
from circuitcheck.tables.rulebook import Rulebook


def cable_length(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """An old cable through which a reading under load was taken is at most as long as would lose all of it [m]."""
    if cable.length_m is not None:
        return UNSETTLED
    longest = longest_by_reading(cable, circuit, book)
    if longest is None:
        return UNSETTLED
    most, sources = longest
    says = f"length not given; by the reading under load at most {rounded_up(in_unit(most, 'ft'))} ft"
    return Possible((min(_SHORTEST_M, most), most), says, sources)


#: A cable that nobody measured is at least so long [m].
_SHORTEST_M = 0.01


def longest_by_reading(cable: Cable, circuit: Circuit, book: Rulebook) -> tuple[float, tuple[Source, ...]] | None:
    """The greatest length that the volts lost under load leave for a cable on the way [m]; None where they say nothing.

    All of the loss, and all by which two readings may be off, is laid to this cable alone, whose metal is the one that
    resists least and is as cold as any. So nothing about the joints, the service or other cables can make it longer.
    """
    supply = circuit.supply
    loaded, unloaded, amperes = supply.loaded_voltage_v, supply.measured_voltage_v, supply.loaded_current_a
    box = circuit.tree.box.get(supply.loaded_at or "")
    if loaded is None or unloaded is None or amperes is None or box is None or box.id not in circuit.tree.feed:
        return None
    if cable.is_added or box.origin == "added" or cable not in circuit.tree.path(box.id):
        return None
    least = _least_resistance(cable, book)
    noise, drift = book.value("loaded-voltage-reading-error"), book.value("loaded-voltage-rise")
    lost = unloaded.high - loaded.low + noise.number + drift.number
    if least is None or not exceeds(amperes.low, 0.0) or not exceeds(lost, 0.0):
        return None
    ohm_per_m, sources = least
    return lost / amperes.low / (2.0 * ohm_per_m), merge_sources((noise.source, drift.source), sources)


def _least_resistance(cable: Cable, book: Rulebook) -> tuple[float, tuple[Source, ...]] | None:
    """The least that one conductor of a cable can resist [ohm/m]; None where its size is open or in no table."""
    row = book.table("conductors").find(cable.size) if cable.size is not None else None
    if row is None:
        return None
    metal = "aluminum" if cable.material == "aluminum" else "copper"
    numbers = [row.number(f"{metal}_{stranding}") for stranding in ("solid", "stranded")]
    known = [number for number in numbers if number is not None]
    if not known:
        return None
    coefficient, coldest = book.value(f"{metal}-temperature-coefficient"), book.value("reading-conductor-coldest")
    at = book.value("resistance-table-temperature").number
    resistance = resistance_at(min(known), coefficient.number, at, coldest.number)
    return resistance, merge_sources((row.source, coefficient.source, coldest.source))


MEASURED: Mapping[str, Inference] = {cable_length.__name__: cable_length}
