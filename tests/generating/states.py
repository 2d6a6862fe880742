"""Which ways of writing each key a document shows, and which of them there are at all."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from circuitcheck.circuit.entries import KNOWN_BY, KNOWN_BY_KEY
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.quantities import How, read_interval
from tests.generating.values import words_of

ABSENT = "absent"
KNOWN = "known"
RANGE = "range"
GUESS = "guess"
EMPTY = "empty list"

_ENDS = {How.STATED: KNOWN, How.GUESS: GUESS, How.MEASURED: "measured", How.LABEL: "label"}
_LISTS = (Form.PHYSICAL_LIST, Form.WORD_LIST, Form.TABLES)
#: What cannot be written, and why; ``ways`` leaves these out.
IMPOSSIBLE = {
    "a range of a word, of yes or no, of a count, of a list or of a name": "only a value with a unit has two ends",
    "absent, for a key that is required": "the reader refuses the file",
    "a guessed id": "known_by does not take id",
    "a guess inside a small table (devices.size)": "known_by names the keys of the part only",
}


def ways(section: str, key: Key, *, inside: bool = False) -> frozenset[str]:
    """Every way in which the key can be written. ``inside``: it is a key of a small table."""
    all_ways = {KNOWN}
    if not key.required:
        all_ways.add(ABSENT)
    if key.form in (Form.PHYSICAL, Form.PHYSICAL_LIST):
        all_ways |= {RANGE, GUESS, "measured", "label"}
    if key.form in _LISTS:
        all_ways.add(EMPTY)
    if key.form is Form.YES_NO:
        all_ways |= {"true", "false"}
    if key.form in (Form.WORD, Form.SIZE, Form.WORD_LIST):
        all_ways |= {f'"{word}"' for word in words_of(section, key)}
    if key.form not in (Form.PHYSICAL, Form.ID) and not inside:
        all_ways |= {f"{KNOWN_BY_KEY} {word}" for word in KNOWN_BY}
    return frozenset(all_ways)


@cache
def all_ways() -> dict[str, frozenset[str]]:
    """Every key, those of small tables as ``box.devices.size``, with all its ways."""
    found: dict[str, frozenset[str]] = {}
    for name, section in SECTIONS.items():
        for key in section.keys.values():
            found[f"{name}.{key.name}"] = ways(name, key)
            for part in key.parts.values():
                found[f"{name}.{key.name}.{part.name}"] = ways(name, part, inside=True)
    return found


def shown(document: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Each key of each part of the document with each way in which it is written there."""
    for name, section in SECTIONS.items():
        parts = document.get(name, [] if section.many else {})
        for part in parts if section.many else (parts,):
            for key in section.keys.values():
                path = f"{name}.{key.name}"
                yield from ((path, way) for way in _written(key, part))
                for table in part.get(key.name, ()) if key.parts else ():
                    for inner in key.parts.values():
                        yield from ((f"{path}.{inner.name}", way) for way in _written(inner, table))


def _written(key: Key, part: dict[str, Any]) -> Iterator[str]:
    if key.name not in part:
        yield ABSENT
        return
    value = part[key.name]
    word = part.get(KNOWN_BY_KEY, {}).get(key.name)
    if word is not None:
        yield f"{KNOWN_BY_KEY} {word}"
    values = value if key.form in _LISTS else [value]
    if not values:
        yield EMPTY
    for one in values:
        if key.kind is None:
            yield KNOWN
            if isinstance(one, bool):
                yield "true" if one else "false"
            elif isinstance(one, str):
                yield f'"{one}"'
            continue
        interval = read_interval(one if isinstance(one, str) else repr(one), key.kind)
        yield _ENDS[interval.how]
        if interval.how is not How.GUESS and not interval.exact:
            yield RANGE
