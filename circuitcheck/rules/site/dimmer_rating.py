"""Dimmers and other controls: rated watts for LED, least load and number of lamps.

What it asks: the rated LED watts, the least load and the most lamps of each control, against the lights that it
works.

Why: the watts in large print are for incandescent lamps. For LED the same dimmer may carry a quarter of that or less,
and below its least load it flickers or glows.

What to do: read the LED rating on the instructions. When it is not printed, it is not known: pick a control that
states it.

Cannot see: whether lamp and dimmer get along. Makers' lists of tried pairs decide that.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from circuitcheck.circuit.model import Circuit, Control, Load
from circuitcheck.findings import Finding, Outcome, judge_at_least, judge_at_most
from circuitcheck.quantities import Interval
from circuitcheck.rules.rule import Rule
from circuitcheck.rules.site.switched_feed import loads_killed_by
from circuitcheck.tables.rulebook import Rulebook

INCANDESCENT = ("incandescent", "halogen")


def _watts(loads: list[Load]) -> tuple[float, float, list[str]]:
    """Least and greatest real power [W] of the loads, and keys of those whose power is unknown."""
    low = high = 0.0
    unknown: list[str] = []
    for load in loads:
        if load.power_w is None:
            unknown.append(f"load.{load.id}.power")
        else:
            low += load.quantity * load.power_w.low
            high += load.quantity * load.power_w.high
    return low, high, unknown


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Up to three findings for each dimmer or sensor: rated watts, least load, number of lamps."""
    source = book.value("control-ratings").source
    loads = circuit.tree.load
    for control_id, names in loads_killed_by(circuit).items():
        control = next((c for c in circuit.controls if c.id == control_id), None)
        if control is None or control.kind in (None, "switch") or not names:
            continue
        yield from (replace(finding, sources=(source,)) for finding in _findings(control, [loads[n] for n in names]))


def _findings(control: Control, loads: list[Load]) -> Iterator[Finding]:
    low, high, unknown = _watts(loads)
    incandescent = all(load.lamp in INCANDESCENT for load in loads)
    name = "rated_incandescent" if incandescent else "rated_led"
    rating = control.rated_incandescent_w if incandescent else control.rated_led_w
    key = f"control.{control.id}.{name}"
    kind = "incandescent" if incandescent else "LED"
    if rating is None or unknown:
        headline = (
            ""
            if incandescent or control.rated_incandescent_w is None
            else ", and its incandescent rating does not stand in for it"
        )
        yield _one(
            control,
            Outcome.UNDETERMINED,
            f"Cannot tell whether {control.id} carries its {kind} lights: not all of the watts are known{headline}.",
            needs=(*((key,) if rating is None else ()), *unknown),
            keys=(key,),
        )
    else:
        at_least, at_most = judge_at_most(low, high, rating.high), judge_at_most(low, high, rating.low)
        outcome = at_least if at_least is at_most else Outcome.UNDETERMINED
        ranged = [f"load.{load.id}.power" for load in loads if load.power_w is not None and not load.power_w.exact]
        yield _one(
            control,
            outcome,
            f"{control.id} works {high:.3g} W of {kind} lights; it is rated {_span(rating)}.",
            value=high,
            limit=rating.low,
            low=low,
            high=high,
            keys=(key,),
            needs=(*ranged, *(() if rating.exact else (key,))) if outcome is Outcome.UNDETERMINED else (),
        )
    if control.min_load_w is not None and not unknown:
        yield _least(control, control.min_load_w, loads)
    if control.max_lamps is not None:
        lamps = sum(load.quantity for load in loads)
        outcome = Outcome.FAIL if lamps > control.max_lamps else Outcome.PASS
        yield _one(
            control,
            outcome,
            f"{control.id} works {lamps} lamps; it is made for at most {control.max_lamps}.",
            value=float(lamps),
            limit=float(control.max_lamps),
            low=float(lamps),
            high=float(lamps),
            unit="lamps",
            keys=(f"control.{control.id}.max_lamps",),
        )


def _span(rating: Interval) -> str:
    return f"{rating.low:.3g} W" if rating.exact else f"{rating.low:.3g} to {rating.high:.3g} W"


def _least(control: Control, least: Interval, loads: list[Load]) -> Finding:
    """The least load against the lamps as fitted, where the file says, else as rated."""
    value = sum(load.quantity * lamp.low for load in loads if (lamp := load.fitted_w or load.power_w))
    outcome = judge_at_least(value, value, least.high, under=Outcome.CAUTION)
    return _one(
        control,
        outcome,
        f"{control.id} asks for at least {least.high:.3g} W, and its lamps draw {value:.3g} W.",
        value=value,
        limit=least.high,
        low=value,
        high=value,
        keys=(f"control.{control.id}.min_load",),
    )


def _one(
    control: Control,
    outcome: Outcome,
    says: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    low: float | None = None,
    high: float | None = None,
    unit: str = "W",
    needs: tuple[str, ...] = (),
    keys: tuple[str, ...] = (),
) -> Finding:
    return Finding(
        check=RULE.name,
        subject=control.id,
        outcome=outcome,
        says=says,
        value=value,
        limit=limit,
        low=low,
        high=high,
        unit=unit if value is not None else None,
        needs=needs,
        keys=keys,
        to_do=()
        if outcome is Outcome.PASS
        else ("Read the LED rating, the least load and the number of lamps in the control's instructions.",),
    )


RULE = Rule(
    name="dimmer-rating",
    title="What a dimmer or sensor carries",
    family="site",
    uses=("value:control-ratings",),
    check=check,
)
