"""Stair switch: new lights of a stair in a dwelling, and a switch at each floor level.

What it asks: on a stair of six risers or more from one floor level to the next, whether each added light can be
switched at both: by three-way switches, or by a sensor, timer or smart switch.

Why: someone at the far end of a dark stair cannot reach a single switch.

What to do: plan three-way switches at the top and at the bottom, or automatic control.

Cannot see: where on the stair the switches hang, landings with an entry of their own, and stairs that the work does not
light.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import Answer, Case, CaseRule, Family, order, said
from circuitcheck.case.parts import Driver, Load, Part
from circuitcheck.domain.stairs import ON_STAIR_WORSE, is_added_on_stair, may_be_lights, stair_light_named
from circuitcheck.domain.switches_before import FEWER_SWITCHES, SWITCHED, UNNAMED, before_light
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

AUTOMATIC = ("sensor", "timer", "smart switch")
SEVERAL = ("three-way", "four-way")
_TO_DO = ("Plan three-way switches at the top and at the bottom of the stair, or automatic control.",)


def answer(thing: Load | Driver, case: Case, book: Rulebook) -> Answer | None:
    """Whether an added light of a stair can be switched at each floor level."""
    if not is_added_on_stair(thing, case):
        return None
    least, risers = book.value("stair-switch-risers"), case.site.stair_risers
    before = before_light(case, thing)
    switches = [case.control[each] for each in before if each in case.control]
    things = {"name": stair_light_named(thing), "risers": f"{risers:g}", "least": f"{least.number:g}"}
    keys = [Ref("site", "", "stair_risers"), *(each.entry("ways") for each in switches)]
    if any(each.with_id or each.ways in SEVERAL or each.kind in AUTOMATIC for each in switches):
        outcome = Outcome.PASS
        says = said("On a stair of {risers} risers, {name} can be switched at each floor level.", **things)
    elif UNNAMED in before:
        outcome = Outcome.UNDETERMINED
        says = said("On a stair of {risers} risers, {name} is behind a switch that the file does not name.", **things)
        keys = _who_switches(thing, case)
    else:
        outcome = Outcome.FAIL
        says = said(
            "The stair has {risers} risers, and {name} has no switch at each floor level. The code requires that from "
            "{least} risers on.",
            **things,
        )
    return Answer(
        part=thing,
        outcome=outcome,
        says=says,
        open_says=said("Cannot tell yet whether {name} needs a switch at each floor level of a stair.", **things),
        sources=(least.source,),
        keys=tuple(keys),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED), _TO_DO),
    )


def _who_switches(thing: Load | Driver, case: Case) -> list[Ref]:
    """Where to say which switch it is: at the light; where that names one, at the switched cables that name none."""
    way = (cable for cable in case.tree.path(thing.box) if cable.carries in SWITCHED and not cable.switched_by)
    return [thing.entry("switched_by")] if thing.switched_by is None else [each.entry("switched_by") for each in way]


def _one_place(value: Any, part: Part, case: Case) -> bool:
    """A kind that somebody has to walk to is worse."""
    return value not in AUTOMATIC


RULE = CaseRule["Load | Driver"](
    name="stair-switch",
    title="A switch at each floor level of a stair",
    family=Family.SITE,
    rank=330,
    subjects=may_be_lights,
    answer=answer,
    doubts=frozenset({"cable.carries"}),
    worse={
        "cable.carries": FEWER_SWITCHES,
        "control.ways": order(*SEVERAL, "single-pole"),
        "control.kind": _one_place,
        **ON_STAIR_WORSE,
    },
)
