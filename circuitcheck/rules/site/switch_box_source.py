"""Switch box as a source: a box without a neutral cannot feed new lights.

What it asks: whether the existing box that new cable starts from has a neutral, above all where it holds a switch.

Why: a switch loop brings two hot wires and no neutral. A light wired there would have to use the ground as its
return, which puts current on bare metal.

What to do: start from a box that has an always-hot wire and a neutral, often the ceiling box that the switch serves.

Cannot see: whether a bundle of white wires in the back belongs to this circuit. A neutral of another circuit must not
be used.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Box, Cable, Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import EXISTING, is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

LOOP_CONDUCTORS_WITHOUT_NEUTRAL = 2
#: Devices that may stand at the end of a switch loop.
SWITCHING = ("switch", "dimmer", "sensor", "timer")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each existing box that an added branch cable starts from."""
    source = book.value("neutral-for-luminaires").source
    tree = circuit.tree
    controlled = {control.box for control in circuit.controls}
    for box in circuit.boxes:
        if box.origin != EXISTING or not any(is_added(cable) for cable in tree.children.get(box.id, ())):
            continue
        answer, why = _has_neutral(box, tree.feed.get(box.id), box.id in controlled)
        key = f"box.{box.id}.neutral"
        if answer and _taken_for_granted(circuit, box, tree.feed.get(box.id)):
            outcome = Outcome.CAUTION
            says = f"Box {box.id} most likely has a neutral, since it holds no switch; look before you plan on it."
        elif answer:
            outcome, says = Outcome.PASS, f"Box {box.id} has a neutral for the new lights."
        elif answer is False:
            outcome, says = Outcome.FAIL, f"Box {box.id} has no neutral, so new lights cannot be fed from it."
        else:
            outcome, says = Outcome.UNDETERMINED, f"Cannot tell whether box {box.id} has a neutral to feed new lights."
        yield Finding(
            check=RULE.name,
            subject=box.id,
            outcome=outcome,
            says=says,
            working=(why,),
            sources=(source,),
            needs=(key,) if outcome is Outcome.UNDETERMINED else (),
            keys=(key,),
            to_do=()
            if outcome is Outcome.PASS
            else (
                "Breaker off and tested dead: look whether white wires are joined together in the "
                "box and belong to this circuit.",
                "Never use the equipment ground as a neutral.",
            ),
        )


def _has_neutral(box: Box, feed: Cable | None, holds_control: bool) -> tuple[bool | None, str]:
    """Whether the box has a neutral, with the reason; None where the file does not settle it."""
    if box.neutral is not None:
        return box.neutral, f"neutral in {box.id}: {'yes' if box.neutral else 'no'}, as the file says"
    holds_switch = holds_control or any(device.kind in SWITCHING for device in box.devices)
    if feed is not None and feed.carries == "switch loop":
        if feed.conductors == LOOP_CONDUCTORS_WITHOUT_NEUTRAL:
            return False, f"{feed.id} is a switch loop with two conductors, both hot"
        return None, f"{feed.id} is a switch loop"
    if feed is not None and feed.carries == "feed":
        return True, f"{feed.id} is a feed, which brings a neutral"
    if holds_switch:
        return None, f"box {box.id} holds a switch, and the file does not say what its cable carries"
    return True, f"box {box.id} holds no switch, so its cable is taken as a feed with a neutral"


def _taken_for_granted(circuit: Circuit, box: Box, feed: Cable | None) -> bool:
    """Whether nothing but the want of a switch speaks for a neutral: no word of it, no load that needs one."""
    loads = any(load.origin == EXISTING for load in circuit.tree.loads_at.get(box.id, ()))
    return box.neutral is None and (feed is None or feed.carries != "feed") and not loads


RULE = Rule(
    name="switch-box-source",
    title="A switch box without a neutral cannot feed new lights",
    family="site",
    uses=("value:neutral-for-luminaires",),
    check=check,
)
