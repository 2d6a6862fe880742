"""Dimmers and other controls: rated watts for LED, least load and number of lamps.

What it asks: the rated LED watts, the least load and the most lamps of each control, against the lights and drivers
that it works, and whether it works anything that it should not.

Why: the watts in large print are for incandescent lamps. For LED the same dimmer may carry a quarter of that or less,
and below its least load it flickers or glows. A dimmer on a receptacle can destroy what is plugged in.

What to do: read the LED rating on the instructions. When it is not printed, it is not known: pick a control that
states it.

Cannot see: whether lamp and dimmer get along; makers' lists of tried pairs decide that. Ratings in volt-amperes, and
the lower rating of a dimmer whose fins were broken off to sit beside others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from circuitcheck.circuit.model import Circuit, Control, Load, Supply
from circuitcheck.findings import Finding, Outcome, Part, Source, judge_at_least, judge_at_most, merge_sources
from circuitcheck.quantities import Interval
from circuitcheck.rules.driver_draw import DRIVER_DRAW_USES, driver_draw
from circuitcheck.rules.parts import EXISTING
from circuitcheck.rules.rule import Rule
from circuitcheck.rules.site.switched_feed import loads_killed_by
from circuitcheck.tables.rulebook import Rulebook

INCANDESCENT = ("incandescent", "halogen")
PLUGGED = "receptacle"
TO_DO = "Read the LED rating, the least load and the number of lamps in the control's instructions."


@dataclass(frozen=True, slots=True)
class _Works:
    """What one control works: real power [W] by part, keys that are unknown or ranged, lamps, and what hangs on it."""

    parts: tuple[Part, ...]
    low: float
    high: float
    fitted: float
    unknown: tuple[str, ...]
    ranged: tuple[str, ...]
    lamps: int
    incandescent: bool
    plugged: tuple[str, ...]


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Up to four findings for each dimmer or sensor that new work touches: watts, least load, lamps, receptacles."""
    source, permanent = book.value("control-ratings").source, book.value("dimmer-on-fixed-lights").source
    controls = {control.id: control for control in circuit.controls}
    for control_id, names in loads_killed_by(circuit).items():
        control = controls.get(control_id)
        if control is None or control.kind in (None, "switch") or not _touched(circuit, control, names):
            continue
        works, more = _works(circuit, names, book)
        for finding in _findings(control, works):
            yield replace(finding, sources=merge_sources((source,), more))
        if works.plugged:
            yield replace(_plugged(control, works.plugged), sources=(permanent,))


def _touched(circuit: Circuit, control: Control, names: Sequence[str]) -> bool:
    """Whether the control itself or something that it works is added."""
    tree = circuit.tree
    return bool(names) and (
        control.origin != EXISTING
        or any(tree.load[name].origin != EXISTING for name in names if name in tree.load)
        or any(tree.driver[name].origin != EXISTING for name in names if name in tree.driver)
    )


def _works(circuit: Circuit, names: Sequence[str], book: Rulebook) -> tuple[_Works, tuple[Source, ...]]:
    tree = circuit.tree
    loads = [tree.load[name] for name in names if name in tree.load]
    lights = [load for load in loads if load.kind != PLUGGED]
    parts: list[Part] = []
    unknown: list[str] = []
    ranged: list[str] = []
    low = high = fitted = 0.0
    for load in lights:
        watts = _watts(load, circuit.supply)
        if watts is None:
            unknown.append(f"load.{load.id}.power")
            continue
        low, high = low + load.quantity * watts.low, high + load.quantity * watts.high
        fitted += load.quantity * (load.fitted_w or watts).low
        parts.append(Part(load.id, load.quantity * watts.high, load.id))
        ranged += [] if watts.exact else [f"load.{load.id}.power"]
    sources: list[Source] = []
    for name in names:
        if name in tree.driver:
            drawn = driver_draw(tree.driver[name], circuit.supply, book)
            if drawn.low_w is None or drawn.high_w is None:
                unknown += drawn.needs
                continue
            low, high, fitted = low + drawn.low_w, high + drawn.high_w, fitted + drawn.low_w
            parts.append(Part(name, drawn.high_w, name))
            ranged += drawn.assumed_keys
            sources += drawn.sources
    works = _Works(
        parts=tuple(parts),
        low=low,
        high=high,
        fitted=fitted,
        unknown=tuple(unknown),
        ranged=tuple(ranged),
        lamps=sum(load.quantity for load in lights),
        incandescent=bool(lights) and len(loads) == len(names) and all(load.lamp in INCANDESCENT for load in lights),
        plugged=tuple(load.id for load in loads if load.kind == PLUGGED),
    )
    return works, tuple(sources)


def _watts(load: Load, supply: Supply) -> Interval | None:
    """The real power of one piece [W]; where only volt-amperes or amperes are known they stand in, being more."""
    if load.power_w is not None:
        return load.power_w
    if load.apparent_va is not None:
        return load.apparent_va
    if load.current_a is not None:
        return Interval(load.current_a.low * supply.voltage_v.low, load.current_a.high * supply.voltage_v.high)
    return None


def _findings(control: Control, works: _Works) -> Iterator[Finding]:
    if works.parts or works.unknown:
        yield _rated(control, works)
    if control.min_load_w is not None and works.parts and not works.unknown:
        least = control.min_load_w
        yield _one(
            control,
            judge_at_least(works.fitted, works.fitted, least.high, under=Outcome.CAUTION),
            f"{control.id} asks for at least {least.high:.3g} W, and its lamps draw {works.fitted:.3g} W.",
            (works.fitted, works.fitted, least.high),
            keys=(f"control.{control.id}.min_load",),
        )
    if control.max_lamps is not None and works.lamps:
        lamps = float(works.lamps)
        found = _one(
            control,
            Outcome.FAIL if works.lamps > control.max_lamps else Outcome.PASS,
            f"{control.id} works {works.lamps} lamps; it is made for at most {control.max_lamps}.",
            (lamps, lamps, float(control.max_lamps)),
            keys=(f"control.{control.id}.max_lamps",),
        )
        yield replace(found, unit="lamps")


def _rated(control: Control, works: _Works) -> Finding:
    rating = control.rated_incandescent_w if works.incandescent else control.rated_led_w
    key = f"control.{control.id}.{'rated_incandescent' if works.incandescent else 'rated_led'}"
    kind = "incandescent" if works.incandescent else "LED"
    if rating is None or works.unknown:
        missing = f"its {kind} rating is not known" if rating is None else "not all of the watts are known"
        headline = ""
        if rating is None and not works.incandescent and control.rated_incandescent_w is not None:
            headline = ", and its incandescent rating does not stand in for it"
        says = f"Cannot tell whether {control.id} carries its {kind} lights: {missing}{headline}."
        needs = (*((key,) if rating is None else ()), *works.unknown)
        return _one(control, Outcome.UNDETERMINED, says, None, needs=needs, keys=(key,))
    best, worst = judge_at_most(works.low, works.high, rating.high), judge_at_most(works.low, works.high, rating.low)
    outcome = worst if worst is best else Outcome.UNDETERMINED
    rated = f"{rating.low:.3g} W" if rating.exact else f"{rating.low:.3g} to {rating.high:.3g} W"
    found = _one(
        control,
        outcome,
        f"{control.id} works {works.high:.3g} W of {kind} lights; it is rated {rated}.",
        (works.low, works.high, rating.low),
        needs=(*works.ranged, *(() if rating.exact else (key,))) if outcome is Outcome.UNDETERMINED else (),
        keys=(key,),
    )
    return replace(found, parts=works.parts)


def _plugged(control: Control, plugged: Sequence[str]) -> Finding:
    dimmer = control.kind == "dimmer"
    return _one(
        control,
        Outcome.FAIL if dimmer else Outcome.CAUTION,
        f"{control.id} works a receptacle ({', '.join(plugged)}): a {control.kind} works fixed lights, unless it is "
        "listed for more.",
        None,
        keys=(f"control.{control.id}.kind",),
    )


def _one(
    control: Control,
    outcome: Outcome,
    says: str,
    numbers: tuple[float, float, float] | None,
    *,
    needs: tuple[str, ...] = (),
    keys: tuple[str, ...] = (),
) -> Finding:
    """``numbers``: low, high and limit; a least load is judged by its low end, which is then its only one."""
    low, high, limit = numbers or (None, None, None)
    return Finding(
        check=RULE.name,
        subject=control.id,
        outcome=outcome,
        says=says,
        value=high,
        limit=limit,
        low=low,
        high=high,
        unit="W" if numbers else None,
        needs=needs,
        keys=keys,
        to_do=() if outcome is Outcome.PASS else (TO_DO,),
    )


RULE = Rule(
    name="dimmer-rating",
    title="What a dimmer or sensor carries",
    family="site",
    uses=("value:control-ratings", "value:dimmer-on-fixed-lights", *DRIVER_DRAW_USES),
    check=check,
)
