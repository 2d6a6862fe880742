"""Cable support: how often added cable is held, and how near to each box.

What it asks: the greatest distance between supports of each added cable, and from each box to the first one.

Why: a loose cable pulls at its splices and hangs where it is stepped on. It is a usual red tag.

What to do: staple or strap at the spacing, one staple for no more cables than it is made for, and do not crush the
sheath. At a single-gang plastic box without clamps the first staple stands closer.

Cannot see: how many cables lie under one staple, short whips to lights in a ceiling that can be opened, and whether
cable that counts as fished could have been held.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from circuitcheck.circuit.model import Box, Cable, Circuit
from circuitcheck.findings import Finding, Outcome, exceeds, judge_at_most
from circuitcheck.quantities import Interval, in_unit
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook, Value

#: Which value holds for cables that have one of their own; the rest are nonmetallic cable, or nothing that this knows.
SPACING = {"AC": "armored-cable-support-spacing", "MC": "metal-clad-support-spacing"}
UNHELD = ("fished", "in raceway", "buried")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """Up to two findings for each added cable: spacing, and distance from the box; in inches."""
    table = book.table("cable-types")
    for cable in circuit.tree.branch_cables:
        row = table.find(cable.type) if cable.type else None
        known = row is None or row.yes("nonmetallic") or cable.type in SPACING
        if not is_added(cable) or not known:
            continue
        if cable.run in UNHELD:
            if cable.run == "fished":
                yield _fished(cable, book.value("cable-fished-unsupported"))
            continue
        spacing = book.value(SPACING.get(cable.type or "", "cable-support-spacing"))
        ends = (circuit.tree.box.get(cable.from_id), circuit.tree.box[cable.to_id])
        yield _answer(cable, "support_spacing", cable.support_spacing_m, spacing, "between supports")
        boxes = [] if cable.type in SPACING else [end for end in ends if end is not None and _may_be_clampless(end)]
        close = any(box.material is not None and box.internal_clamps is not None for box in boxes)
        near = book.value("cable-support-from-box-without-clamp" if close else "cable-support-from-box")
        words = "from a single-gang plastic box without clamps" if close else "from each box"
        found = _answer(cable, "support_from_box", cable.support_from_box_m, near, f"{words} to the first support")
        closer = book.value("cable-support-from-box-without-clamp")
        given = cable.support_from_box_m
        if boxes and found.outcome is Outcome.PASS and given is not None and exceeds(given.high, closer.number):
            found = _open(found, boxes, closer)
        yield found


def _may_be_clampless(box: Box) -> bool:
    """A single-gang box that is plastic and without clamps, as far as anybody said."""
    if box.material == "metal" or box.internal_clamps:
        return False
    return bool(box.devices) and sum(device.gangs for device in box.devices) == 1


def _open(found: Finding, boxes: Sequence[Box], closer: Value) -> Finding:
    """The finding where only clamps that nobody looked at make the distance small enough."""
    open_keys = (
        (f"box.{box.id}.{name}", value)
        for box in boxes
        for name, value in (("material", box.material), ("internal_clamps", box.internal_clamps))
    )
    needs = tuple(key for key, value in open_keys if value is None)
    limit_in = in_unit(closer.number, "in")
    return replace(
        found,
        outcome=Outcome.UNDETERMINED,
        says=f"{found.says.rstrip('.')}, but {limit_in:g} in if {boxes[0].id} is a plastic box without clamps.",
        limit=limit_in,
        sources=(*found.sources, closer.source),
        needs=needs,
        to_do=("Look for clamps in the box, or plan the first support closer.",),
    )


def _fished(cable: Cable, value: Value) -> Finding:
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=Outcome.PASS,
        says=f"Cable {cable.id} is fished through closed spaces, where the supports may be left out.",
        sources=(value.source,),
        keys=(f"cable.{cable.id}.run",),
    )


def _answer(cable: Cable, name: str, given: Interval | None, limit: Value, words: str) -> Finding:
    key = f"cable.{cable.id}.{name}"
    limit_in = in_unit(limit.number, "in")
    if given is None:
        outcome, says = Outcome.CAUTION, f"Hold cable {cable.id} with at most {limit_in:g} in {words}."
    else:
        outcome = judge_at_most(given.low, given.high, limit.number)
        says = f"Cable {cable.id} has {in_unit(given.high, 'in'):.3g} in {words}; at most {limit_in:g} in is asked for."
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
    uses=(
        "value:cable-support-spacing",
        "value:armored-cable-support-spacing",
        "value:metal-clad-support-spacing",
        "value:cable-support-from-box",
        "value:cable-support-from-box-without-clamp",
        "value:cable-fished-unsupported",
        "cable-types",
    ),
    check=check,
)
