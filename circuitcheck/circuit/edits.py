"""Changes to a circuit in the words of its file: entries set or taken away, parts added or left out, changes planned.

The same edits are made to a circuit in memory here, and to a file's text in ``written/edited_text.py``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, TypeAlias

from circuitcheck.circuit.change import ALTER, MOVE, REMOVE, Change
from circuitcheck.circuit.connections import ONE_OF
from circuitcheck.circuit.conversion import Converter
from circuitcheck.circuit.faults import Faults
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.box import BOX
from circuitcheck.circuit.keys.change import BROUGHT, new_keys
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import when_left_out
from circuitcheck.refs import Ref

Vocabulary = Mapping[str, tuple[str, ...]]


class EditError(ValueError):
    """An edit that this circuit does not take."""


@dataclass(frozen=True, slots=True)
class SetEntries:
    """Entries of one part of the file, by key, as the file writes them; None takes an entry away."""

    part: Ref
    entries: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class PlanChange:
    """A ``[[change]]`` to an existing part. One that is there already takes the new entries in."""

    part: Ref
    action: str
    new: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class AddPart:
    """A new part, as its table in the file says it."""

    section: str
    entries: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class DropPart:
    """A part that was to be added and is left out."""

    part: Ref


Edit: TypeAlias = SetEntries | PlanChange | AddPart | DropPart


def edited(circuit: Circuit, edits: Iterable[Edit], vocabulary: Vocabulary) -> Circuit:
    """The circuit as its file would be read after the edits. It is the circuit as found that is edited.

    Raises: EditError.
    """
    start = circuit.before.circuit if circuit.before is not None else circuit
    for edit in edits:
        start = _EDITING[type(edit)](start, edit, vocabulary)
    return start


def all_of(entries: Mapping[str, Any], section: str) -> dict[str, Any]:
    """The entries, with those taken away that say the same thing in another way."""
    return {**dict.fromkeys(_said_otherwise(entries, section)), **entries}


def _said_otherwise(entries: Iterable[str], section: str) -> list[str]:
    """The keys that say in another way what one of these says."""
    own = set(entries)
    return [key for group in ONE_OF.get(section, ()) if not own.isdisjoint(group) for key in group if key not in own]


def merged_change(old: PlanChange, new: PlanChange) -> PlanChange:
    """Two changes of one part as one. Raises: EditError where they exclude one another."""
    if REMOVE in (old.action, new.action) or (old.action != new.action and new.action != ALTER):
        raise EditError(f"{old.part} has a change already")
    away = _said_otherwise(new.new, new.part.section)
    return PlanChange(old.part, old.action, {**{key: v for key, v in old.new.items() if key not in away}, **new.new})


def _set_entries(circuit: Circuit, edit: SetEntries, vocabulary: Vocabulary) -> Circuit:
    section = SECTIONS[edit.part.section]
    entries = all_of(edit.entries, section.name)
    given = {key: value for key, value in entries.items() if value is not None}
    made = _converted(section.name, {key: section.keys[key] for key in given}, given, vocabulary)
    left_out = when_left_out(section.name)
    away = {section.keys[key].attribute: left_out[section.keys[key].attribute] for key in entries if key not in given}
    held = getattr(circuit, section.attribute)
    parts = [_find(circuit, edit.part)]
    how = {key: word for key, word in parts[0].known_by.items() if key not in entries}
    new = replace(parts[0], **away, **made, known_by=how)
    value: Any = tuple(new if part is parts[0] else part for part in held) if section.many else new
    return _with(circuit, section.attribute, value)


def _plan_change(circuit: Circuit, edit: PlanChange, vocabulary: Vocabulary) -> Circuit:
    section, action = edit.part.section, edit.action
    old = next((change for change in circuit.changes if change.part == edit.part), None)
    if old is not None:
        if REMOVE in (old.action, action) or (old.action != action and action != ALTER):
            raise EditError(f"{edit.part} has a change already")
        action = old.action
    away = {SECTIONS[section].keys[key].attribute for key in _said_otherwise(edit.new, section)}
    keys = new_keys(section, action)
    strangers = set(edit.new) - set(keys)
    if strangers:
        raise EditError(f"a change ({action}) of {edit.part} does not take {', '.join(sorted(strangers))}")
    own = {key: keys[key] for key in edit.new if key in SECTIONS[section].keys}
    others = {key: BOX.keys[key] for key in edit.new if key not in own and key in BROUGHT.get(section, ())}
    held = {name: value for name, value in (old.new if old else {}).items() if name not in away}
    change = Change(
        part=edit.part,
        action=action,
        new={**held, **_converted(section, own, edit.new, vocabulary)},
        brought={**(old.brought if old else {}), **_converted("box", others, edit.new, vocabulary)},
        known_by={key: word for key, word in old.known_by.items() if key not in edit.new} if old else {},
    )
    rest = tuple(each for each in circuit.changes if each.part != edit.part)
    kept = tuple(change if each is old else each for each in circuit.changes)
    return replace(circuit, changes=kept if old is not None else (*rest, change))


def _add_part(circuit: Circuit, edit: AddPart, vocabulary: Vocabulary) -> Circuit:
    section = SECTIONS[edit.section]
    faults = Faults("", "", {})
    part = Converter(vocabulary, faults).part(section, edit.entries, (edit.section, 0))
    if part is None or faults:
        raise EditError(f"no {edit.section} can be so: {[problem.says for problem in faults.problems()]}")
    return _with(circuit, section.attribute, (*getattr(circuit, section.attribute), part))


def _drop_part(circuit: Circuit, edit: DropPart, vocabulary: Vocabulary) -> Circuit:
    section = SECTIONS[edit.part.section]
    found = _find(circuit, edit.part)
    left = tuple(part for part in getattr(circuit, section.attribute) if part is not found)
    return _with(circuit, section.attribute, left)


def _with(circuit: Circuit, attribute: str, value: Any) -> Circuit:
    sections: dict[str, Any] = {attribute: value}
    return replace(circuit, **sections)


_EDITING: Mapping[type, Any] = {
    SetEntries: _set_entries,
    PlanChange: _plan_change,
    AddPart: _add_part,
    DropPart: _drop_part,
}


def _find(circuit: Circuit, ref: Ref) -> Any:
    held = getattr(circuit, SECTIONS[ref.section].attribute)
    if not ref.id:
        return held
    part = next((part for part in held if part.id == ref.id), None)
    if part is None:
        raise EditError(f"there is no {ref}")
    return part


def _converted(
    section: str, keys: Mapping[str, Any], values: Mapping[str, Any], vocabulary: Vocabulary
) -> dict[str, Any]:
    faults = Faults("", "", {})
    given = {key: value for key, value in values.items() if key in keys}
    made = Converter(vocabulary, faults).changed(section, keys, given, (section, 0))
    if faults:
        raise EditError("; ".join(problem.says for problem in faults.problems()))
    return made


def planned_edit(circuit: Circuit, part: Ref, entries: Mapping[str, Any]) -> Edit:
    """Entries of a part that is to be added, or of what a change puts in the place of one or moves."""
    before = circuit.before
    if before is not None and part in before.replaced | before.moved:
        action = MOVE if part in before.moved else "replace"
        return PlanChange(part, action, {key: value for key, value in entries.items() if value is not None})
    return SetEntries(part, entries)
