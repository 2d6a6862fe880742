"""The keys that may stand in a table as written, short forms among them, for whoever shows or edits a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from circuitcheck.circuit.keys import SECTIONS, Section
from circuitcheck.circuit.short.cable_print import PRINTED_KEYS
from circuitcheck.circuit.short.light_keys import CABLE_PRINT, LIGHT, LIGHT_KEYS, like_key
from circuitcheck.circuit.short.planned import SECTIONS_OF_PARTS, SECTIONS_WITH_DEFAULTS, may_be_default


def written_section(name: str, data: Mapping[str, object]) -> Section | None:
    """The section of a table of this name, with the keys that its short forms bring; None for an unknown one.

    A cable that says its print has no type, size, conductors or ground beside it.
    """
    return _written_section(name, "cable" in data, "like" in data)


@cache
def _written_section(name: str, printed: bool, like: bool) -> Section | None:
    if name == "light":
        return LIGHT
    outer, _, inner = name.partition(".")
    defaults = outer == "defaults" and inner in SECTIONS_WITH_DEFAULTS
    section = SECTIONS.get(inner if defaults else name)
    if section is None:
        return None
    keys = dict(section.keys)
    if section.name == "cable" and (printed or defaults):
        keys = {key: value for key, value in keys.items() if key not in PRINTED_KEYS} | {"cable": CABLE_PRINT}
    if like and section.name in SECTIONS_OF_PARTS and not defaults:
        keys["like"] = like_key(section.name)
    if defaults:
        keys = {key: replace(value, required=False) for key, value in keys.items() if may_be_default(inner, key)}
        return Section(name, f"Defaults for an added {section.title.lower()}", False, keys, "")
    return replace(section, keys=keys)


def guided_key(section: str, key: str) -> tuple[str, str]:
    """Section and key of the long form whose guide explains a key as written."""
    if section == "light":
        return LIGHT_KEYS.get(key, (section, key))
    return section.removeprefix("defaults."), key
