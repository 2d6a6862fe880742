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
from circuitcheck.findings import SEVERITY, Finding, Outcome, Source, judge_at_least, judge_at_most, merge_sources
from circuitcheck.quantities import in_unit
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Row, Rulebook

NEVER = ("truss",)
ASSUMED = {"bearing": "it counts as bearing", "in_middle_third": "it counts as in the middle third of the span"}


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
    open_keys = [f"{prefix}.bearing"] if framing.bearing is None and worst is not best else []
    if notch and framing.in_middle_third is not False and not worst.yes("notch_in_middle_third"):
        least = 0.0
        working.append("in the middle third of the span no notch is allowed")
        if framing.in_middle_third:
            most = 0.0
        else:
            open_keys.append(f"{prefix}.in_middle_third")
    bad, good = judge_at_most(size.low, size.high, least), judge_at_most(size.low, size.high, most)
    outcome = bad if bad is good else Outcome.UNDETERMINED
    needs = open_keys or [size_key] if outcome is Outcome.UNDETERMINED else []
    assumed_keys = tuple(open_keys)
    extra = _edge(framing, worst) if not notch else _notch_length(framing, worst)
    if extra is not None and SEVERITY[extra[0]] < SEVERITY[outcome]:
        outcome = extra[0]
        needs = [extra[1]] if outcome is Outcome.UNDETERMINED else []
    word = "notch" if notch else "hole"
    says = (
        f"A {in_unit(size.high, 'in'):.3g} in {word} in a {framing.member} of "
        f"{in_unit(framing.depth_m.low, 'in'):.3g} in: "
        f"at most {in_unit(least, 'in'):.3g} in is allowed by the framing rule."
    )
    if extra is not None and outcome is extra[0] and outcome is not Outcome.PASS:
        says = extra[2]
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
        needs=tuple(needs),
        assumed=tuple(
            f"{framing.id}: {ASSUMED[key.rpartition('.')[2]]}, since the file does not say." for key in open_keys
        ),
        assumed_keys=assumed_keys,
        keys=(size_key, f"{prefix}.depth"),
        to_do=()
        if outcome is Outcome.PASS
        else ("Use a smaller bit in the middle of the member, or another way for the cable.",),
    )


def _edge(framing: Framing, row: Row) -> tuple[Outcome, str, str] | None:
    """Whether the hole keeps its distance from the edge: (outcome, key, sentence); None where the file is silent."""
    least, edge = row.number("hole_edge"), framing.edge_distance_m
    if least is None or edge is None:
        return None
    says = (
        f"{framing.id} stands {in_unit(edge.low, 'in'):.3g} in from the edge of the {framing.member}; "
        f"the framing rule asks for {in_unit(least, 'in'):.3g} in."
    )
    return judge_at_least(edge.low, edge.high, least), f"framing.{framing.id}.edge_distance", says


def _notch_length(framing: Framing, row: Row) -> tuple[Outcome, str, str] | None:
    """Whether a notch is short enough along the member: (outcome, key, sentence); None: no limit, or not said."""
    share, length, depth = row.number("notch_length"), framing.notch_length_m, framing.depth_m
    if share is None or length is None or depth is None:
        return None
    worst = judge_at_most(length.low, length.high, share * depth.low)
    best = judge_at_most(length.low, length.high, share * depth.high)
    says = (
        f"{framing.id} is {in_unit(length.high, 'in'):.3g} in long; in this {framing.member} at most "
        f"{in_unit(share * depth.low, 'in'):.3g} in is allowed."
    )
    outcome = worst if worst is best else Outcome.UNDETERMINED
    return outcome, f"framing.{framing.id}.notch_length", says


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
