"""Fixed equipment: whether equipment that is fastened in place leaves half of a shared circuit free.

What it asks: the rating of all equipment fastened in place other than luminaires (fans, heaters, alarms) on a circuit
that also has lights or things that are plugged in.

Why: such a circuit is meant to be shared. Fixed equipment may take half of it; a fan with a heater in it or a big
attic fan takes more than people think.

What to do: read the label of each fan or heater. When they pass half of the breaker, the new lights belong on another
circuit.

Cannot see: equipment that nobody listed. Circuits other than those of 15 and 20 A have rules of their own and are
left out.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.circuit.model import Circuit, Load
from circuitcheck.findings import Finding, Outcome, Part, exceeds, merge_sources
from circuitcheck.rules.branch_loads import BRANCH_LOAD_USES, RECEPTACLE, Draw, branch_draws, draw_sources, span
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

#: Kinds that are fastened in place unless the file says that they have a cord; a luminaire is none of them.
FIXED_KINDS = frozenset({"fan", "heater", "alarm", "other"})
LIGHT = "light"
CORD = "cord"


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for the circuit [A], when fixed equipment shares it with lights or cord-and-plug loads."""
    share = book.value("fixed-equipment-share")
    breaker = circuit.supply.breaker_a
    loads = {f"load.{load.id}": load for load in circuit.loads}
    draws = [draw for draw in branch_draws(circuit, book) if draw.key in loads]
    sure = [draw for draw in draws if _is_fixed(loads[draw.key])]
    maybe = [draw for draw in draws if _may_be_fixed(loads[draw.key])]
    shared = bool(circuit.drivers) or any(_shares(load) for load in circuit.loads)
    if not shared or not (sure or maybe) or breaker.low > book.value("general-circuit-greatest-rating").number:
        return
    volts = circuit.supply.voltage_v
    low = sum(draw.low_va for draw in sure) / volts.high
    high = sum(draw.high_va for draw in (*sure, *maybe)) / volts.low
    unknown = [draw for draw in (*sure, *maybe) if draw.needs]
    limit_low, limit_high = share.number * breaker.low, share.number * breaker.high
    kinds = tuple(_open_key(loads[draw.key]) for draw in maybe)
    needs: tuple[str, ...] = ()
    if exceeds(low, limit_high):
        outcome = Outcome.FAIL
    elif unknown or exceeds(high, limit_low):
        outcome = Outcome.UNDETERMINED
        needs = tuple(key for draw in unknown for key in draw.needs)
        if exceeds(high, limit_low):
            needs += kinds + tuple(key for draw in (*sure, *maybe) for key in draw.range_keys)
    else:
        outcome = Outcome.PASS
    named = ", ".join(draw.id for draw in (*sure, *maybe))
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=_says(outcome, named, low, high, limit_low, bool(unknown)),
        value=high if not unknown else low if outcome is Outcome.FAIL else None,
        limit=limit_low,
        unit="A",
        low=low,
        high=None if unknown else high,
        working=(
            *(f"{draw.id}: {_drawn(draw, circuit)}" for draw in (*sure, *maybe)),
            f"limit: {share.number:g} x {span(breaker.low, breaker.high, 'A')} = {span(limit_low, limit_high, 'A')}",
        ),
        sources=merge_sources((share.source,), draw_sources((*sure, *maybe))),
        needs=tuple(dict.fromkeys(needs)),
        assumed=tuple(f"{draw.id}: may be fastened in place, so it is counted at worst." for draw in maybe),
        assumed_keys=kinds,
        keys=tuple(draw.key for draw in (*sure, *maybe)),
        parts=tuple(Part(draw.id, draw.high_va / volts.low, draw.id) for draw in (*sure, *maybe) if not draw.needs),
        to_do=()
        if outcome is Outcome.PASS
        else (
            "Read the label of each fan and heater; if it stays like this, feed the new lights from another circuit.",
        ),
    )


def _is_fixed(load: Load) -> bool:
    return load.kind in FIXED_KINDS and load.connection == "hardwired"


def _may_be_fixed(load: Load) -> bool:
    """Equipment whose kind or connection nobody said."""
    if load.connection == CORD:
        return False
    return load.kind is None or (load.kind in FIXED_KINDS and load.connection is None)


def _shares(load: Load) -> bool:
    return load.kind in (LIGHT, RECEPTACLE) or load.connection == CORD


def _open_key(load: Load) -> str:
    return f"load.{load.id}.{'kind' if load.kind is None else 'connection'}"


def _drawn(draw: Draw, circuit: Circuit) -> str:
    if draw.needs:
        return "unknown"
    volts = circuit.supply.voltage_v
    return f"{draw.written} = {span(draw.low_va / volts.high, draw.high_va / volts.low, 'A')}"


def _says(outcome: Outcome, named: str, low: float, high: float, limit: float, unknown: bool) -> str:
    if outcome is Outcome.FAIL:
        return (
            f"Equipment fastened in place ({named}) takes {span(low, high, 'A')}, more than the "
            f"{span(limit, limit, 'A')} that it may take of a circuit shared with lights."
        )
    if unknown:
        return (
            f"Cannot tell whether equipment fastened in place takes too much of the circuit: {named} is not all known."
        )
    if outcome is Outcome.UNDETERMINED:
        return (
            f"Cannot tell whether equipment fastened in place takes too much: {named} may take {span(low, high, 'A')}, "
            f"and {span(limit, limit, 'A')} is the most on a circuit shared with lights."
        )
    takes = span(low, high, "A")
    return f"Equipment fastened in place ({named}) takes {takes} of the {span(limit, limit, 'A')} it may take."


RULE = Rule(
    name="fixed-equipment-share",
    title="Whether equipment fastened in place leaves half of a shared circuit free",
    family="capacity",
    uses=(*BRANCH_LOAD_USES, "value:fixed-equipment-share", "value:general-circuit-greatest-rating"),
    check=check,
)
