"""Switch wires: whether a cable has the wires that switches and their lights need of it.

What it asks: of each cable between a switch and a light that it turns off, where one of them is new, how many insulated
wires it needs: the hot, the switched hot, two travelers for three-way switches, and the neutral where there is one.

Why: a light that hangs before its switch, seen from the panel, needs the switched hot back. Of three-way switches one
is fed and the switched hot leaves from the other; three wires between them bring it back only where none of them is the
neutral. Whoever is a wire short is tempted to take the bare ground for one, and then metal is live.

What to do: feed the light from the box to which the switched hot comes, or plan a cable with one wire more.

Cannot see: which wire is on which screw, switches that talk by radio, and a second cable between the same two boxes. It
counts the least that could work: a constant hot that goes on beside a switched one is not counted.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from circuitcheck.case import LESS, MORE, Answer, Case, CaseRule, Family, Things, order, said
from circuitcheck.case.parts import Cable, Control, Driver, Load, Part
from circuitcheck.domain.switch_wires import Crossing, Side, crossings
from circuitcheck.domain.switches_before import pairs
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

SEVERAL = ("three-way", "four-way")
TRAVELERS = 2
_NEVER_GROUND = "Never use the equipment ground in place of a wire."
_PLAN = (
    "Feed the light from the box to which the switched hot comes, or plan a cable with one insulated wire more.",
    _NEVER_GROUND,
)
_LOOK = (
    "Breaker off and tested dead: count the insulated wires, and see whether a white one is joined to other white ones "
    "in the far box.",
    _NEVER_GROUND,
)


class _Need(NamedTuple):
    """So many wires, and what for."""

    wires: int
    what: str


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """Whether a cable has a wire for each thing that the switches need of it."""
    if exceeds(case.supply.voltage_v, book.value("one-pole-voltage-most").number):
        return None  # two hots and no neutral: a switch may open both
    here = [each for each in crossings(case).get(cable.id, ()) if _is_counted(each)]
    if not here or not any(_is_new(each, cable, case) for each in here):
        return None
    hots = _hots(here)
    neutral = any(each.behind for each in here) or case.tree.box[cable.to_id].neutral
    needed = sum(need.wires for need in hots) + neutral
    fits = cable.conductors >= needed
    things: Things = {
        "cable": cable.id,
        "count": str(cable.conductors),
        "needed": str(needed),
        "wires": ", ".join(need.what for need in hots),
    }
    has = 'Cable "{cable}" has {count} insulated wires, enough for what its switches need: {wires}'
    lacks = 'Cable "{cable}" has {count} insulated wires and needs {needed}: {wires}'
    unknown = (
        'Cannot tell yet whether cable "{cable}" has insulated wires enough: {wires}, and the neutral if it has one.'
    )
    pair = any(each.side is Side.BOTH for each in here)
    return Answer(
        part=cable,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=said((has if fits else lacks) + (", and the neutral." if neutral else "."), **things),
        open_says=said(unknown, **things),
        to_come=said(
            'Cable "{cable}" needs an insulated wire for each: {wires}, and the neutral if it has one.', **things
        ),
        sources=merge_sources(
            (book.value("neutral-for-luminaires").source,),
            (book.value("three-way-traveler-conductors").source,) if pair else (),
        ),
        keys=(cable.entry("conductors"), case.tree.box[cable.to_id].entry("neutral")),
        to_do={Outcome.FAIL: _PLAN, Outcome.CAUTION: _PLAN, Outcome.UNDETERMINED: _LOOK},
    )


def _is_counted(crossing: Crossing) -> bool:
    """Not a three-way switch whose partner nobody named, nor partners of which one is said to be single-pole."""
    several = [control.ways in SEVERAL for control in crossing.controls]
    return all(several) if len(several) > 1 else not several[0]


def _is_new(crossing: Crossing, cable: Cable, case: Case) -> bool:
    """Whether the work asks it of this cable: with old switches and an old light on that side the wire is there."""
    if cable.is_added or any(_is_put_in(control, case) for control in crossing.controls):
        return True
    sides = [crossing.behind, crossing.before]
    asking = sides if crossing.side is Side.BOTH else sides[:1] if crossing.side is Side.BEFORE else sides[1:]
    return any(things and all(_is_put_in(thing, case) for thing in things) for things in asking)


def _is_put_in(part: Control | Load | Driver, case: Case) -> bool:
    """Whether it is new, and not in the place of an old one."""
    if not part.is_added or part.ref in case.replaced:
        return False
    return not (isinstance(part, Load) and part.replaces)


def _hots(here: Sequence[Crossing]) -> list[_Need]:
    """The least that could work: where a switched hot or a traveler runs, no constant hot is counted beside it.

    One of two three-way switches is fed, and the switched hot leaves from the other; whichever it is, a load before the
    cable takes one wire besides the travelers: the switched hot back, or the hot to the far switch.
    """
    needs: list[_Need] = []
    if all(crossing.side is Side.BEHIND for crossing in here):
        needs.append(_Need(1, "the hot"))
    for crossing in here:
        names = " and ".join(f'"{control.id}"' for control in crossing.controls)
        if crossing.side is Side.BOTH:
            needs.append(_Need(TRAVELERS, f"two travelers of {names}"))
        if crossing.side is Side.BEFORE:
            needs.append(_Need(1, f"the switched hot of {names}"))
        elif crossing.before:
            whose = f" of {names}" if crossing.side is Side.BEHIND else ""
            needs.append(_Need(1, f'the switched hot{whose} back to "{crossing.before[0].id}"'))
    return needs


def _ways_are_worse(value: Any, part: Part, case: Case) -> Any:
    """Of partners a three-way switch is counted, of a switch without one any other."""
    names = pairs(case)
    has_partner = sum(name == names[part.ref.id] for name in names.values()) > 1
    return (value in SEVERAL) is has_partner


_ADDED_IS_WORSE = order("existing", "added")

RULE = CaseRule[Cable](
    name="switch-wires",
    title="Wires enough in a cable for switches and their lights",
    family=Family.SITE,
    rank=315,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={
        "cable.conductors": LESS,
        "box.neutral": MORE,
        "control.ways": _ways_are_worse,
        "supply.voltage": LESS,
        "cable.origin": _ADDED_IS_WORSE,
        "control.origin": _ADDED_IS_WORSE,
        "load.origin": _ADDED_IS_WORSE,
        "driver.origin": _ADDED_IS_WORSE,
        "load.replaces": LESS,
    },
)
