"""Neutral at the switch: where a new lighting switch has to have one in its box.

What it asks: whether each added switch box, in the rooms that the book names, holds a neutral, and whether a control
that needs one has it.

Why: sensors and electronic switches need a neutral. Without one, people have used the equipment ground, so the book
asks for a neutral beforehand.

What to do: run a cable with a neutral to each new switch. The book has exceptions, which differ by edition: ask before
relying on one.

Cannot see: most of the exceptions. It asks about them and never picks one; a raceway and a second switch with a
neutral are noticed and asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from circuitcheck.circuit.model import Box, Circuit, Control
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.rules.parts import EXISTING, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added control of lights, and for each existing control that needs a neutral."""
    rooms, exceptions = book.value("neutral-at-switch-rooms"), book.value("neutral-at-switch-exceptions")
    sources = (rooms.source, exceptions.source)
    ask = f"Does an exception to the neutral at this switch hold here: {'; '.join(exceptions.items)}?"
    boxes = circuit.tree.box
    controls = {control.id: control for control in circuit.controls}
    for control in circuit.controls:
        box = boxes[control.box]
        if control.needs_neutral:
            yield _answer(control, box, sources[:1], f"{control.id} needs a neutral to work", ask="", excuse="")
        elif control.origin != EXISTING and box.origin != EXISTING:
            room = room_of(circuit, box)
            if room is None or room in rooms.items:
                wanted = f"a new lighting switch in {room or 'a room that the file does not name'} has a neutral"
                excuse = _excuse(circuit, control, controls)
                yield _answer(control, box, sources, wanted, ask=ask, excuse=excuse)


def _excuse(circuit: Circuit, control: Control, controls: Mapping[str, Control]) -> str:
    """What in the file points at an exception; empty where nothing does."""
    feed = circuit.tree.feed.get(control.box)
    if feed is not None and (feed.run == "in raceway" or (feed.type or "").endswith("in raceway")):
        return "its conductors come in a raceway, through which one may be pulled later"
    partner = controls.get(control.with_id) if control.with_id is not None else None
    if partner is not None and circuit.tree.box[partner.box].neutral:
        return f"the switch that works with it, {partner.id}, has one"
    return ""


def _answer(control: Control, box: Box, sources: tuple[Source, ...], wanted: str, *, ask: str, excuse: str) -> Finding:
    """``ask`` is empty for a control that cannot work without a neutral: then no exception helps."""
    key = f"box.{box.id}.neutral"
    start = f"{wanted[0].upper()}{wanted[1:]}"
    if box.neutral:
        outcome, says = Outcome.PASS, f"{start}, and its box holds one."
    elif box.neutral is False and excuse:
        outcome, says = Outcome.CAUTION, f"{start}; its box holds none, but {excuse}."
    elif box.neutral is False:
        outcome, says = Outcome.FAIL, f"{start}, but its box holds none."
    elif ask:
        outcome, says = Outcome.CAUTION, f"{start}: plan a cable that brings one."
    else:
        outcome, says = Outcome.UNDETERMINED, f"{start}; the file does not say whether its box holds one."
    return Finding(
        check=RULE.name,
        subject=control.id,
        outcome=outcome,
        says=says,
        sources=sources,
        needs=(key,) if outcome is Outcome.UNDETERMINED else (),
        keys=(key,),
        ask=(ask,) if ask and outcome in (Outcome.FAIL, Outcome.CAUTION) else (),
        to_do=() if outcome is Outcome.PASS else ("Never use the equipment ground in place of a neutral.",),
    )


RULE = Rule(
    name="neutral-at-switch",
    title="A neutral in the box of a lighting switch",
    family="site",
    uses=("value:neutral-at-switch-rooms", "value:neutral-at-switch-exceptions"),
    check=check,
)
