"""Tamper-resistant receptacles: whether a new receptacle in a dwelling keeps out what a child pushes into it.

What it asks: for each added receptacle in a dwelling, whether it is of the tamper-resistant kind, or out of reach.

Why: its shutters open only for the two blades of a plug. A hairpin or a key in one slot stays outside.

What to do: buy receptacles marked TR. They cost little more than others. Those more than 5-1/2 ft above the floor,
and those behind an appliance that stays in its place, are let off.

Cannot see: receptacles that are there already, guest rooms, schools and offices. For damp and wet places see
weather-resistant.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, MORE, Answer, Case, CaseRule, Family, Things, said
from circuitcheck.case.parts import Load, Part
from circuitcheck.domain.draws import RECEPTACLE
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

_BUY = ("Buy a receptacle marked TR (tamper-resistant).",)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Whether an added receptacle of a dwelling is tamper-resistant."""
    if not load.is_added or load.kind != RECEPTACLE or not case.site.dwelling:
        return None
    things: Things = {"receptacle": load.id}
    if load.tamper_resistant:
        outcome, says = Outcome.PASS, said('"{receptacle}" is tamper-resistant.', **things)
    elif load.out_of_reach:
        outcome = Outcome.PASS
        says = said('"{receptacle}" is out of reach, so it need not be tamper-resistant.', **things)
    else:
        outcome = Outcome.FAIL
        says = said('"{receptacle}" is within reach in a dwelling and not tamper-resistant, as it has to be.', **things)
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{receptacle}" has to be tamper-resistant, and is.', **things),
        to_come=said('"{receptacle}" has to be tamper-resistant: buy one that is marked TR.', **things),
        sources=(book.value("tamper-resistant-in-dwellings").source,),
        keys=(load.entry("tamper_resistant"), load.entry("out_of_reach")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _BUY),
    )


def _receptacle_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Nothing is asked of what is no receptacle."""
    return value == RECEPTACLE


RULE = CaseRule[Load](
    name="tamper-resistant",
    title="Tamper-resistant receptacles in dwellings",
    family=Family.SITE,
    rank=265,
    subjects=lambda case: case.loads,
    answer=answer,
    worse={
        "load.kind": _receptacle_is_worse,
        "load.tamper_resistant": LESS,
        "load.out_of_reach": LESS,
        "site.dwelling": MORE,
    },
)
