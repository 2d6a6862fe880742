"""A circuit of the model as a document again, so that a changed circuit can be read, shown and tried by hand."""

from __future__ import annotations

from typing import Any

from circuitcheck.circuit.entries import KNOWN_BY_KEY
from circuitcheck.circuit.keys import FORMAT, SECTIONS
from circuitcheck.circuit.keys.key import Key
from circuitcheck.circuit.model import Circuit
from circuitcheck.quantities import How, Interval, Kind, in_unit
from tests.generating.defaults import default_of

#: Digits that matter, and the longest number that the reader takes.
_EXACT = 12
_LONGEST = 15


def document_of(circuit: Circuit) -> dict[str, Any]:
    """What a user would write for this circuit. What counts as left out (an empty list, a count of none) is left out.

    A guess is written as the range that it stands for.
    """
    document: dict[str, Any] = {"format": FORMAT}
    for name, section in SECTIONS.items():
        parts = getattr(circuit, section.attribute)
        if not section.many:
            document[name] = _entries(section.keys, parts)
        elif parts:
            document[name] = [_entries(section.keys, part) for part in parts]
    return document


def _entries(keys: Any, part: Any) -> dict[str, Any]:
    entries: dict[str, Any] = {}
    for name, key in keys.items():
        value = getattr(part, key.attribute)
        if value is not None and (key.required or value is not default_of(type(part), key.attribute)):
            entries[name] = _written(key, value)
    known_by = dict(getattr(part, "known_by", {}))
    return entries | ({KNOWN_BY_KEY: known_by} if known_by else {})


def _written(key: Key, value: Any) -> Any:
    if isinstance(value, Interval) and key.kind is not None:
        return _physical(value, key.kind)
    if isinstance(value, tuple):
        if key.parts:
            return [_entries(key.parts, element) for element in value]
        return [_written(key, element) for element in value]
    return value


def _physical(value: Interval, kind: Kind) -> str:
    word = {How.MEASURED: "measured ", How.LABEL: "label "}.get(value.how, "")
    low, high = (_number(end, kind) for end in (value.low, value.high))
    return f"{word}{low} {kind.unit}".rstrip() if value.exact else f"{word}{low} to {high} {kind.unit}".rstrip()


def _number(value_si: float, kind: Kind) -> str:
    number = min(kind.greatest, max(kind.least, in_unit(value_si, kind.unit)))
    text = f"{number:.{_EXACT}g}"
    return text if "e" not in text and len(text) <= _LONGEST else f"{number:.9f}"[:_LONGEST]
