"""Framing: holes and notches in studs, plates, joists and rafters.

What it asks: the member, its depth, and the hole or notch, against the framing limits and the electrical edge
distance, whichever is tighter.

Why: a cut takes strength out of the building. A truss works as a whole: any cut may bring it down.

What to do: bore small, in the middle of the member. The finding names the largest bit that may be used there without
steel plates and with them.

Cannot see: engineered lumber (I-joists, laminated beams), whose maker decides, and other holes near by. A hole near
the end or the top of a loaded joist needs more care than these numbers give.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Direction,
    Family,
    Rounding,
    Said,
    Things,
    expected,
    order,
    said,
)
from circuitcheck.case.parts import Framing
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Row, Rulebook

TRUSS = "truss"
NOTCH = "notch"
_OTHER = ("Use a smaller bit in the middle of the member, or another route for the cable.",)
_AROUND = ("Run the cable around or along the truss, and fasten it to its face.",)


class Limit(NamedTuple):
    """One size of a cut [in] and what it may be; ``least``: it must not be under the limit, else not over it."""

    given: float
    limit: float
    least: bool
    says: str

    @property
    def holds(self) -> bool:
        """Whether the limit is kept."""
        return not (exceeds(self.limit, self.given) if self.least else exceeds(self.given, self.limit))


def largest_bit_m(depth_m: float, share: float, edge_m: float | None) -> float:
    """Largest centered hole [m] in a member of ``depth_m``: a share of the depth, leaving ``edge_m`` on both sides.

    Where the book names no distance from the edge (of plates) the share alone limits it.
    """
    most_m = share * depth_m
    return most_m if edge_m is None else max(0.0, min(most_m, depth_m - 2.0 * edge_m))


def answer(framing: Framing, case: Case, book: Rulebook) -> Answer | None:
    """Whether one new hole or notch leaves the member strong enough [in]."""
    if not framing.is_added:
        return None
    things: Things = {"cut": framing.id, "member": framing.member}
    if framing.member == TRUSS:
        return Answer(
            part=framing,
            outcome=Outcome.FAIL,
            says=said(
                '"{cut}" would cut a truss: no holes or notches unless its maker or an engineer approves.', **things
            ),
            sources=(book.value("truss-cuts").source,),
            keys=(framing.entry("member"),),
            to_do={Outcome.FAIL: _AROUND},
        )
    row = _row(framing, book)
    limits = tuple(_limits(framing, row))
    first = limits[0]
    shown = next((limit for limit in limits if not limit.holds), first)
    things |= {
        "word": framing.cut,
        "depth": Amount(in_unit(framing.depth_m, "in"), "in"),
        "given": Amount(shown.given, "in", Rounding.DOWN if shown.least else Rounding.UP),
        "limit": Amount(shown.limit, "in", Rounding.UP if shown.least else Rounding.DOWN),
    }
    size = "notch_depth" if framing.cut == NOTCH else "diameter"
    return Answer(
        part=framing,
        outcome=Outcome.PASS if shown.holds else Outcome.FAIL,
        says=said(shown.says, **things),
        open_says=said('Cannot tell yet whether "{cut}" cuts too much of the {member}.', **things),
        to_come=said('Keep "{cut}" within the framing rule: ' + _within(shown), **things),
        value=first.given,
        limit=first.limit,
        unit="in",
        working=lambda: _working(framing, row, book),
        sources=(row.source, book.value("cable-edge-distance").source),
        keys=(framing.entry(size), framing.entry("depth")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED), _OTHER),
    )


def _within(limit: Limit) -> str:
    return "at least {limit} from the edge." if limit.least else "at most {limit}."


def _row(framing: Framing, book: Rulebook) -> Row:
    """The row of limits for a member."""
    kind = framing.member
    if kind in ("stud", "plate"):
        kind = f"{'bearing' if framing.bearing else 'non-bearing'} {kind}"
    if kind == "bearing stud" and framing.doubled:
        kind = "doubled bearing stud"
    return book.table("framing-cuts").printed_row(kind)


def _limits(framing: Framing, row: Row) -> Iterator[Limit]:
    """The size of the cut first; then what else the rule limits."""
    notch = framing.cut == NOTCH
    if notch:
        size_m = expected(framing.notch_depth_m, framing, "notch_depth")
    else:
        size_m = expected(framing.diameter_m, framing, "diameter")
    most_m = row.printed_number("notch" if notch else "hole") * framing.depth_m
    if notch and framing.in_middle_third and not row.yes("notch_in_middle_third"):
        most_m = 0.0
    says = "A {given} {word} in a {member} {depth} deep: at most {limit} is allowed by the framing rule."
    yield Limit(in_unit(size_m, "in"), in_unit(most_m, "in"), False, says)
    share, least_m = row.number("notch_length"), row.number("hole_edge")
    if notch and share is not None:
        says = '"{cut}" is {given} long; in this {member} at most {limit} is allowed.'
        length_m = expected(framing.notch_length_m, framing, "notch_length")
        yield Limit(in_unit(length_m, "in"), in_unit(share * framing.depth_m, "in"), False, says)
    if not notch and least_m is not None:
        says = '"{cut}" is {given} from the edge of the {member}; the framing rule requires at least {limit}.'
        yield Limit(in_unit(framing.edge_distance_m, "in"), in_unit(least_m, "in"), True, says)


def _working(framing: Framing, row: Row, book: Rulebook) -> Iterator[Said]:
    """The limit, and the tighter of framing and electrical limits for the bit."""
    notch = framing.cut == NOTCH
    share = row.printed_number(NOTCH if notch else "hole")
    yield said(
        "{member}: at most {share} of {depth} = {most}",
        member=row.key[0],
        share=Amount(share),
        depth=Amount(in_unit(framing.depth_m, "in"), "in"),
        most=Amount(in_unit(share * framing.depth_m, "in"), "in", Rounding.DOWN),
    )
    if notch:
        if framing.in_middle_third and not row.yes("notch_in_middle_third"):
            yield said("in the middle third of the span no notch is allowed")
        return
    edge, electrical = row.number("hole_edge"), book.value("cable-edge-distance").number
    plain = largest_bit_m(framing.depth_m, share, electrical if edge is None else max(edge, electrical))
    plated = largest_bit_m(framing.depth_m, share, edge)
    yield said(
        "largest bit in the middle, without plates: {plain} (keeps {keeps} on both sides); with steel plates: {plated}",
        plain=Amount(in_unit(plain, "in"), "in", Rounding.DOWN),
        keeps=Amount(in_unit(electrical, "in"), "in"),
        plated=Amount(in_unit(plated, "in"), "in", Rounding.DOWN),
    )


WORSE: dict[str, Direction] = {
    "framing.member": EACH,
    "framing.cut": EACH,
    "framing.bearing": MORE,
    "framing.doubled": LESS,
    "framing.depth": LESS,
    "framing.diameter": MORE,
    "framing.edge_distance": LESS,
    "framing.notch_depth": MORE,
    "framing.notch_length": MORE,
    "framing.in_middle_third": MORE,
    "framing.origin": order("existing", "added"),
}

RULE = CaseRule[Framing](
    name="framing-cut",
    title="Holes and notches in framing",
    family=Family.SITE,
    rank=525,
    subjects=lambda case: case.framing,
    answer=answer,
    worse=WORSE,
)
