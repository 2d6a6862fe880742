"""Which rules a change of a few entries concerns: what all others said of the circuit before stands.

Whoever types a length has the whole circuit checked with each key. A rule says of every entry that can be open which
way it is worse, so a rule that does not name such an entry does not read it. Of entries that are never open (which
parts there are, where they hang) and of those that are presumed nobody knows who reads them: they concern every rule.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple

from circuitcheck.case import AnyRule, Case, CaseRule
from circuitcheck.case.parts import Part
from circuitcheck.case.waiting import entry_of, key_rows
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.circuit.model import Circuit
from circuitcheck.possible import declared
from circuitcheck.possible.table import AS_INFERRED
from circuitcheck.refs import Ref
from circuitcheck.rules import ALL_RULES

_ORIGIN = "origin"


class State(NamedTuple):
    """A circuit as the file has it, changes carried out, and as a case."""

    circuit: Circuit
    case: Case


class Place(NamedTuple):
    """Where an entry stands: its section, which of the parts of it, its attribute; and its kind (``cable.length``)."""

    section: str
    part: int
    attribute: str
    kind: str


class Changed(NamedTuple):
    """Entries that became others. ``are_named``: whether every rule of cases that reads one names its kind."""

    places: frozenset[Place]
    are_named: bool


def entries_changed(before: State, now: State) -> Changed | None:
    """The entries that became others; None where it is which parts there are, how they hang together, or the book.

    What follows from an entry for another one counts as a change of that one.
    """
    cases = before.case, now.case
    if before.case.book is not now.case.book:
        return None
    planned = [(case.replaced, case.moved, case.opened, [gone.has_watts for gone in case.gone]) for case in cases]
    if planned[0] != planned[1]:
        return None
    places: set[Place] = set()
    are_named = True
    for section in SECTIONS.values():
        pairs = _pairs(section, *cases), _pairs(section, before.circuit, now.circuit)
        if None in pairs:
            return None
        of_cases, as_told = pairs
        for part, (old, new) in enumerate(of_cases or ()):
            looked_at = _following if part < len(as_told or ()) else _entries
            for attribute, kind, is_named in _different(looked_at(section.name), old, new):
                places.add(Place(section.name, part, attribute, kind))
                are_named = are_named and is_named
        for part, (old, new) in enumerate(as_told or ()):
            if old is new or old == new:
                continue
            for attribute, kind, is_named in _told_otherwise(section.name, old, new):
                places.add(Place(section.name, part, attribute, kind))
                are_named = are_named and is_named
    if any(_joins(place.section, place.attribute) for place in places):
        return None
    return Changed(frozenset(places), are_named)


def place_of(entry: Ref, circuit: Circuit) -> Place | None:
    """Where an entry of the circuit stands; None where it has none such, or it says how parts hang together."""
    section = SECTIONS.get(entry.section)
    key = section.keys.get(entry.key) if section is not None else None
    if section is None or key is None or _joins(section.name, key.attribute):
        return None
    parts = getattr(circuit, section.attribute) if section.many else ()
    part = next((place for place, each in enumerate(parts) if each.id == entry.id), None) if section.many else 0
    return None if part is None else Place(section.name, part, key.attribute, f"{section.name}.{key.name}")


def followers(place: Place, circuit: Circuit) -> frozenset[Place]:
    """Entries of which what they can be may follow from one: those of its part, and of the box and what is in it.

    Where it follows elsewhere too, that is seen once the entry changes.
    """
    parts = getattr(circuit, SECTIONS[place.section].attribute)
    own = parts[place.part] if SECTIONS[place.section].many else parts
    box = own.id if place.section == "box" else getattr(own, "box", None)
    near: set[Place] = set()
    for section in ("box", "load", "driver", "control") if box is not None else ():
        for part, each in enumerate(getattr(circuit, SECTIONS[section].attribute)):
            if (each.id if section == "box" else each.box) == box:
                near.update(Place(section, part, attribute, kind) for attribute, kind, _ in _following(section))
    near.update(Place(place.section, place.part, attribute, kind) for attribute, kind, _ in _following(place.section))
    return frozenset(near - {place})


def part_at(case: Case, place: Place) -> Part:
    """The part whose entry it is."""
    part: Part = [*_parts(case, SECTIONS[place.section])][place.part]
    return part


@cache
def _joins(section: str, attribute: str) -> bool:
    """Whether an entry says which parts there are, how they hang together or which are new: all hangs on that."""
    key = key_rows(section)[attribute].key
    return key.form in (Form.ID, Form.REFERENCE) or bool(key.refers) or attribute == _ORIGIN


def _pairs(section: Section, before: Case | Circuit, now: Case | Circuit) -> list[tuple[Any, Any]] | None:
    """Each part of a section before and now, those that are no more too; None where these are not as many."""
    held, present = ([*_parts(state, section)] for state in (before, now))
    return [*zip(held, present, strict=True)] if len(held) == len(present) else None


def _parts(state: Case | Circuit, section: Section) -> Iterator[Any]:
    parts = getattr(state, section.attribute)
    yield from parts if section.many else (parts,)
    if isinstance(state, Case):
        yield from (gone.load for gone in state.gone if gone.load.section == section.name)


_Entry = tuple[str, str, bool]


def _told_otherwise(section: str, old: Any, new: Any) -> Iterator[_Entry]:
    """Each entry of which the file says something else, or how it is known."""
    for attribute, kind, is_named in _entries(section):
        name = key_rows(section)[attribute].key.name
        if getattr(old, attribute) != getattr(new, attribute) or old.known_by.get(name) != new.known_by.get(name):
            yield attribute, kind, is_named


def _different(entries: Iterable[_Entry], old: Part, new: Part) -> Iterator[_Entry]:
    """Each of these entries of a part that is another one in one of two cases: its value, or what it can be.

    Of what was open before and nobody looked at, no answer hangs on. What was looked at is looked at in the new case
    too, so that it is known of the next one by which rules may stand.
    """
    known, opened = vars(old), vars(old).get("_open", {})
    for each in entries:
        attribute = each[0]
        if attribute in known:
            if entry_of(new, attribute) is not None or _another(known[attribute], vars(new)[attribute]):
                yield each
        elif (entry := opened.get(attribute)) is not None:
            other = entry_of(new, attribute)
            if other is None or (other.possible, other.asked) != (entry.possible, entry.asked):
                yield each


def _another(value: Any, other: Any) -> bool:
    return value is not other and bool(value != other)


def is_named_by_readers(kind: str, key: Key) -> bool:
    """Whether every rule of cases that reads an entry of this kind names it: numbers, and what is open when left out.

    Free text is read by none. Words of which one is presumed, or the only one, are read without a name.
    """
    if key.form in (Form.PHYSICAL, Form.TEXT):
        return True
    row = declared().get(kind)
    if row is None or row.presumed or key.form not in (Form.WORD, Form.YES_NO, Form.WHOLE):
        return False
    if isinstance(row.may_be, str):
        return row.may_be != AS_INFERRED
    return isinstance(row.may_be, Mapping) or (row.may_be is not None and len(row.may_be) > 1)


def concerned(rule: AnyRule, kinds: Iterable[str]) -> bool:
    """Whether a rule may answer otherwise with other entries of these kinds.

    Rules of evidence look at entries as they are written, and sizes are asked of other circuits: both always may.
    """
    return not isinstance(rule, CaseRule) or any(rule.name in _readers(kind) for kind in kinds)


@cache
def _readers(kind: str) -> frozenset[str]:
    """The rules that name a kind of entry, or the same entry where it stands apart (``listed load.power``)."""
    return frozenset(
        rule.name
        for rule in ALL_RULES
        if isinstance(rule, CaseRule)
        for named in (*rule.worse, *rule.points, *rule.turns, *rule.doubts)
        if named.rpartition(" ")[2] == kind
    )


@cache
def _following(section: str) -> tuple[_Entry, ...]:
    """Those of which what they can be may follow from other entries; all others are what the file says of them.

    A reading under load ends a range of lengths.
    """
    rows = key_rows(section)
    return tuple(
        each
        for each in _entries(section)
        if each[1] == "cable.length" or ((row := rows[each[0]].row) is not None and row.infer)
    )


@cache
def _entries(section: str) -> tuple[_Entry, ...]:
    """Attribute and kind of every entry of a section, and whether whoever reads it names it."""
    kinds = ((key, f"{section}.{key.name}") for key in SECTIONS[section].keys.values())
    return tuple((key.attribute, kind, is_named_by_readers(kind, key)) for key, kind in kinds)
