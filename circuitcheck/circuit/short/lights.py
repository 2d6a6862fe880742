"""``[[light]]``: a light with its box and its cable in one table, taken apart into the three."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from circuitcheck.circuit.faults import Faults, given_text
from circuitcheck.circuit.locator import Path
from circuitcheck.circuit.short.light_keys import AMBIGUOUS, LIGHT, LIGHT_KEYS, OWNERS
from circuitcheck.circuit.short.parts import KNOWN_BY, Entry, Part, written_part

#: How a light on a box of its own is connected unless it says otherwise: what plugs in is a load at an outlet's box.
WIRED = "hardwired"

_SETTLED = {
    "kind": "a [[light]] is a light: leave it out",
    "box": "a [[light]] brings its own box; a light in an existing box is a [[load]]",
    "to": "the cable of a [[light]] ends at its own box: leave it out",
}


def box_name(table: Mapping[str, Any]) -> Any:
    """The id of a light's box: ``wall 1 box``, unless ``box_id`` says another."""
    return table.get("box_id", f"{table.get('id')} box")


def cable_name(table: Mapping[str, Any]) -> Any:
    """The id of a light's cable: ``wall 1 cable``, unless ``cable_id`` says another."""
    return table.get("cable_id", f"{table.get('id')} cable")


class Lights:
    """The lights of one file."""

    def __init__(self, document: Mapping[str, Any], faults: Faults) -> None:
        """Reads them as written; what is wrong goes to ``faults``."""
        self._faults = faults
        self._lights: list[Part] = []
        tables = document.get("light", [])
        if not isinstance(tables, list):
            says = "write this section in double brackets: [[light]]"
            faults.add(("light",), says, given=given_text(tables), allowed="[[light]]")
            return
        for index, table in enumerate(tables):
            if not isinstance(table, dict):
                faults.add(("light", index), "this key takes another kind of value", allowed="[[light]]")
                continue
            part = written_part("light", index, table)
            self._judge_keys(part)
            name = table.get("id")
            place = (*part.place, "id")
            if "id" not in table:
                faults.add(place, "id is missing", allowed="a text in quotes")
            elif not isinstance(name, str):
                faults.add(place, "this key takes another kind of value", given=given_text(name))
            elif not name.strip():
                faults.add(place, "id is empty")
            else:
                self._lights.append(part)

    @property
    def written(self) -> list[Part]:
        """The lights that can be named, as they stand in the file."""
        return self._lights

    def parts(self) -> Iterator[Part]:
        """Load, box and cable of every light."""
        boxes = {light.id: box_name(_values(light)) for light in self._lights}
        for light in self._lights:
            yield from self._apart(light, boxes)

    def _judge_keys(self, part: Part) -> None:
        for key in list(part.entries):
            if key in LIGHT.keys or key == KNOWN_BY:
                continue
            entry = part.entries.pop(key)
            self._tell_unknown(key, entry.place)
        known = part.entries.get(KNOWN_BY)
        if known is not None and isinstance(known.value, dict):
            for key in known.value:
                if key not in LIGHT_KEYS:
                    self._tell_unknown(key, (*known.place, key))

    def _tell_unknown(self, key: str, place: Path) -> None:
        if key in _SETTLED:
            self._faults.add(place, _SETTLED[key], given=key)
        elif key in AMBIGUOUS:
            choices = AMBIGUOUS[key]
            parts = " and ".join(f"the {name.partition('_')[0]}" for name in choices)
            says = f"{parts} each have a key {key}: write {' or '.join(choices)}"
            self._faults.add(place, says, given=key, allowed=", ".join(choices))
        else:
            bare = next((key.removeprefix(f"{owner}_") for owner in OWNERS if key.startswith(f"{owner}_")), key)
            near = bare if bare in LIGHT_KEYS else self._faults.meant(key, LIGHT.keys, "keys")
            self._faults.add(place, "there is no such key here", given=key, near=near)

    def _apart(self, light: Part, boxes: Mapping[str, Any]) -> Iterator[Part]:
        values = _values(light)
        ids = {"load": light.id, "box": box_name(values), "cable": cable_name(values)}
        own_place = light.entries["id"].place
        for owner in OWNERS:
            inner = tuple(
                ((KNOWN_BY, own), (KNOWN_BY, key))
                for key, (section, own) in LIGHT_KEYS.items()
                if section == owner and key != own
            )
            name = owner if owner == "load" else f"{owner}_id"
            entries = {"id": Entry(ids[owner], light.entries[name].place if name in light.entries else own_place)}
            if owner == "load":
                entries["box"] = Entry(ids["box"], own_place)
                entries["kind"] = Entry("light", own_place)
            entries["origin"] = light.entries.get("origin", Entry("added", own_place))
            for key, entry in light.entries.items():
                section, own = LIGHT_KEYS.get(key, ("", ""))
                if section == owner and own not in entries:
                    entries[own] = entry
            if owner == "load" and "connection" not in entries:
                entries["connection"] = Entry(WIRED, own_place, "a light on a box of its own is wired to it")
            if owner == "cable":
                self._join(light, entries, ids["box"], boxes)
            entries |= self._known(light, owner)
            yield Part(owner, light.place, entries, f"light.{light.id}", inner)

    def _join(self, light: Part, entries: dict[str, Entry], box: Any, boxes: Mapping[str, Any]) -> None:
        """The cable's ends: ``from`` may name another light, which means that light's box."""
        start = entries.pop("from", None)
        if start is not None:
            other = boxes.get(start.value) if isinstance(start.value, str) else None
            entries["from"] = Entry(start.value if other is None else other, start.place)
        entries["to"] = Entry(box, start.place if start is not None else light.entries["id"].place)

    @staticmethod
    def _known(light: Part, owner: str) -> dict[str, Entry]:
        """The words of ``known_by`` that are about this owner's keys, under its own names for them."""
        known = light.entries.get(KNOWN_BY)
        if known is None or not isinstance(known.value, dict):
            return {} if known is None or owner != "load" else {KNOWN_BY: known}
        words = {
            LIGHT_KEYS[key][1]: word
            for key, word in known.value.items()
            if key in LIGHT_KEYS and LIGHT_KEYS[key][0] == owner
        }
        return {KNOWN_BY: Entry(words, known.place)} if words else {}


def _values(light: Part) -> dict[str, Any]:
    return {key: entry.value for key, entry in light.entries.items()}
