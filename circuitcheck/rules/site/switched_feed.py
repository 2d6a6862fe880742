"""Switched feed: what each switch turns off, and how each new light is turned on and off.

What it asks: which switches stand before each added light and driver: none, one, or two one behind the other; whether a
new switch is fed from a conductor that another switch turns off; whether a light that no switch turns off has a switch
of its own; and on a stair of six risers or more, whether a switch is at each floor level.

Why: in a ceiling box the black wire may be the switched one. A light fed from it works only while that switch is on,
and a switch that is off does not make the box dead. A light that nothing turns off burns day and night.

What to do: decide whether the new lights should follow that switch. Breaker off and tested dead before looking at the
wires, and let an electrician tell the always-hot wire from the switched one.

Cannot see: colors in the box. White may be hot in a switch loop, and the file only says what somebody wrote down. Which
rooms, stairs and entrances must have a switched light at all (210.70): it asks only about the work in the file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from circuitcheck.circuit.model import PANEL, Cable, Circuit, Control, Driver, Load
from circuitcheck.circuit.switched import MOST_IN_A_ROW, killed_by
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import EXISTING, added_lights, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

SWITCHED = ("switched", "switch loop", "travelers")
BOTH, FEED, STAIRWAY = "feed and switched", "feed", "stairway"
AUTOMATIC = ("sensor", "timer", "smart switch")
#: A switch that a cable's role tells of and nobody named.
UNNAMED = "a switch"
#: Loads named in one sentence.
MOST_NAMED = 12
_DECIDE = ("Decide whether the light should follow that switch. A switch that is off does not make a box dead.",)


class _Way(NamedTuple):
    """The switches before a box: ``hot`` before the conductor that passes on, ``lights`` before the lights in it.

    ``unknown``: the existing cables on the way of which nobody said what they carry, nearest first.
    """

    hot: tuple[str, ...] = ()
    lights: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


def _ways(circuit: Circuit) -> dict[str, _Way]:
    """Box id -> what stands before it. A cable that is called a feed passes on what was hot before it."""
    ways: dict[str, _Way] = {PANEL: _Way()}
    for cable in circuit.tree.branch_cables:
        ways[cable.to_id] = _behind(ways[cable.from_id], cable)
    return ways


def _behind(before: _Way, cable: Cable) -> _Way:
    own = (cable.switched_by,) if cable.switched_by else (UNNAMED,) if cable.carries in SWITCHED else ()
    unknown = before.unknown
    if cable.carries == FEED:
        # A constant hot brought on; behind a cable that carries both it is the one that no switch turns off.
        return _Way(before.hot, before.hot, unknown)
    if cable.carries is None and not own and cable.origin == EXISTING:
        unknown = (cable.id, *unknown)[:MOST_IN_A_ROW]
    if own == (UNNAMED,) and before.lights:
        own = ()  # the switch that is named before it
    along = before.lights if own and set(own) <= set(before.lights) else before.hot
    switched = (*along, *(each for each in own if each not in along))[-MOST_IN_A_ROW:]
    if cable.carries == BOTH:
        return _Way(before.hot, switched, unknown)
    return _Way(switched if own else before.hot, switched if own else before.lights, unknown)


def loads_killed_by(circuit: Circuit) -> dict[str, list[str]]:
    """Control id -> ids of the loads and drivers that go off with it."""
    return killed_by(circuit.tree.branch_cables, (*circuit.loads, *circuit.drivers), circuit.controls)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added light and driver, one for each control, and one for the lights of a stair."""
    ways = _ways(circuit)
    controls = {control.id: control for control in circuit.controls}
    things: tuple[Load | Driver, ...] = (
        *added_lights(circuit),
        *(driver for driver in circuit.drivers if driver.origin != EXISTING),
    )
    for thing in things:
        yield _of_light(thing, ways.get(thing.box, _Way()), controls, circuit, book)
    killed = loads_killed_by(circuit)
    for control_id, names in killed.items():
        yield from _of_control(control_id, names, controls, ways, book)
    yield from _of_stair(circuit, things, ways, controls, book)


def _of_light(
    thing: Load | Driver, way: _Way, controls: dict[str, Control], circuit: Circuit, book: Rulebook
) -> Finding:
    section = "load" if isinstance(thing, Load) else "driver"
    name = f'The {"light" if isinstance(thing, Load) else "driver"} "{thing.id}"'
    feed = circuit.tree.feed.get(thing.box)
    key = f"cable.{feed.id}.carries" if feed else f"{section}.{thing.id}.switched_by"
    before = _apart(_with_own(way, thing.switched_by), controls)
    to_do: tuple[str, ...] = _DECIDE
    if len(before) > 1:
        outcome = Outcome.CAUTION
        says = f"{name} is behind two switches, {_listed(before)}: it works only while both are on."
    elif before and thing.switched_by is not None:
        outcome, to_do = Outcome.PASS, ()
        says = f'{name} goes off with "{before[0]}", as the file says it should.'
    elif before:
        outcome = Outcome.CAUTION
        says = f"{name} is fed from a switched conductor: it goes off with {_listed(before)}."
    elif way.unknown:
        outcome = Outcome.CAUTION
        says = f"It is unknown whether {name[0].lower()}{name[1:]} is fed from an always-hot or a switched conductor."
    elif isinstance(thing, Load) and (thing.own_switch or thing.connection == "cord"):
        outcome, to_do = Outcome.PASS, ()
        says = f"{name} is fed from a conductor that no switch turns off, and has a switch of its own or a plug."
    else:
        outcome = Outcome.CAUTION
        says = f"No switch turns {name[0].lower()}{name[1:]} off. It is on all the time, unless it has its own switch."
        to_do = ("Plan a switch for it, or choose a light with a switch of its own.",)
        key = f"{section}.{thing.id}.switched_by"
    return Finding(
        check=RULE.name,
        subject=thing.id,
        outcome=outcome,
        says=says,
        sources=(book.value("switched-conductor-advice").source,),
        keys=(key,),
        to_do=to_do,
    )


def _with_own(way: _Way, own: str | None) -> tuple[str, ...]:
    """The switches before a light whose own switch is named: from the conductor that this switch takes."""
    if own is None:
        return way.lights
    return way.lights if own in way.lights else (*(each for each in way.hot if each != UNNAMED), own)


def _apart(switches: Sequence[str], controls: dict[str, Control]) -> tuple[str, ...]:
    """The switches without the partners of those that stand there already: a three-way pair counts as one switch."""
    kept: list[str] = []
    for each in switches:
        partners = {each, *(other.id for other in controls.values() if other.with_id == each)}
        if each in controls and controls[each].with_id:
            partners.add(controls[each].with_id or "")
        if not partners.intersection(kept):
            kept.append(each)
    return tuple(kept)


def _of_control(
    control_id: str, names: list[str], controls: dict[str, Control], ways: dict[str, _Way], book: Rulebook
) -> Iterator[Finding]:
    """What one control turns off; whether an added one is fed behind another; who its partner is."""
    control = controls.get(control_id)
    sources = (book.value("switched-conductor-advice").source,)
    outcome = Outcome.PASS
    needs: tuple[str, ...] = ()
    to_do: tuple[str, ...] = ()
    says = f'"{control_id}" turns off: {_named(names)}.'
    keys: tuple[str, ...] = (f"control.{control_id}.box",)
    way = ways.get(control.box, _Way()) if control is not None else _Way()
    before = _apart([*way.hot, control_id], controls)[:-1] if control is not None else ()
    if control is not None and _wants_partner(control, controls):
        yield Finding(
            check=RULE.name,
            subject=control_id,
            outcome=Outcome.UNDETERMINED,
            says=f'"{control_id}" is a {control.ways} switch, and its partner is unknown.',
            sources=(book.value("three-way-traveler-conductors").source,),
            needs=(f"control.{control_id}.with",),
            keys=(f"control.{control_id}.with",),
        )
    if control is not None and control.origin != EXISTING and before:
        outcome, to_do = Outcome.CAUTION, _DECIDE
        says = f'"{control_id}" is fed behind {_listed(before)}: what it works is on only while both are on.'
    elif control is not None and control.origin == "added" and way.unknown:
        outcome, needs = Outcome.UNDETERMINED, tuple(f"cable.{cable}.carries" for cable in way.unknown)
        says = f'Cannot tell yet whether the new switch "{control_id}" is fed behind another one.'
        keys, to_do = (*needs, *keys), ("Work the switches and watch what goes off.",)
    yield Finding(
        check=RULE.name,
        subject=control_id,
        outcome=outcome,
        says=says,
        sources=sources,
        needs=needs,
        keys=keys,
        to_do=to_do,
    )


def _wants_partner(control: Control, controls: dict[str, Control]) -> bool:
    """Whether it is one of a pair whose other one nobody names."""
    paired = control.with_id is not None or any(other.with_id == control.id for other in controls.values())
    return control.ways in ("three-way", "four-way") and not paired


def _of_stair(
    circuit: Circuit,
    things: Sequence[Load | Driver],
    ways: dict[str, _Way],
    controls: dict[str, Control],
    book: Rulebook,
) -> Iterator[Finding]:
    """Whether the added lights of a stair can be switched at each floor level (210.70(A)(2))."""
    least, risers = book.value("stair-switch-risers"), circuit.site.stair_risers
    if risers is not None and risers < least.number:
        return
    for thing in things:
        if room_of(circuit, circuit.tree.box[thing.box]) != STAIRWAY:
            continue
        before = _with_own(ways.get(thing.box, _Way()), thing.switched_by)
        switches = [controls[each] for each in before if each in controls]
        several = any(each.with_id or each.ways in ("three-way", "four-way") for each in switches)
        if several or any(each.kind in AUTOMATIC for each in switches):
            continue
        unknown = tuple(f"control.{each.id}.ways" for each in switches if each.ways is None)
        needs = (*(("site.stair_risers",) if risers is None else ()), *unknown)
        name = f'the {"light" if isinstance(thing, Load) else "driver"} "{thing.id}"'
        yield Finding(
            check=RULE.name,
            subject=thing.id,
            outcome=Outcome.UNDETERMINED if needs else Outcome.FAIL,
            says=f"Cannot tell yet whether {name} of the stair needs a switch at each floor level."
            if needs
            else f"The stair has {risers} risers, and {name} has no switch at each floor level. The code requires that "
            f"from {least.number:g} risers on.",
            sources=(least.source,),
            needs=needs,
            keys=("site.stair_risers", *unknown),
            to_do=("Plan three-way switches at the top and at the bottom of the stair, or automatic control.",),
        )


def _named(loads: Sequence[str]) -> str:
    """The loads that a switch turns off, the first ones by name."""
    if not loads:
        return "no load that the file names"
    more = len(loads) - MOST_NAMED
    return _listed(loads[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _listed(names: Sequence[str]) -> str:
    return ", ".join(each if each == UNNAMED else f'"{each}"' for each in names)


RULE = Rule(
    name="switched-feed",
    title="What a switch turns off, and how new lights are switched",
    family="site",
    uses=("value:switched-conductor-advice", "value:stair-switch-risers", "value:three-way-traveler-conductors"),
    check=check,
)
