"""Words for the panel's directory: what the circuit serves once the work is done."""

from __future__ import annotations

from circuitcheck.circuit.model import Circuit
from circuitcheck.rules.parts import EXISTING, is_added, room_of

#: More names than this are told by room only, since a line of a directory is short.
MOST_NAMED = 6


def directory_wording(circuit: Circuit) -> str:
    """One line for the directory: rooms, what is there, what was added."""
    tree = circuit.tree
    existing = [load.id for load in circuit.loads if not is_added(load)]
    added = [load.id for load in circuit.loads if is_added(load)]
    added += [driver.id for driver in circuit.drivers if driver.origin != EXISTING]
    homes = [load.box for load in circuit.loads] + [driver.box for driver in circuit.drivers]
    rooms = dict.fromkeys(room for home in homes if (room := room_of(circuit, tree.box.get(home))) is not None)
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
