"""The largest breaker or fuse that a conductor may have: small conductors by their own table, others by ampacity."""

from __future__ import annotations

from circuitcheck.case import Amount, Case, Said, once, said
from circuitcheck.case.list_apart import RATED, kinds_apart
from circuitcheck.domain.conductor_ampacity import equivalent_size
from circuitcheck.findings import Source, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

RECEPTACLE = "receptacle"


def greatest_breaker(book: Rulebook, ampacity_a: float, *, may_round_up: bool) -> tuple[float, tuple[Source, ...]]:
    """The largest standard rating that protects a conductor of this ampacity [A], and the sources.

    Between two standard ratings the next larger one may be used where ``may_round_up``; else the ampacity itself is
    the limit.

    Source: NFPA 70, 240.4(B), 240.6(A).
    """
    limit = book.value("next-size-up-limit")
    if not may_round_up or ampacity_a <= 0.0 or exceeds(ampacity_a, limit.number):
        return ampacity_a, (limit.source,)
    small = book.value("small-fuse-ratings")
    for rating in _small_ratings(book):
        if not exceeds(ampacity_a, rating):
            return rating, (limit.source, small.source)
    row = book.table("standard-overcurrent-ratings").first_at_least("rating", ampacity_a)
    if row is None:
        return ampacity_a, (limit.source,)
    return row.printed_number("rating"), (limit.source, row.source)


def _small_ratings(book: Rulebook) -> tuple[float, ...]:
    kept: tuple[float, ...] | None = book.worked_out.get(_small_ratings)
    if kept is None:
        items = book.value("small-fuse-ratings").items
        kept = book.worked_out[_small_ratings] = tuple(sorted(float(item) for item in items))
    return kept


@once
def receptacles_on(case: Case) -> int:
    """How many receptacles the circuit feeds.

    A device of that kind in a box counts also where no load names what is plugged in. Each is taken as a duplex one,
    which is two receptacles.

    Source: NFPA 70, article 100.
    """
    each = int(case.book.value("receptacles-on-a-device").number)
    in_boxes = sum(device.kind == RECEPTACLE for box in case.boxes for device in box.devices)
    loads = sum(load.quantity for load in kinds_apart(case, RATED).values() if load.kind == RECEPTACLE)
    return each * max(in_boxes, loads)


@once
def may_round_up(case: Case) -> bool:
    """Whether the next larger standard rating may be used on this circuit."""
    return receptacles_on(case) <= 1 or case.book.value("next-size-up-with-receptacles").yes


def most_by_size(book: Rulebook, size: str, metal: str) -> tuple[float, Said, tuple[Source, ...]] | None:
    """The largest breaker [A] for a small conductor, why, and the sources; None for one that goes by its ampacity.

    Small conductors go by their own table whatever their insulation. A conductor thinner than any that the book lists
    for a branch circuit may have none: 0 A.

    Source: NFPA 70, 240.4(D), 210.24.
    """
    awg, stand_in = equivalent_size(book, size)
    least = book.table("branch-circuit-conductors").rows[0]
    areas = book.table("conductors")
    mine, thinnest = areas.find(awg), areas.find(least.printed_text("copper"))
    if mine is not None and thinnest is not None and mine.printed_number("area") < thinnest.printed_number("area"):
        why = said(
            "{size} is thinner than {least}, the thinnest that a branch circuit may have",
            size=size,
            least=least.printed_text("copper"),
        )
        return 0.0, why, merge_sources(stand_in, (least.source,))
    conductor = f"{size} {metal}"
    small = book.table("small-conductor-overcurrent").find(awg)
    if small is not None:
        amperes = small.number(metal)
        cited = merge_sources(stand_in, (small.source,))
        if amperes is None:
            return 0.0, said("{conductor} is not allowed at all", conductor=conductor), cited
        why = said(
            "{conductor}: at most {most} by the rule for small conductors",
            conductor=conductor,
            most=Amount(amperes, "A"),
        )
        return amperes, why, cited
    return None


def most_for(
    book: Rulebook, size: str, metal: str, ampacity_a: float, *, round_up: bool
) -> tuple[float, Said, tuple[Source, ...]]:
    """The largest breaker [A] for a conductor, why, and the sources: by its size, or by ``ampacity_a``.

    Source: NFPA 70, 240.4(B), 240.4(D), 210.24.
    """
    small = most_by_size(book, size, metal)
    if small is not None:
        return small
    conductor, (_, stand_in) = f"{size} {metal}", equivalent_size(book, size)
    amperes, sources = greatest_breaker(book, ampacity_a, may_round_up=round_up)
    why = said(
        "{conductor}: ampacity {ampacity}, so at most {most}",
        conductor=conductor,
        ampacity=Amount(ampacity_a, "A"),
        most=Amount(amperes, "A"),
    )
    return amperes, why, merge_sources(stand_in, sources)
