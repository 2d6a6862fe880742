"""A part while it is spelled out: its entries, each with the place where it is written and where it comes from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.locator import Path
from circuitcheck.circuit.short.light_keys import LIGHT_KEYS
from circuitcheck.circuit.short.planned import as_planned, stands_in_the_way

KNOWN_BY = "known_by"


@dataclass(frozen=True, slots=True)
class Entry:
    """A value, its place in the file as written, and in words where it comes from (empty: the part itself has it)."""

    value: Any
    place: Path
    reason: str = ""


@dataclass(slots=True, eq=False)
class Part:
    """A part of the long form. ``written_in``: path of the table that stands for it where that is another one.

    ``inner_places``: for what stands inside an entry of a light, path behind the part's own -> path behind the table's.
    """

    section: str
    place: Path
    entries: dict[str, Entry]
    written_in: str = ""
    inner_places: tuple[tuple[Path, Path], ...] = ()

    @property
    def id(self) -> str:
        """The part's id; empty where it has none that is text."""
        entry = self.entries.get("id")
        return entry.value if entry is not None and isinstance(entry.value, str) else ""

    @property
    def is_added(self) -> bool:
        """Whether it is to be added: a light is unless it says otherwise, and so is a part that is like another one."""
        entry = self.entries.get("origin")
        if entry is None:
            return self.section == "light" or "like" in self.entries
        return bool(entry.value == "added")


def written_part(section: str, index: int, table: Mapping[str, Any]) -> Part:
    """A part as its table has it."""
    place: Path = (section, index)
    return Part(section, place, {key: Entry(value, (*place, key)) for key, value in table.items()})


def take_over(part: Part, model: Part, reason: str, may: Callable[[str, str], bool] | None) -> None:
    """Gives the part what it does not say itself and ``model`` does.

    ``may`` tells by section and key what may be copied from another part; None: all of it, as written (a default).
    """
    own = frozenset(part.entries)
    known = model.entries.get(KNOWN_BY)
    how = known.value if known is not None and isinstance(known.value, dict) else {}
    for key, entry in model.entries.items():
        section, name = owner_of(part.section, key)
        if stands_in_the_way(section, name, frozenset(owner_of(part.section, other)[1] for other in own)):
            continue
        if may is None:
            part.entries[key] = Entry(entry.value, entry.place, reason)
        elif may(section, name):
            value = as_planned(entry.value, how.get(key))
            if value is not None:
                part.entries[key] = Entry(value, entry.place, reason)


def owner_of(section: str, key: str) -> tuple[str, str]:
    """Section and key that a key means: in a light, those of its load, box or cable."""
    if section != "light":
        return section, key
    return LIGHT_KEYS.get(key, (section, key))
