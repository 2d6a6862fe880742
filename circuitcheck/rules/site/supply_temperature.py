"""Supply-wire temperature: whether the wire at a luminaire takes the heat that its label speaks of.

What it asks: the supply-wire temperature on the added luminaire's label against the insulation of the cable that feeds
its box.

Why: many luminaires require wire rated 90 °C (194 °F). Cable from before the middle of the 1980s often has 60 °C
(140 °F) conductors, whose insulation turns brittle above a lamp.

What to do: the trade's remedy is a new cable with 90 °C conductors from a junction box that stays reachable, some
distance from the luminaire. Or choose a luminaire whose label accepts 60 °C wire.

Cannot see: how hot the box really gets, nor insulation that is already damaged. The printing on the sheath decides;
the year is evidence only.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, MORE, Answer, Case, CaseRule, Family, Said, Things, said
from circuitcheck.case.parts import Load, Part
from circuitcheck.domain.cable_kinds import insulation_c, insulation_of_kind_c, kind_of_cable
from circuitcheck.domain.luminaires import LIGHT, is_added_light
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

_TO_DO = (
    "Read the supply-wire temperature on the luminaire's label or carton, and the printing on the cable sheath.",
    "Usual remedy: new cable with 90 °C (194 °F) conductors from a junction box that stays reachable.",
)


def _cooler_is_worse(value: Any, part: Part, case: Case) -> Any:
    """The type whose insulation takes less is worse."""
    return -insulation_of_kind_c(case.book, value)


def _degrees(celsius: float) -> str:
    return f"{celsius:g} °C ({celsius * 9 / 5 + 32:g} °F)"


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Value and limit in degC: what the label requires, and what the cable that feeds the box has."""
    cable = case.tree.feed.get(load.box)
    if cable is None or not is_added_light(load):
        return None
    usual = book.value("luminaire-supply-temperature")
    asked, has = load.supply_temperature_c, insulation_c(book, cable)
    things: Things = {
        "light": load.id,
        "cable": cable.id,
        "asked": _degrees(asked),
        "has": _degrees(has),
    }
    if exceeds(asked, has):
        says = said(
            'The light "{light}" requires supply wire rated {asked}, and its cable "{cable}" has {has}.', **things
        )
        outcome = Outcome.FAIL
    else:
        says = said('The cable "{cable}" at the light "{light}" is rated {has}; the light requires {asked}.', **things)
        outcome = Outcome.PASS
    by_kind = cable.insulation_temperature_c is None

    def working() -> tuple[Said, ...]:
        return (
            said("label of {light}: supply wire {asked}", **things),
            said("cable {cable}: insulation {has}", **things),
        )

    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said(
            'Cannot tell yet whether the wire at the light "{light}" is rated for the heat on its label ({asked}).',
            **things,
        ),
        value=asked,
        limit=has,
        unit="degC",
        working=working,
        sources=merge_sources((usual.source,), (kind_of_cable(book, cable.type).source,) if by_kind else ()),
        keys=(load.entry("supply_temperature"), cable.entry("type")),
        to_do={Outcome.FAIL: _TO_DO, Outcome.UNDETERMINED: _TO_DO},
    )


RULE = CaseRule[Load](
    name="supply-temperature",
    title="Supply wire for the heat of a luminaire",
    family=Family.SITE,
    rank=360,
    subjects=lambda case: case.loads,
    answer=answer,
    worse={
        "load.kind": lambda value, part, case: value == LIGHT,
        "load.supply_temperature": MORE,
        "cable.insulation_temperature": LESS,
        "cable.type": _cooler_is_worse,
    },
)
