"""Breaker against wire: whether the breaker is small enough for every conductor of the circuit.

What it asks: size, metal and insulation of every cable of the branch circuit, existing ones too, against the rating of
the breaker or fuse.

Why: the breaker protects the wire. One thinner piece anywhere decides for the whole circuit, since it can burn before
a breaker meant for thicker wire trips. Mixed 12 and 14 AWG on one circuit is very common.

What to do: read the print on each sheath (breaker off, tested dead). Where a piece is too thin, a licensed
electrician puts in a smaller breaker or replaces that piece.

Cannot see: cables that nobody listed, and pieces hidden between two boxes. The color of a sheath or a comparison with
a coin is no proof of size. Taps to single luminaires that the code allows in some cases are not counted as allowed.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.case import (
    EACH,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Rounding,
    Said,
    Things,
    said,
    values_of,
)
from circuitcheck.case.parts import Cable, Part
from circuitcheck.domain.conditions_of_use import CONDITIONS_WORSE, bare_ampacity_of, size_is_worse
from circuitcheck.domain.conductor_ampacity import ALUMINUM, METAL_OF, columns_of, equivalent_size
from circuitcheck.domain.directions import ROUNDING_UP_WORSE
from circuitcheck.domain.overcurrent import may_round_up, most_by_size, most_for
from circuitcheck.errors import TableError
from circuitcheck.findings import Outcome, Source, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

_READ = "Breaker off and tested dead: read the size printed on the sheath; its color proves nothing."
_TOO_THIN = "16 AWG"
_HANDLE = "Read the breaker's rating on its handle; leave the panel cover on."


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer:
    """The breaker against the largest that one cable may have [A]."""
    breaker, size = case.supply.breaker_a, cable.size
    device = "fuse" if case.supply.device == "fuse" else "breaker"
    size_ref = cable.entry("size")
    amounts: Things = {"rating": Amount(breaker, "A"), "device": device, "cable": cable.id, "size": size}
    if book.table("conductors").find(equivalent_size(book, size)[0]) is None:
        return Answer(
            part=cable,
            outcome=Outcome.UNDETERMINED,
            says=said('Cannot tell for cable "{cable}": the tables do not list the size {size}.', **amounts),
            value=breaker,
            unit="A",
            keys=(size_ref,),
            to_do={Outcome.UNDETERMINED: (_READ,)},
        )
    most, why, sources = greatest_breaker_for(case, cable)
    fits = not exceeds(breaker, most)
    amounts |= {"most": Amount(most, "A", Rounding.DOWN), "metal": cable.material}
    if fits:
        says = said(
            'Cable "{cable}": {size} may have up to {most}, and the {rating} {device} stays within that.', **amounts
        )
    elif not most:
        says = said('Cable "{cable}": {size} {metal} may not be used on a branch circuit at all.', **amounts)
    else:
        says = said(
            'The {rating} {device} is too large for cable "{cable}": its {size} may have at most {most}, and one '
            "thinner piece anywhere decides for the whole circuit.",
            **amounts,
        )

    def working() -> Iterator[Said]:
        yield why
        if device == "fuse":
            yield _fuse_note(fits)

    return Answer(
        part=cable,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=says,
        open_says=said(
            'Cannot tell yet whether the {rating} {device} is small enough for cable "{cable}", which may have {most}.',
            **amounts,
        ),
        value=breaker,
        limit=most,
        unit="A",
        working=working,
        sources=sources,
        keys=(size_ref, case.supply.entry("breaker")),
        to_do={Outcome.FAIL: (_too_thin(device),), Outcome.UNDETERMINED: (_HANDLE, _READ)},
        ask=() if fits else ("Is this piece a tap that the code allows, and for what?",),
        cause="breaker too large for the wire",
    )


def greatest_breaker_for(case: Case, cable: Cable) -> tuple[float, Said, tuple[Source, ...]]:
    """The largest breaker that a cable may have by itself [A], why, and the sources.

    The conditions along it are a check of their own.
    """
    book, size, metal = case.book, cable.size, METAL_OF.get(cable.material, ALUMINUM)
    small = most_by_size(book, size, metal)
    if small is not None:
        return small
    bare = bare_ampacity_of(case, cable)
    if bare is None:
        raise TableError(f"table ampacity: no row for {size}, which table conductors lists")
    most, why, sources = most_for(book, size, metal, bare.before_a, round_up=may_round_up(case))
    return most, why, merge_sources(sources, bare.sources[:1])


def _too_thin(device: str) -> str:
    if device == "fuse":
        return (
            "Do not add anything to this circuit. A licensed electrician fits a fuse that suits the thinnest wire, "
            "in a holder that takes no bigger one."
        )
    return (
        "Do not add anything to this circuit. A licensed electrician puts in a breaker for the thinnest wire or "
        "replaces the thin piece."
    )


def _fuse_note(fits: bool) -> Said:
    if fits:
        return said("anyone can swap a screw-in fuse for a bigger one: look at the one that is really in the socket")
    return said("a screw-in fuse far too big for the wire fits the same socket; the wire decides, not the socket")


def _size_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A thinner conductor; of those that no branch circuit may have, all as bad, the thickest stands for the others.

    But small ones go by a table of their own, which asks for no insulation.
    """
    coolest = columns_of(case.book.table("ampacity"))[0]
    marked = [celsius for celsius in values_of(part, "insulation_temperature_c") if celsius is not None]
    if not isinstance(part, Cable) or any(celsius < coolest for celsius in marked):
        return EACH
    thinness = size_is_worse(value, part, case)
    return (True, -thinness) if _is_barred(case.book, value, part.material) else (False, thinness)


def _is_barred(book: Rulebook, size: str, material: str) -> bool:
    """Whether no breaker at all is small enough for a conductor."""
    kept: dict[tuple[str, str], bool] = book.worked_out.setdefault(_is_barred, {})
    if (size, material) not in kept:
        small = most_by_size(book, size, METAL_OF.get(material, ALUMINUM))
        kept[size, material] = small is not None and not small[0]
    return kept[size, material]


RULE = CaseRule[Cable](
    name="breaker-vs-wire",
    title="Whether the breaker is small enough for every conductor",
    family=Family.CAPACITY,
    rank=50,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={**CONDITIONS_WORSE, **ROUNDING_UP_WORSE, "cable.size": _size_is_worse, "supply.breaker": MORE},
    # A conductor that nobody looked at may be thinner than any that is allowed.
    turns={"cable.size": lambda first, last, part, case: (_TOO_THIN,)},
)
