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

from circuitcheck.circuit.model import Circuit, Framing
from circuitcheck.findings import Finding, Outcome, Source, judge_at_most, merge_sources
from circuitcheck.quantities import in_unit
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Row, Rulebook

NEVER = ("truss",)


def _row(framing: Framing, book: Rulebook, *, worst: bool) -> Row | None:
    """The row of limits for a member: bearing counts where it is unknown (worst), or not (best)."""
    bearing = framing.bearing if framing.bearing is not None else worst
    kind = framing.member or ""
    if kind in ("stud", "plate"):
        kind = f"{'bearing' if bearing else 'non-bearing'} {kind}"
    if kind == "bearing stud" and framing.doubled:
        kind = "doubled bearing stud"
    return book.table("framing-cuts").find(kind)


def largest_bit_m(depth_m: float, share: float, edge_m: float) -> float:
    """Largest centered hole [m] in a member of ``depth_m``: a share of the depth, leaving ``edge_m`` on both sides."""
    return max(0.0, min(share * depth_m, depth_m - 2.0 * edge_m))


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each hole or notch; value and limit in inches."""
    for framing in circuit.framing:
        if framing.origin == "existing":
            continue
        if framing.member in NEVER:
            yield Finding(
                check=RULE.name,
                subject=framing.id,
                outcome=Outcome.FAIL,
                says=f"{framing.id} would cut a truss: no holes or notches without its maker or an engineer.",
                sources=(book.value("truss-cuts").source,),
                keys=(f"framing.{framing.id}.member",),
                to_do=("Run the cable around or along the truss, and fasten it to its face.",),
            )
        else:
            yield _cut(framing, book)


def _cut(framing: Framing, book: Rulebook) -> Finding:
    prefix = f"framing.{framing.id}"
    notch = framing.cut == "notch"
    size, size_key = (
        (framing.notch_depth_m, f"{prefix}.notch_depth") if notch else (framing.diameter_m, f"{prefix}.diameter")
    )
    worst, best = _row(framing, book, worst=True), _row(framing, book, worst=False)
    needs = [
        key
        for key, value in (
            (f"{prefix}.member", framing.member),
            (f"{prefix}.cut", framing.cut),
            (f"{prefix}.depth", framing.depth_m),
            (size_key, size),
        )
        if value is None
    ]
    if needs or worst is None or best is None or framing.depth_m is None or size is None:
        return Finding(
            check=RULE.name,
            subject=framing.id,
            outcome=Outcome.UNDETERMINED,
            says=f"Cannot tell whether {framing.id} cuts too much of the wood.",
            needs=tuple(needs) or (f"{prefix}.member",),
            keys=tuple(needs),
            to_do=("Measure the member's depth and plan the hole or notch.",),
        )
    column = "notch" if notch else "hole"
    least, most = (
        (worst.number(column) or 0.0) * framing.depth_m.low,
        (best.number(column) or 0.0) * framing.depth_m.high,
    )
    working, sources = _working(framing, worst, best, book, least, notch=notch)
    if notch and framing.in_middle_third and not worst.cells.get("notch_in_middle_third"):
        least = most = 0.0
        working.append("in the middle third of the span no notch is allowed")
    bad, good = judge_at_most(size.low, size.high, least), judge_at_most(size.low, size.high, most)
    outcome = bad if bad is good else Outcome.UNDETERMINED
    edge = _edge_outcome(framing, worst)
    if edge is Outcome.FAIL:
        outcome = Outcome.FAIL
    word = "notch" if notch else "hole"
    says = (
        f"A {in_unit(size.high, 'in'):.3g} in {word} in a {framing.member} of "
        f"{in_unit(framing.depth_m.low, 'in'):.3g} in: "
        f"at most {in_unit(least, 'in'):.3g} in is allowed by the framing rule."
    )
    if edge is Outcome.FAIL:
        says = f"{framing.id} stands too near the edge of the {framing.member} for the framing rule."
    return Finding(
        check=RULE.name,
        subject=framing.id,
        outcome=outcome,
        says=says,
        value=in_unit(size.high, "in"),
        limit=in_unit(least, "in"),
        unit="in",
        low=in_unit(size.low, "in"),
        high=in_unit(size.high, "in"),
        working=tuple(working),
        sources=sources,
        needs=(f"{prefix}.bearing",)
        if outcome is Outcome.UNDETERMINED and framing.bearing is None
        else ((size_key,) if outcome is Outcome.UNDETERMINED else ()),
        assumed=(f"{framing.id} counts as bearing, since the file does not say.",)
        if framing.bearing is None and worst is not best
        else (),
        assumed_keys=(f"{prefix}.bearing",) if framing.bearing is None and worst is not best else (),
        keys=(size_key, f"{prefix}.depth"),
        to_do=()
        if outcome is Outcome.PASS
        else ("Use a smaller bit in the middle of the member, or another way for the cable.",),
    )


def _edge_outcome(framing: Framing, row: Row) -> Outcome:
    """Whether the hole keeps the framing rule's own distance from the edge; PASS where nothing is said."""
    least = row.number("hole_edge")
    if least is None or framing.edge_distance_m is None or framing.cut == "notch":
        return Outcome.PASS
    return Outcome.FAIL if framing.edge_distance_m.high < least else Outcome.PASS


def _working(
    framing: Framing, worst: Row, best: Row, book: Rulebook, least_m: float, *, notch: bool
) -> tuple[list[str], tuple[Source, ...]]:
    """Working lines with the tighter of framing and electrical limits, and the sources used."""
    electrical = book.value("cable-edge-distance")
    share = worst.number("notch" if notch else "hole") or 0.0
    depth_m = framing.depth_m.low if framing.depth_m else 0.0
    lines = [
        f"{' '.join(worst.key)}: at most {share:.3g} of {in_unit(depth_m, 'in'):.3g} in = "
        f"{in_unit(least_m, 'in'):.3g} in"
    ]
    if not notch:
        edge = worst.number("hole_edge") or 0.0
        plain = largest_bit_m(depth_m, share, max(edge, electrical.number))
        plated = largest_bit_m(depth_m, share, edge)
        lines.append(
            f"largest bit in the middle, without plates: {in_unit(plain, 'in'):.3g} in "
            f"(keeps {in_unit(electrical.number, 'in'):g} in on both sides); with steel plates: "
            f"{in_unit(plated, 'in'):.3g} in"
        )
    return lines, merge_sources((worst.source, best.source, electrical.source))


RULE = Rule(
    name="framing-cut",
    title="Holes and notches in framing",
    family="site",
    uses=("framing-cuts", "value:truss-cuts", "value:cable-edge-distance"),
    check=check,
)
