"""Findings of the clearance check: a sentence about one light, or a distance in inches against its limit."""

from __future__ import annotations

from circuitcheck.circuit.model import Load
from circuitcheck.findings import Finding, Outcome, judge_at_least
from circuitcheck.quantities import Interval, in_unit
from circuitcheck.tables.rulebook import Value


def clearance_finding(
    check: str,
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
    """One finding about one light; distances in inches."""
    return Finding(
        check=check,
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


def distance_finding(check: str, load: Load, has: Interval | None, limit: Value, key: str, words: str) -> Finding:
    """A distance against the least that is asked for; a reminder where the file does not say it."""
    limit_in = in_unit(limit.number, "in")
    if has is None:
        says = f"Keep {load.id} at least {limit_in:g} in {words}."
        return clearance_finding(check, load, Outcome.CAUTION, says, limit, keys=(key,))
    outcome = judge_at_least(has.low, has.high, limit.number)
    says = f"{load.id} is {in_unit(has.low, 'in'):.3g} in {words}; at least {limit_in:g} in is asked for."
    return clearance_finding(
        check,
        load,
        outcome,
        says,
        limit,
        value=has,
        limit_m=limit.number,
        keys=(key,),
        needs=(key,) if outcome is Outcome.UNDETERMINED else (),
    )
