"""Cord-and-plug load: whether one thing that is plugged in takes too much of the circuit.

What it asks: the rating of each single cord-and-plug load, and of what the file says is plugged into a receptacle,
against four fifths of the breaker.

Why: a plug-in heater of 1500 W takes nearly all of a 15 A circuit by itself. A list of lights alone misses it.

What to do: plug such a thing in elsewhere, or count it before adding lights.

Cannot see: what will be plugged in later, and several things on one receptacle. Circuits other than those of 15 and
20 A have rules of their own and are left out.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.circuit.model import Circuit, Load
from circuitcheck.findings import Finding, Outcome, exceeds, merge_sources
from circuitcheck.rules.branch_loads import BRANCH_LOAD_USES, RECEPTACLE, branch_draws, span
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

CORD = "cord"


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for each known cord-and-plug load [A], by its id."""
    share = book.value("cord-load-share")
    breaker, volts = circuit.supply.breaker_a, circuit.supply.voltage_v
    plugged = {f"load.{load.id}": load for load in circuit.loads if _is_plugged_in(load)}
    if not plugged or breaker.low > book.value("general-circuit-greatest-rating").number:
        return
    limit_low, limit_high = share.number * breaker.low, share.number * breaker.high
    limit = span(limit_low, limit_high, "A")
    for draw in branch_draws(circuit, book):
        load = plugged.get(draw.key)
        if load is None or draw.needs:
            continue  # load-share asks for an unknown load already
        low, high = draw.low_va / volts.high / load.quantity, draw.high_va / volts.low / load.quantity
        takes = span(low, high, "A")
        needs: tuple[str, ...] = ()
        if exceeds(low, limit_high):
            outcome = Outcome.FAIL
            says = f"{load.id} alone takes {takes}, more than the {limit} that one plugged-in thing may take."
        elif exceeds(high, limit_low):
            outcome = Outcome.UNDETERMINED
            needs = draw.range_keys
            says = f"Cannot tell whether {load.id} takes too much: {takes}, and one plugged-in thing may take {limit}."
        else:
            outcome = Outcome.PASS
            says = f"{load.id} takes {takes} of the {limit} that one plugged-in thing may take."
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            value=high,
            limit=limit_low,
            unit="A",
            low=low,
            high=high,
            working=(
                f"{draw.written}: {takes} a piece at {span(volts.low, volts.high, 'V')}",
                f"limit: {share.number:g} x {span(breaker.low, breaker.high, 'A')} = {limit}",
            ),
            sources=merge_sources((share.source,), draw.sources),
            needs=needs,
            assumed=draw.assumed,
            assumed_keys=draw.assumed_keys,
            keys=(draw.key,),
            to_do=()
            if outcome is Outcome.PASS
            else ("Use it on a circuit of its own before lights are added to this one.",),
        )


def _is_plugged_in(load: Load) -> bool:
    """Cord-connected, or a receptacle for which the file says what is plugged in."""
    if load.quantity < 1:
        return False
    said = load.power_w is not None or load.apparent_va is not None or load.current_a is not None
    return load.connection == CORD or (load.kind == RECEPTACLE and said)


RULE = Rule(
    name="cord-load-share",
    title="Whether one thing that is plugged in takes too much of the circuit",
    family="capacity",
    uses=(*BRANCH_LOAD_USES, "value:cord-load-share", "value:general-circuit-greatest-rating"),
    check=check,
)
