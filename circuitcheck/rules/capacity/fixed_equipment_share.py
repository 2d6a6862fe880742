"""Fixed equipment: whether equipment that is fastened in place leaves half of a shared circuit free.

What it asks: the rating of all equipment fastened in place other than luminaires (fans, heaters, alarms) on a circuit
that also has lights or things that are plugged in.

Why: such a circuit is meant to be shared. Fixed equipment may take half of it; a fan with a heater in it or a big
attic fan takes more than people think.

What to do: read the label of each fan or heater. When they pass half of the breaker, the new lights belong on another
circuit.

Cannot see: equipment that nobody listed. Circuits other than those of 15 and 20 A have rules of their own and are
left out.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import EACH, Amount, Answer, Case, CaseRule, Family, Rounding, Said, Things, said
from circuitcheck.case.list_apart import SHARING, kinds_apart, worse_apart
from circuitcheck.case.parts import Load, Part, Supply
from circuitcheck.domain.directions import LOAD_DRAW_WORSE, hardwired_is_worse
from circuitcheck.domain.draws import HARDWIRED, RECEPTACLE, Draw, load_draw
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.findings import Part as Share
from circuitcheck.tables.rulebook import Rulebook

#: Kinds that are fastened in place unless they have a cord; a luminaire is none of them.
FIXED_KINDS = ("fan", "heater", "alarm", "other")
LIGHT, CORD = "light", "cord"
_READ = "Read the label of each fan and heater; if it stays like this, feed the new lights from another circuit."


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer | None:
    """What equipment fastened in place takes of the circuit [A], where it shares it with lights or plugged-in loads."""
    breaker, share = supply.breaker_a, book.value("fixed-equipment-share")
    if exceeds(breaker, book.value("general-circuit-greatest-rating").number):
        return None
    drawn = _beside_the_rest(case, [load_draw(case, load) for load in case.loads if _is_fixed(load)])
    if not drawn:
        return None
    takes, limit = sum(draw.amperes for draw in drawn), share.number * breaker
    fits = not exceeds(takes, limit)
    amounts: Things = {
        "named": ", ".join(f'"{draw.part.id}"' for draw in drawn),
        "takes": Amount(takes, "A"),
        "limit": Amount(limit, "A", Rounding.DOWN),
    }
    if fits:
        says = said("Equipment fastened in place ({named}) draws {takes} of the {limit} it may draw.", **amounts)
    else:
        says = said(
            "Equipment fastened in place ({named}) draws {takes}, more than the {limit} it may draw from a circuit "
            "shared with lights.",
            **amounts,
        )

    def working() -> tuple[Said, ...]:
        return (
            *(
                said(
                    "{load}: " + draw.written.template + " = {amperes}",
                    **{**draw.written.things, "load": draw.part.id, "amperes": Amount(draw.amperes, "A")},
                )
                for draw in drawn
            ),
            said(
                "limit: {share} x {breaker} = {limit}",
                share=Amount(share.number),
                breaker=Amount(breaker, "A"),
                **amounts,
            ),
        )

    return Answer(
        part=supply,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=says,
        open_says=said(
            "Cannot tell yet whether equipment fastened in place draws too much: {takes}, and {limit} is the most on a "
            "circuit shared with lights.",
            **amounts,
        ),
        value=takes,
        limit=limit,
        unit="A",
        working=working,
        sources=merge_sources((share.source,), *(draw.sources for draw in drawn)),
        keys=tuple(draw.part.ref for draw in drawn),
        rows=tuple(Share(draw.part.id, draw.amperes, draw.part.id) for draw in drawn),
        to_do={Outcome.FAIL: (_READ,), Outcome.UNDETERMINED: (_READ,)},
    )


def _is_fixed(load: Load) -> bool:
    return load.kind in FIXED_KINDS and load.connection == HARDWIRED


def _shares(load: Load) -> bool:
    return load.kind in (LIGHT, RECEPTACLE) or load.connection == CORD


def _beside_the_rest(case: Case, fixed: list[Draw]) -> list[Draw]:
    """What is fastened in place and shares the circuit with something else; nothing where nothing else is on it.

    Whether a load shares is asked apart from whether it is fastened in place. No load does both: where those that share
    could all be fastened in place too, one of them is not, at worst the one that draws least.
    """
    if case.drivers:
        return fixed
    sharing = {load for load, apart in kinds_apart(case, SHARING).items() if _shares(apart)}
    both = [draw for draw in fixed if draw.part in sharing]
    if len(both) < len(sharing):
        return fixed
    least = min(both, key=lambda draw: draw.amperes, default=None)
    return [draw for draw in fixed if draw is not least] if least else []


def _kind_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Equipment that is fastened in place is worse; whether something shares the circuit is asked apart."""
    return value in FIXED_KINDS


def _sharing_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A circuit that is shared is worse."""
    return value not in FIXED_KINDS


def _cord_is_worse(value: Any, part: Part, case: Case) -> Any:
    """The same of what has a cord."""
    return value == CORD


def _is_equipment(value: Any, book: Rulebook) -> bool:
    return value in FIXED_KINDS


RULE = CaseRule[Supply](
    name="fixed-equipment-share",
    title="Whether equipment fastened in place leaves half of a shared circuit free",
    family=Family.CAPACITY,
    rank=20,
    subjects=lambda case: (case.supply,),
    answer=answer,
    nothing=0.0,
    worse={
        **LOAD_DRAW_WORSE,
        "load.kind": _kind_is_worse,
        "load.connection": hardwired_is_worse,
        **worse_apart(SHARING, _sharing_is_worse),
        **worse_apart(SHARING, _cord_is_worse, "connection"),
        "supply.breaker": EACH,
    },
    alike={"load.kind": _is_equipment, f"{SHARING} load.kind": _is_equipment},
)
