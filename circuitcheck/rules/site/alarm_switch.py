"""Alarm switch: a smoke alarm that a wall switch turns off.

What it asks: of each alarm, whether a switch stands before it: of a new one by what its cables carry too, of one that
is there already where the file names the switch.

Why: an alarm behind a switch is off whenever somebody turns off the light. Its battery then runs down, and it stays
silent in the night in which it is needed.

What to do: feed the alarm from a conductor that is always hot, before any switch.

Cannot see: which alarms a house must have, what connects them, and alarms that live on a battery alone. What is called
an alarm counts as a smoke alarm.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import Answer, Case, CaseRule, Family, Things, order, said, words_apart
from circuitcheck.case.parts import Load, Part
from circuitcheck.domain.switches_before import MORE_SWITCHES, UNNAMED, before_light
from circuitcheck.domain.switching import switched
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

ALARM = "alarm"
_TO_DO = ("Feed the alarm from a conductor that is always hot, before any switch.",)
_LOOK = ("Turn each switch off and see whether the light on the alarm that shows power stays on.", *_TO_DO)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Whether a switch turns an alarm off."""
    if load.kind != ALARM:
        return None
    switches = before_light(case, load) if load.is_added else _named(load, case)
    is_new = load.is_added or any(case.control[each].is_added for each in switches)
    if not switches and not load.is_added:
        return None
    things: Things = {
        "alarm": load.id,
        "switches": " and ".join(each if each == UNNAMED else f'"{each}"' for each in switches),
    }
    if switches:
        outcome = Outcome.FAIL if is_new else Outcome.CAUTION
        says = said('The alarm "{alarm}" goes off with {switches}: nothing may switch off a smoke alarm.', **things)
    else:
        outcome, says = Outcome.PASS, said('No switch turns off the alarm "{alarm}".', **things)
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether a switch turns off the alarm "{alarm}".', **things),
        sources=(book.value("alarm-without-a-switch").source,),
        keys=(load.entry("switched_by"),),
        to_do={Outcome.FAIL: _TO_DO, Outcome.CAUTION: _TO_DO, Outcome.UNDETERMINED: _LOOK},
    )


def _named(load: Load, case: Case) -> tuple[str, ...]:
    """The switches that the file names, whatever the cables are called."""
    return tuple(control.id for control in case.controls if load.id in switched(case).get(control.id, ()))


def _alarm_is_worse(value: Any, part: Part, case: Case) -> Any:
    return value == ALARM


_ADDED_IS_WORSE = order("existing", "added")

RULE = CaseRule[Load](
    name="alarm-switch",
    title="No switch before a smoke alarm",
    family=Family.SITE,
    rank=365,
    subjects=lambda case: case.loads,
    answer=answer,
    doubts=frozenset({"cable.carries"}),
    worse={
        "cable.carries": MORE_SWITCHES,
        "load.kind": _alarm_is_worse,
        "load.origin": _ADDED_IS_WORSE,
        "control.origin": _ADDED_IS_WORSE,
    },
    alike={"load.kind": words_apart(ALARM)},
)
