"""The guide to every key of the circuit file: what it is, where to read it, what is assumed while it is unknown."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from circuitcheck.circuit.entries import KNOWN_BY_KEY
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.refs import Ref

#: Cautions of keys that are found out by opening something.
_OPENING = ("box", "fixture")

_FILE = Path(__file__).with_name("key_guide.toml")


@dataclass(frozen=True, slots=True)
class KeyGuide:
    """What a person is told about one key.

    read: ways to find it out, the cheapest first. caution: empty, or what to do before a cover is opened, and in short.
    opens: finding out means opening something. bought: for a part still to come it is settled when the part is bought.
    picture: lines of characters, empty where words are enough. visit: where one goes for it, as ``VISITS`` has it.
    """

    section: str
    key: str
    title: str
    what: str
    read: tuple[str, ...]
    if_unknown: str
    caution: str = ""
    caution_in_short: str = ""
    opens: bool = False
    bought: bool = False
    picture: tuple[str, ...] = ()
    visit: str = ""


@dataclass(frozen=True, slots=True)
class Visit:
    """A place where entries are found out. ``cost``: the order of trouble and danger, least first."""

    name: str
    says: str
    cost: int


#: Where a key is found out that says no more than its caution.
_VISIT_OF_CAUTION = {"panel": "panel", "attic": "attic", "box": "box", "fixture": "box", "live": "room", None: "room"}


@cache
def visits() -> Mapping[str, Visit]:
    """Every place where one goes, the easiest first."""
    held = [Visit(name, text["says"], text["cost"]) for name, text in _texts()["visits"].items()]
    return {visit.name: visit for visit in sorted(held, key=lambda visit: visit.cost)}


@cache
def _texts() -> Mapping[str, Mapping[str, Any]]:
    return tomllib.loads(_FILE.read_text(encoding="utf-8"))


def _title(section: str, key: str) -> str:
    keys = SECTIONS[section].keys
    if key == KNOWN_BY_KEY:
        return "How entries are known"
    outer, _, inner = key.partition(".")
    return keys[outer].parts[inner].title if inner else keys[outer].title


@cache
def entry_guide(section: str, key: str) -> KeyGuide:
    """The guide to a key of a section; keys of the small tables in a box are written ``devices.size``.

    Raises: KeyError for a key that the circuit file does not have.
    """
    text = _texts()["box" if key == KNOWN_BY_KEY else section][key]
    caution = _texts()["cautions"].get(text.get("caution"), {})
    return KeyGuide(
        section,
        key,
        _title(section, key),
        text["what"],
        tuple(text["read"]),
        text["if_unknown"],
        caution.get("full", ""),
        caution.get("short", ""),
        text.get("caution") in _OPENING,
        text.get("bought", False),
        tuple(text.get("picture", "").strip("\n").splitlines()),
        text.get("visit") or _VISIT_OF_CAUTION[text.get("caution")],
    )


def key_of(key_path: str) -> tuple[str, str] | None:
    """Section and key that a path such as ``cable.feed.length`` or ``box.hall.devices.#1.size`` means, or None.

    Ids may hold dots of their own, so only the first and the last names of the path are read.
    """
    names = key_path.split(".")
    section = SECTIONS.get(names[0])
    if section is None or len(names) < 2:
        return None
    last = names[-1]
    if last in section.keys or last == KNOWN_BY_KEY:
        return section.name, last
    for name in reversed(names[1:-1]):
        key = section.keys.get(name)
        if key is not None and last in key.parts:
            return section.name, f"{name}.{last}"
        if key is not None and last.startswith("#"):
            return section.name, name
    return None


@lru_cache(maxsize=65536)
def entry_ref(key_path: str) -> Ref:
    """Section, id and key of ``cable.feed.length``; of ``box.hall.devices.#1.size`` the list is the key.

    Without a key where the path names none: then it is the path of a part.
    """
    part, named = Ref.of_part(key_path), key_of(key_path)
    if named is None:
        return part
    key = named[1].partition(".")[0]  # of an entry in a list: the list
    if not SECTIONS[part.section].many:
        return Ref(part.section, "", key)
    behind = len(key) + 1 if part.id.endswith(f".{key}") else len(part.id) - part.id.rfind(f".{key}.")
    return Ref(part.section, part.id[:-behind], key)


@lru_cache(maxsize=65536)
def how_to_find(key_path: str, *, planned: bool = False) -> str:
    """How to find out the entry that this path names, the cheapest way first; empty for a path that names none.

    ``planned``: the part is still to come, so that there is nothing to open yet.
    """
    found = key_of(key_path)
    if found is None:
        return ""
    guide = entry_guide(*found)
    if planned and guide.bought:
        return "It is still to be bought: choose it, and read the print on it or on its carton."
    if planned and guide.opens:
        return "It is still to be done: say how you plan it."
    return f"{' Or: '.join(guide.read)} {guide.caution_in_short}".rstrip()


@lru_cache(maxsize=65536)
def visit_of(key_path: str, *, planned: bool = False) -> str:
    """Where one goes for the entry that this path names; ``planned``: the part is still to come."""
    found = key_of(key_path)
    if found is None:
        return "room"
    guide = entry_guide(*found)
    if planned and guide.bought:
        return "carton"
    if planned and guide.opens:
        return "plan"
    return guide.visit if planned or guide.visit != "carton" else "room"
