"""Breaker against wire: whether the breaker is small enough for every conductor of the circuit.

What it asks: size, material and insulation of every cable of the branch circuit, existing ones too, against the
rating of the breaker or fuse.

Why: the breaker protects the wire. One thinner piece anywhere decides for the whole circuit, since it can burn before
a breaker meant for thicker wire trips. Mixed 12 and 14 AWG on one circuit is very common.

What to do: read the print on each sheath (breaker off, tested dead). Where a piece is too thin, a licensed
electrician puts in a smaller breaker or replaces that piece.

Cannot see: cables that nobody listed, and pieces hidden between two boxes. The color of a sheath or a comparison with
a coin is no proof of size. Taps to single luminaires that the book allows in some cases are not counted as allowed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome, Source, exceeds, merge_sources
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.capacity.conductor_ampacity import (
    equivalent_size,
    greatest_breaker,
    may_round_up,
    metal_assumed,
    metals_of,
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

ONE_PIECE_DECIDES = "one thinner piece anywhere decides for the whole circuit"


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for each branch cable [A]."""
    receptacles = receptacles_on(circuit, book)
    around = branch_surroundings(circuit, book)
    known: dict[tuple[object, ...], _Limits] = {}
    for cable in circuit.tree.branch_cables:
        if cable.size is None or book.table("conductors").find(equivalent_size(book, cable.size)[0]) is None:
            yield _size_unknown(cable, circuit, book, f"cable.{cable.id}.size")
            continue
        here = around[cable.id]
        alike = (cable.size, cable.material, here.pairs)
        limits = known.get(alike)
        if limits is None:
            limits = known[alike] = _limits(cable.size, cable.material, here, book, receptacles)
        yield _finding(cable, cable.size, circuit, book, limits)


def most_for(
    book: Rulebook, size: str, metal: str, ampacity_a: float, *, round_up: bool
) -> tuple[float, str, tuple[Source, ...]]:
    """The largest breaker [A] for a conductor, why, and the sources.

    Small conductors go by their own table whatever their insulation; larger ones by ``ampacity_a``. A conductor thinner
    than any that the book lists for a branch circuit may have none: 0 A.

    Source: NFPA 70, 240.4(B), 240.4(D), 210.24.
    """
    awg, stand_in = equivalent_size(book, size)
    least = book.table("branch-circuit-conductors").rows[0]
    areas = book.table("conductors")
    mine, thinnest = areas.find(awg), areas.find(least.text("copper") or "")
    if mine is not None and thinnest is not None and (mine.number("area") or 0.0) < (thinnest.number("area") or 0.0):
        why = f"{size} is thinner than {least.text('copper')}, the thinnest that a branch circuit may have"
        return 0.0, why, merge_sources(stand_in, (least.source,))
    small = book.table("small-conductor-overcurrent").find(awg)
    if small is not None:
        amperes = small.number(metal)
        if amperes is None:
            return 0.0, f"{size} {metal} is not allowed at all", merge_sources(stand_in, (small.source,))
        return (
            amperes,
            f"{size} {metal}: at most {shown_number(amperes)} A by the rule for small conductors",
            merge_sources(stand_in, (small.source,)),
        )
    amperes, sources = greatest_breaker(book, ampacity_a, may_round_up=round_up)
    why = f"{size} {metal}: ampacity {shown_number(ampacity_a)} A, so at most {shown_number(amperes)} A"
    return amperes, why, merge_sources(stand_in, sources)


@dataclass(frozen=True, slots=True)
class _Limits:
    """The largest breaker that cables which are alike may have [A], at worst and at best, why, and the sources.

    ``by_ampacity``: it hangs on where the cable lies; small conductors have a limit of their own.
    """

    worst: float
    best: float
    whys: tuple[str, ...]
    sources: tuple[Source, ...]
    by_ampacity: bool


def _finding(cable: Cable, size: str, circuit: Circuit, book: Rulebook, limits: _Limits) -> Finding:
    breaker = circuit.supply.breaker_a
    size_key, material_key = f"cable.{cable.id}.size", f"cable.{cable.id}.material"
    worst, best = limits.worst, limits.best
    if exceeds(breaker.low, best):
        outcome = Outcome.FAIL
    elif exceeds(breaker.high, worst):
        outcome = Outcome.UNDETERMINED
    else:
        outcome = Outcome.PASS
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    if cable.material is None:
        assumed = (metal_assumed(cable.id, size, book),)
        assumed_keys = (material_key,)
    needs: tuple[str, ...] = ()
    if outcome is Outcome.UNDETERMINED:
        open_keys = _open_keys(cable, circuit, book) if limits.by_ampacity else ()
        needs = (*assumed_keys, *open_keys, *(() if breaker.exact else ("supply.breaker",)))
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=_says(cable, circuit, worst, best, outcome),
        value=breaker.high,
        limit=worst,
        unit="A",
        low=breaker.low,
        high=breaker.high,
        working=tuple(dict.fromkeys((*limits.whys, *_fuse_note(circuit, outcome)))),
        sources=limits.sources,
        needs=tuple(dict.fromkeys(needs)),
        assumed=assumed,
        assumed_keys=assumed_keys,
        keys=(size_key, "supply.breaker"),
        to_do=_to_do(circuit, outcome),
        ask=("Is this piece a tap that the book allows, and for what?",) if outcome is Outcome.FAIL else (),
    )


def _limits(
    size: str, material: str | None, here: Surroundings, book: Rulebook, receptacles: tuple[int, int]
) -> _Limits:
    metals = metals_of(material, size, book)
    if book.table("small-conductor-overcurrent").find(equivalent_size(book, size)[0]) is not None:
        small = [most_for(book, size, metal, 0.0, round_up=False) for metal in dict.fromkeys(metals)]
        amperes, whys, sources = zip(*small, strict=True)
        return _Limits(min(amperes), max(amperes), whys, merge_sources(*sources), by_ampacity=False)
    # The bare table: what the surroundings do to ampacity is a check of its own.
    plain = Surroundings(
        insulation_c=here.insulation_c,
        ambient_c=(book.value("ambient-base").number,) * 2,
        count=(1, 1),
        cable_limit_c=here.cable_limit_c,
        terminals_c=here.terminals_c,
    )
    ends = ampacity_range(book, size, material, plain)
    limits: list[float] = []
    reasons: list[str] = []
    cited: list[Source] = []
    for end, metal in enumerate(metals):
        ampacity = ends[end].amperes if ends is not None else 0.0
        round_up = may_round_up(book, receptacles[1 - end])
        limit, why, also = most_for(book, size, metal, ampacity, round_up=round_up)
        limits.append(limit)
        reasons.append(why)
        cited += also
        cited += ends[end].sources[:1] if ends is not None else ()
    return _Limits(min(limits), max(limits), tuple(reasons), merge_sources(cited), by_ampacity=True)


def _open_keys(cable: Cable, circuit: Circuit, book: Rulebook) -> tuple[str, ...]:
    """The keys that make the largest breaker of a larger conductor differ between worst and best."""
    of_surroundings = (f"cable.{cable.id}.type", f"cable.{cable.id}.insulation_temperature", "supply.terminals")
    open_keys = branch_surroundings(circuit, book)[cable.id].open_keys
    keys = tuple(key for key in open_keys if key in of_surroundings)
    receptacles = receptacles_on(circuit, book)
    if receptacles[0] != receptacles[1]:
        keys += tuple(f"load.{load.id}.kind" for load in circuit.loads if load.kind is None)
    return keys


def _size_unknown(cable: Cable, circuit: Circuit, book: Rulebook, key: str) -> Finding:
    breaker = circuit.supply.breaker_a
    table = book.table("small-conductor-overcurrent")
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=Outcome.UNDETERMINED,
        says=f"Cannot tell whether cable {cable.id} is thick enough for the {_rating(circuit)}: "
        + ("its size is not known." if cable.size is None else f"the tables do not know the size {cable.size}."),
        value=breaker.high,
        unit="A",
        low=breaker.low,
        high=breaker.high,
        sources=merge_sources(row.source for row in table.rows[-3:]),
        needs=(key,),
        keys=(key, "supply.breaker"),
        to_do=("Breaker off and tested dead: read the size printed on the sheath; its color proves nothing.",),
    )


def _says(cable: Cable, circuit: Circuit, worst: float, best: float, outcome: Outcome) -> str:
    size = cable.size or "its conductor"
    most = span(worst, best, "A")
    if outcome is Outcome.PASS:
        return f"Cable {cable.id}: {size} may have up to {most}, and the {_rating(circuit)} stays within that."
    if outcome is Outcome.UNDETERMINED:
        return (
            f"Cannot tell whether the {_rating(circuit)} is small enough for cable {cable.id}: {size} may have {most}."
        )
    if best == 0.0:
        return f"Cable {cable.id}: {size} {cable.material or ''} may not be used on a branch circuit at all.".replace(
            "  ", " "
        )
    return (
        f"The {_rating(circuit)} is too large for cable {cable.id}: its {size} may have at most {most}, and "
        f"{ONE_PIECE_DECIDES}."
    )


def _rating(circuit: Circuit) -> str:
    breaker = circuit.supply.breaker_a
    device = "fuse" if circuit.supply.device == "fuse" else "breaker"
    return f"{span(breaker.low, breaker.high, 'A')} {device}"


def _fuse_note(circuit: Circuit, outcome: Outcome) -> Sequence[str]:
    if circuit.supply.device != "fuse":
        return ()
    if outcome is Outcome.PASS:
        return (
            "a screw-in fuse can be swapped for a bigger one by anybody: look at the one that is really in the socket",
        )
    return ("a screw-in fuse far too big for the wire fits the same socket; the wire decides, not the socket",)


def _to_do(circuit: Circuit, outcome: Outcome) -> tuple[str, ...]:
    if outcome is Outcome.PASS:
        return ()
    if outcome is Outcome.UNDETERMINED:
        return ("Breaker off and tested dead: read size and material printed on the sheath.",)
    if circuit.supply.device == "fuse":
        return (
            "Do not add anything to this circuit. A licensed electrician fits a fuse that suits the thinnest wire, "
            "in a holder that takes no bigger one.",
        )
    return (
        "Do not add anything to this circuit. A licensed electrician puts in a breaker for the thinnest wire or "
        "replaces the thin piece.",
    )


RULE = Rule(
    name="breaker-vs-wire",
    title="Whether the breaker is small enough for every conductor",
    family="capacity",
    uses=(
        *SURROUNDINGS_USES,
        "small-conductor-overcurrent",
        "branch-circuit-conductors",
        "conductors",
    ),
    check=check,
)
