"""The entries of a circuit: where each stands, what it says, and whether the file leaves it open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_found
from circuitcheck.possible import possible_of
from circuitcheck.quantities import How, Interval
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook
from tests.generating.possible import GROUPS, possible

#: Open answers that hang on these alone are cautions.
_DURATION = frozenset({"load.continuous", "driver.continuous"})
#: What says how much a load draws while it is on.
_DRAWN = frozenset({"kind", "quantity", "power", "apparent", "current", "fitted"})


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of one part: its section, the part's place in it, and the key.

    ``gone``: of a load as it was found, that the work takes away, replaces or moves.
    """

    section: str
    place: int
    key: Key
    gone: bool = False

    def __hash__(self) -> int:
        return hash((self.section, self.place, self.key.name, self.gone))

    @property
    def name(self) -> str:
        """``section.key``."""
        return f"{self.section}.{self.key.name}"

    def home(self, circuit: Circuit) -> Circuit:
        """The circuit in which its part stands: this one, or as it was found."""
        return as_found(circuit.before.circuit) if self.gone and circuit.before is not None else circuit

    def part(self, circuit: Circuit) -> Any:
        """The part that it belongs to."""
        held = getattr(_told(circuit) if self.gone else circuit, SECTIONS[self.section].attribute)
        return held[self.place] if SECTIONS[self.section].many else held

    def part_ref(self, circuit: Circuit) -> Ref:
        """The part that it belongs to, by its name."""
        return Ref(self.section, getattr(self.part(circuit), "id", ""))

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
        may = possible_of(self.name, self.key, self.value(circuit), part, self.home(circuit), book)
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
    for place in gone_loads(circuit):
        entries = (Entry("load", place, key, gone=True) for key in _keys("load"))
        yield from (entry for entry in entries if not _counts_as_told(entry, circuit))


def gone_loads(circuit: Circuit) -> Iterator[int]:
    """The places, in the circuit as the file tells it, of the loads that are no more or stand elsewhere."""
    if circuit.before is not None:
        whole = circuit.before.gone | circuit.before.replaced | circuit.before.moved
        there = {load.id for load in as_found(circuit.before.circuit).loads}
        for place, load in enumerate(circuit.before.circuit.loads):
            if Ref("load", load.id) in whole and load.id in there:
                yield place


def _counts_as_told(entry: Entry, circuit: Circuit) -> bool:
    """What is planned with it takes for granted that it is there; and what a load drew in whose place another one
    stands counts at its least, since nobody is asked for it.
    """
    stays = circuit.before is not None and entry.part_ref(circuit) not in circuit.before.gone
    return entry.key.name == "origin" or (stays and entry.key.name in _DRAWN)


def _told(circuit: Circuit) -> Circuit:
    return circuit.before.circuit if circuit.before is not None else circuit


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
    home = entry.home(circuit)
    return possible(entry.section, entry.key, part, home, load_rulebook(circuit.job.rulebook)) is not None


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
    if entry.gone and circuit.before is not None:
        found = changed(circuit.before.circuit, replace(entry, gone=False), changes)
        return replace(circuit, before=replace(circuit.before, circuit=found))
    section = SECTIONS[entry.section]
    part = replace(entry.part(circuit), **changes)
    if not section.many:
        return replace(circuit, **{section.attribute: part})
    parts = getattr(circuit, section.attribute)
    return replace(circuit, **{section.attribute: (*parts[: entry.place], part, *parts[entry.place + 1 :])})
