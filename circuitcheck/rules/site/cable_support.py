"""Cable support: how often added cable is held, and how near to each box.

What it asks: the greatest distance between supports of each added nonmetallic cable, and from each box to the first
one.

Why: a loose cable pulls at its splices and hangs where it is stepped on. It is a usual red tag.

What to do: staple or strap at the spacing, one staple for no more cables than it is made for, and do not crush the
sheath.

Cannot see: cable fished through closed walls, where the book lets the supports go; a clampless single-gang plastic
box, where a shorter distance holds.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome, judge_at_most
from circuitcheck.quantities import Interval, in_unit
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook, Value


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Up to two findings for each added nonmetallic cable: spacing, and distance from the box; in inches."""
    spacing, near = book.value("cable-support-spacing"), book.value("cable-support-from-box")
    table = book.table("cable-types")
    for cable in circuit.tree.branch_cables:
        row = table.find(cable.type) if cable.type else None
        if is_added(cable) and (row is None or row.cells.get("nonmetallic")):
            yield _answer(cable, "support_spacing", cable.support_spacing_m, spacing, "between supports")
            yield _answer(
                cable, "support_from_box", cable.support_from_box_m, near, "from each box to the first support"
            )


def _answer(cable: Cable, name: str, given: Interval | None, limit: Value, words: str) -> Finding:
    key = f"cable.{cable.id}.{name}"
    limit_in = in_unit(limit.number, "in")
    if given is None:
        outcome, says = Outcome.CAUTION, f"Hold {cable.id} with at most {limit_in:g} in {words}."
    else:
        outcome = judge_at_most(given.low, given.high, limit.number)
        says = f"{cable.id} has {in_unit(given.high, 'in'):.3g} in {words}; at most {limit_in:g} in is asked for."
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=says,
        value=None if given is None else in_unit(given.high, "in"),
        limit=limit_in,
        unit="in",
        low=None if given is None else in_unit(given.low, "in"),
        high=None if given is None else in_unit(given.high, "in"),
        sources=(limit.source,),
        needs=(key,) if outcome is Outcome.UNDETERMINED else (),
        keys=(key,),
        to_do=() if outcome is Outcome.PASS else ("Staple or strap the new cable, and do not crush its sheath.",),
    )


RULE = Rule(
    name="cable-support",
    title="Supports along a cable and near its boxes",
    family="site",
    uses=("value:cable-support-spacing", "value:cable-support-from-box", "cable-types"),
    check=check,
)
