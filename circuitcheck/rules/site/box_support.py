"""Box and weight: whether the box behind each added light is made for it and holds its weight.

What it asks: what each box that carries an added light or paddle fan is made for, how it is held, its marked limit,
and the weight that hangs on it.

Why: a luminaire box is made to hold 50 lb; a device box may carry only a light luminaire, and only on a wall; a box
held by the wall finish may be made for no more. A fan shakes its box loose and needs one marked for fans.

What to do: read the marking inside the box (breaker off, tested dead), weigh the light with its glass, and fit a box
made for it where the two do not agree.

Cannot see: what the box is fastened to, cracked or stripped screws, and whether a light is held by the building
instead of its box.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitcheck.circuit.model import Box, Circuit, Load
from circuitcheck.findings import Finding, Outcome, Source, judge_at_most, merge_sources
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import EXISTING
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

OVERHEAD = ("ceiling", "pendant")


@dataclass(frozen=True, slots=True)
class _Limits:
    """Least and greatest weight [kg] that a box may hold, the keys that would settle it, and sources.

    ``wrong``: why the box is not made for what hangs on it at all, else empty.
    """

    least: float
    most: float
    needs: tuple[str, ...]
    sources: tuple[Source, ...]
    wrong: str = ""


def _fan_limits(box: Box, book: Rulebook) -> _Limits:
    """A fan wants a box marked for fans; the mark's own weight, if any, up to what any such box may hold."""
    unmarked, greatest = book.value("fan-box-unmarked-limit"), book.value("fan-box-greatest-limit")
    sources = (unmarked.source, greatest.source)
    if box.made_for not in (None, "fan"):
        return _Limits(0.0, 0.0, (), sources, f"is made for a {box.made_for}, and a fan wants a box marked for fans")
    marked = box.support_limit_kg
    low, high = (marked.low, marked.high) if marked is not None else (unmarked.number, unmarked.number)
    needs = () if marked is None or marked.exact else (f"box.{box.id}.support_limit",)
    if box.made_for is None:
        low, needs = 0.0, (*needs, f"box.{box.id}.made_for")
    return _Limits(min(low, greatest.number), min(high, greatest.number), needs, sources)


def _limits(box: Box, mounted: list[Load], book: Rulebook) -> _Limits:
    """What a box may hold of lights."""
    full, light = book.value("luminaire-box-support"), book.value("device-box-luminaire-weight")
    both = (light.source, full.source)
    marked = box.support_limit_kg
    limit_key, kind_key = f"box.{box.id}.support_limit", f"box.{box.id}.made_for"
    if box.made_for == "junction":
        return _Limits(0.0, 0.0, (), (full.source,), "is made for joints only, not to hold a light")
    if box.made_for == "device":
        overhead = [load for load in mounted if load.mounting in OVERHEAD]
        if overhead:
            return _Limits(0.0, 0.0, (), (light.source,), "is made for a device, which may hold a light on a wall only")
        open_keys = tuple(f"load.{load.id}.mounting" for load in mounted if load.mounting is None)
        return _Limits(0.0 if open_keys else light.number, light.number, open_keys, (light.source,))
    if marked is not None:
        return _Limits(marked.low, marked.high, () if marked.exact else (limit_key,), (full.source,))
    if box.made_for is None:
        return _Limits(light.number, full.number, (kind_key,), both)
    if box.mounting == "retrofit":
        return _Limits(light.number, full.number, (limit_key,), both)
    return _Limits(full.number, full.number, (), (full.source,))


def _weight(loads: list[Load]) -> tuple[float, float | None, list[str]]:
    """Least and greatest weight [kg] on a box, None where one is unknown, and the keys of those."""
    low = high = 0.0
    unknown: list[str] = []
    for load in loads:
        if load.weight_kg is None:
            unknown.append(f"load.{load.id}.weight")
        else:
            low += load.quantity * load.weight_kg.low
            high += load.quantity * load.weight_kg.high
    return low, (None if unknown else high), unknown


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each box with an added light or fan on it; value and limit in lb."""
    for box in circuit.boxes:
        mounted = [
            load
            for load in circuit.tree.loads_at.get(box.id, ())
            if load.kind in (None, "light", "fan") and load.mounting != "recessed" and load.connection != "cord"
        ]
        if not any(load.origin != EXISTING for load in mounted):
            continue
        yield _answer(box, mounted, book)


def _answer(box: Box, mounted: list[Load], book: Rulebook) -> Finding:
    fan = any(load.kind == "fan" and load.mounting != "wall" for load in mounted)
    limits = _fan_limits(box, book) if fan else _limits(box, mounted, book)
    least, most, limit_needs = limits.least, limits.most, limits.needs
    low, high, weight_needs = _weight(mounted)
    names = ", ".join(load.id for load in mounted)
    working = (
        f"on box {box.id}: {names}",
        f"weight: {in_unit(low, 'lb'):.3g} lb" + ("" if high is not None else " and what is unknown"),
        f"box made for: {box.made_for or 'unknown'}; held by: {box.mounting or 'unknown'}; "
        f"may hold {in_unit(least, 'lb'):.3g} lb" + (f" to {in_unit(most, 'lb'):.3g} lb" if most != least else ""),
    )
    needs: tuple[str, ...] = ()
    if limits.wrong:
        outcome, says = Outcome.FAIL, f"Box {box.id} {limits.wrong} ({names})."
    elif high is None:
        outcome, needs = Outcome.UNDETERMINED, (*weight_needs, *limit_needs)
        says = f"Cannot tell whether box {box.id} holds {names}: the weight is unknown."
    else:
        worst, best = judge_at_most(low, high, least), judge_at_most(low, high, most)
        outcome = worst if worst is best else Outcome.UNDETERMINED
        ranged = [f"load.{load.id}.weight" for load in mounted if load.weight_kg and not load.weight_kg.exact]
        needs = (*limit_needs, *ranged) if outcome is Outcome.UNDETERMINED else ()
        shown = f"{in_unit(high, 'lb'):.3g} lb"
        if outcome is Outcome.PASS:
            says = f"Box {box.id} holds {names}: {shown} of {in_unit(least, 'lb'):.3g} lb."
        elif outcome is Outcome.FAIL:
            says = f"Box {box.id} may hold {in_unit(most, 'lb'):.3g} lb, and {names} weighs {shown}."
        else:
            depends = "what the box is made for or where it is" if limit_needs else "what they really weigh"
            says = f"Box {box.id} may be too weak for {names} ({shown}): it depends on {depends}."
    return Finding(
        check=RULE.name,
        subject=box.id,
        outcome=outcome,
        says=says,
        value=None if high is None else in_unit(high, "lb"),
        limit=in_unit(least, "lb"),
        unit="lb",
        low=None if high is None else in_unit(low, "lb"),
        high=None if high is None else in_unit(high, "lb"),
        working=working,
        sources=merge_sources(limits.sources),
        needs=needs,
        keys=(f"box.{box.id}.made_for", *weight_needs),
        to_do=()
        if outcome is Outcome.PASS
        else (
            "Read the marking in the box (breaker off, tested dead) and the weight on the carton; "
            "else fit a box made for it.",
        ),
    )


RULE = Rule(
    name="box-support",
    title="A box made for the light and its weight",
    family="site",
    uses=(
        "value:luminaire-box-support",
        "value:device-box-luminaire-weight",
        "value:fan-box-unmarked-limit",
        "value:fan-box-greatest-limit",
    ),
    check=check,
)
