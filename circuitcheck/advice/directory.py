"""Words for the panel's directory: what the circuit serves once the work is done."""

from __future__ import annotations

from circuitcheck.circuit.model import Box, Circuit

#: More names than this are told by room only, since a line of a directory is short.
MOST_NAMED = 6


def directory_wording(circuit: Circuit) -> str:
    """One line for the directory: rooms, what is there, what was added."""
    tree = circuit.tree
    existing = [load.id for load in circuit.loads if not load.is_added]
    added = [load.id for load in circuit.loads if load.is_added]
    added += [driver.id for driver in circuit.drivers if driver.is_added]
    homes = [load.box for load in circuit.loads] + [driver.box for driver in circuit.drivers]
    rooms = dict.fromkeys(room for home in homes if (room := _room_of(circuit, tree.box.get(home))) is not None)
    parts = [
        ", ".join(rooms),
        _named(existing, "load", "loads"),
        f"added: {_named(added, 'load', 'loads')}" if added else "",
    ]
    return "; ".join(part for part in parts if part)


def _named(names: list[str], one: str, many: str) -> str:
    if len(names) <= MOST_NAMED:
        return ", ".join(names)
    return f"{len(names)} {one if len(names) == 1 else many}"


def _room_of(circuit: Circuit, box: Box | None) -> str | None:
    """The room of a box, or the room of the whole job where the box does not say."""
    return box.room if box is not None and box.room is not None else circuit.site.room
