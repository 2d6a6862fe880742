"""Load share: whether the breaker can carry everything on the circuit, existing and added.

What it asks: the rated draw of every load and driver in volt-amperes at nominal voltage against the rating of the
breaker. What is continuous (3 hours or more) counts a quarter more, a fixed space heater always, and so does the
largest motor over 1/8 hp that is fastened in place. A current that was measured counts where it is larger than the
existing loads on the list.

Why: a breaker that is loaded past its rating trips, and one that runs hot for hours wears out. The rated load counts
and not the lamp that happens to be in today, since the next lamp may be bigger.

What to do: list everything that goes dead with this breaker, also outdoors, in the garage and in the attic. When it
is too much, feed the new lights from another circuit, or take smaller ones.

Cannot see: a load that nobody listed or measured, what will be plugged into a receptacle, motors other than those of
fans, and the extra current when a motor starts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.case import (
    EACH,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Later,
    Rounding,
    Rows,
    Said,
    Things,
    said,
)
from circuitcheck.case.parts import Load, Supply
from circuitcheck.domain.directions import DRAW_WORSE, GONE_WORSE, volts_are_worse, volts_turn
from circuitcheck.domain.draws import Draw, count_sources, draws, is_continuous, line_current, motor_surcharge
from circuitcheck.domain.existing_load import existing_load
from circuitcheck.findings import Outcome, Part, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

_TO_DO = {
    Outcome.FAIL: (
        "Feed the new lights from another circuit, or take loads off this one; a bigger breaker is not the answer.",
    ),
    Outcome.UNDETERMINED: ("Read the label of each unknown load (watts, volt-amperes or amperes).",),
    Outcome.CAUTION: ("Where there is a choice, feed the new lights from a circuit with more capacity left.",),
}


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer:
    """What the whole circuit carries [A]."""
    breaker = supply.breaker_a
    factor, caution = book.value("continuous-load-factor"), book.value("loading-caution-share")
    drawn = draws(case)
    counted = [(draw, line_current(case, draw)) for draw in drawn]
    surplus = existing_load(case).surplus
    total, plain = sum(amperes for _, amperes in counted) + surplus, sum(draw.amperes for draw in drawn) + surplus
    continuous = total + (factor.number - 1.0) * surplus
    fits, past = not exceeds(total, breaker), exceeds(plain, caution.number * breaker)
    device = "fuse" if supply.device == "fuse" else "breaker"
    amounts = Later(
        lambda: {
            "load": Amount(total, "A"),
            "rating": Amount(breaker, "A"),
            "left": Amount(breaker - total, "A", Rounding.DOWN),
            "device": device,
            "surplus": Amount(surplus, "A"),
            "counted": Amount(factor.number * surplus, "A"),
            "share": Amount(100.0 * caution.number, "%"),
        }
    )
    if not fits:
        says = Said("The circuit would carry {load}, more than its {rating} {device}.", amounts)
    elif exceeds(continuous, breaker):
        says = Said(
            "The circuit carries {load} of its {rating} {device}. {surplus} of it was measured and is not on the "
            "list; if it is continuous (3 hours or more), it counts as {counted} and is too much.",
            amounts,
        )
    elif past:
        says = Said(
            "The circuit carries {load} of its {rating} {device}, past the {share} to which many electricians plan; "
            "{left} is left.",
            amounts,
        )
    else:
        says = Said("The circuit carries {load} of its {rating} {device}; {left} is left.", amounts)
    return Answer(
        part=supply,
        outcome=Outcome.FAIL if not fits else Outcome.CAUTION if past or exceeds(continuous, breaker) else Outcome.PASS,
        says=says,
        open_says=Said(
            "Cannot tell yet whether the {rating} {device} is enough: from what is known, the circuit carries {load}.",
            amounts,
        ),
        value=total,
        limit=breaker,
        unit="A",
        working=lambda: _working(case, counted, surplus),
        sources=merge_sources(
            (factor.source,),
            *(draw.sources for draw in drawn),
            *(count_sources(case, draw) for draw in drawn),
            (caution.source,) if past else (),
            (book.value("measured-over-listed").source,) if surplus else (),
        ),
        keys=(supply.entry("breaker"),),
        rows=Rows(lambda: _rows(counted, surplus)),
        to_do=_TO_DO,
    )


def _rows(counted: Sequence[tuple[Draw, float]], surplus: float) -> Iterator[Part]:
    for draw, amperes in counted:
        yield Part(draw.part.id, amperes, draw.part.id)
    if surplus:
        yield Part("measured, not on the list", surplus)


def _working(case: Case, counted: Sequence[tuple[Draw, float]], surplus: float) -> Iterator[Said]:
    """Each load's line, then both sums and the one that counts."""
    factor = case.book.value("continuous-load-factor").number
    for draw, amperes in counted:
        things: Things = {**draw.written.things, "amperes": Amount(draw.amperes, "A"), "counted": Amount(amperes, "A")}
        long = ""
        if is_continuous(case, draw.part):
            long = ", continuous: x {times} = {counted}"
        elif motor_surcharge(case, draw):
            long = ", largest motor fastened in place a quarter more: {counted}"
        things |= {"load": draw.part.id, "times": Amount(factor)}
        fitted = ""
        if isinstance(draw.part, Load) and draw.part.fitted_w is not None:
            fitted = f" (the lamp in today takes {{fitted}}; the {'lamp' if draw.by_lamp else 'rated load'} counts)"
            things["fitted"] = Amount(draw.part.fitted_w * draw.part.quantity, "W")
        yield said("{load}: " + draw.written.template + " = {amperes}" + long + fitted, **things)
    if surplus:
        yield said("measured beyond the existing loads on the list: {surplus}", surplus=Amount(surplus, "A"))
    for word, added in (("existing", False), ("added", True)):
        part = sum(amperes for draw, amperes in counted if draw.part.is_added is added)
        yield said(word + ": {amperes}", amperes=Amount(part, "A"))
    plain = sum(draw.amperes for draw, _ in counted) + surplus
    yield said("if nothing were continuous (3 hours or more): {plain}", plain=Amount(plain, "A"))
    yield said("if everything were (x {factor}): {all}", factor=Amount(factor), all=Amount(plain * factor, "A"))
    total = sum(amperes for _, amperes in counted) + surplus
    yield said("from what is given: {total}", total=Amount(total, "A"))
    left, volts = case.supply.breaker_a - total, case.supply.voltage_v
    if left >= 0:
        yield said(
            "left: {left}, {va} at {volts}",
            left=Amount(left, "A", Rounding.DOWN),
            va=Amount(left * volts, "VA", Rounding.DOWN),
            volts=Amount(volts, "V"),
        )


RULE = CaseRule[Supply](
    name="load-share",
    title="Whether the breaker can carry everything on the circuit",
    family=Family.CAPACITY,
    rank=10,
    subjects=lambda case: (case.supply,),
    answer=answer,
    worse={
        **DRAW_WORSE,
        "supply.measured_current": MORE,
        **GONE_WORSE,
        "supply.breaker": EACH,
        "load.continuous": MORE,
        "driver.continuous": MORE,
        "supply.voltage": volts_are_worse,
    },
    turns={"supply.voltage": volts_turn},
)
