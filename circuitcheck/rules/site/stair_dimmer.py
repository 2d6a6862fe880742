"""Stair dimmer: new lights of a stair in a dwelling that are dimmed at one floor level and only switched at another.

What it asks: on a stair of six risers or more, where a dimmer is among the switches of an added light, whether the full
range of dimming is there at each place.

Why: where one end can dim and the other can only switch, somebody leaves the light turned down, and whoever comes from
the other end switches on a stair that stays nearly dark.

What to do: plan dimmers of one system that give the full range at each place, or plain three-way switches.

Cannot see: what two dimmers do together; their instructions say whether each place gives the full range.
"""

from __future__ import annotations

from circuitcheck.case import EACH, Answer, Case, CaseRule, Family, said
from circuitcheck.case.parts import Control, Driver, Load
from circuitcheck.domain.stairs import ON_STAIR_WORSE, is_added_on_stair, may_be_lights, stair_light_named
from circuitcheck.domain.switches_before import MORE_SWITCHES, before_light, pairs
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

DIMMER, SWITCH = "dimmer", "switch"
_TO_DO = ("Plan dimmers that give the full range at each place, by their instructions, or plain three-way switches.",)


def answer(thing: Load | Driver, case: Case, book: Rulebook) -> Answer | None:
    """Whether an added light of a stair can be dimmed wherever it can be switched."""
    if not is_added_on_stair(thing, case):
        return None
    switches = _switches(case, thing)
    dimmers = [each for each in switches if each.kind == DIMMER]
    if not dimmers or len(switches) < 2:
        return None  # a dimmer alone: `stair-switch` asks for the second place
    plain = [each for each in switches if each.kind == SWITCH]
    things = {
        "name": stair_light_named(thing),
        "dimmer": dimmers[0].id,
        "other": (plain or [each for each in switches if each is not dimmers[0]])[0].id,
    }
    if plain:
        says = said('"{dimmer}" dims {name} on the stair, and "{other}" can only switch it.', **things)
    else:
        says = said('"{dimmer}" and "{other}" dim {name} on the stair: see that each gives the full range.', **things)
    return Answer(
        part=thing,
        outcome=Outcome.FAIL if plain else Outcome.CAUTION,
        says=says,
        open_says=said("Cannot tell yet whether {name} on the stair can be dimmed at each floor level.", **things),
        sources=(book.value("stair-dimmer-full-range").source,),
        keys=tuple(each.entry("kind") for each in switches),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED), _TO_DO),
    )


def _switches(case: Case, thing: Load | Driver) -> list[Control]:
    """The switches before a light, with their partners."""
    names = pairs(case)
    before = {names[each] for each in before_light(case, thing) if each in names}
    return [control for control in case.controls if names[control.id] in before]


RULE = CaseRule["Load | Driver"](
    name="stair-dimmer",
    title="A dimmer on a stair dims at each floor level",
    family=Family.SITE,
    rank=335,
    subjects=may_be_lights,
    answer=answer,
    worse={
        "control.kind": EACH,
        "cable.carries": MORE_SWITCHES,
        **ON_STAIR_WORSE,
    },
)
