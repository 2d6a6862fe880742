"""Voltage under load: what a meter reading at the last outlet says about the joints.

What it asks: the voltage at the last outlet with a known load there, against the voltage without it and against what
the wire alone would lose.

Why: a loose joint does not show in any table. It shows as volts lost that length and size of the wire do not explain.

What to do: measure at a receptacle with a plug-in meter, first without and then with a heater or another steady load
plugged in beside it. When far more is lost than the wire explains, stop and have the joints looked at.

Cannot see: where the bad joint is, nor a joint that only fails when it is warm or moved.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, exceeds, judge_at_most
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

KEYS = ("supply.loaded_voltage", "supply.measured_voltage", "supply.loaded_current")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding where a loaded voltage is given; value and limit in percent of the unloaded voltage."""
    supply = circuit.supply
    loaded = supply.loaded_voltage_v
    if loaded is None:
        return
    limit = book.value("loaded-voltage-loss-to-look-into")
    unloaded = supply.measured_voltage_v
    if unloaded is None:
        yield Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.UNDETERMINED,
            says=f"{loaded.low:.4g} V was read under load; the reading without the load is missing.",
            sources=(limit.source,),
            needs=(KEYS[1],),
            keys=KEYS,
        )
        return
    high = 100.0 * (unloaded.high - loaded.low) / unloaded.high
    low = 100.0 * (unloaded.low - loaded.high) / unloaded.low
    outcome = judge_at_most(low, high, limit.number, over=Outcome.CAUTION)
    if exceeds(loaded.low, unloaded.high + book.value("loaded-voltage-rise").number):
        yield Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.UNDETERMINED,
            says=f"Cannot tell what is lost under load: {loaded.low:.4g} V with the load is more than "
            f"{unloaded.high:.4g} V without it.",
            sources=(limit.source,),
            needs=KEYS[:2],
            keys=KEYS,
        )
        return
    working = [f"({unloaded.high:.4g} V - {loaded.low:.4g} V) / {unloaded.high:.4g} V = {high:.3g} %"]
    current = supply.loaded_current_a
    if current is not None and current.low > 0:
        ohms = (unloaded.high - loaded.low) / current.low
        working.append(f"loop resistance: {unloaded.high - loaded.low:.3g} V / {current.low:.3g} A = {ohms:.3g} ohm")
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=(
            f"The voltage falls by {high:.3g} % when the load is plugged in; over {limit.number:.3g} % is "
            "worth looking into."
        ),
        value=high,
        limit=limit.number,
        unit="percent",
        low=low,
        high=high,
        working=tuple(working),
        sources=(limit.source,),
        keys=KEYS,
        to_do=()
        if outcome is Outcome.PASS
        else (
            "Leave the breaker off and let a licensed electrician look at the joints of this circuit "
            "before adding to it.",
        ),
    )


RULE = Rule(
    name="loaded-voltage",
    title="A voltage reading under load",
    family="site",
    uses=("value:loaded-voltage-loss-to-look-into", "value:loaded-voltage-rise"),
    check=check,
)
