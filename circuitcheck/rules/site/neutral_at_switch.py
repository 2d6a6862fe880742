"""Neutral at the switch: where a new lighting switch has to have one, and electronic switches that need one to work.

What it asks: whether each added switch box holds a neutral where the circuit serves the rooms that the code names; and,
in every room and in old boxes too, whether an added smart switch or sensor needs a neutral that its box does not have.

Why: sensors and electronic switches need a neutral. Without one, people have used the equipment ground, so the code
requires a neutral beforehand.

What to do: run a cable with a neutral to each new switch. The code has exceptions, which differ by edition: ask before
you rely on one.

Cannot see: most of the exceptions. It asks about them and never picks one; a raceway and a second switch with a
neutral are noticed and asked about. What else the circuit serves beyond the loads in the file.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, MORE, Answer, Case, CaseRule, Family, said
from circuitcheck.case.parts import Control, Part
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

#: Controls whose electronics take current of their own; two-wire dimmers and timers take it through the lamps.
ELECTRONIC = ("smart switch", "sensor")
_TO_DO = ("Never use the equipment ground in place of a neutral.",)
_ACTED = dict.fromkeys((Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED), _TO_DO)


def answer(control: Control, case: Case, book: Rulebook) -> Answer | None:
    """Whether a control has the neutral that it needs to work, or that the code requires beside a new switch."""
    key = Ref("box", control.box, "neutral")
    if control.needs_neutral:
        return _needs_one(control, case, book, key)
    if control.is_added and case.tree.box[control.box].is_added:
        return _new_switch(control, case, book, key)
    return _without(control, case, book, key) if control.is_added else None


def _needs_one(control: Control, case: Case, book: Rulebook, key: Ref) -> Answer:
    has = case.tree.box[control.box].neutral
    things = {"control": control.id, "box": control.box}
    return Answer(
        part=control,
        outcome=Outcome.PASS if has else Outcome.FAIL,
        says=said(
            '"{control}" needs a neutral to work, and box "{box}" ' + ("has one." if has else "has none."), **things
        ),
        open_says=said('Cannot tell yet whether box "{box}" has the neutral that "{control}" may need.', **things),
        to_come=said('Plan a cable that brings a neutral to box "{box}": "{control}" needs one to work.', **things),
        sources=(book.value("neutral-at-switch-goes-by").source,),
        keys=(key, control.entry("needs_neutral")),
        to_do=_ACTED,
    )


def _without(control: Control, case: Case, book: Rulebook, key: Ref) -> Answer | None:
    """Electronic switches that work without a neutral: only so many of them on one circuit."""
    most = book.value("electronic-switches-on-a-circuit")
    without = [
        other
        for other in case.controls
        if other.kind in ELECTRONIC and not other.needs_neutral and not case.tree.box[other.box].neutral
    ]
    if control not in without or len(without) <= most.number:
        return None
    return Answer(
        part=control,
        outcome=Outcome.FAIL,
        says=said(
            "{count} electronic switches on this circuit work without a neutral; at most {most} may.",
            count=str(len(without)),
            most=f"{most.number:g}",
        ),
        sources=(most.source,),
        keys=(key,),
        to_do=_ACTED,
    )


def _new_switch(control: Control, case: Case, book: Rulebook, key: Ref) -> Answer | None:
    """A new switch in a new box, on a circuit that serves the rooms of the list."""
    rooms, goes_by = book.value("neutral-at-switch-rooms"), book.value("neutral-at-switch-goes-by")
    exceptions = book.value("neutral-at-switch-exceptions")
    box = case.tree.box[control.box]
    homes = [*(load.box for load in case.loads), *(driver.box for driver in case.drivers)] or [box.id]
    served = {case.tree.box[home].room for home in homes}
    if not served.intersection(rooms.items):
        return None
    excuse, things = _excuse(control, case), {"control": control.id, "box": control.box}
    if box.neutral:
        outcome, words = Outcome.PASS, 'has a neutral in box "{box}", as the code requires of a new lighting switch.'
    elif excuse:
        outcome, words = (
            Outcome.CAUTION,
            f'has no neutral in box "{{box}}"; {excuse}. Ask whether that exception holds.',
        )
    elif box.room not in rooms.items:
        outcome = Outcome.CAUTION
        words = (
            'has no neutral in box "{box}". The code requires one by the rooms that the circuit serves, though the '
            "room of this switch is not among them. Ask the inspector."
        )
    else:
        outcome, words = Outcome.FAIL, 'is a new lighting switch and has no neutral in box "{box}".'
    partner = case.control.get(control.with_id or "")
    return Answer(
        part=control,
        outcome=outcome,
        says=said('"{control}" ' + words, partner=partner.id if partner is not None else "", **things),
        open_says=said(
            'Cannot tell yet whether the new switch "{control}" has the neutral that it must have.', **things
        ),
        to_come=said('Plan a cable that brings a neutral to box "{box}" of the new switch "{control}".', **things),
        sources=(rooms.source, exceptions.source, goes_by.source),
        keys=(key,),
        ask=(f"Does an exception to the neutral at this switch hold here: {'; '.join(exceptions.items)}?",)
        if outcome is not Outcome.PASS
        else (),
        to_do=_ACTED,
    )


def _excuse(control: Control, case: Case) -> str:
    """What in the file points at an exception; empty where nothing does."""
    feed = case.tree.feed.get(control.box)
    if feed is not None and feed.type.endswith("in raceway"):
        return "its conductors come in a raceway, through which one may be pulled later"
    partner = case.control.get(control.with_id) if control.with_id is not None else None
    if partner is not None and case.tree.box[partner.box].neutral:
        return 'the switch that works with it, "{partner}", has one'
    return ""


def _electronic_is_worse(value: Any, part: Part, case: Case) -> Any:
    return value in ELECTRONIC


def _listed_is_worse(value: Any, part: Part, case: Case) -> Any:
    return value in case.book.value("neutral-at-switch-rooms").items


def _no_raceway_is_worse(value: Any, part: Part, case: Case) -> Any:
    return not value.endswith("in raceway")


RULE = CaseRule[Control](
    name="neutral-at-switch",
    title="A neutral in the box of a lighting switch",
    family=Family.SITE,
    rank=355,
    subjects=lambda case: case.controls,
    answer=answer,
    worse={
        "control.needs_neutral": MORE,
        "control.kind": _electronic_is_worse,
        "box.neutral": LESS,
        "box.room": _listed_is_worse,
        "cable.type": _no_raceway_is_worse,
    },
)
