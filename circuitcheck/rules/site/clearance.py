"""Clearance: closets, insulation, combustible surfaces, and the zone over a tub or shower.

What it asks: where each added light hangs: its distance from storage in a closet, from insulation, from combustible
surfaces, and from a bath.

Why: a hot lamp near clothes, insulation or wood starts fires; a hanging light over a tub can be reached by someone
who is wet.

What to do: choose a light made for the place (enclosed or LED in closets, marked for insulation contact in insulated
ceilings), or move it.

Cannot see: what will be stored there later.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Load
from circuitcheck.findings import Finding, Outcome, judge_at_least
from circuitcheck.quantities import Interval, in_unit
from circuitcheck.rules.parts import added_lights, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook, Value

HANGING = ("pendant",)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """A finding for each clearance that applies to an added light; distances in inches."""
    for load in added_lights(circuit):
        if room_of(circuit, circuit.tree.box[load.box]) == "closet":
            yield from _closet(load, book)
        if load.mounting == "recessed":
            yield _insulation(load, book)
        if load.combustible_clearance_m is not None:
            yield _combustible(load, load.combustible_clearance_m, book.value("luminaire-label-clearance"))
        if load.over_bath and load.mounting in HANGING:
            yield _bath(load, book.value("bath-zone-height"))


def _closet(load: Load, book: Rulebook) -> Iterator[Finding]:
    lamp_key, enclosed_key = f"load.{load.id}.lamp", f"load.{load.id}.enclosed"
    recessed = load.mounting == "recessed"
    name = "closet-clearance-recessed" if recessed or load.lamp == "fluorescent" else "closet-clearance-surface"
    limit = book.value(name)
    open_lamp = book.value("closet-open-lamps")
    if load.lamp in ("incandescent", "halogen") and load.enclosed is False:
        yield _finding(
            load,
            Outcome.FAIL,
            f"{load.id} has an open hot lamp, which is not allowed in a clothes closet.",
            open_lamp,
            keys=(enclosed_key, lamp_key),
        )
        return
    if load.enclosed is None and load.lamp in (None, "incandescent", "halogen"):
        yield _finding(
            load,
            Outcome.UNDETERMINED,
            f"Cannot tell whether {load.id} has an open hot lamp in the closet.",
            open_lamp,
            needs=(lamp_key, enclosed_key),
            keys=(lamp_key, enclosed_key),
        )
    yield _distance(
        load, load.closet_distance_m, limit, f"load.{load.id}.closet_distance", "from the storage space of the closet"
    )


def _insulation(load: Load, book: Rulebook) -> Finding:
    limit = book.value("recessed-insulation-distance")
    mark, within = f"load.{load.id}.insulation_contact", f"load.{load.id}.in_insulation"
    if load.insulation_contact:
        return _finding(load, Outcome.PASS, f"{load.id} is marked for contact with insulation.", limit, keys=(mark,))
    if load.in_insulation is False:
        return _finding(
            load,
            Outcome.PASS,
            f"No insulation is within {in_unit(limit.number, 'in'):g} in of {load.id}.",
            limit,
            keys=(within,),
        )
    if load.in_insulation and load.insulation_contact is False:
        return _finding(
            load,
            Outcome.FAIL,
            f"{load.id} lies in insulation and is not marked for contact with it.",
            limit,
            keys=(mark, within),
        )
    needs = tuple(
        key for key, value in ((mark, load.insulation_contact), (within, load.in_insulation)) if value is None
    )
    return _finding(
        load,
        Outcome.UNDETERMINED,
        f"Cannot tell whether {load.id} may touch the insulation around it.",
        limit,
        needs=needs,
        keys=needs,
    )


def _combustible(load: Load, asked: Interval, rule: Value) -> Finding:
    key = f"load.{load.id}.combustible_distance"
    has = load.combustible_distance_m
    if has is None:
        return _finding(
            load,
            Outcome.CAUTION,
            f"Keep {load.id} {in_unit(asked.high, 'in'):.3g} in from anything that burns, as its label says.",
            rule,
            keys=(key,),
        )
    outcome = judge_at_least(has.low, has.high, asked.high)
    says = (
        f"{load.id} is {in_unit(has.low, 'in'):.3g} in from what burns; its label asks for "
        f"{in_unit(asked.high, 'in'):.3g} in."
    )
    return _finding(
        load,
        outcome,
        says,
        rule,
        value=has,
        limit_m=asked.high,
        keys=(key,),
        needs=(key,) if outcome is Outcome.UNDETERMINED else (),
    )


def _bath(load: Load, limit: Value) -> Finding:
    return _distance(
        load,
        load.height_over_bath_m,
        limit,
        f"load.{load.id}.height_over_bath",
        "above the rim of the tub or the shower's threshold",
    )


def _distance(load: Load, has: Interval | None, limit: Value, key: str, words: str) -> Finding:
    limit_in = in_unit(limit.number, "in")
    if has is None:
        return _finding(load, Outcome.CAUTION, f"Keep {load.id} at least {limit_in:g} in {words}.", limit, keys=(key,))
    outcome = judge_at_least(has.low, has.high, limit.number)
    says = f"{load.id} is {in_unit(has.low, 'in'):.3g} in {words}; at least {limit_in:g} in is asked for."
    return _finding(
        load,
        outcome,
        says,
        limit,
        value=has,
        limit_m=limit.number,
        keys=(key,),
        needs=(key,) if outcome is Outcome.UNDETERMINED else (),
    )


def _finding(
    load: Load,
    outcome: Outcome,
    says: str,
    rule: Value,
    *,
    value: Interval | None = None,
    limit_m: float | None = None,
    needs: tuple[str, ...] = (),
    keys: tuple[str, ...] = (),
) -> Finding:
    return Finding(
        check=RULE.name,
        subject=load.id,
        outcome=outcome,
        says=says,
        value=None if value is None else in_unit(value.low, "in"),
        limit=None if limit_m is None else in_unit(limit_m, "in"),
        unit=None if value is None else "in",
        low=None if value is None else in_unit(value.low, "in"),
        high=None if value is None else in_unit(value.high, "in"),
        sources=(rule.source,),
        needs=needs,
        keys=keys,
        to_do=() if outcome is Outcome.PASS else ("Choose a light made for the place, or move it.",),
    )


RULE = Rule(
    name="clearance",
    title="Closets, insulation, combustible surfaces, baths",
    family="site",
    uses=(
        "value:closet-clearance-surface",
        "value:closet-clearance-recessed",
        "value:closet-open-lamps",
        "value:recessed-insulation-distance",
        "value:luminaire-label-clearance",
        "value:bath-zone-height",
    ),
    check=check,
)
