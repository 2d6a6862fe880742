"""Taking out what the work replaces, removes or moves: the steps before anything new is joined to what is there."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from circuitcheck.circuit.change import ALTER, MOVE, REMOVE, REPLACE, Change
from circuitcheck.circuit.model import Circuit

#: What comes down first, so that nothing hangs on a box that is taken out.
_ORDER = ("load", "driver", "control", "box", "cable", "supply")


def replaced_boxes(circuit: Circuit) -> frozenset[str]:
    """Boxes in whose place another one is put: cables that are there already end in them."""
    if circuit.before is None:
        return frozenset()
    return frozenset(ref.id for ref in circuit.before.replaced if ref.section == "box")


def replaced_controls(circuit: Circuit) -> frozenset[str]:
    """Switches in whose place another one is put."""
    if circuit.before is None:
        return frozenset()
    return frozenset(ref.id for ref in circuit.before.replaced if ref.section == "control")


def take_out_steps(circuit: Circuit, shut_off: str) -> tuple[str, ...]:
    """What is taken out or altered, in the order in which it comes apart; nothing where the plan changes nothing.

    shut_off: the sentence about this circuit's breaker.
    """
    if circuit.before is None:
        return ()
    found = circuit.before.circuit
    changes = list(found.changes)
    named = {change.part for change in changes}
    changes += [Change(part=ref, action=REMOVE) for ref in sorted(circuit.before.gone - named) if ref.section in _ORDER]
    changes.sort(key=lambda change: _ORDER.index(change.part.section))
    steps = [step for change in changes for step in _STEPS[change.part.section](change, found)]
    if not steps:
        return ()
    return (f"{shut_off} Go through the whole dead test before anything is taken out.", *steps)


def _light(change: Change, found: Circuit) -> Iterator[str]:
    if change.action == ALTER:
        return
    then = {
        REPLACE: "Cap each conductor that it leaves; the new one is joined in its place below.",
        MOVE: "Cap each conductor that it leaves, and close the box with a cover.",
        REMOVE: "Cap each conductor that it leaves, and close the box with a cover.",
    }[change.action]
    part = next((each for each in found.loads if each.id == change.part.id), None)
    if part is not None and part.connection == "cord" and part.kind != "receptacle":
        yield f'Unplug "{part.id}".'
        return
    yield f'Take "{change.part.id}" off its box: somebody holds it while its leads are disconnected. {then}'


def _switch(change: Change, found: Circuit) -> Iterator[str]:
    yield (
        f'Take switch "{change.part.id}" out. Mark first which conductor is on which terminal, above all on the common '
        "terminal of a three-way switch. Cap each conductor."
    )


def _box(change: Change, found: Circuit) -> Iterator[str]:
    name = change.part.id
    if change.action == ALTER:
        if change.new.get("internal_clamps") is False:
            yield f'Take the clamps out of box "{name}", one cable at a time, and hold each by a connector outside it.'
        if change.new.get("extensions_m3"):
            yield f'Set the extension ring on box "{name}", fastened by screws to the box.'
        if change.new.get("bonded"):
            yield f'Join box "{name}" to the equipment ground by a screw or clip that does nothing else.'
        return
    yield (
        f'Photograph the splices in box "{name}", mark each cable and each conductor, then undo the splices and the '
        "clamps without pulling at the cables. Cap each conductor. Take the box out."
    )
    if change.action == REPLACE:
        yield (
            f'Set the new box "{name}" in its place. Bring every old and new cable in through its own clamp, with the '
            "sheath inside the box. A conductor too short for that is for an electrician."
        )


def _cable(change: Change, found: Circuit) -> Iterator[str]:
    if change.action == ALTER:
        return
    cable = next((each for each in found.cables if each.id == change.part.id), None)
    ends = f' in "{cable.from_id}" and in "{cable.to_id}"' if cable is not None else ""
    yield (
        f'Free the old cable "{change.part.id}"{ends}. Pull it out, or leave it in the wall with both ends cut back, '
        "capped and marked as not in use. An end in the panel is for a licensed electrician."
    )


def _supply(change: Change, found: Circuit) -> Iterator[str]:
    yield "A licensed electrician makes the change at the panel now, before anything new is joined."


_STEPS: Mapping[str, Callable[[Change, Circuit], Iterator[str]]] = {
    "load": _light,
    "driver": _light,
    "control": _switch,
    "box": _box,
    "cable": _cable,
    "supply": _supply,
}
