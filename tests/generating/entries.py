"""The entries of a circuit: where each stands, what it says, and whether the file leaves it open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.possible import possible_of
from circuitcheck.quantities import How, Interval
from circuitcheck.tables.rulebook import load_rulebook
from tests.generating.possible import GROUPS, possible

#: Open answers that hang on these alone are cautions.
_DURATION = frozenset({"load.continuous", "driver.continuous"})


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of one part: its section, the part's place in it, and the key."""

    section: str
    place: int
    key: Key

    def __hash__(self) -> int:
        return hash((self.section, self.place, self.key.name))

    @property
    def name(self) -> str:
        """``section.key``."""
        return f"{self.section}.{self.key.name}"

    def part(self, circuit: Circuit) -> Any:
        """The part that it belongs to."""
        held = getattr(circuit, SECTIONS[self.section].attribute)
        return held[self.place] if SECTIONS[self.section].many else held

    def value(self, circuit: Circuit) -> Any:
        """What the circuit says there."""
        return getattr(self.part(circuit), self.key.attribute)

    def path(self, circuit: Circuit) -> str:
        """``section.id.key``, as findings name it."""
        part = self.part(circuit)
        return f"{self.section}.{part.id}.{self.key.name}" if SECTIONS[self.section].many else self.name

    def is_plan(self, circuit: Circuit) -> bool:
        """Whether it is about work to come, or about how long a load stays on: cautions may hang on it."""
        part = self.part(circuit)
        if self.name in _DURATION or getattr(part, "origin", "existing") != "existing":
            return True
        book = load_rulebook(circuit.job.rulebook)
        may = possible_of(self.name, self.key, self.value(circuit), part, circuit, book)
        return may is not None and may.later is not None


@cache
def _keys(section: str) -> tuple[Key, ...]:
    return tuple(key for key in SECTIONS[section].keys.values() if key.form is not Form.ID)


def all_entries(circuit: Circuit) -> Iterator[Entry]:
    """Every entry of the circuit, written or not."""
    for name, section in SECTIONS.items():
        count = len(getattr(circuit, section.attribute)) if section.many else 1
        for place in range(count):
            yield from (Entry(name, place, key) for key in _keys(name))


def open_entries(circuit: Circuit) -> Iterator[Entry]:
    """The entries that the file leaves open: unknown, between two ends, or guessed. Not those that may be absent."""
    for entry in all_entries(circuit):
        if is_open(entry, circuit):
            yield entry


def is_open(entry: Entry, circuit: Circuit) -> bool:
    """Whether the file leaves this entry open; one that may be absent for good (``ABSENT``) is not."""
    part, value = entry.part(circuit), entry.value(circuit)
    if part.known_by.get(entry.key.name) == How.GUESS:
        return True
    if isinstance(value, Interval):
        return is_open_value(value)
    if isinstance(value, tuple) and value:
        return any(is_open_value(each) for each in value if isinstance(each, Interval)) or _table_is_open(value)
    if value is not None and value != ():
        return False
    return possible(entry.section, entry.key, part, circuit, load_rulebook(circuit.job.rulebook)) is not None


def only_narrows(before: Circuit, after: Circuit) -> bool:
    """Whether nothing differs but what was open, and no range is wider."""
    return all(
        narrows(entry, before, after) for entry in all_entries(before) if entry.value(before) != entry.value(after)
    )


def narrows(entry: Entry, before: Circuit, after: Circuit) -> bool:
    """Whether this entry of ``before`` was open and may be what ``after`` says."""
    old, new = entry.value(before), entry.value(after)
    if isinstance(old, Interval):
        return isinstance(new, Interval) and old.low <= new.low <= new.high <= old.high
    if is_open(entry, before):
        return True
    # A light that turns out to be a strip has a length: all else in the part being known, is it open?
    group = next((keys for keys in GROUPS.get(entry.section, ()) if entry.key.name in keys), (entry.key.name,))
    attributes = (SECTIONS[entry.section].keys[name].attribute for name in group)
    unset = {attribute: getattr(entry.part(before), attribute) for attribute in attributes}
    leader = replace(entry, key=SECTIONS[entry.section].keys[group[0]])
    return is_open(leader, before) or is_open(leader, changed(after, entry, unset))


def is_open_value(value: Interval) -> bool:
    """Whether a value lies between two ends or is a guess."""
    return not value.exact or value.how is How.GUESS


def _table_is_open(value: tuple[Any, ...]) -> bool:
    return any(getattr(run, "other_circuit", True) is None for run in value)


def changed(circuit: Circuit, entry: Entry, changes: dict[str, Any]) -> Circuit:
    """The circuit with these attributes of the entry's part changed."""
    section = SECTIONS[entry.section]
    part = replace(entry.part(circuit), **changes)
    if not section.many:
        return replace(circuit, **{section.attribute: part})
    parts = getattr(circuit, section.attribute)
    return replace(circuit, **{section.attribute: (*parts[: entry.place], part, *parts[entry.place + 1 :])})
