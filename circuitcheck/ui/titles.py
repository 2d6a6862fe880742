"""What checks and entries are called for people."""

from __future__ import annotations

from functools import cache

from circuitcheck.circuit.guide import key_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.rules import ALL_RULES


@cache
def _titles() -> dict[str, str]:
    return {rule.name: rule.title for rule in ALL_RULES}


def check_title(name: str) -> str:
    """The rule's title; the name itself for a check without one."""
    return _titles().get(name, "")


def entry_title(key_path: str) -> str:
    """The title of the entry that a key path names."""
    found = key_of(key_path)
    if found is None:
        return key_path.rpartition(".")[2].replace("_", " ")
    section, name = found
    key = SECTIONS[section].keys.get(name.partition(".")[0])
    return key.title if key else name.replace("_", " ")
