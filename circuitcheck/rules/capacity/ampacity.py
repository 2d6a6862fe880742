"""Ampacity: what each cable may carry in its conditions of use, against its load and its breaker.

What it asks: size, kind and conditions of use of each cable of the branch circuit: the hottest air along it, and how
many loaded cables lie alongside for more than 24 in or share a sealed hole. The load is everything downstream, and at
least what was measured at the panel, which does not flow to what is only added. A load that no branch cable feeds may
be behind any of them. Continuous loads (3 hours or more) count a quarter more, against the ampacity before correction
and adjustment.

Why: a wire that cannot shed its heat damages its insulation. A hot attic or a tight bundle takes away more than
people expect, and old 60 °C (140 °F) insulation may carry nothing at all there.

What to do: give a run through a hot attic another way, spread bundled cables apart, or take a thicker conductor. Have
old cable looked at by a licensed electrician.

Cannot see: sun on a roof, insulation blown over a cable, a bundle that nobody noticed, motors other than those of fans,
and the exception for armored cables without a jacket, which are adjusted like all others. It does not leave out the
neutral of a true multiwire circuit.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.case import (
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Later,
    Rounding,
    Said,
    Things,
    order,
    said,
)
from circuitcheck.case.parts import Cable
from circuitcheck.domain.cable_currents import Carried, Unlisted, carried_by, unlisted_through
from circuitcheck.domain.conditions_of_use import CONDITIONS_WORSE, ampacity_of, conditions_of
from circuitcheck.domain.conductor_ampacity import Corrected, both_degrees
from circuitcheck.domain.directions import (
    CARRIED_WORSE,
    GONE_WORSE,
    LISTED_LESS,
    ROUNDING_UP_WORSE,
    volts_are_worse,
    volts_turn,
)
from circuitcheck.domain.existing_load import to_find_out, unfed, unfed_draw
from circuitcheck.domain.overcurrent import greatest_breaker, may_round_up, receptacles_on
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.tables.rulebook import Rulebook

_FIND_OUT = "Find out what is missing: the print on the sheath, where the cable runs, and the labels of the loads."
_TO_DO = {
    Outcome.FAIL: ("Route the cable through a cooler space, spread bundled cables apart, or use a thicker conductor.",),
    Outcome.UNDETERMINED: (_FIND_OUT,),
    Outcome.CAUTION: ("Find out for each load whether it stays on for three hours or more at a time.",),
}
_ALONE = "Leave this cable alone and have a licensed electrician look at it before anything is added."


class _Judged(NamedTuple):
    """One cable in its conditions: what it may carry, what it carries, the largest breaker for it [A].

    sure: what of the reading at the panel surely flows here beside the listed loads. load: what it carries; counted:
    the same, continuous loads with their factor. before_decides: the conductor before correction has less room for what
    is counted than it has in its conditions.
    """

    may: Corrected
    unlisted: Unlisted
    sure: float
    load: float
    counted: float
    before_decides: bool
    device: float
    rounded_up: bool

    @property
    def most(self) -> float:
        """The most that these loads may draw through it [A], by whichever of both comparisons leaves less."""
        return self.may.before_a * self.load / self.counted if self.before_decides else self.may.amperes


def _judged(may: Corrected, carried: Carried, unlisted: Unlisted, device: float) -> _Judged:
    sure = unlisted.amperes if unlisted.certain else 0.0
    load, counted, before_a = carried.load + sure, carried.counted + sure, may.before_a
    before_decides = not exceeds(load, may.amperes) and exceeds(counted * may.amperes, load * before_a)
    rounded_up = exceeds(device, may.amperes)
    return _Judged(may, unlisted, sure, load, counted, before_decides, device, rounded_up)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer:
    """What one cable carries against what it may carry [A]."""
    conditions, may = conditions_of(case, cable), ampacity_of(case, cable)
    carried, unlisted = carried_by(case, cable), unlisted_through(case, cable)
    keys = (cable.entry("size"), cable.entry("ambient"))
    if may is None:
        return Answer(
            part=cable,
            outcome=Outcome.UNDETERMINED,
            says=said(
                'Cannot tell what cable "{cable}" may carry: the tables do not list the size {size}.',
                cable=cable.id,
                size=cable.size,
            ),
            value=carried.load,
            unit="A",
            sources=conditions.sources,
            keys=keys[:1],
            to_do={Outcome.UNDETERMINED: (_FIND_OUT,)},
        )
    device, cited = greatest_breaker(book, may.amperes, may_round_up=may_round_up(case))
    judged = _judged(may, carried, unlisted, device)
    factor = book.value("continuous-load-factor")
    rating, fuse = case.supply.breaker_a, case.supply.device == "fuse"
    amounts = Later(lambda: _amounts(cable.id, judged, factor.number, rating, "fuse" if fuse else "breaker"))
    outcome, says = _judge(cable, case, judged, amounts)
    return Answer(
        part=cable,
        outcome=outcome,
        says=says,
        open_says=Said(
            'Cannot tell yet whether cable "{cable}" carries too much: it may carry {allowed} in these conditions, '
            "for {load} and a {rating} {device}.",
            amounts,
        ),
        value=judged.load,
        limit=judged.most,
        unit="A",
        working=lambda: _working(case, judged, conditions.notes),
        sources=(
            *may.sources,
            *cited,
            *conditions.sources,
            *carried.sources,
            *((factor.source,) if carried.counted != carried.load else ()),
            *((book.value("measured-over-listed").source,) if unlisted.amperes > unfed_draw(case) else ()),
        ),
        keys=to_find_out(case) if outcome is Outcome.UNDETERMINED else keys,
        to_do=_TO_DO if may.amperes else {**_TO_DO, Outcome.FAIL: (_ALONE,)},
    )


def _amounts(cable: str, judged: _Judged, factor: float, rating_a: float, device: str) -> Things:
    return {
        "cable": cable,
        "allowed": Amount(judged.may.amperes, "A", Rounding.DOWN),
        "before": Amount(judged.may.before_a, "A", Rounding.DOWN),
        "load": Amount(judged.load, "A"),
        "counted": Amount(judged.counted, "A"),
        "factor": Amount(factor),
        "unlisted": Amount(judged.unlisted.amperes, "A"),
        "largest": Amount(judged.device, "A", Rounding.DOWN),
        "rating": Amount(rating_a, "A"),
        "device": device,
    }


def _judge(cable: Cable, case: Case, judged: _Judged, amounts: Later) -> tuple[Outcome, Said]:
    may, surplus = judged.may, judged.unlisted.amperes
    if may.amperes == 0.0:
        return Outcome.FAIL, _nothing(cable, may)
    if exceeds(judged.load, may.amperes):
        return Outcome.FAIL, Said(
            'Cable "{cable}" would carry {load}, more than the {allowed} it may carry in these conditions.', amounts
        )
    if exceeds(case.supply.breaker_a, judged.device):
        return Outcome.FAIL, Said(
            'Cable "{cable}" may carry only {allowed} in these conditions. So its {device} may be at most {largest}, '
            "not {rating}.",
            amounts,
        )
    if exceeds(judged.counted, may.before_a):
        return Outcome.FAIL, Said(
            'Cable "{cable}" would carry {counted} with continuous loads counted {factor} times, more than the '
            "{before} of its conductor.",
            amounts,
        )
    if not judged.unlisted.certain and (
        exceeds(judged.load + surplus, may.amperes) or exceeds(judged.counted + surplus, may.before_a)
    ):
        return Outcome.UNDETERMINED, Said(
            'Cannot tell yet whether cable "{cable}" carries too much: '
            + ("the circuit carries" if unfed(case) else "the meter showed")
            + " {unlisted} whose place is unknown, and this cable may carry it.",
            amounts,
        )
    if surplus and exceeds(_longest(case, judged), may.before_a):
        more = "{unlisted} of it was measured and is not on the list; if it is"
        if not judged.unlisted.certain:
            more = "The circuit carries" if unfed(case) else "The meter showed"
            more += " {unlisted} whose place is unknown; if it flows here and is"
        return Outcome.CAUTION, Said(
            'Cable "{cable}" carries {load}. ' + more + " continuous, that is more than the {before} of its conductor.",
            amounts,
        )
    if judged.before_decides:
        return Outcome.PASS, Said(
            'Cable "{cable}" carries {counted} with continuous loads counted {factor} times, and its conductor may '
            "carry {before}.",
            amounts,
        )
    return Outcome.PASS, Said('Cable "{cable}" carries {load} and may carry {allowed} in these conditions.', amounts)


def _longest(case: Case, judged: _Judged) -> float:
    """What it carries where the current that is not on the list is continuous [A]."""
    factor = case.book.value("continuous-load-factor").number
    return judged.counted - judged.sure + factor * judged.unlisted.amperes


def _nothing(cable: Cable, may: Corrected) -> Said:
    if may.ambient_factor is None and may.insulation_a:
        return said(
            'Cable "{cable}" may carry nothing in air at {air}: its {column} insulation is not rated for that.',
            cable=cable.id,
            air=both_degrees(may.ambient_c),
            column=both_degrees(may.insulation_column_c),
        )
    return said(
        'Cable "{cable}": the tables give {size} {metal} no ampacity for this use.',
        cable=cable.id,
        size=may.size,
        metal=may.metal,
    )


def _working(case: Case, judged: _Judged, notes: tuple[Said, ...]) -> Iterator[Said]:
    may = judged.may
    yield from may.working()
    yield from notes
    yield said("load downstream: {load}", load=Amount(judged.load, "A"))
    if judged.unlisted.amperes:
        measured = "measured beyond the listed loads: {unlisted}; all of it flows here"
        if not judged.unlisted.certain:
            measured = "measured, and where it flows is unknown: {unlisted}"
        if unfed(case):
            measured = "on no branch cable or measured, and where it flows is unknown: {unlisted}"
        yield said(measured, unlisted=Amount(judged.unlisted.amperes, "A"))
    if judged.counted != judged.load:
        yield said(
            "with continuous loads counted {factor} times: {counted}, against {before} before correction and "
            "adjustment",
            factor=Amount(case.book.value("continuous-load-factor").number),
            counted=Amount(judged.counted, "A"),
            before=Amount(may.before_a, "A"),
        )
    if judged.rounded_up:
        why = "the next standard rating up may be used"
    elif receptacles_on(case):
        why = "no rounding up, since the circuit feeds receptacles"
    else:
        why = "its own ampacity"
    yield said(
        "largest breaker for it: {largest} (here {rating}); {why}",
        largest=Amount(judged.device, "A", Rounding.DOWN),
        rating=Amount(case.supply.breaker_a, "A"),
        why=why,
    )


RULE = CaseRule[Cable](
    name="ampacity",
    title="What each cable may carry in its conditions of use",
    family=Family.CAPACITY,
    rank=60,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={
        **CARRIED_WORSE,
        **LISTED_LESS,
        **ROUNDING_UP_WORSE,
        **CONDITIONS_WORSE,
        "load.continuous": MORE,
        "driver.continuous": MORE,
        "supply.breaker": MORE,
        "supply.measured_current": MORE,
        **GONE_WORSE,
        "supply.voltage": volts_are_worse,
        "cable.origin": order("added", "existing"),
        "box.origin": order("added", "existing"),
    },
    turns={"supply.voltage": volts_turn},
)
