"""What a key of the long form is called in the file as its owner wrote it."""

from __future__ import annotations

from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.short.light_keys import NAME_IN_LIGHT


def written_key(key: str, circuit: Circuit) -> str:
    """``light.wall 1.box_material`` for ``box.wall 1 box.material``; the key itself where the part has a table."""
    part, _, entry = key.rpartition(".")
    table = circuit.written_in.get(part)
    if table is None:
        return key
    return f"{table}.{NAME_IN_LIGHT.get((part.partition('.')[0], entry), entry)}"
