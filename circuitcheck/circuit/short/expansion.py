"""The long form of a parsed file: each light as load, box and cable; likes, defaults and cable prints spelled out.

Every part and entry remembers where it stands in the file as written, so that a message points at what the user wrote.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from circuitcheck.circuit.faults import Faults, given_text
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.locator import Locator, Path
from circuitcheck.circuit.short.cable_print import ALLOWED, PRINTED_KEYS, how_known, read_cable_print
from circuitcheck.circuit.short.lights import Lights
from circuitcheck.circuit.short.parts import KNOWN_BY, Entry, Part, take_over, written_part
from circuitcheck.circuit.short.planned import SECTIONS_OF_PARTS, SECTIONS_WITH_DEFAULTS, may_be_copied, may_be_default
from circuitcheck.quantities import QuantityError

Vocabulary = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Expansion:
    """The long form of a file.

    places: path in the long form -> path in the file as written, for parts and entries whose place is another.
    reasons: key path (``box.wall 1 box.material``) -> where an entry that the part itself does not have comes from.
    written_in: path of a part (``box.wall 1 box``) -> path of the table that stands for it (``light.wall 1``).
    """

    document: dict[str, Any]
    places: Mapping[Path, Path] = field(default_factory=dict)
    reasons: Mapping[str, str] = field(default_factory=dict)
    written_in: Mapping[str, str] = field(default_factory=dict)

    def written_place(self, path: Path) -> Path:
        """Where in the file as written this path of the long form stands."""
        for length in range(len(path), 0, -1):
            place = self.places.get(path[:length])
            if place is not None:
                return (*place, *path[length:])
        return path


def has_short_forms(document: Mapping[str, Any]) -> bool:
    """Whether anything in the file has to be spelled out."""
    if "light" in document or "defaults" in document:
        return True
    for section in SECTIONS_OF_PARTS:
        parts = document.get(section)
        for part in parts if isinstance(parts, list) else ():
            if isinstance(part, dict) and ("like" in part or (section == "cable" and "cable" in part)):
                return True
    return False


def expand(document: dict[str, Any], vocabulary: Vocabulary, faults: Faults, text: str = "") -> Expansion:
    """The long form. What is wrong with a short form goes to ``faults``, placed as written, and is left out.

    With the file's ``text`` the parts of lights stand among the others as the file has them, else behind them.
    """
    if not has_short_forms(document):
        return Expansion(document)
    return _Expander(document, vocabulary, faults).expansion(text)


class _Expander:
    def __init__(self, document: dict[str, Any], vocabulary: Vocabulary, faults: Faults) -> None:
        self._document = document
        self._types = vocabulary.get("cable.type", ())
        self._faults = faults
        #: Section -> its parts: those written, in their order, then those of lights. None: not a table at all.
        self._parts: dict[str, list[Part | None]] = {}
        for section in SECTIONS_OF_PARTS:
            tables = document.get(section)
            self._parts[section] = [
                written_part(section, index, table) if isinstance(table, dict) else None
                for index, table in enumerate(tables if isinstance(tables, list) else ())
            ]

    def expansion(self, text: str) -> Expansion:
        """All of it, in order: lights, likes, defaults, cable prints."""
        lights = Lights(self._document, self._faults)
        self._follow_likes("light", lights.written)
        for part in lights.parts():
            self._parts[part.section].append(part)
        if lights.written and text:
            self._sort(Locator(text))
        defaults = self._defaults()
        for section in SECTIONS_OF_PARTS:
            self._follow_likes(section, list(self._present(section)))
            if section in defaults:
                self._take_defaults(section, defaults[section])
        self._spell_out_cables()
        return self._result()

    def _sort(self, locator: Locator) -> None:
        """Puts the parts in the order of their tables in the file."""
        for parts in self._parts.values():
            if None not in parts:
                parts.sort(key=lambda part: (part and locator.line_of(part.place)) or 0)

    def _defaults(self) -> dict[str, Part]:
        """``[defaults.cable]`` and its like, by section; what may not be a default is told and left out."""
        tables = self._document.get("defaults", {})
        if not isinstance(tables, dict):
            self._faults.add(("defaults",), "defaults stand in a table of their own", allowed="[defaults.cable]")
            return {}
        defaults: dict[str, Part] = {}
        for section, table in tables.items():
            place: Path = ("defaults", section)
            if section not in SECTIONS_WITH_DEFAULTS or not isinstance(table, dict):
                allowed = ", ".join(f"[defaults.{name}]" for name in SECTIONS_WITH_DEFAULTS)
                near = self._faults.nearest(section, SECTIONS_WITH_DEFAULTS) if isinstance(table, dict) else None
                self._faults.add(place, "there are no defaults for this", given=section, allowed=allowed, near=near)
                continue
            known = [key for key in SECTIONS[section].keys if may_be_default(section, key)]
            known += ["cable"] if section == "cable" else []
            for key in table:
                if key in known:
                    continue
                if key in SECTIONS[section].keys or key == KNOWN_BY:
                    says = f"{key} is found out on each {section.replace('_', ' ')} and has no default"
                    self._faults.add((*place, key), says)
                else:
                    near = self._faults.meant(key, known, "keys")
                    self._faults.add((*place, key), "there is no such key here", given=key, near=near)
            entries = {key: Entry(value, (*place, key)) for key, value in table.items() if key in known}
            defaults[section] = Part(section, place, entries)
        return defaults

    def _follow_likes(self, section: str, parts: Sequence[Part]) -> None:
        """Spells out ``like`` in these parts; the part that it names comes first, however far that leads."""
        by_id = {part.id: part for part in parts if part.id}
        done: set[int] = set()
        for start in parts:
            trail: dict[int, Part] = {}
            part: Part | None = start
            while part is not None and id(part) not in done and id(part) not in trail:
                trail[id(part)] = part
                part = self._model_of(part, by_id)
            if part is not None and id(part) in trail:
                self._faults.add((*part.place, "like"), "like leads back to the part itself", given=given_text(part.id))
                done.update(trail)
                continue
            for later in reversed(trail.values()):
                model = self._model_of(later, by_id)
                if model is not None:
                    take_over(later, model, f"as {model.id}", may_be_copied)
                done.add(id(later))
        for part in parts:
            part.entries.pop("like", None)

    def _model_of(self, part: Part, by_id: Mapping[str, Part]) -> Part | None:
        """The part that ``like`` names, or None where there is no ``like`` or something is wrong with it."""
        like = part.entries.get("like")
        if like is None or self._faults.has(like.place):
            return None
        if not isinstance(like.value, str):
            self._faults.add(like.place, "like names another part", given=given_text(like.value))
            return None
        origin = part.entries.get("origin")
        if origin is not None and origin.value != "added":
            says = "only a part that is to be added can be like another: look at this part itself"
            self._faults.add(like.place, says, given=given_text(like.value))
            return None
        if part.section != "light":
            part.entries.setdefault("origin", Entry("added", like.place))
        model = by_id.get(like.value)
        if model is None:
            says = f"there is no {part.section.replace('_', ' ')} of this name"
            near = self._faults.nearest(like.value, by_id)
            self._faults.add(like.place, says, given=given_text(like.value), near=near)
        elif not model.is_added:
            says = "this part is already there: like takes over a plan, so name an added part"
            self._faults.add(like.place, says, given=given_text(like.value))
            return None
        return model

    def _take_defaults(self, section: str, defaults: Part) -> None:
        for part in self._present(section):
            if part.is_added:
                take_over(part, defaults, f"default for an added {section.replace('_', ' ')}", None)

    def _spell_out_cables(self) -> None:
        for part in self._present("cable"):
            entry = part.entries.pop("cable", None)
            if entry is not None:
                self._spell_out_cable(part, entry)

    def _spell_out_cable(self, part: Part, entry: Entry) -> None:
        if not isinstance(entry.value, str):
            says = "this key takes another kind of value"
            self._faults.add(entry.place, says, given=given_text(entry.value), allowed=ALLOWED)
            return
        try:
            printed = read_cable_print(entry.value, self._types)
        except QuantityError as error:
            given = given_text(entry.value)
            self._faults.add(entry.place, error.says, given=given, allowed=error.allowed, near=error.nearest)
            return
        own = {key: part.entries[key] for key in printed if key in part.entries and not part.entries[key].reason}
        for key, other in own.items():
            self._faults.add(other.place, f"cable says the {key} already: keep one", given=given_text(other.value))
        reason = entry.reason or f'"{entry.value}"'
        for key, value in printed.items():
            part.entries[key] = Entry(value, entry.place, reason)
        self._say_how_known(part, entry, [key for key in PRINTED_KEYS if key in printed])

    @staticmethod
    def _say_how_known(part: Part, entry: Entry, printed: Sequence[str]) -> None:
        """``known_by = { cable = … }``, or a word before the print itself, is about each entry that it stands for."""
        known = part.entries.get(KNOWN_BY, Entry({}, (*part.place, KNOWN_BY)))
        if not isinstance(known.value, dict):
            return
        word = known.value.get("cable", None if entry.reason.startswith("as ") else how_known(entry.value))
        words = {key: other for key, other in known.value.items() if key != "cable"}
        if word is not None:
            part.entries[KNOWN_BY] = Entry({**dict.fromkeys(printed, word), **words}, known.place, known.reason)

    def _present(self, section: str) -> Iterator[Part]:
        return (part for part in self._parts[section] if part is not None)

    def _result(self) -> Expansion:
        document = {name: value for name, value in self._document.items() if name not in ("light", "defaults")}
        places: dict[Path, Path] = {}
        reasons: dict[str, str] = {}
        written_in: dict[str, str] = {}
        for section, parts in self._parts.items():
            tables = document.get(section)
            if not parts or not isinstance(tables, list | None):
                continue
            # What is no table at all keeps its place: such sections are not sorted.
            written = tables or []
            document[section] = [
                written[index] if part is None else {key: entry.value for key, entry in part.entries.items()}
                for index, part in enumerate(parts)
            ]
            for index, part in enumerate(parts):
                if part is None:
                    continue
                path: Path = (section, index)
                if part.place != path:
                    places[path] = part.place
                if part.written_in:
                    written_in[f"{section}.{part.id}"] = part.written_in
                for key, entry in part.entries.items():
                    if entry.place != (*path, key):
                        places[(*path, key)] = entry.place
                    if entry.reason:
                        reasons[f"{section}.{part.id}.{key}"] = entry.reason
                places.update({(*path, *inner): (*part.place, *outer) for inner, outer in part.inner_places})
        return Expansion(document, places, reasons, written_in)
