"""Clearance: closets, insulation, combustible surfaces, and the zone over a tub or shower.

What it asks: where each added light hangs: its kind and its distance from storage in a closet, its distance from
insulation, from combustible surfaces, and from a bath.

Why: a hot lamp near clothes, insulation or wood starts fires; a hanging light over a tub can be reached by someone
who is wet.

What to do: choose a light made for the place (fully enclosed in closets, marked for insulation contact in insulated
ceilings), or move it.

Cannot see: what will be stored there later, paddle fans over a bath, and lighting track. Which part of a closet is
its storage space, the rulebook draws; the file takes one distance.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Load
from circuitcheck.findings import Finding, Outcome, judge_at_least
from circuitcheck.quantities import Interval, in_unit
from circuitcheck.rules.parts import added_lights, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.rules.site.clearance_findings import clearance_finding, distance_finding
from circuitcheck.rules.site.closet_light import USES, closet_findings
from circuitcheck.tables.rulebook import Rulebook, Value

NAME = "clearance"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """A finding for each clearance that applies to an added light; distances in inches."""
    for load in added_lights(circuit):
        room = room_of(circuit, circuit.tree.box[load.box])
        if room == "closet":
            yield from closet_findings(NAME, load, book)
        if load.mounting == "recessed":
            yield _insulation(load, book.value("recessed-insulation-distance"))
            yield from _recessed(load, book.value("recessed-combustible-distance"))
        if load.combustible_clearance_m is not None:
            yield _combustible(load, load.combustible_clearance_m, book.value("luminaire-label-clearance"))
        if _hangs(load) and (load.over_bath or (load.over_bath is None and room == "bathroom")):
            yield _bath(load, book.value("bath-zone-height"), book.value("bath-zone-width"))


def _hangs(load: Load) -> bool:
    return load.mounting == "pendant" or load.connection == "cord"


def _insulation(load: Load, limit: Value) -> Finding:
    mark, within = f"load.{load.id}.insulation_contact", f"load.{load.id}.in_insulation"
    if load.insulation_contact:
        says = f"{load.id} is marked for contact with insulation."
        return clearance_finding(NAME, load, Outcome.PASS, says, limit, keys=(mark,))
    if load.in_insulation is False:
        says = f"No insulation is within {in_unit(limit.number, 'in'):g} in of {load.id}."
        return clearance_finding(NAME, load, Outcome.PASS, says, limit, keys=(within,))
    if load.in_insulation and load.insulation_contact is False:
        says = f"{load.id} lies in insulation and is not marked for contact with it."
        return clearance_finding(NAME, load, Outcome.FAIL, says, limit, keys=(mark, within))
    needs = tuple(
        key for key, value in ((mark, load.insulation_contact), (within, load.in_insulation)) if value is None
    )
    says = f"Cannot tell whether {load.id} may touch the insulation around it."
    return clearance_finding(NAME, load, Outcome.UNDETERMINED, says, limit, needs=needs, keys=needs)


def _recessed(load: Load, limit: Value) -> Iterator[Finding]:
    """Wood and the like beside a recessed light that is not marked for contact with insulation."""
    key, mark = f"load.{load.id}.combustible_distance", f"load.{load.id}.insulation_contact"
    has = load.combustible_distance_m
    if load.insulation_contact or (load.insulation_contact is None and has is None):
        return
    found = distance_finding(NAME, load, has, limit, key, "from wood and whatever else burns")
    if load.insulation_contact is None and found.outcome is not Outcome.PASS:
        says = f"{load.id} is close to what burns; that is allowed only if it is marked for contact with insulation."
        yield clearance_finding(
            NAME,
            load,
            Outcome.UNDETERMINED,
            says,
            limit,
            value=has,
            limit_m=limit.number,
            needs=(mark,),
            keys=(key, mark),
        )
    else:
        yield found


def _combustible(load: Load, asked: Interval, rule: Value) -> Finding:
    key = f"load.{load.id}.combustible_distance"
    has = load.combustible_distance_m
    if has is None:
        says = f"Keep {load.id} {in_unit(asked.high, 'in'):.3g} in from anything that burns, as its label says."
        return clearance_finding(NAME, load, Outcome.CAUTION, says, rule, keys=(key,))
    worst, best = judge_at_least(has.low, has.high, asked.high), judge_at_least(has.low, has.high, asked.low)
    outcome = worst if worst is best else Outcome.UNDETERMINED
    label = f"load.{load.id}.combustible_clearance"
    ranged = tuple(one for one, value in ((key, has), (label, asked)) if not value.exact)
    says = (
        f"{load.id} is {in_unit(has.low, 'in'):.3g} in from what burns; its label asks for "
        f"{in_unit(asked.high, 'in'):.3g} in."
    )
    return clearance_finding(
        NAME,
        load,
        outcome,
        says,
        rule,
        value=has,
        limit_m=asked.high,
        keys=(key,),
        needs=ranged if outcome is Outcome.UNDETERMINED else (),
    )


def _bath(load: Load, limit: Value, width: Value) -> Finding:
    key = f"load.{load.id}.height_over_bath"
    if load.over_bath is None:
        says = (
            f"If {load.id} hangs within {in_unit(width.number, 'in'):g} in of a tub or shower, keep it "
            f"{in_unit(limit.number, 'in'):g} in over the rim."
        )
        return clearance_finding(NAME, load, Outcome.CAUTION, says, limit, keys=(f"load.{load.id}.over_bath", key))
    words = "above the rim of the tub or the shower's threshold"
    return distance_finding(NAME, load, load.height_over_bath_m, limit, key, words)


RULE = Rule(
    name=NAME,
    title="Closets, insulation, combustible surfaces, baths",
    family="site",
    uses=(
        *USES,
        "value:recessed-insulation-distance",
        "value:recessed-combustible-distance",
        "value:luminaire-label-clearance",
        "value:bath-zone-height",
        "value:bath-zone-width",
    ),
    check=check,
)
