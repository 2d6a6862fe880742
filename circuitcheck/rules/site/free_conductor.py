"""Free conductor: how much wire is left to work with at each box.

What it asks: the length of free conductor that each added cable leaves at its boxes.

Why: short wires cannot be joined well and break when they are bent again. A short wire that was lengthened by a
pigtail is not the same thing: the splice then sits in the back of the box.

What to do: leave the length from where the conductor comes out of its sheath, and past the opening of a small box.

Cannot see: wires that are already cut short. Whether a spliced-on length counts differs by edition: ask.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, judge_at_least
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added branch cable; value and limit in inches."""
    least, past = book.value("free-conductor-length"), book.value("free-conductor-past-opening")
    splice = book.value("free-conductor-may-be-spliced")
    limit_in = in_unit(least.number, "in")
    for cable in circuit.tree.branch_cables:
        if not is_added(cable):
            continue
        key = f"cable.{cable.id}.free_length"
        free = cable.free_length_m
        if free is None:
            outcome, says = (
                Outcome.CAUTION,
                (f"Leave at least {limit_in:g} in of free conductor of cable {cable.id} at each box."),
            )
        else:
            outcome = judge_at_least(free.low, free.high, least.number)
            says = (
                f"Cable {cable.id} leaves {in_unit(free.low, 'in'):.3g} in of free conductor; {limit_in:g} in is "
                "asked for."
            )
        yield Finding(
            check=RULE.name,
            subject=cable.id,
            outcome=outcome,
            says=says,
            value=None if free is None else in_unit(free.low, "in"),
            limit=limit_in,
            unit="in",
            low=None if free is None else in_unit(free.low, "in"),
            high=None if free is None else in_unit(free.high, "in"),
            working=(splice.text,),
            sources=(least.source, past.source, splice.source),
            needs=(key,) if outcome is Outcome.UNDETERMINED else (),
            keys=(key,),
            to_do=()
            if outcome is Outcome.PASS
            else (
                f"Let the wire reach at least {in_unit(past.number, 'in'):g} in past the opening of a "
                "small box as well.",
            ),
            ask=("May a free conductor that is too short be lengthened by a splice here?",)
            if outcome is Outcome.FAIL
            else (),
        )


RULE = Rule(
    name="free-conductor",
    title="Free conductor at each box",
    family="site",
    uses=("value:free-conductor-length", "value:free-conductor-past-opening", "value:free-conductor-may-be-spliced"),
    check=check,
)
