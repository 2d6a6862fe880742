"""Box and weight: whether the box behind each added light is made for it and holds its weight.

What it asks: what each box that carries an added light is made for, how it is held, its marked limit, and the weight
that hangs on it.

Why: a luminaire box is made to hold 50 lb; a device box on a wall may carry only a light luminaire; a box held by the
wall finish may be made for no more. A fan shakes its box loose and needs one marked for fans.

What to do: read the marking inside the box (breaker off, tested dead), weigh the light with its glass, and fit a box
made for it where the two do not agree.

Cannot see: what the box is fastened to, and cracked or stripped screws.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Box, Circuit, Load
from circuitcheck.findings import Finding, Outcome, Source, judge_at_most, merge_sources
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import EXISTING
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def _limits(box: Box, fan: bool, book: Rulebook) -> tuple[float, float, list[str], list[Source]]:
    """Least and greatest weight [kg] that the box may hold, the keys that would settle it, and sources."""
    full, light = book.value("luminaire-box-support"), book.value("device-box-luminaire-weight")
    fan_limit = book.value("fan-box-unmarked-limit")
    if box.support_limit_kg is not None:
        ranged = [] if box.support_limit_kg.exact else [f"box.{box.id}.support_limit"]
        return box.support_limit_kg.low, box.support_limit_kg.high, ranged, [full.source]
    limit_key, kind_key = f"box.{box.id}.support_limit", f"box.{box.id}.made_for"
    if fan:
        top = fan_limit.number if box.made_for == "fan" else 0.0
        return (
            (0.0 if box.made_for is None else top),
            fan_limit.number if box.made_for in (None, "fan") else 0.0,
            ([kind_key] if box.made_for is None else []),
            [fan_limit.source],
        )
    if box.made_for in ("luminaire", "fan"):
        if box.mounting == "retrofit":
            return light.number, full.number, [limit_key], [light.source, full.source]
        return full.number, full.number, [], [full.source]
    if box.made_for == "device":
        return light.number, light.number, [], [light.source]
    if box.made_for is not None:
        return 0.0, 0.0, [], [full.source]
    return light.number, full.number, [kind_key], [light.source, full.source]


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
    fan = any(load.kind == "fan" for load in mounted)
    least, most, limit_needs, sources = _limits(box, fan, book)
    low, high, weight_needs = _weight(mounted)
    names = ", ".join(load.id for load in mounted)
    working = (
        f"on box {box.id}: {names}",
        f"weight: {in_unit(low, 'lb'):.3g} lb" + ("" if high is not None else " and what is unknown"),
        f"box made for: {box.made_for or 'unknown'}; held by: {box.mounting or 'unknown'}; "
        f"may hold {in_unit(least, 'lb'):.3g} lb" + (f" to {in_unit(most, 'lb'):.3g} lb" if most != least else ""),
    )
    needs: tuple[str, ...] = ()
    if most == 0.0:
        outcome = Outcome.FAIL
        says = f"Box {box.id} is made for a {box.made_for}, not for what is to hang on it ({names})."
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
            depends = "what the box is made for" if limit_needs else "what they really weigh"
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
        sources=merge_sources(sources),
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
    uses=("value:luminaire-box-support", "value:device-box-luminaire-weight", "value:fan-box-unmarked-limit"),
    check=check,
)
