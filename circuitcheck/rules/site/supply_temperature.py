"""Supply-wire temperature: whether the wire at a luminaire takes the heat that its label speaks of.

What it asks: the supply-wire temperature on the added luminaire's label against the insulation of the cable that ends
at its box.

Why: many luminaires ask for wire good for 90 °C, and cable from before the middle of the 1980s often has 60 °C
conductors that turn brittle above a lamp.

What to do: the trade's remedy is a new cable with 90 °C conductors from a junction box that stays reachable, some
distance from the luminaire. Or choose a luminaire whose label accepts 60 °C wire.

Cannot see: how hot the box really gets, nor insulation that is already damaged. The printing on the sheath decides;
the year is evidence only.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome, Source, exceeds, merge_sources
from circuitcheck.rules.parts import added_lights
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def _insulation(cable: Cable, book: Rulebook) -> tuple[float, float, tuple[Source, ...], str | None]:
    """Least and greatest insulation temperature [degC] of a cable, sources, and the key that would settle it."""
    if cable.insulation_temperature_c is not None:
        stated = cable.insulation_temperature_c
        return stated.low, stated.high, (), None if stated.exact else f"cable.{cable.id}.insulation_temperature"
    row = book.table("cable-types").find(cable.type) if cable.type else None
    known = row.number("insulation_temperature") if row else None
    if row is not None and known is not None:
        return known, known, (row.source,), None
    low, high = book.value("insulation-temperature-old"), book.value("insulation-temperature-new")
    return low.number, high.number, (low.source, high.source), f"cable.{cable.id}.type"


def _span(low: float, high: float) -> str:
    return f"{low:g} °C" if low == high else f"{low:g} °C to {high:g} °C"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added luminaire, value and limit in degC; the supply is the cable that feeds its box."""
    usual = book.value("luminaire-supply-temperature")
    for load in added_lights(circuit):
        cable = circuit.tree.feed.get(load.box)
        if cable is None:
            continue
        low, high, sources, key = _insulation(cable, book)
        mine = f"load.{load.id}.supply_temperature"
        label = load.supply_temperature_c
        wanted_high = label.high if label else usual.number
        wanted_low = label.low if label else low
        asked = f"supply wire {wanted_high:g} °C" if label else f"unknown; many ask for {usual.number:g} °C"
        needs = tuple(
            k for k, is_open in ((mine, label is None or not label.exact), (key, key is not None)) if is_open and k
        )
        if not exceeds(wanted_high, low):
            outcome, needs = Outcome.PASS, ()
            says = f"The cable at {load.id} has insulation for {low:g} °C, which meets {wanted_high:g} °C."
        elif exceeds(wanted_low, high):
            outcome, needs = Outcome.FAIL, ()
            says = f"{load.id} asks for supply wire of {wanted_low:g} °C, and its cable has {high:g} °C."
        else:
            outcome = Outcome.UNDETERMINED
            says = (
                f"Cannot tell whether the wire at {load.id} takes the heat that its label may ask for "
                f"({wanted_high:g} °C)."
            )
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            value=wanted_high,
            limit=low,
            unit="degC",
            low=wanted_low if label else None,
            high=wanted_high,
            working=(
                f"label of {load.id}: {asked}",
                f"cable {cable.id}, type {cable.type or 'unknown'}: insulation {_span(low, high)}",
            ),
            sources=merge_sources((usual.source,), sources),
            needs=needs,
            keys=(mine, f"cable.{cable.id}.type"),
            assumed=() if label else (f"{load.id} may ask for supply wire of {usual.number:g} °C.",),
            assumed_keys=() if label else (mine,),
            to_do=()
            if outcome is Outcome.PASS
            else (
                "Read the supply-wire temperature on the luminaire's label or carton, and the "
                "printing on the cable sheath.",
                "Remedy in the trade: new cable with 90 °C conductors from a junction box that stays reachable.",
            ),
        )


RULE = Rule(
    name="supply-temperature",
    title="Supply wire for the heat of a luminaire",
    family="site",
    uses=(
        "value:luminaire-supply-temperature",
        "value:insulation-temperature-old",
        "value:insulation-temperature-new",
        "cable-types",
    ),
    check=check,
)
