"""A circuit with its changes carried out, and the same circuit as it stands before the work. Pure: Circuit to Circuit.

What belongs to the place stays, what belongs to the thing is unknown unless the change gives it. What takes the place
of another counts as added. With a part goes what hung on it and is fed by nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import MISSING, fields, replace
from functools import cache
from typing import Any, cast

from circuitcheck.circuit.change import ALTER, MOVE, REMOVE, AsFound, Change
from circuitcheck.circuit.conversion import CLASSES
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.change import BROUGHT, LEFT_BEHIND, OF_THE_PLACE
from circuitcheck.circuit.model import PANEL, Circuit
from circuitcheck.quantities import How, Interval
from circuitcheck.refs import Ref

EXISTING, ADDED = "existing", "added"

#: What a light or a fan that takes another's place is: no new outlet.
_LIGHTS = ("light", "fan")

#: Keys that say the same thing in several ways: of these a part has one.
_SAME = (
    {"volume_m3", "trade_size"},
    {"power_w", "apparent_va", "current_a"},
)


def as_planned(circuit: Circuit) -> Circuit:
    """The circuit as it will be. The same object where nothing is changed, or all changes are carried out already."""
    if not circuit.changes or circuit.before is not None:
        return circuit
    parts = {name: list(getattr(circuit, SECTIONS[name].attribute)) for name in _PARTS}
    supply, removed = circuit.supply, set[Ref]()
    for change in circuit.changes:
        if change.part.section == "supply":
            supply = _with(supply, change.new, change.known_by)
        elif change.action == REMOVE:
            removed.add(change.part)
        else:
            kept = parts[change.part.section]
            kept[:] = [_changed(part, change) if part.id == change.part.id else part for part in kept]
            _bring(parts, circuit, change)
    gone = _fall_of(parts, removed)
    for name, kept in parts.items():
        kept[:] = [_without_names(part, gone) for part in kept if Ref(name, part.id) not in gone]
    if Ref("box", supply.loaded_at or "") in gone:
        supply = replace(supply, loaded_at=None)
    before = AsFound(
        circuit=circuit,
        replaced=frozenset(change.part for change in circuit.changes if change.action == "replace"),
        moved=frozenset(change.part for change in circuit.changes if change.action == MOVE),
        gone=frozenset(gone),
        opened=frozenset(_opened(circuit, [*(change.part for change in circuit.changes), *gone])),
    )
    sections: dict[str, Any] = {SECTIONS[name].attribute: tuple(kept) for name, kept in parts.items()}
    return replace(circuit, supply=supply, before=before, **sections)


def as_found(circuit: Circuit) -> Circuit:
    """What is there before the work: the existing parts that existing cable feeds.

    Boxes that the work opens are judged there too, as far as a circuit with its changes carried out tells.
    """
    start = circuit.before.circuit if circuit.before is not None else circuit
    parts = {name: [part for part in getattr(start, SECTIONS[name].attribute) if not part.is_added] for name in _PARTS}
    added = {
        Ref(name, part.id) for name in _PARTS for part in getattr(start, SECTIONS[name].attribute) if part.is_added
    }
    gone = _fall_of(parts, set(), missing=added) | added
    sections: dict[str, Any] = {
        SECTIONS[name].attribute: tuple(_without_names(part, gone) for part in kept if Ref(name, part.id) not in gone)
        for name, kept in parts.items()
    }
    found = replace(start, changes=(), before=None, **sections)
    if circuit.before is None:
        return found
    return replace(found, before=AsFound(circuit=found, opened=circuit.before.opened | set(_worked_on(circuit))))


def _opened(circuit: Circuit, parts: Iterable[Ref]) -> Iterator[str]:
    """The boxes in which these parts of the circuit as found are, or end."""
    for ref in parts:
        if ref.section == "box":
            yield ref.id
        elif ref.section in _PARTS:
            part = next(part for part in getattr(circuit, SECTIONS[ref.section].attribute) if part.id == ref.id)
            yield from (getattr(part, name) for name in ("box", "from_id", "to_id") if hasattr(part, name))


def _worked_on(circuit: Circuit) -> Iterator[str]:
    """The boxes in which something is added."""
    for name in _PARTS:
        parts = getattr(circuit, SECTIONS[name].attribute)
        yield from _opened(circuit, (Ref(name, part.id) for part in parts if part.is_added))


def is_of_what_was_found(entry: Ref, circuit: Circuit) -> bool:
    """Whether an entry that is asked for is that of a part as it was found, and not as it will be.

    So is what was on at the reading, what is no more, and of a part that another stands for what the new one gives.
    """
    if circuit.before is None or not SECTIONS[entry.section].many:
        return False
    part = next((each for each in getattr(circuit, SECTIONS[entry.section].attribute) if each.id == entry.id), None)
    if entry.key == "on_at_reading" or part is None:
        return True
    if entry.part not in circuit.before.replaced:
        return False
    attribute = _attribute(entry.section, entry.key)
    same: Iterable[str] = next((group for group in _SAME if attribute in group), (attribute,))
    return any(_is_given(getattr(part, name, None)) for name in same) and part.known_by.get(entry.key) != How.GUESS


def _is_given(value: Any) -> bool:
    return value is not None and (not isinstance(value, Interval) or (value.exact and value.how is not How.GUESS))


#: Sections whose parts stand any number of times.
_PARTS = tuple(name for name, section in SECTIONS.items() if section.many)


def _changed(part: Any, change: Change) -> Any:
    """The part after the change."""
    section = change.part.section
    if change.action == ALTER:
        return _with(part, change.new, change.known_by)
    if change.action == MOVE:
        away = _attributes(section, LEFT_BEHIND[section])
    else:
        away = _attributes(section, SECTIONS[section].keys.keys() - OF_THE_PLACE[section])
    cleared: dict[str, Any] = {name: value for name, value in when_left_out(section).items() if name in away}
    known = part.known_by if change.action == MOVE else {}
    how = {key: word for key, word in known.items() if _attribute(section, key) not in away}
    stands = replace(part, **cleared, known_by=how)
    new = _with(stands, change.new, change.known_by)
    new = replace(new, origin=ADDED)
    if section == "load" and change.action != MOVE and new.kind in _LIGHTS:
        new = replace(new, replaces=True)
    return new


def _with(part: Any, new: Mapping[str, Any], known_by: Mapping[str, str]) -> Any:
    """The part with other entries; an entry that says the same thing in another way goes."""
    same = [name for group in _SAME if not group.isdisjoint(new) for name in group - set(new)]
    instead = {name: None for name in same if hasattr(part, name)}
    how = {key: word for key, word in part.known_by.items() if key not in new}
    return replace(part, **instead, **new, known_by={**how, **known_by})


def _bring(parts: Mapping[str, list[Any]], circuit: Circuit, change: Change) -> None:
    """What a new light, driver or switch brings into its box is unknown there unless the change gives it."""
    keys = BROUGHT.get(change.part.section)
    if not keys or change.action == ALTER:
        return
    section = SECTIONS[change.part.section]
    found = next(part for part in getattr(circuit, section.attribute) if part.id == change.part.id)
    homes = {change.new.get("box", found.box)} if change.action != MOVE else {found.box, change.new["box"]}
    boxes = parts["box"]
    for index, box in enumerate(boxes):
        if box.id in homes:
            to = change.new.get("box", found.box)
            brought = change.brought if box.id == to else {}
            boxes[index] = _with(box, {**dict.fromkeys(_attributes("box", keys)), **brought}, {})


def _fall_of(parts: Mapping[str, Iterable[Any]], removed: set[Ref], missing: Iterable[Ref] = ()) -> set[Ref]:
    """What goes with the removed parts: everything that nothing feeds any more, or that has lost an end."""
    gone = set(removed)
    absent = {PANEL: False} | {ref.id: True for ref in (*gone, *missing)}
    growing = True
    while growing:
        feeds = {cable.to_id for cable in parts["cable"] if Ref("cable", cable.id) not in gone}
        before = len(gone)
        for name, kept in parts.items():
            for part in kept:
                ref = Ref(name, part.id)
                if ref not in gone and _falls(name, part, feeds, absent):
                    gone.add(ref)
                    absent[part.id] = True
        growing = len(gone) > before
    return gone


def _falls(section: str, part: Any, feeds: set[str], absent: Mapping[str, bool]) -> bool:
    if section == "cable":
        return absent.get(part.from_id, False) or absent.get(part.to_id, False)
    if section in ("box", "low_voltage_load"):
        return part.id not in feeds
    if section == "framing":
        return part.cable is not None and absent.get(part.cable, False)
    return absent.get(part.box, False)


def _without_names(part: Any, gone: set[Ref]) -> Any:
    """The part without the names of parts that are no more."""
    ids = {ref.id for ref in gone}
    names = [name for name in ("switched_by", "paralleled_with", "with_id") if getattr(part, name, None) in ids]
    return replace(part, **dict.fromkeys(names)) if names else part


def _attribute(section: str, key: str) -> str:
    return SECTIONS[section].keys[key].attribute if key in SECTIONS[section].keys else key


def _attributes(section: str, keys: Iterable[str]) -> set[str]:
    return {_attribute(section, key) for key in keys}


@cache
def when_left_out(section: str) -> Mapping[str, Any]:
    """Attribute -> what stands for it in a part that does not say it."""
    return {each.name: each.default for each in fields(cast(Any, CLASSES[section])) if each.default is not MISSING}
