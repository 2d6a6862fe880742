"""The order in which a file lists the keys of a part."""

from __future__ import annotations

from circuitcheck.circuit.short.sections import written_section


def key_order(section: str) -> tuple[str, ...]:
    """The section's keys in the order in which a file lists them."""
    described = written_section(section, {"like": ""})
    if described is None:
        return ()
    keys = list(described.keys)
    if section == "cable":
        keys.insert(keys.index("type"), "cable")
    return (*keys, "known_by")
