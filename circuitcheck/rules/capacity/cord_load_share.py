"""Cord-and-plug load: whether one thing that is plugged in takes too much of the circuit.

What it asks: the rating of each single cord-and-plug load against 80 percent of a 15 or 20 A breaker.

Why: a circuit with lights or several receptacles is shared. One heater or vacuum cleaner that takes nearly all of it
leaves nothing for the rest, and runs plug and receptacle hot.

What to do: give the big thing a circuit of its own, by an electrician.

Cannot see: what will be plugged in later, and breakers of more than 20 A, which follow other rules.
"""

from __future__ import annotations

from circuitcheck.case import EACH, Amount, Answer, Case, CaseRule, Family, Rounding, Said, Things, said, words_apart
from circuitcheck.case.parts import Load
from circuitcheck.domain.directions import LOAD_DRAW_WORSE
from circuitcheck.domain.draws import RECEPTACLE, load_draw, says_what_it_takes
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

CORD = "cord"
_TO_DO = ("Move it to a circuit of its own before you add lights to this one.",)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """What one cord-and-plug load takes [A]."""
    share, breaker = book.value("cord-load-share"), case.supply.breaker_a
    if load.quantity < 1 or exceeds(breaker, book.value("general-circuit-greatest-rating").number):
        return None
    if not (load.connection == CORD or load.kind == RECEPTACLE) or not says_what_it_takes(load):
        return None
    limit, draw = share.number * breaker, load_draw(case, load)
    if draw.amperes == 0.0:
        return None
    takes = draw.amperes / load.quantity
    fits = not exceeds(takes, limit)
    amounts: Things = {"takes": Amount(takes, "A"), "limit": Amount(limit, "A", Rounding.DOWN), "load": load.id}
    if fits:
        says = said('"{load}" draws {takes} of the {limit} that one plugged-in load may draw.', **amounts)
    else:
        says = said('"{load}" alone draws {takes}, more than the {limit} one plugged-in load may draw.', **amounts)

    def working() -> tuple[Said, ...]:
        return (
            said(draw.written.template + " = {takes} each", **{**draw.written.things, **amounts}),
            said(
                "limit: {share} x {breaker} = {limit}",
                share=Amount(share.number),
                breaker=Amount(breaker, "A"),
                **amounts,
            ),
        )

    return Answer(
        part=load,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=says,
        open_says=said(
            'Cannot tell yet whether "{load}" draws too much: {takes}, and one plugged-in load may draw {limit}.',
            **amounts,
        ),
        value=takes,
        limit=limit,
        unit="A",
        working=working,
        sources=merge_sources((share.source,), draw.sources),
        keys=(load.ref,),
        to_do={Outcome.FAIL: _TO_DO, Outcome.UNDETERMINED: _TO_DO},
    )


RULE = CaseRule[Load](
    name="cord-load-share",
    title="Whether one plugged-in load draws too much of the circuit",
    family=Family.CAPACITY,
    rank=30,
    subjects=lambda case: case.loads,
    answer=answer,
    worse={
        **LOAD_DRAW_WORSE,
        "supply.breaker": EACH,
        # Of a receptacle of which nobody knows the use nothing is said, whatever lamp is in it.
        "load.power": lambda value, part, case: (value is not None, value),
        "load.kind": EACH,  # a receptacle is asked about even where it counts as hardwired
        "load.connection": lambda value, part, case: value == CORD,
    },
    alike={"load.kind": words_apart("receptacle")},
)
