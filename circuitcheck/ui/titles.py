"""What entries are called for people."""

from __future__ import annotations

from circuitcheck.circuit.guide import entry_ref
from circuitcheck.circuit.keys import SECTIONS


def entry_title(key_path: str) -> str:
    """The title of the entry that a key path names."""
    section, part_id, name = entry_ref(key_path)
    key = SECTIONS[section].keys.get(name) if name else None
    return key.title if key else (name or part_id or section).replace("_", " ")
