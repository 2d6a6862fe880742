"""Things that go dark, told in one line: ``3 x 9 W, fan 60 W, 5 outlets`` is three lights, a fan and five outlets."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.ui.entry import Typed, read_typed

_MANY = re.compile(r"(\d{1,3})\s*(?:x|×|\*)?\s+(?=\S)(?!V\b)(.+)", re.IGNORECASE)
#: ``3 x`` with nothing behind it: so many lights.
_MANY_LIGHTS = re.compile(r"(\d{1,3})\s*(?:x|×|\*)", re.IGNORECASE)
#: What parts one thing from the next; a comma between two digits is no such thing.
_BETWEEN = re.compile(r"[;\n]|(?<!\d),|,(?!\d)")
_VALUE = re.compile(
    r"(?<![\w.,])((?:about |label |~)?\d[\d.,/½¼¾]*(?:\s*(?:-|to)\s*\d[\d.]*)?\s*"
    r"(kW|W|watts?|kVA|VA|amps?|A|mA))\b\.?(?:\s*each\b)?",
    re.IGNORECASE,
)
_KEY_OF_UNIT = {
    "w": "power", "watt": "power", "watts": "power", "kw": "power",
    "va": "apparent", "kva": "apparent",
    "a": "current", "amp": "current", "amps": "current", "ma": "current",
}  # fmt: skip

#: Words by which people name things -> the kind it is. The first that is found counts.
_KINDS: tuple[tuple[str, str], ...] = (
    ("outlet", "receptacle"),
    ("receptacle", "receptacle"),
    ("socket", "receptacle"),
    ("plug", "receptacle"),
    ("heater", "heater"),
    ("fan", "fan"),
    ("smoke", "alarm"),
    ("alarm", "alarm"),
    ("detector", "alarm"),
    ("light", "light"),
    ("lamp", "light"),
    ("bulb", "light"),
    ("sconce", "light"),
    ("chandelier", "light"),
    ("pendant", "light"),
    ("luminaire", "light"),
    ("fixture", "light"),
    (" led ", "light"),
)


def read_loads(text: str) -> Typed:
    """Every load of a line, as a list; the first piece that is no load is the problem."""
    loads = []
    for piece in _BETWEEN.split(text):
        if piece.strip():
            typed = read_load(piece)
            if typed.problem:
                return typed
            loads.append(typed.value)
    return Typed(loads)


def read_load(text: str) -> Typed:
    """The load as entries of a ``[[load]]``, without box and origin; a value that is no value is a problem."""
    name = " ".join(text.split())
    entries: dict[str, Any] = {}
    value = _VALUE.search(name)
    if value:
        key = _KEY_OF_UNIT[value[2].lower()]
        typed = read_typed(SECTIONS["load"].keys[key], value[1].strip(), {})
        if typed.problem:
            return Typed(problem=f"{value[1].strip()}: {typed.problem}", suggestion=typed.suggestion)
        entries[key] = typed.value
        name = " ".join(f"{name[: value.start()]} {name[value.end() :]}".split()).strip(" ,:-")
    bare = _MANY_LIGHTS.fullmatch(name) if entries else None
    many = None if bare else _MANY.fullmatch(name)
    counted = bare or many
    quantity = int(counted[1]) if counted and int(counted[1]) > 0 else 1
    if many:
        name = many[2]
    if bare:
        name = "lights" if quantity > 1 else "light"
    if not entries and name.replace(".", "").isdigit():
        return Typed(problem="A number alone says little: write what it is, and its watts: hall light 60 W.")
    folded = f" {name.casefold()} "
    entries["kind"] = next((kind for word, kind in _KINDS if word in folded), "other" if name else "light")
    ordered: dict[str, Any] = {"id": name or str(entries["kind"]), "kind": entries.pop("kind")}
    if quantity > 1:
        ordered["quantity"] = quantity
    return Typed({**ordered, **entries})


def load_text(load: Mapping[str, Any]) -> str:
    """A load as it was understood, for showing back."""
    value = next((str(load[key]) for key in ("power", "apparent", "current") if key in load), "watts unknown")
    many = f"{load['quantity']} x " if "quantity" in load else ""
    return f"{load['id']}: {many}{load['kind']}, {value}"


def load_line(load: Mapping[str, Any]) -> str:
    """A load as it may be typed: what ``read_load`` reads back."""
    value = next((str(load[key]) for key in ("power", "apparent", "current") if key in load), "")
    return f"{load.get('quantity', '')} {load['id']} {value}".strip()
