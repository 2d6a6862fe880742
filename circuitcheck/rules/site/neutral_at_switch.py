"""Neutral at the switch: where a new lighting switch has to have one in its box.

What it asks: whether each added switch box, in the rooms that the book names, holds a neutral, and whether a control
that needs one has it.

Why: sensors and electronic switches need a neutral. Without one, people have used the equipment ground, so the book
asks for a neutral beforehand.

What to do: run a cable with a neutral to each new switch. The book has exceptions (a raceway or an open wall where
one can be added later, several switches that see the whole room, and others): ask before relying on one.

Cannot see: the exceptions. It asks about them and never picks one.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.rules.parts import EXISTING, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

ASK = ("Does an exception to the neutral at this switch hold here?",)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added control of lights, and for each existing control that needs a neutral."""
    rooms = book.value("neutral-at-switch-rooms")
    boxes = circuit.tree.box
    for control in circuit.controls:
        box = boxes[control.box]
        key = f"box.{box.id}.neutral"
        if control.needs_neutral:
            yield _answer(
                control.id, box.neutral, key, (rooms.source,), f"{control.id} needs a neutral to work", added=False
            )
        elif control.origin != EXISTING and box.origin != EXISTING:
            room = room_of(circuit, box)
            if room is None or room in rooms.items:
                where = room or "a room that the file does not name"
                yield _answer(
                    control.id,
                    box.neutral,
                    key,
                    (rooms.source,),
                    f"a new lighting switch in {where} has a neutral",
                    added=True,
                )


def _answer(
    subject: str, neutral: bool | None, key: str, sources: tuple[Source, ...], wanted: str, *, added: bool
) -> Finding:
    if neutral:
        outcome, says = Outcome.PASS, f"{wanted[0].upper()}{wanted[1:]}, and its box holds one."
    elif neutral is False:
        outcome, says = Outcome.FAIL, f"{wanted[0].upper()}{wanted[1:]}, but its box holds none."
    elif added:
        outcome, says = Outcome.CAUTION, f"{wanted[0].upper()}{wanted[1:]}: plan a cable that brings one."
    else:
        outcome, says = (
            Outcome.UNDETERMINED,
            (f"{wanted[0].upper()}{wanted[1:]}; the file does not say whether its box holds one."),
        )
    return Finding(
        check=RULE.name,
        subject=subject,
        outcome=outcome,
        says=says,
        sources=sources,
        needs=(key,) if outcome is Outcome.UNDETERMINED else (),
        keys=(key,),
        ask=ASK if outcome in (Outcome.FAIL, Outcome.CAUTION) else (),
        to_do=() if outcome is Outcome.PASS else ("Never use the equipment ground in place of a neutral.",),
    )


RULE = Rule(
    name="neutral-at-switch",
    title="A neutral in the box of a lighting switch",
    family="site",
    uses=("value:neutral-at-switch-rooms",),
    check=check,
)
