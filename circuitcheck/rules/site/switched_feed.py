"""Switched feed: what each switch turns off, and how each new light is turned on and off.

What it asks: which switches stand before each added light and driver: none, one, or two one behind the other; whether a
new switch is fed from a conductor that another switch turns off; and whether a light that no switch turns off has a
switch of its own.

Why: in a ceiling box the black wire may be the switched one. A light fed from it works only while that switch is on,
and a switch that is off does not make the box dead. A light that nothing turns off burns day and night.

What to do: decide whether the new lights should follow that switch. Breaker off and tested dead before looking at the
wires, and let an electrician tell the always-hot wire from the switched one.

Cannot see: colors in the box. White may be hot in a switch loop, and the file only says what somebody wrote down. Which
rooms and entrances must have a switched light at all (210.70): it asks only about the work in the file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.case import EACH, LESS, Answer, Case, CaseRule, Family, Said, said, words_apart
from circuitcheck.case.parts import Control, Driver, Load
from circuitcheck.domain.luminaires import CORD, LIGHT
from circuitcheck.domain.switches_before import MORE_SWITCHES, UNNAMED, apart, before_control, before_light
from circuitcheck.domain.switching import switched
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

#: Loads named in one sentence.
MOST_NAMED = 12
_DECIDE = ("Decide whether the light should follow that switch. A switch that is off does not make a box dead.",)
_LOOK = ("Work the switches and watch what goes off.",)
_PLAN = ("Plan a switch for it, or choose a light with a switch of its own.",)


def _subjects(case: Case) -> Iterator[Load | Driver | Control]:
    yield from case.loads
    yield from case.drivers
    yield from case.controls


def answer(part: Load | Driver | Control, case: Case, book: Rulebook) -> Answer | None:
    """What turns an added light or driver off, or what a control turns off."""
    if isinstance(part, Control):
        return _of_control(part, case, book)
    if not part.is_added or (isinstance(part, Load) and part.kind != LIGHT):
        return None
    return _of_light(part, case, book)


def _of_light(thing: Load | Driver, case: Case, book: Rulebook) -> Answer:
    feed = case.tree.feed.get(thing.box)
    key = Ref("cable", feed.id, "carries") if feed else thing.entry("switched_by")
    before = apart(case, before_light(case, thing))
    outcome, to_do = Outcome.CAUTION, _DECIDE
    if len(before) > 1:
        says = "{name} is behind two switches, {switches}: it works only while both are on."
    elif before and thing.switched_by is not None:
        outcome = Outcome.PASS
        says = "{name} goes off with {switches}, as the file says it should."
    elif before:
        says = "{name} is fed from a switched conductor: it goes off with {switches}."
    elif isinstance(thing, Load) and (thing.own_switch or thing.connection == CORD):
        outcome = Outcome.PASS
        says = "{name} is fed from a conductor that no switch turns off, and has a switch of its own or a plug."
    else:
        says = "No switch turns {its name} off. It is on all the time, unless it has its own switch."
        to_do, key = _PLAN, thing.entry("switched_by")
    kind = "light" if isinstance(thing, Load) else "driver"
    things = {
        "name": f'The {kind} "{thing.id}"',
        "its name": f'the {kind} "{thing.id}"',
        "switches": listed(before),
    }
    return Answer(
        part=thing,
        outcome=outcome,
        says=Said(says, things),
        open_says=Said("It is unknown whether {its name} is fed from an always-hot or a switched conductor.", things),
        sources=(book.value("switched-conductor-advice").source,),
        keys=(key,),
        to_do={Outcome.CAUTION: to_do},
    )


def _of_control(control: Control, case: Case, book: Rulebook) -> Answer:
    """What it turns off; an added one may be fed behind another."""
    before = before_control(case, control) if control.is_added else ()
    things = {
        "control": control.id,
        "switches": listed(before),
        "loads": _named(switched(case).get(control.id, ())),
    }
    behind = '"{control}" is fed behind {switches}: what it controls is on only while both are on.'
    return Answer(
        part=control,
        outcome=Outcome.CAUTION if before else Outcome.PASS,
        says=Said(behind if before else '"{control}" turns off: {loads}.', things),
        open_says=said('It is unknown whether the new switch "{control}" is fed behind another one.', **things),
        sources=(book.value("switched-conductor-advice").source,),
        keys=(control.entry("box"),),
        to_do={Outcome.CAUTION: _DECIDE if before and UNNAMED not in before else _LOOK},
    )


def _named(loads: Sequence[str]) -> str:
    """The loads that a switch turns off, the first ones by name."""
    if not loads:
        return "no load in the file"
    more = len(loads) - MOST_NAMED
    return listed(loads[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def listed(names: Sequence[str]) -> str:
    """Names in quotes, one after the other."""
    return ", ".join(each if each == UNNAMED else f'"{each}"' for each in names)


RULE = CaseRule["Load | Driver | Control"](
    name="switched-feed",
    title="What a switch turns off, and how new lights are switched",
    family=Family.SITE,
    rank=325,
    subjects=_subjects,
    answer=answer,
    doubts=frozenset({"cable.carries"}),
    worse={
        "cable.carries": MORE_SWITCHES,
        "load.kind": EACH,
        "load.own_switch": LESS,
        "load.connection": EACH,
        "load.origin": EACH,
        "driver.origin": EACH,
        "control.origin": EACH,
    },
    alike={"load.kind": words_apart("light")},
)
