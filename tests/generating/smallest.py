"""Makes a pair of circuits smaller while something stays true of them: for showing where two answers contradict."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit, Site
from circuitcheck.errors import CircuitFileError
from tests.generating.circuits import circuit_of
from tests.generating.defaults import default_of
from tests.generating.entries import Entry, all_entries, changed
from tests.generating.model_form import document_of

Pair = tuple[Circuit, Circuit]


def smallest(pair: Pair, holds: Callable[[Circuit, Circuit], bool]) -> Pair:
    """The pair with as few parts, differences and entries as still hold. Both have the same parts in the same order.

    Both stay circuits that the reader accepts.
    """

    def still(candidate: Pair) -> bool:
        return holds(*candidate) and all(_is_accepted(circuit) for circuit in candidate)

    size = -1
    while size != _size(pair):
        size = _size(pair)
        for candidates in (_fewer_parts, _fewer_differences, _fewer_entries):
            pair = _tried(pair, candidates, still)
    return pair


def _is_accepted(circuit: Circuit) -> bool:
    try:
        circuit_of(document_of(circuit))
    except CircuitFileError:
        return False
    return True


def _size(pair: Pair) -> int:
    """How much there is: parts, entries, and entries that differ."""
    before, after = pair
    entries = [(entry.value(before), entry.value(after)) for entry in all_entries(before)]
    return len(entries) + sum(old not in (None, ()) for old, _ in entries) + sum(old != new for old, new in entries)


def _tried(pair: Pair, candidates: Callable[[Pair], Iterator[Any]], still: Callable[[Pair], bool]) -> Pair:
    """The pair after every change of these that it can bear."""
    for change in list(candidates(pair)):
        smaller = change(pair)
        if smaller != pair and all(_hangs_together(circuit) for circuit in smaller) and still(smaller):
            pair = smaller
    return pair


def _fewer_parts(pair: Pair) -> Iterator[Callable[[Pair], Pair]]:
    for section in SECTIONS.values():
        if section.many:
            for part in reversed(getattr(pair[0], section.attribute)):
                yield lambda both, attribute=section.attribute, name=part.id: (
                    _without(both[0], attribute, name),
                    _without(both[1], attribute, name),
                )
                if section.attribute == "boxes":
                    yield lambda both, name=part.id: (_without_box(both[0], name), _without_box(both[1], name))
    yield lambda both: (replace(both[0], site=Site()), replace(both[1], site=Site()))


def _without(circuit: Circuit, attribute: str, name: str) -> Circuit:
    parts = tuple(part for part in getattr(circuit, attribute) if part.id != name)
    changed = replace(circuit, **{attribute: parts})
    if attribute == "boxes":
        changed = replace(changed, cables=tuple(cable for cable in changed.cables if name not in ends_of(cable)))
    if attribute == "low_voltage_loads":
        changed = replace(changed, cables=tuple(cable for cable in changed.cables if name not in ends_of(cable)))
    return changed


def _without_box(circuit: Circuit, name: str) -> Circuit:
    """Without a box on the way: what left it starts where it was fed from; what was in it is gone."""
    feed = next((cable for cable in circuit.cables if cable.to_id == name), None)
    if feed is None:
        return circuit
    cables = tuple(
        replace(cable, from_id=feed.from_id) if cable.from_id == name else cable
        for cable in circuit.cables
        if cable is not feed
    )
    return replace(circuit, cables=cables, boxes=tuple(box for box in circuit.boxes if box.id != name))


def ends_of(cable: Any) -> tuple[str, str]:
    """Both ends of a cable."""
    return cable.from_id, cable.to_id


def _hangs_together(circuit: Circuit) -> bool:
    ids = {"panel"} | {
        part.id for section in SECTIONS.values() if section.many for part in getattr(circuit, section.attribute)
    }
    return all(
        getattr(part, key.attribute) in ids
        for section in SECTIONS.values()
        if section.many
        for part in getattr(circuit, section.attribute)
        for key in section.keys.values()
        if key.form is Form.REFERENCE and getattr(part, key.attribute) is not None
    )


def _fewer_differences(pair: Pair) -> Iterator[Callable[[Pair], Pair]]:
    for entry in all_entries(pair[0]):
        if entry.value(pair[0]) != entry.value(pair[1]):
            yield lambda both, entry=entry: (_set(both[0], entry, entry.value(both[1])), both[1])
            yield lambda both, entry=entry: (both[0], _set(both[1], entry, entry.value(both[0])))


def _fewer_entries(pair: Pair) -> Iterator[Callable[[Pair], Pair]]:
    for entry in all_entries(pair[0]):
        if entry.key.required:
            continue
        default = default_of(type(entry.part(pair[0])), entry.key.attribute)
        if entry.value(pair[0]) == entry.value(pair[1]) != default:
            yield lambda both, entry=entry, default=default: (
                _set(both[0], entry, default),
                _set(both[1], entry, default),
            )
    for entry in all_entries(pair[0]):
        if getattr(entry.part(pair[0]), "known_by", None):
            yield lambda both, entry=entry: (_set_words(both[0], entry), _set_words(both[1], entry))


def _set(circuit: Circuit, entry: Entry, value: Any) -> Circuit:
    known_by = entry.part(circuit).known_by
    words = {key: word for key, word in known_by.items() if key != entry.key.name or value is not None}
    return changed(circuit, entry, {entry.key.attribute: value, **({"known_by": words} if words != known_by else {})})


def _set_words(circuit: Circuit, entry: Entry) -> Circuit:
    return changed(circuit, entry, {"known_by": {}})
