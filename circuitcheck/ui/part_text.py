"""One part of the circuit in a few words, out of the file's own entries, right or wrong."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.refs import Ref
from circuitcheck.text import shown_text

#: What people call each section, and what one more of it is called.
SECTION_WORD: dict[str, str] = {
    "job": "job",
    "site": "place",
    "supply": "panel",
    "box": "box",
    "cable": "cable",
    "load": "load",
    "driver": "driver",
    "low_voltage_load": "low-voltage light",
    "control": "switch",
    "framing": "hole or notch",
    "light": "light",
    "change": "planned change",
}

#: What a planned change does, as one says it of the part.
PLANNED_WORD = {
    "replace": "to be replaced",
    "remove": "to be taken away",
    "move": "to be moved",
    "alter": "to be altered",
}


def section_word(section: str) -> str:
    """The section in plain words; a section added later is spelled with spaces."""
    if section.startswith("defaults."):
        return f"defaults, added {section_word(section.removeprefix('defaults.'))}"
    return SECTION_WORD.get(section, section.replace("_", " ") or "file")


def is_added(section: str, data: Mapping[str, Any]) -> bool:
    """Whether the part counts as new work, as on paper: anything that the file does not call existing."""
    has_origin = section == "light" or (section in SECTIONS and "origin" in SECTIONS[section].keys)
    return has_origin and data.get("origin") != "existing"


def part_title(section: str, data: Mapping[str, Any]) -> str:
    """``box attic``, ``panel``, ``light attic lamp``."""
    if section == "supply":
        return "panel and breaker"
    if section == "job":
        return "the job"
    if section == "site":
        return "the place"
    if section == "change":
        return change_title(data)
    word = str(data.get("kind") or "load") if section == "load" else section_word(section)
    return shown_text(f"{word} {data.get('id', '')}".strip())


def change_title(data: Mapping[str, Any]) -> str:
    """``box attic, to be replaced``: the part that a planned change is about, and what is done with it."""
    section, name, _ = Ref.of_part(str(data.get("part", "")))
    return shown_text(f"{section_word(section)} {name}".strip() + f", {_planned_word(data)}")


def _planned_word(data: Mapping[str, Any]) -> str:
    return PLANNED_WORD.get(str(data.get("action")), "to be changed")


def _change(data: Mapping[str, Any]) -> list[str]:
    new = data.get("new")
    entries = new.items() if isinstance(new, Mapping) else ()
    return [f"{key.replace('_', ' ')} {_plain(value)}" for key, value in entries if key != "known_by"][:3]


def _plain(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return (
        str(value).removeprefix("measured ").removeprefix("label ")
        if not isinstance(value, list)
        else f"{len(value)} listed"
    )


def part_details(section: str, data: Mapping[str, Any]) -> str:
    """The entries by which people know the part again, unknown ones left out."""
    described = _DETAILS.get(section, _other)
    return shown_text(", ".join(piece for piece in described(data) if piece))


def _text(data: Mapping[str, Any], key: str, before: str = "", after: str = "") -> str:
    value = data.get(key)
    if value is None or value == "" or isinstance(value, dict | list):
        return ""
    plain = str(value).removeprefix("measured ").removeprefix("label ")
    return f"{before}{plain}{after}"


def _supply(data: Mapping[str, Any]) -> list[str]:
    device = str(data.get("device") or "breaker")
    return [_text(data, "breaker", after=f" {device}"), _text(data, "voltage"), _text(data, "serves")]


def _box(data: Mapping[str, Any]) -> list[str]:
    size = _text(data, "trade_size") or _text(data, "volume")
    return [size or "size not known", _text(data, "room")]


def _cable(data: Mapping[str, Any]) -> list[str]:
    gauge = _text(data, "size") or _text(data, "cable")
    conductors = data.get("conductors")
    if gauge.endswith(" AWG") and isinstance(conductors, int):
        gauge = f"{gauge.removesuffix(' AWG')}-{conductors}"
    kind = " ".join(piece for piece in (_text(data, "type"), gauge) if piece)
    return [kind or "wire not known", _text(data, "length") or "length not known", _text(data, "place")]


def _load(data: Mapping[str, Any]) -> list[str]:
    quantity = data.get("quantity")
    many = f"{quantity} x " if isinstance(quantity, int) and quantity != 1 else ""
    power = _text(data, "power") or _text(data, "apparent") or _text(data, "current")
    return [f"{many}{power}" if power else f"{many}watts not known"]


def _driver(data: Mapping[str, Any]) -> list[str]:
    output = " ".join(piece for piece in (_text(data, "output_voltage"), _text(data, "output_kind")) if piece)
    return [output, _text(data, "output_power")]


def _low_voltage_load(data: Mapping[str, Any]) -> list[str]:
    return [_text(data, "power") or _text(data, "power_per_length") or "watts not known", _text(data, "length")]


def _control(data: Mapping[str, Any]) -> list[str]:
    return [_text(data, "kind"), _text(data, "ways")]


def _framing(data: Mapping[str, Any]) -> list[str]:
    return [_text(data, "member"), _text(data, "cut"), _text(data, "diameter")]


def _site(data: Mapping[str, Any]) -> list[str]:
    return [_text(data, "room"), _text(data, "wired", before="wired ")]


def _light(data: Mapping[str, Any]) -> list[str]:
    as_other = _text(data, "like", before="like ")
    return [*_load(data)[: 1 if not as_other or "power" in data else 0], _text(data, "length"), as_other]


def _job(data: Mapping[str, Any]) -> list[str]:
    return [_text(data, "title"), _text(data, "rulebook")]


def _other(data: Mapping[str, Any]) -> list[str]:
    return [str(value) for value in data.values() if isinstance(value, str)][:3]


_DETAILS = {
    "supply": _supply,
    "box": _box,
    "cable": _cable,
    "load": _load,
    "driver": _driver,
    "low_voltage_load": _low_voltage_load,
    "control": _control,
    "framing": _framing,
    "site": _site,
    "job": _job,
    "light": _light,
    "change": _change,
}
