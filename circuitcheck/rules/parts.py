"""Small questions that several rules put to a circuit: what is added, what a thing is called, where it hangs."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Box, Cable, Circuit, Driver, Load
from circuitcheck.quantities import How

EXISTING = "existing"


def is_added(part: Box | Cable | Load) -> bool:
    """Whether a part counts as added: anything that the file does not call existing."""
    return part.origin != EXISTING


def origin_note(part: Box | Cable | Load, section: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The assumption made about a part whose origin is unknown, as (sentences, keys); both empty where it is known."""
    if part.origin is not None:
        return (), ()
    return (
        (f"{section} {part.id} counts as added: its origin is not given.",),
        (f"{section}.{part.id}.origin",),
    )


def added_lights(circuit: Circuit) -> Iterator[Load]:
    """The loads that count as added and may be luminaires (a kind that is unknown counts as a light)."""
    return (load for load in circuit.loads if is_added(load) and load.kind in (None, "light"))


def has_added_outlet(circuit: Circuit) -> bool:
    """Whether the work adds an outlet: a load or a driver that the file does not call existing."""
    return any(is_added(load) for load in circuit.loads) or any(driver.origin != EXISTING for driver in circuit.drivers)


def has_added_device(circuit: Circuit) -> bool:
    """Whether the work adds a switch, a receptacle or another device: a control, or a device in an added box."""
    return any(control.origin != EXISTING for control in circuit.controls) or any(
        box.devices and is_added(box) for box in circuit.boxes
    )


def has_added_work(circuit: Circuit) -> bool:
    """Whether anything at all on the branch circuit is added."""
    return (
        has_added_outlet(circuit)
        or any(is_added(cable) for cable in circuit.cables)
        or any(is_added(box) for box in circuit.boxes)
    )


def room_of(circuit: Circuit, box: Box | None) -> str | None:
    """The room of a box, or the room of the whole job where the box does not say."""
    if box is not None and box.room is not None:
        return box.room
    return circuit.site.room


def guessed_origins(circuit: Circuit) -> tuple[str, ...]:
    """The keys of parts of the branch circuit of which somebody only guesses whether they are there already."""
    sections = (("box", circuit.boxes), ("cable", circuit.cables), ("load", circuit.loads), ("driver", circuit.drivers))
    return tuple(
        f"{section}.{part.id}.origin"
        for section, parts in sections
        for part in parts
        if part.known_by.get("origin") == How.GUESS
    )


def has_certain_work(circuit: Circuit) -> bool:
    """Whether something is added of which that is more than a guess."""
    parts: tuple[Box | Cable | Load | Driver, ...] = (
        *circuit.boxes, *circuit.cables, *circuit.loads, *circuit.drivers
    )  # fmt: skip
    return any(part.origin != EXISTING and part.known_by.get("origin") != How.GUESS for part in parts)
