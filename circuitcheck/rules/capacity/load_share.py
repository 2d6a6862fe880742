"""Load share: whether the breaker can carry everything on the circuit, existing and added.

What it asks: the rated draw of every load and driver in volt-amperes at nominal voltage, those that are on for three
hours or more counted a quarter more, against the rating of the breaker.

Why: a breaker that is loaded past its rating trips, and one that runs hot for hours wears out. The rated load counts
and not the lamp that happens to be in today, since the next lamp may be bigger.

What to do: list everything that goes dead with this breaker, also outdoors, in the garage and in the attic. When it
is too much, feed the new lights from another circuit, or take smaller ones.

Cannot see: a load that nobody listed, what will be plugged into a receptacle, and the extra current when a motor
starts.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Part, exceeds, merge_sources
from circuitcheck.quantities import rounded_down
from circuitcheck.rules.branch_loads import (
    BRANCH_LOAD_USES,
    Amperes,
    Draw,
    amperes_of,
    branch_draws,
    draw_sources,
    span,
    total_amperes,
)
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for the whole circuit [A]."""
    supply = circuit.supply
    breaker = supply.breaker_a
    factor = book.value("continuous-load-factor")
    caution = book.value("loading-caution-share")
    hours = book.value("continuous-load-time")
    draws = branch_draws(circuit, book)
    total = total_amperes(draws, supply, factor.number)
    plain = total_amperes(draws, supply, 1.0)
    unknown = [draw for draw in draws if draw.needs]
    unsaid = [draw for draw in draws if draw.continuous is None and not draw.needs]
    over_share = exceeds(plain.high, caution.number * breaker.low)
    outcome = _outcome(total, plain, circuit, bool(unknown), over_share)
    fit_hangs_on_time = exceeds(total.worst, breaker.low) and not exceeds(total.high, breaker.low)
    ranged = tuple(key for draw in draws for key in draw.range_keys)
    needs: tuple[str, ...] = ()
    if outcome is Outcome.UNDETERMINED:
        needs = tuple(key for draw in unknown for key in draw.needs)
        needs += ranged if exceeds(total.high, breaker.low) else ()
        needs += () if breaker.exact else ("supply.breaker",)
    assumed = tuple(sentence for draw in draws for sentence in draw.assumed)
    assumed_keys = tuple(key for draw in draws for key in draw.assumed_keys)
    if unsaid:
        assumed += (
            f"Nobody said whether these stay on for {_hours(hours.number)} hours or more, so they are counted both "
            f"ways: {_named(unsaid)}.",
        )
        assumed_keys += tuple(f"{draw.key}.continuous" for draw in unsaid)
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=_says(total, circuit, unknown, outcome, fit_hangs_on_time, over_share, caution.number),
        value=total.worst if not unknown else total.low if outcome is Outcome.FAIL else None,
        limit=breaker.low,
        unit="A",
        low=total.low,
        high=None if unknown else total.worst,
        working=tuple(_working(draws, total, plain, circuit, factor.number, hours.number)),
        sources=merge_sources((factor.source,), draw_sources(draws), (caution.source,) if over_share else ()),
        needs=needs,
        assumed=assumed,
        assumed_keys=assumed_keys,
        keys=("supply.breaker", *needs),
        parts=tuple(
            Part(draw.id, amperes_of(draw, supply, factor.number).worst, draw.id) for draw in draws if not draw.needs
        ),
        to_do=_to_do(outcome, unknown, fit_hangs_on_time),
    )


def _outcome(total: Amperes, plain: Amperes, circuit: Circuit, unknown: bool, over_share: bool) -> Outcome:
    breaker = circuit.supply.breaker_a
    if exceeds(total.low, breaker.high):
        return Outcome.FAIL
    if unknown or exceeds(total.high, breaker.low):
        return Outcome.UNDETERMINED
    if exceeds(total.worst, breaker.low) or over_share:
        return Outcome.CAUTION
    return Outcome.PASS


def _says(
    total: Amperes,
    circuit: Circuit,
    unknown: Sequence[Draw],
    outcome: Outcome,
    fit_hangs_on_time: bool,
    over_share: bool,
    share: float,
) -> str:
    breaker = circuit.supply.breaker_a
    rating = span(breaker.low, breaker.high, "A")
    if outcome is Outcome.FAIL:
        more = ", and loads that nobody knows yet come on top" if unknown else ""
        load = span(total.low, total.worst, "A")
        return f"The circuit would carry {load}, more than its {rating} {_device(circuit)}{more}."
    if unknown:
        left = breaker.low - total.low
        return (
            f"Cannot tell whether the {rating} {_device(circuit)} is enough: the known loads take "
            f"{span(total.low, total.worst, 'A')} and leave at most {rounded_down(left)} A, but nobody knows yet what "
            f"these draw: {_named(unknown)}."
        )
    if outcome is Outcome.UNDETERMINED:
        return (
            f"Cannot tell whether the {rating} {_device(circuit)} is enough: the circuit carries "
            f"{span(total.low, total.worst, 'A')}, depending on what is still open."
        )
    if fit_hangs_on_time:
        return (
            f"The circuit carries {span(total.low, total.high, 'A')} and fits its {rating} {_device(circuit)} only if "
            f"the loads that nobody spoke about are not on for hours; counted as on for hours they make it "
            f"{shown_number(total.worst)} A."
        )
    left = breaker.low - total.worst
    past = f", past the {100 * share:.0f} % to which many electricians plan" if over_share else ""
    return (
        f"The circuit carries {span(total.low, total.worst, 'A')} of its {rating} {_device(circuit)}{past}; "
        f"{rounded_down(left)} A are left."
    )


def _working(
    draws: Sequence[Draw], total: Amperes, plain: Amperes, circuit: Circuit, factor: float, hours: float
) -> Iterable[str]:
    """Each load's line, then both readings of the sum and which of them applies."""
    supply = circuit.supply
    volts = span(supply.voltage_v.low, supply.voltage_v.high, "V")
    fitted = 0.0
    any_fitted = False
    for draw in draws:
        if draw.needs:
            yield f"{draw.id}: unknown"
            continue
        one = amperes_of(draw, supply, 1.0)
        drawn = f"{span(draw.low_va, draw.high_va, 'VA')} / {volts} = {span(one.low, one.high, 'A')}"
        line = f"{draw.id}: {draw.written} = {drawn}"
        if draw.continuous:
            line += f", continuous: x {factor:g} = {span(one.low * factor, one.high * factor, 'A')}"
        if draw.fitted_va is not None:
            any_fitted = True
            line += f" (with the lamp in it today {shown_number(draw.fitted_va)} VA; the rated load counts)"
        yield line
        fitted += draw.high_va if draw.fitted_va is None else draw.fitted_va
    if any(draw.added for draw in draws):
        for word, those in (("there already", False), ("added", True)):
            one = total_amperes((draw for draw in draws if draw.added is those), supply, factor)
            yield f"{word}: {span(one.low, one.worst, 'A')}"
    as_continuous = span(plain.low * factor, plain.high * factor, "A")
    yield f"as if nothing were on for {_hours(hours)} hours or more: {span(plain.low, plain.high, 'A')}"
    yield f"as if everything were (x {factor:g}, the 80 % of common talk): {as_continuous}"
    yield f"as the file says: {span(total.low, total.worst, 'A')}; {_which_applies(draws)}"
    if any_fitted:
        today = shown_number(fitted / supply.voltage_v.low)
        yield f"with the lamps that are in today: {today} A (beside it, never instead)"
    left = supply.breaker_a.low - total.worst
    if left >= 0 and not any(draw.needs for draw in draws):
        yield f"left: {rounded_down(left)} A, {rounded_down(left * supply.voltage_v.low)} VA at {volts}"


def _which_applies(draws: Sequence[Draw]) -> str:
    said = {draw.continuous for draw in draws}
    if said <= {False}:
        return "the first reading applies, since the file calls no load continuous"
    if said == {True}:
        return "the second reading applies, since the file calls every load continuous"
    if None in said:
        return "which reading applies to the loads that nobody spoke about depends on how long they stay on"
    return "continuous loads count by the second reading and the rest by the first"


def _to_do(outcome: Outcome, unknown: Sequence[Draw], fit_hangs_on_time: bool) -> tuple[str, ...]:
    if outcome is Outcome.FAIL:
        return ("Feed the new lights from another circuit, or take loads off this one; a bigger breaker is no answer.",)
    if unknown:
        return ("Read the label of each unknown load (watts, volt-amperes or amperes).",)
    if fit_hangs_on_time:
        return ("Say for each load whether it stays on for three hours or more at a time.",)
    if outcome is Outcome.CAUTION:
        return ("Where there is a choice, feed the new lights from a circuit with more left.",)
    return ()


def _device(circuit: Circuit) -> str:
    return "fuse" if circuit.supply.device == "fuse" else "breaker"


def _named(draws: Sequence[Draw], most: int = 6) -> str:
    names = ", ".join(draw.id for draw in draws[:most])
    return names if len(draws) <= most else f"{names} and {len(draws) - most} more"


def _hours(seconds: float) -> str:
    return shown_number(seconds / 3600)


RULE = Rule(
    name="load-share",
    title="Whether the breaker can carry everything on the circuit",
    family="capacity",
    uses=(*BRANCH_LOAD_USES, "value:loading-caution-share", "value:continuous-load-time"),
    check=check,
)
