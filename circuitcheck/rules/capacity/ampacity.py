"""Ampacity: what each cable may carry where it lies, against its load and its breaker.

What it asks: size, kind and surroundings of each cable of the branch circuit: the hottest air along it, and how many
loaded cables lie alongside for more than 24 in or share a sealed hole. The load is everything downstream, what stays
on for three hours or more counted a quarter more.

Why: a wire that cannot shed its heat damages its insulation. A hot attic or a tight bundle takes away more than
people expect, and old 60 degC insulation may carry nothing at all there.

What to do: give a run through a hot attic another way, spread bundled cables apart, or take a thicker conductor. Have
old cable looked at by a licensed electrician.

Cannot see: sun on a roof, insulation blown over a cable, a bundle that nobody noticed, and the exception for armored
cables without a jacket, which are adjusted like all others.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome, Source, exceeds, merge_sources
from circuitcheck.rules.branch_loads import BRANCH_LOAD_USES, span
from circuitcheck.rules.cable_currents import CableCurrent, cable_currents
from circuitcheck.rules.capacity.conductor_ampacity import (
    Corrected,
    greatest_breaker,
    may_round_up,
    metal_assumed,
    receptacles_on,
)
from circuitcheck.rules.capacity.surroundings import (
    SURROUNDINGS_USES,
    Surroundings,
    ampacity_range,
    branch_surroundings,
)
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for each branch cable [A]."""
    currents = cable_currents(circuit, book)
    receptacles = receptacles_on(circuit, book)
    around = branch_surroundings(circuit, book)
    rated: dict[tuple[object, ...], _Rating | None] = {}
    for cable in circuit.tree.branch_cables:
        current = currents[cable.id]
        surroundings = around[cable.id]
        alike = (cable.size, cable.material, surroundings.pairs)
        if alike not in rated:
            rated[alike] = _rating(cable, book, surroundings, receptacles)
        rating = rated[alike]
        if rating is None:
            yield _unknown_size(cable, current, surroundings)
        else:
            yield _finding(cable, circuit, book, current, surroundings, rating, receptacles)


@dataclass(frozen=True, slots=True)
class _Rating:
    """What cables that are alike may carry, and the breaker that they may have [A], at worst and at best.

    ``lines`` is the working of the worst.
    """

    worst: Corrected
    best: Corrected
    least_device: float
    most_device: float
    lines: tuple[str, ...]
    sources: tuple[Source, ...]


def _rating(cable: Cable, book: Rulebook, surroundings: Surroundings, receptacles: tuple[int, int]) -> _Rating | None:
    """The rating of a cable, shared by all that are alike; None for an unknown size or one that no table knows."""
    ends = ampacity_range(book, cable.size, cable.material, surroundings) if cable.size is not None else None
    if ends is None:
        return None
    worst, best = ends
    least, cited = greatest_breaker(book, worst.amperes, may_round_up=may_round_up(book, receptacles[1]))
    most, _ = greatest_breaker(book, best.amperes, may_round_up=may_round_up(book, receptacles[0]))
    return _Rating(worst, best, least, most, worst.working(), merge_sources(worst.sources, best.sources, cited))


def _unknown_size(cable: Cable, current: CableCurrent, surroundings: Surroundings) -> Finding:
    key = f"cable.{cable.id}.size"
    known = not current.open_keys
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=Outcome.UNDETERMINED,
        says=f"Cannot tell what cable {cable.id} may carry: "
        + ("its size is not known." if cable.size is None else f"the tables do not know the size {cable.size}."),
        value=current.worst if known else None,
        unit="A",
        low=current.low,
        high=current.worst if known else None,
        sources=merge_sources(surroundings.sources),
        needs=(key, *current.open_keys),
        assumed=surroundings.assumed,
        assumed_keys=surroundings.assumed_keys,
        keys=(key,),
        to_do=("Breaker off and tested dead: read the size printed on the sheath.",),
    )


def _finding(
    cable: Cable,
    circuit: Circuit,
    book: Rulebook,
    current: CableCurrent,
    surroundings: Surroundings,
    rating: _Rating,
    receptacles: tuple[int, int],
) -> Finding:
    breaker = circuit.supply.breaker_a
    worst, best = rating.worst, rating.best
    load_fails = exceeds(current.low, best.amperes)
    device_fails = exceeds(breaker.low, rating.most_device)
    load_open = bool(current.open_keys) or exceeds(current.high, worst.amperes)
    device_open = exceeds(breaker.high, rating.least_device)
    hangs_on_time = exceeds(current.worst, worst.amperes)
    known = not current.open_keys
    needs: tuple[str, ...] = ()
    if load_fails or device_fails or best.amperes == 0.0:
        outcome = Outcome.FAIL
    elif load_open or device_open:
        outcome = Outcome.UNDETERMINED
        needs = _needs(cable, circuit, current, surroundings, rating, receptacles)
    else:
        outcome = Outcome.CAUTION if hangs_on_time else Outcome.PASS
    assumed, assumed_keys = surroundings.assumed, surroundings.assumed_keys
    if cable.material is None and cable.size is not None:
        assumed += (metal_assumed(cable.id, cable.size, book),)
        assumed_keys += (f"cable.{cable.id}.material",)
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=_says(cable, circuit, current, rating, outcome, load_fails, device_fails),
        value=current.worst if known else current.low if load_fails else None,
        limit=worst.amperes,
        unit="A",
        low=current.low,
        high=current.worst if known else None,
        working=_working(rating, surroundings, current, circuit, outcome, receptacles),
        sources=merge_sources(rating.sources, surroundings.sources, current.sources),
        needs=needs,
        assumed=assumed,
        assumed_keys=assumed_keys,
        keys=(f"cable.{cable.id}.size", f"cable.{cable.id}.ambient"),
        to_do=_to_do(outcome, worst, best),
    )


def _needs(
    cable: Cable,
    circuit: Circuit,
    current: CableCurrent,
    surroundings: Surroundings,
    rating: _Rating,
    receptacles: tuple[int, int],
) -> tuple[str, ...]:
    """The keys that could settle an open answer: a load that is over both limits, or under both, settles nothing."""
    worst, best = rating.worst, rating.best
    keys: list[str] = []
    if worst.amperes != best.amperes:
        keys += surroundings.open_keys
        if worst.metal != best.metal:
            keys.append(f"cable.{cable.id}.material")
    keys += current.open_keys
    if any(exceeds(current.high, limit) and not exceeds(current.low, limit) for limit in (worst.amperes, best.amperes)):
        keys += current.range_keys
    if not circuit.supply.breaker_a.exact:
        keys.append("supply.breaker")
    if not keys and receptacles[0] != receptacles[1]:
        keys += [f"load.{load.id}.kind" for load in circuit.loads if load.kind is None]
    return tuple(dict.fromkeys(keys))


def _working(
    rating: _Rating,
    surroundings: Surroundings,
    current: CableCurrent,
    circuit: Circuit,
    outcome: Outcome,
    receptacles: tuple[int, int],
) -> tuple[str, ...]:
    breaker = circuit.supply.breaker_a
    lines = rating.lines
    if outcome is Outcome.UNDETERMINED and rating.best.amperes != rating.worst.amperes:
        best = (f"at best: {line}" for line in rating.best.working())
        lines = (*(f"at worst: {line}" for line in lines), *best)
    return (
        *lines,
        *surroundings.notes,
        f"load downstream: {span(current.low, current.worst, 'A')}",
        f"largest breaker for it: {shown_number(rating.least_device)} A (here {span(breaker.low, breaker.high, 'A')}); "
        + _rounding(rating, receptacles),
    )


def _rounding(rating: _Rating, receptacles: tuple[int, int]) -> str:
    if rating.least_device > rating.worst.amperes:
        return "the next standard rating up may be used"
    return "no rounding up, since the circuit feeds receptacles" if receptacles[1] else "its own ampacity"


def _says(
    cable: Cable,
    circuit: Circuit,
    current: CableCurrent,
    rating: _Rating,
    outcome: Outcome,
    load_fails: bool,
    device_fails: bool,
) -> str:
    worst, best = rating.worst, rating.best
    may = span(worst.amperes, best.amperes, "A")
    breaker = span(circuit.supply.breaker_a.low, circuit.supply.breaker_a.high, "A")
    load = span(current.low, current.worst, "A")
    if outcome is Outcome.FAIL and best.amperes == 0.0:
        if best.ambient_factor is None and best.insulation_a > 0.0:
            return (
                f"Cable {cable.id} may carry nothing in air at {shown_number(best.ambient_c)} degC: its "
                f"{best.insulation_column_c} degC insulation does not stand that."
            )
        return f"Cable {cable.id}: the tables give {best.size} {best.metal} no ampacity for this use."
    if load_fails:
        return f"Cable {cable.id} would carry {load}, more than the {may} it may carry where it lies."
    if device_fails:
        return (
            f"Cable {cable.id} may carry only {may} where it lies, so its breaker may be at most "
            f"{shown_number(rating.most_device)} A, not {breaker}."
        )
    if outcome is Outcome.UNDETERMINED:
        if current.open_keys:
            return f"Cannot tell whether cable {cable.id} carries too much: it may carry {may}; a load is unknown."
        return (
            f"Cannot tell whether cable {cable.id} carries too much: it may carry {may}, for {load} and a {breaker} "
            "breaker."
        )
    if outcome is Outcome.CAUTION:
        return (
            f"Cable {cable.id} may carry {may} and is within that only if the loads that nobody spoke about are not on "
            f"for hours; counted as on for hours they make it {shown_number(current.worst)} A."
        )
    return f"Cable {cable.id} carries {load} and may carry {shown_number(worst.amperes)} A where it lies."


def _to_do(outcome: Outcome, worst: Corrected, best: Corrected) -> tuple[str, ...]:
    if outcome is Outcome.FAIL and best.amperes == 0.0:
        return ("Leave this cable alone and have a licensed electrician look at it before anything is added.",)
    if outcome is Outcome.FAIL:
        return ("Route the cable through cooler space, spread bundled cables apart, or take a thicker conductor.",)
    if outcome is Outcome.UNDETERMINED:
        return (
            "Find out what is missing: the print on the sheath, where the cable runs, and the labels of the loads.",
        )
    if outcome is Outcome.CAUTION:
        return ("Say for each load whether it stays on for three hours or more at a time.",)
    return ()


RULE = Rule(
    name="ampacity",
    title="What each cable may carry where it lies",
    family="capacity",
    uses=(*SURROUNDINGS_USES, *BRANCH_LOAD_USES),
    check=check,
)
