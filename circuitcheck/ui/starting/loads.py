"""A thing that goes dark, told in one line: ``2 wall lights 40 W each`` is two lights of 40 W."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.ui.entry import Typed, read_typed

_MANY = re.compile(r"(\d{1,3})\s*(?:x|×|\*)?\s+(?=\S)(?!V\b)(.+)", re.IGNORECASE)
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
)


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
    many = _MANY.fullmatch(name)
    quantity = int(many[1]) if many and int(many[1]) > 0 else 1
    if many:
        name = many[2]
    if not entries and name.replace(".", "").isdigit():
        return Typed(problem="A number alone says little: write what it is, and its watts: hall light 60 W.")
    folded = name.casefold()
    entries["kind"] = next((kind for word, kind in _KINDS if word in folded), "light")
    ordered: dict[str, Any] = {"id": name or str(entries["kind"]), "kind": entries.pop("kind")}
    if quantity > 1:
        ordered["quantity"] = quantity
    return Typed({**ordered, **entries})


def load_text(load: Mapping[str, Any]) -> str:
    """A load as it was understood, for showing back."""
    value = next((str(load[key]) for key in ("power", "apparent", "current") if key in load), "watts unknown")
    many = f"{load['quantity']} x " if "quantity" in load else ""
    return f"{load['id']}: {many}{load['kind']}, {value}"
