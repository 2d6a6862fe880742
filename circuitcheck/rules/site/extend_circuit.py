"""Extending this circuit: whether this circuit may feed new lights at all.

What it asks: what the circuit serves, how large its breaker or fuse is, and, for a 10 A circuit, what else is on it.

Why: circuits for kitchen, laundry and bathroom receptacles are kept for those, so that they are not loaded by
anything else. A circuit for one machine alone stops being that when something is added. A 10 A circuit is for
lighting only, and over 20 A a circuit feeds no lights in a dwelling.

What to do: look at the panel's directory and at what goes dead with the breaker. When the circuit is one of those,
feed the lights from a general lighting circuit.

Cannot see: local amendments, and which circuit was put in to meet which requirement.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, exceeds, merge_sources
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.parts import has_added_work
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

KEY = "supply.serves"
OUTCOMES = {"yes": Outcome.PASS, "no": Outcome.FAIL, "ask": Outcome.UNDETERMINED}


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding on what the circuit serves, and one on its rating where that is under the usual ones."""
    if not has_added_work(circuit):
        return
    yield _by_use(circuit, book)
    yield from _by_rating(circuit, book)
    yield from _too_large(circuit, book)


def _by_use(circuit: Circuit, book: Rulebook) -> Finding:
    table = book.table("circuit-uses")
    serves = circuit.supply.serves
    row = table.find(serves) if serves is not None else None
    if row is None:
        return Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.UNDETERMINED,
            says="Cannot tell whether this circuit may be extended for lighting: nobody said what it serves.",
            sources=merge_sources(row.source for row in table.rows),
            needs=(KEY,),
            keys=(KEY,),
            to_do=(
                "Switch the breaker off and see what goes dead: kitchen, laundry and bathroom receptacles matter most.",
            ),
        )
    # Some circuits may feed lights in the room that they were put in for, when they serve no other: one has to ask.
    here = circuit.site.room is not None and circuit.site.room == row.text("ask_in_room")
    outcome = OUTCOMES["ask" if here else row.text("lighting") or "ask"]
    reason, question = row.text("reason"), row.text("question")
    lead = {
        Outcome.PASS: "This circuit may be extended for lighting",
        Outcome.FAIL: "This circuit may not be extended for the new lights",
        Outcome.UNDETERMINED: "Cannot tell whether this circuit may be extended for lighting",
    }[outcome]
    return Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=f"{lead}: {reason}.",
        sources=(row.source,),
        needs=(KEY,) if outcome is Outcome.UNDETERMINED else (),
        keys=(KEY,),
        to_do=("Feed the new lights from a general lighting circuit.",) if outcome is Outcome.FAIL else (),
        ask=(question,) if question else (),
    )


def _by_rating(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """What a circuit rated under the usual ratings may feed; editions that know no such circuit say so."""
    breaker = circuit.supply.breaker_a
    usual = book.value("general-circuit-least-rating")
    if not exceeds(usual.number, breaker.high):
        return
    allowed = book.find_value("ten-ampere-circuit")
    key = "supply.breaker"
    rating = span(breaker.low, breaker.high, "A")
    if allowed is None:
        yield Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.CAUTION,
            says=f"This edition lists no branch circuit of {rating}; later editions allow 10 A for lighting.",
            sources=(usual.source,),
            keys=(key,),
            ask=(f"Is a {rating} lighting circuit accepted here?",),
        )
        return
    fan_rooms = book.value("ten-ampere-fan-rooms")
    boxes = circuit.tree.box
    wrong = [
        load
        for load in circuit.loads
        if load.kind is not None
        and (
            load.kind not in allowed.items
            or (load.kind == "fan" and boxes[load.box].room not in (None, *fan_rooms.items))
        )
    ]
    open_kinds = tuple(f"load.{load.id}.kind" for load in circuit.loads if load.kind is None)
    if wrong:
        outcome = Outcome.FAIL
        named = ", ".join(load.id for load in wrong)
        says = f"A {rating} circuit may feed lighting and bath or laundry fans only, not {named}."
    elif open_kinds:
        outcome = Outcome.UNDETERMINED
        says = f"Cannot tell whether a {rating} circuit may feed all of this: it is for lighting and bath fans only."
    else:
        outcome = Outcome.PASS
        says = f"A {rating} circuit may feed lighting and bath or laundry fans, and nothing else is on it."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        sources=(allowed.source, fan_rooms.source),
        needs=open_kinds if outcome is Outcome.UNDETERMINED else (),
        keys=(key, *(f"load.{load.id}.kind" for load in wrong), *open_kinds),
        to_do=("Move what is not lighting to another circuit, or feed the lights from another one.",) if wrong else (),
        ask=("Is every fan on this circuit an exhaust fan of a bathroom or a laundry room?",)
        if any(load.kind == "fan" for load in circuit.loads)
        else (),
    )


def _too_large(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """A circuit over the rating up to which circuits in dwellings may feed lights."""
    breaker, dwelling = circuit.supply.breaker_a, circuit.site.dwelling
    most = book.value("lighting-circuit-greatest-rating")
    if not exceeds(breaker.high, most.number):
        return
    rating = span(breaker.low, breaker.high, "A")
    needs: tuple[str, ...] = ()
    if dwelling is False:
        outcome = Outcome.CAUTION
        says = f"A {rating} circuit feeds only lights with heavy-duty lampholders."
    elif dwelling is None or not exceeds(breaker.low, most.number):
        outcome, needs = Outcome.UNDETERMINED, ("site.dwelling" if dwelling is None else "supply.breaker",)
        says = (
            f"Cannot tell whether a {rating} circuit may feed lights here: in a dwelling {most.number:g} A is the most."
        )
    else:
        outcome = Outcome.FAIL
        says = f"A {rating} circuit may not feed lights in a dwelling: {most.number:g} A is the most."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        sources=(most.source,),
        needs=needs,
        keys=("supply.breaker", "site.dwelling"),
        to_do=("Let an electrician find out which breaker or fuse this wire may have, before anything is added.",),
    )


RULE = Rule(
    name="extend-circuit",
    title="Whether this circuit may feed new lights at all",
    family="site",
    uses=(
        "circuit-uses",
        "value:general-circuit-least-rating",
        "value:ten-ampere-circuit",
        "value:ten-ampere-fan-rooms",
        "value:lighting-circuit-greatest-rating",
    ),
    check=check,
)
