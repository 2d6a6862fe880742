"""What entries are called for people."""

from __future__ import annotations

from circuitcheck.circuit.guide import key_of
from circuitcheck.circuit.keys import SECTIONS


def entry_title(key_path: str) -> str:
    """The title of the entry that a key path names."""
    found = key_of(key_path)
    if found is None:
        return key_path.rpartition(".")[2].replace("_", " ")
    section, name = found
    key = SECTIONS[section].keys.get(name.partition(".")[0])
    return key.title if key else name.replace("_", " ")
