"""The keys of ``[[light]]``: those of a load, its box and its cable, each under a name of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from circuitcheck.circuit.keys import SECTIONS, Key, Section
from circuitcheck.circuit.keys.key import Form, reference, text

#: The three parts that one light stands for, in the order in which a key's owner is looked for.
OWNERS = ("load", "box", "cable")

#: What a light settles by itself: how the three hang together, that they are of one origin, and that it is a light.
_SETTLED = {("load", "box"), ("load", "kind"), ("cable", "to"), *((owner, "origin") for owner in OWNERS)}

CABLE_PRINT = text("cable", "What the cable's sheath says")


def like_key(section: str) -> Key:
    """``like`` in a part of this section: another of its kind."""
    return reference("like", "Another added part that it is like", section)


def _owned() -> Mapping[str, tuple[str, str]]:
    owners: dict[str, list[str]] = {}
    for owner in OWNERS:
        for name in SECTIONS[owner].keys:
            if (owner, name) not in _SETTLED:
                owners.setdefault(name, []).append(owner)
    owned: dict[str, tuple[str, str]] = {"id": ("load", "id"), "box_id": ("box", "id"), "cable_id": ("cable", "id")}
    owned |= {"origin": ("load", "origin"), "from": ("cable", "from"), "cable": ("cable", "cable")}
    for name, shared in owners.items():
        if name in owned:
            continue
        for owner in shared:
            owned[name if len(shared) == 1 else f"{owner}_{name}"] = (owner, name)
    return owned


#: Name in ``[[light]]`` -> section and key that it stands for: ``box_material`` is the box's material.
LIGHT_KEYS: Mapping[str, tuple[str, str]] = _owned()

#: Section and key -> the name in ``[[light]]``.
NAME_IN_LIGHT: Mapping[tuple[str, str], str] = {owned: name for name, owned in LIGHT_KEYS.items()}

#: Names that say too little in ``[[light]]``, with those to write instead.
AMBIGUOUS: Mapping[str, tuple[str, ...]] = {
    name: tuple(f"{owner}_{name}" for owner in OWNERS if f"{owner}_{name}" in LIGHT_KEYS)
    for owner in OWNERS
    for name in SECTIONS[owner].keys
    if name not in LIGHT_KEYS and any(f"{owner}_{name}" in LIGHT_KEYS for owner in OWNERS)
}


def _light_section() -> Section:
    keys: dict[str, Key] = {}
    for name, (owner, own) in LIGHT_KEYS.items():
        key = CABLE_PRINT if (owner, own) == ("cable", "cable") else SECTIONS[owner].keys[own]
        required = name in ("id", "from")
        refers = ("light", "panel", "box") if name == "from" else key.refers
        form = Form.TEXT if name in ("box_id", "cable_id") else key.form
        title = key.title if name == own or owner == "load" else f"{key.title} ({owner})"
        keys[name] = replace(key, name=name, form=form, title=title, required=required, refers=refers)
    keys["like"] = like_key("light")
    return Section("light", "Light with its box and cable", True, keys, "")


#: ``[[light]]`` as a section, for whoever lists keys. It is no part of the model.
LIGHT = _light_section()
