"""From the circuit as the file has it to a case: what is settled becomes plain, what is open is watched."""

from __future__ import annotations

from functools import cache
from typing import Any

from circuitcheck.case import parts
from circuitcheck.case.case import Case, Gone
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.memory import Reading
from circuitcheck.circuit.change import AsFound
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_found, least_current_a
from circuitcheck.possible import Possible, declared, possible_of
from circuitcheck.possible.reading import declared_of
from circuitcheck.possible.table import Declared
from circuitcheck.quantities import How, Interval
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

_KNOWN: dict[str, type[parts.Part]] = {
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
        if entry is None:
            raise AttributeError(self._name)
        reading = state["_reading"]
        value = reading.frames[-1].reads[entry] = reading.choice[entry]
        return value


#: Section -> its part with open entries.
_WATCHED: dict[str, type[parts.Part]] = {
    section: type(
        f"Open{known.__name__}",
        (known,),
        {
            "__doc__": known.__doc__,
            **{key.attribute: _Watched(key.attribute) for key in SECTIONS[section].keys.values()},
        },
    )
    for section, known in _KNOWN.items()
}


def case_of(circuit: Circuit, book: Rulebook) -> Case:
    """The circuit as a case in which every open entry is still to be chosen."""
    reading = Reading()
    entries: list[OpenEntry] = []
    sections: dict[str, Any] = {}
    for section in SECTIONS.values():
        held = getattr(circuit, section.attribute)
        if section.many:
            sections[section.attribute] = tuple(_part(section, part, circuit, book, reading, entries) for part in held)
        else:
            sections[section.attribute] = _part(section, held, circuit, book, reading, entries)
    case = Case(book, reading, tuple(entries), sections)
    if circuit.before is not None:
        case.replaced, case.moved = circuit.before.replaced, circuit.before.moved
        case.opened = circuit.before.opened
        case.gone = _gone(circuit.before.circuit, circuit.before, book, reading, entries)
    return case


def _gone(
    found: Circuit, before: AsFound[Circuit], book: Rulebook, reading: Reading, entries: list[OpenEntry]
) -> tuple[Gone, ...]:
    """The loads that are no more or stand elsewhere, as they were found."""
    known = as_found(found)
    whole = before.gone | before.replaced | before.moved
    loads = [load for load in known.loads if Ref("load", load.id) in whole]
    made = ((load, _part(SECTIONS["load"], load, known, book, reading, entries)) for load in loads)
    return tuple(Gone(part, least_current_a(load, known)) for load, part in made if isinstance(part, parts.Load))


@cache
def _keys(section: str) -> tuple[tuple[str, str, Key, Declared | None, bool], ...]:
    """Attribute, kind, key and row of a section; whether the table says anything about a value that is given."""
    rows = {key.name: declared().get(f"{section}.{key.name}") for key in SECTIONS[section].keys.values()}
    return tuple(
        (key.attribute, f"{section}.{key.name}", key, row, row is not None and bool(row.infer))
        for key in SECTIONS[section].keys.values()
        for row in (rows[key.name],)
    )


def _part(
    section: Section, part: Any, circuit: Circuit, book: Rulebook, reading: Reading, entries: list[OpenEntry]
) -> parts.Part:
    known: dict[str, Any] = {}
    open_keys: list[tuple[str, str, Key, Possible]] = []
    guessed = part.known_by
    for attribute, kind, key, row, inferred in _keys(section.name):
        value = getattr(part, attribute)
        possible: Possible | None
        if value is None and not inferred:
            possible = None if row is None else declared_of(row, key, part, book)
            if possible is None:
                known[attribute] = None
            elif len(possible.options) == 1 and not possible.assumed:
                known[attribute] = possible.options[0]
            else:
                open_keys.append((attribute, kind, key, possible))
            continue
        if value.__class__ is Interval:
            if value.low == value.high and value.how is not How.GUESS:
                known[attribute] = value.low
                continue
        elif (
            value is not None
            and not inferred
            and (not guessed or guessed.get(key.name) != How.GUESS)
            and (key.form is not Form.PHYSICAL_LIST or all(each.exact for each in value))
        ):
            known[attribute] = tuple(each.low for each in value) if key.form is Form.PHYSICAL_LIST else value
            continue
        possible = possible_of(kind, key, value, part, circuit, book)
        if possible is None:
            known[attribute] = _plain(value)
        elif len(possible.options) == 1 and not possible.assumed:
            known[attribute] = possible.options[0]
        else:
            open_keys.append((attribute, kind, key, possible))
    opened: dict[str, OpenEntry] = {}
    made = object.__new__(_WATCHED[section.name])
    for attribute, kind, key, possible in open_keys:
        asked = possible.ask_for or key.name
        opened[attribute] = OpenEntry(kind, attribute, asked, key.title, possible, reading.next_bit(), made)
    if not opened:
        plain = object.__new__(_KNOWN[section.name])
        plain.__dict__.update(known)
        return plain
    made.__dict__.update(known)
    made.__dict__["_open"] = opened
    made.__dict__["_reading"] = reading
    entries.extend(opened.values())
    return made


def _plain(value: Any) -> Any:
    """A value that the file settles: a number for a range with one value."""
    if isinstance(value, Interval):
        return value.low
    if isinstance(value, tuple) and value and isinstance(value[0], Interval):
        return tuple(each.low for each in value)
    return value
