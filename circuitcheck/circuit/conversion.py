"""From the entries of a file to the parts of the model: units, words and sizes, each problem noted and read past."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Mapping
from datetime import date, datetime
from functools import cache
from typing import Any, TypeAlias

from circuitcheck.circuit import model
from circuitcheck.circuit.entries import KNOWN_BY, KNOWN_BY_KEY
from circuitcheck.circuit.faults import Faults, cut_short, given_text
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.circuit.locator import Path
from circuitcheck.circuit.meant import sizes_meant
from circuitcheck.quantities import Interval, QuantityError, read_designation, read_interval, read_size, without_word

CLASSES: Mapping[str, Callable[..., Any]] = {
    "job": model.Job,
    "supply": model.Supply,
    "site": model.Site,
    "box": model.Box,
    "cable": model.Cable,
    "load": model.Load,
    "driver": model.Driver,
    "low_voltage_load": model.LowVoltageLoad,
    "control": model.Control,
    "framing": model.Framing,
}

#: What the small tables inside a box become.
TABLE_CLASSES: Mapping[str, Callable[..., Any]] = {
    "devices": model.Device,
    "fixture_wires": model.FixtureWires,
    "unbroken": model.Unbroken,
    "other_cables": model.OtherCable,
}

_Written: TypeAlias = "tuple[Mapping[str, Any], Path]"

_NOTHING = object()
_WORDS_SHOWN = 30
_COUNTED = {2: "two", 3: "three", 4: "four", 5: "five"}

#: Characters of a free text, and of everything else that is written as text: ids, words, sizes, values with a unit.
LONGEST_TEXT, LONGEST_WORD = 2000, 300


def _folded(word: str) -> str:
    return re.sub(r"\s+", " ", word.strip().replace("×", "x")).casefold()


@cache
def _required(section: str) -> tuple[str, ...]:
    """The attributes that no part of this section can be without."""
    return tuple(key.attribute for key in SECTIONS[section].keys.values() if key.required)


class Converter:
    """Converts the values of one file. Everything that is wrong goes to ``faults``; what is right is converted."""

    def __init__(self, vocabulary: Mapping[str, tuple[str, ...]], faults: Faults) -> None:
        """``vocabulary``: the words that the tables allow, by ``section.key``, and the sizes under ``size``."""
        self._vocabulary = vocabulary
        self._faults = faults
        self._folded: dict[tuple[str, ...], dict[str, str]] = {}
        self._owner = ""

    def entries(self, keys: Mapping[str, Key], values: Mapping[str, Any], path: Path) -> dict[str, Any]:
        """The values of a table that is no part of a circuit, by attribute; what is wrong is told or left out."""
        return self._table(keys, values, path)

    def changed(self, section: str, keys: Mapping[str, Key], values: Mapping[str, Any], path: Path) -> dict[str, Any]:
        """The entries of a part of ``section`` that stand elsewhere in the file, by attribute."""
        self._owner = section
        made = self._table(keys, values, path)
        if section == "cable":
            self._split_designation(made, values, path)
        self._owner = ""
        return made

    def _section(self, path: Path) -> str:
        return self._owner or str(path[0])

    def part(self, section: Section, values: Mapping[str, Any], path: Path) -> Any:
        """One part of the model, or None where something in it is wrong or missing."""
        made = self._table(section.keys, values, path)
        whole = len(made) == sum(name in section.keys for name in values)
        if KNOWN_BY_KEY in values:
            made[KNOWN_BY_KEY] = self._known_by(section, values, (*path, KNOWN_BY_KEY))
        if section.name == "cable":
            self._split_designation(made, values, path)
        missing = any(attribute not in made for attribute in _required(section.name))
        return CLASSES[section.name](**made) if whole and not missing else None

    def _table(self, keys: Mapping[str, Key], values: Mapping[str, Any], path: Path) -> dict[str, Any]:
        made: dict[str, Any] = {}
        for name, value in values.items():
            key = keys.get(name)
            if key is None:
                continue
            place = (*path, name)
            if self._faults and self._faults.has(place):
                continue
            converted = self._value(key, value, place)
            if converted is not _NOTHING:
                made[key.attribute] = converted
        return made

    def _value(self, key: Key, value: Any, path: Path) -> Any:
        form = key.form
        if self._is_too_long(value, LONGEST_TEXT if form is Form.TEXT else LONGEST_WORD, path):
            return _NOTHING
        if form is Form.PHYSICAL:
            return self._physical(key, value, path)
        if form is Form.WORD:
            return self._word(key, value, path) if isinstance(value, str) else _NOTHING
        if form is Form.SIZE:
            return value if value in key.words else self._size(value, path, designation=self._section(path) == "cable")
        if form in (Form.WORD_LIST, Form.PHYSICAL_LIST, Form.TABLES):
            return self._list(key, value, path)
        if form is Form.DATE:
            return self._date(value, path)
        if form in (Form.ID, Form.REFERENCE):
            return self._id(key, value, path)
        if key.required and isinstance(value, str) and not value.strip():
            self._faults.add(path, f"{key.name} is empty")
            return _NOTHING
        return value

    def _is_too_long(self, value: Any, longest: int, path: Path) -> bool:
        """Whether a text has more characters than anyone writes there; that is noted."""
        if not isinstance(value, str) or len(value) <= longest:
            return False
        says = f"this text is too long: it has {len(value):,} characters"
        self._faults.add(path, says, given=given_text(value), allowed=f"at most {longest:,} characters")
        return True

    def _list(self, key: Key, value: Any, path: Path) -> Any:
        if not isinstance(value, list):
            return _NOTHING
        made = []
        for index, element in enumerate(value):
            place = (*path, index)
            if self._is_too_long(element, LONGEST_WORD, place):
                made.append(_NOTHING)
            elif key.form is Form.PHYSICAL_LIST:
                made.append(self._physical(key, element, place))
            elif key.form is Form.WORD_LIST:
                made.append(self._word(key, element, place) if isinstance(element, str) else _NOTHING)
            elif isinstance(element, dict):
                table = self._table(key.parts, element, place)
                whole = len(table) == len(element) and all(
                    part.attribute in table for part in key.parts.values() if part.required
                )
                made.append(TABLE_CLASSES[key.name](**table) if whole else _NOTHING)
        return tuple(made) if len(made) == len(value) and _NOTHING not in made else _NOTHING

    def _physical(self, key: Key, value: Any, path: Path) -> Interval | object:
        kind = key.kind
        if kind is None:
            raise AssertionError(f"{key.name} has no kind")
        if kind.bare and isinstance(value, int | float) and not isinstance(value, bool):
            text = repr(value)
        elif isinstance(value, str):
            text = value
        else:
            if kind.bare:
                self._faults.add(path, "this is not a number", given=given_text(value), allowed=kind.allowed)
            return _NOTHING
        try:
            return read_interval(text, kind)
        except QuantityError as error:
            self._faults.add(path, error.says, given=given_text(value), allowed=error.allowed, near=error.nearest)
            return _NOTHING

    def _word(self, key: Key, value: str, path: Path) -> str | object:
        allowed = self._vocabulary.get(f"{self._section(path)}.{key.name}") or key.words
        if value in allowed:
            return value
        words = self._folded.get(allowed)
        if words is None:
            words = self._folded[allowed] = {_folded(word): word for word in allowed}
        found = words.get(_folded(value))
        if found is not None:
            return found
        says = "there is no such rulebook" if key.name == "rulebook" else "this is not one of the words for this key"
        shown = ", ".join(allowed[:_WORDS_SHOWN])
        near = self._faults.meant(value, allowed, "words")
        depths = sizes_meant(value, allowed) if key.name == "trade_size" else []
        if len(depths) > 1:
            # The depth decides how much room the box has, so none of them is suggested.
            says = f"this size comes in {_COUNTED.get(len(depths), len(depths))} depths: measure the inside depth"
            shown, near = ", ".join(depths), None
        self._faults.add(path, says, given=given_text(value), allowed=shown, near=near)
        return _NOTHING

    def _size(self, value: Any, path: Path, *, designation: bool) -> str | object:
        if not isinstance(value, str):
            return _NOTHING
        sizes = self._vocabulary.get("size", ())
        if value in sizes:
            return value
        printed = read_designation(value) if designation else None
        try:
            size = printed.size if printed else read_size(value)
        except QuantityError as error:
            self._faults.add(path, error.says, given=given_text(value), allowed=error.allowed, near=error.nearest)
            return _NOTHING
        if sizes and size not in sizes:
            says = f"the tables have no conductor of {size}"
            # No nearest size: one taken for another by its spelling would be a wrong wire.
            self._faults.add(path, says, given=given_text(value), allowed=", ".join(sizes))
            return _NOTHING
        return size

    def _split_designation(self, made: dict[str, Any], values: Mapping[str, Any], path: Path) -> None:
        """``size = "14/2"`` says the number of conductors too; it may not contradict ``conductors`` and ``ground``."""
        given = values.get("size")
        printed = read_designation(given) if isinstance(given, str) and "size" in made else None
        if printed is None:
            return
        for name, value in (("conductors", printed.conductors), ("ground", printed.ground)):
            if value is None:
                continue
            if name in made and made[name] != value:
                says = f"{name} contradicts size = {given_text(given)}"
                self._faults.add((*path, name), says, given=given_text(values[name]), allowed=given_text(value))
            made.setdefault(name, value)

    def _date(self, value: Any, path: Path) -> str | object:
        if isinstance(value, date) and not isinstance(value, datetime):
            return value.isoformat()
        if isinstance(value, str):
            try:
                return date.fromisoformat(value).isoformat()
            except ValueError:
                pass
        self._faults.add(path, "this is not a date", given=given_text(value), allowed="a date such as 2026-03-14")
        return _NOTHING

    def _id(self, key: Key, value: Any, path: Path) -> str | object:
        if not isinstance(value, str):
            return _NOTHING
        if not value.strip():
            self._faults.add(path, f"{key.name} is empty")
            return _NOTHING
        if value != value.strip():
            self._faults.add(
                path, f"{key.name} starts or ends with a space", given=given_text(value), near=value.strip()
            )
            return _NOTHING
        return value

    def _known_by(self, section: Section, values: Mapping[str, Any], path: Path) -> dict[str, str]:
        value = values[KNOWN_BY_KEY]
        if not isinstance(value, dict):
            return {}
        known = [key.name for key in section.keys.values() if key.form is not Form.PHYSICAL and key.name != "id"]
        for name, word in value.items():
            place = (*path, name)
            if self._faults and self._faults.has(place):
                continue
            if name not in known:
                key = section.keys.get(name)
                if key is not None and key.kind is not None:
                    says = "this value carries its own word: write it before the number"
                    plain = without_word(str(values.get(name, key.kind.example)))
                    near = f"{word if word != 'guess' else 'about'} {plain}"
                    self._faults.add(place, says, given=name, near=near)
                else:
                    self._faults.add(
                        place,
                        "there is no such key here",
                        given=cut_short(name),
                        near=self._faults.nearest(name, known),
                    )
            elif word not in KNOWN_BY:
                self._faults.add(
                    place,
                    "this does not say how the entry is known",
                    given=given_text(word),
                    allowed=", ".join(KNOWN_BY),
                )
        return dict(value)


#: Parts that were converted before, by what the file says of them: nothing else is looked at. For one vocabulary.
Converted: TypeAlias = "dict[Hashable, Any]"

#: So many are kept; a file of more parts is converted anew each time.
_MOST_CONVERTED = 20_000


def _part_of(converter: Converter, faults: Faults, converted: Converted, section: Section, where: _Written) -> Any:
    """A part, as before where the same was written and nothing was wrong."""
    values, path = where
    written = section.name, tuple(values.items()), tuple(map(type, values.values()))
    try:
        part = None if faults else converted.get(written)
    except TypeError:  # a list or a table is in it
        return converter.part(section, values, path)
    if part is None:
        part = converter.part(section, values, path)
        if not faults:
            if len(converted) >= _MOST_CONVERTED:
                converted.clear()
            converted[written] = part
    return part


def convert(
    document: Mapping[str, Any],
    vocabulary: Mapping[str, tuple[str, ...]],
    faults: Faults,
    converted: Converted | None = None,
) -> dict[str, Any]:
    """The model's parts by the circuit's attribute names; parts with something wrong in them are left out.

    converted: those of the texts that were read before, and kept for the next.
    """
    converter = Converter(vocabulary, faults)
    kept: Converted = {} if converted is None else converted
    made: dict[str, Any] = {}
    for name, section in SECTIONS.items():
        values = document.get(name)
        if section.many and isinstance(values, list):
            parts = (
                _part_of(converter, faults, kept, section, (part, (name, index)))
                for index, part in enumerate(values)
                if isinstance(part, dict)
            )
            made[section.attribute] = tuple(part for part in parts if part is not None)
        elif isinstance(values, dict) and not section.many:
            part = converter.part(section, values, (name,))
            if part is not None:
                made[section.attribute] = part
    return made
