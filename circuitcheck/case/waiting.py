"""What is open in a part, worked out when it is first asked for: of most entries no rule asks in most circuits."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from functools import cache
from typing import Any, NamedTuple, Protocol

from circuitcheck.case import parts
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.reading import Reading
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Key
from circuitcheck.circuit.model import Circuit
from circuitcheck.possible import declared, possible_of
from circuitcheck.possible.table import Declared
from circuitcheck.quantities import Interval
from circuitcheck.tables.rulebook import Rulebook

KNOWN: dict[str, type[parts.Part]] = {
    known.section: known
    for known in (
        parts.Job,
        parts.Supply,
        parts.Site,
        parts.Box,
        parts.Cable,
        parts.Load,
        parts.Driver,
        parts.LowVoltageLoad,
        parts.Control,
        parts.Framing,
    )
}


#: So many places in the file are kept for the keys of each part.
PLACES = 100


class KeyRow(NamedTuple):
    """One key of a section: ``kind`` is ``cable.length``; ``row``: what the table says of it, None for nothing.

    ``place``: where it stands among the section's, from 0 to less than ``PLACES``.
    """

    attribute: str
    kind: str
    key: Key
    row: Declared | None
    place: int


@cache
def key_rows(section: str) -> Mapping[str, KeyRow]:
    """The keys of a section by their attributes, as they stand in the file."""
    rows = declared()
    return {
        key.attribute: KeyRow(key.attribute, kind, key, rows.get(kind), place)
        for place, key in enumerate(SECTIONS[section].keys.values())
        for kind in (f"{section}.{key.name}",)
    }


class Source(Protocol):
    """Where the entries of a part come from that nobody has asked for yet."""

    reading: Reading

    def look_up(self, part: parts.Part, attribute: str) -> OpenEntry | None:
        """The entry, None where it is settled; either way the part has it from here on."""


class FromFile:
    """A part as the file has it, of which some entries are still to be looked at."""

    __slots__ = ("_book", "_circuit", "_place", "_told", "reading")

    def __init__(self, told: Any, circuit: Circuit, book: Rulebook, reading: Reading) -> None:
        """``told``: the part as the file has it, one of the circuit's; the next in the file is made after it."""
        self._told, self._circuit, self._book, self.reading = told, circuit, book, reading
        self._place = reading.next_place(PLACES)

    def otherwise(self, told: Any, circuit: Circuit) -> FromFile:
        """The same part as another file would have it; its entries stand where they stood."""
        other = copy(self)
        other._told, other._circuit = told, circuit
        return other

    @property
    def first_place(self) -> float:
        """Where the part's entries begin in the file."""
        return self._place

    def look_up(self, part: parts.Part, attribute: str) -> OpenEntry | None:
        """What the entry can be, as an entry of the part where that is more than one thing or has to be told."""
        _, kind, key, _, place = key_rows(part.section)[attribute]
        value = getattr(self._told, attribute)
        possible = possible_of(kind, key, value, self._told, self._circuit, self._book)
        state = part.__dict__
        if possible is None:
            state[attribute] = _plain(value)
            return None
        if len(possible.options) == 1 and not possible.assumed:
            state[attribute] = possible.options[0]
            return None
        entry = self.reading.enter(OpenEntry(kind, key, possible, part, self._place + place))
        state["_open"][attribute] = entry
        return entry


def _plain(value: Any) -> Any:
    """A value that the file settles: a number for a range with one value."""
    if isinstance(value, Interval):
        return value.low
    if isinstance(value, tuple) and value and isinstance(value[0], Interval):
        return tuple(each.low for each in value)
    return value


class _Watched:
    """Stands in the class for an entry that is open. What is known stands in the object itself and is found before."""

    __slots__ = ("_name",)

    def __init__(self, name: str) -> None:
        self._name = name

    def __get__(self, part: Any, kind: Any = None) -> Any:
        if part is None:
            return self
        state = part.__dict__
        entry = state["_open"].get(self._name)
        source = state["_source"]
        if entry is None:
            if self._name in state:
                raise AttributeError(self._name)
            entry = entry_of(part, self._name)
            if entry is None:
                return state[self._name]
        reading = source.reading
        value = reading.choice[entry]
        reading.read |= entry.bit
        return value


#: Section -> its part with open entries.
WATCHED: dict[str, type[parts.Part]] = {
    section: type(
        f"Open{known.__name__}",
        (known,),
        {
            "__doc__": known.__doc__,
            **{key.attribute: _Watched(key.attribute) for key in SECTIONS[section].keys.values()},
        },
    )
    for section, known in KNOWN.items()
}


def part_of(section: str, settled: Mapping[str, Any], source: Source) -> parts.Part:
    """A part of which ``settled`` is known, by attribute; everything else is asked of its source when it is read."""
    part = object.__new__(WATCHED[section])
    state = part.__dict__
    state.update(settled)
    state["_open"], state["_source"] = {}, source
    return part


def entry_of(part: parts.Part, attribute: str) -> OpenEntry | None:
    """The open entry of a part that stands behind an attribute; None where that is settled."""
    state = part.__dict__
    if attribute in state:
        return None
    opened: dict[str, OpenEntry] = state["_open"]
    entry = opened.get(attribute)
    if entry is None:
        source: Source = state["_source"]
        with source.reading.lock:  # of one entry there is one
            entry = opened.get(attribute)
            if entry is None and attribute not in state:
                entry = source.look_up(part, attribute)
    return entry


def open_entries(part: parts.Part) -> dict[str, OpenEntry]:
    """All open entries of a part by their attributes, as the keys stand in the file."""
    if "_source" not in part.__dict__:
        return {}
    entries = ((attribute, entry_of(part, attribute)) for attribute in key_rows(part.section))
    return {attribute: entry for attribute, entry in entries if entry is not None}


def twin_of(part: parts.Part) -> parts.Part:
    """Another part of which the same is known and open; whoever makes it gives it entries of its own."""
    settled = {name: value for name, value in part.__dict__.items() if name not in ("_open", "_source")}
    return part_of(part.section, settled, _Same(part))


class _Same:
    """The entries of another part."""

    __slots__ = ("_part", "reading")

    def __init__(self, part: parts.Part) -> None:
        self._part, self.reading = part, part.__dict__["_source"].reading

    @property
    def first_place(self) -> float:
        """Where that part's entries begin in the file."""
        first: float = self._part.__dict__["_source"].first_place
        return first

    def look_up(self, part: parts.Part, attribute: str) -> OpenEntry | None:
        """The entry of that part."""
        return take_over(part, attribute, self._part)


def take_over(part: parts.Part, attribute: str, other: parts.Part) -> OpenEntry | None:
    """The entry of another part, None where it is settled; either way the part has it from here on."""
    entry = entry_of(other, attribute)
    if entry is None:
        part.__dict__[attribute] = other.__dict__[attribute]
    else:
        part.__dict__["_open"][attribute] = entry
    return entry
