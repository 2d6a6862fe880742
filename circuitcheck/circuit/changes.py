"""``[[change]]`` read from a file: every slip told with its place, and the document as it will be for the trees."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from circuitcheck.circuit.change import MOVE, REMOVE, Change
from circuitcheck.circuit.connections import ONE_OF, Connections
from circuitcheck.circuit.conversion import Converter
from circuitcheck.circuit.entries import KNOWN_BY_KEY, judge_entries
from circuitcheck.circuit.faults import Faults, given_text
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.box import BOX
from circuitcheck.circuit.keys.change import BROUGHT, CHANGE, CHANGEABLE, PLACE_KEYS, new_keys
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.circuit.locator import Path
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.short.cable_print import PRINTED_KEYS, read_cable_print
from circuitcheck.quantities import QuantityError
from circuitcheck.refs import Ref

NAME = CHANGE.name
_ACTIONS = CHANGE.keys["action"].words
_KEYS = (*CHANGE.keys, "new")
_SHOWN = 20


def read_changes(
    document: Mapping[str, Any], vocabulary: Mapping[str, tuple[str, ...]], faults: Faults
) -> tuple[Change, ...]:
    """The changes of a document in the long form. What is wrong goes to ``faults`` and is left out."""
    tables = document.get(NAME, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        says = "write this section in double brackets: [[change]]"
        faults.add((NAME,), says, given=given_text(tables), allowed="[[change]]")
        return ()
    reader = _Reader(document, vocabulary, faults)
    read = (reader.change(table, (NAME, index)) for index, table in enumerate(tables))
    return tuple(change for change in read if change is not None)


class _Reader:
    def __init__(self, document: Mapping[str, Any], vocabulary: Mapping[str, tuple[str, ...]], faults: Faults) -> None:
        self._vocabulary, self._faults = vocabulary, faults
        self._converter = Converter(vocabulary, faults)
        self._parts: dict[str, Mapping[str, Any]] = {"supply": {}}
        self._sections: dict[str, str] = {}
        for name, section in SECTIONS.items():
            parts = document.get(name)
            for part in parts if section.many and isinstance(parts, list) else ():
                if isinstance(part, dict) and isinstance(part.get("id"), str):
                    self._sections.setdefault(part["id"], name)
                    self._parts.setdefault(f"{name}.{part['id']}", part)
        self._changed: set[str] = set()

    def change(self, table: Mapping[str, Any], path: Path) -> Change | None:
        """One change, or None where something in it is wrong."""
        before = len(self._faults)
        for key in table:
            if key not in _KEYS:
                near = self._faults.meant(key, _KEYS, "keys")
                self._faults.add((*path, key), "there is no such key here", given=key, near=near)
        for key in ("part", "action"):
            if key not in table:
                allowed = ", ".join(_ACTIONS) if key == "action" else 'a part, such as "box.attic"'
                self._faults.add((*path, key), f"{key} is missing", allowed=allowed)
        part = self._part(table.get("part"), (*path, "part")) if "part" in table else None
        action = self._action(table.get("action"), (*path, "action")) if "action" in table else None
        if part is None or action is None:
            return None
        if part.section == "supply" and action in (REMOVE, MOVE):
            says = "the supply is only ever changed in its protection and its device"
            self._faults.add((*path, "action"), says, given=given_text(action), allowed="replace, alter")
            return None
        change = self._entries(part, action, table, path)
        return change if len(self._faults) == before else None

    def _part(self, given: Any, path: Path) -> Ref | None:
        if not isinstance(given, str):
            self._faults.add(path, "this names no part", given=given_text(given), allowed='such as "box.attic"')
            return None
        section, part_id, _ = Ref.of_part(given)
        found = self._parts.get(given)
        known = [name for name in self._parts if Ref.of_part(name).section in CHANGEABLE and self._is_there(name)]
        if found is None or section not in CHANGEABLE:
            near = self._faults.nearest(given, known)
            if given in self._sections:
                near = f"{self._sections[given]}.{given}"
            says = "there is no part of this name that can be changed: write the section, a dot and the name"
            shown = ", ".join(known[:_SHOWN]) + (" …" if len(known) > _SHOWN else "")
            self._faults.add(path, says, given=given_text(given), allowed=shown, near=near)
            return None
        if not self._is_there(given):
            if found.get("origin") == "added":
                says = "this part is still to be added: change its own entries instead"
            else:
                says = 'only a part that is there can be changed: say origin = "existing" in it'
            self._faults.add(path, says, given=given_text(given))
            return None
        if given in self._changed:
            self._faults.add(path, "this part has a change already: keep one", given=given_text(given))
            return None
        self._changed.add(given)
        return Ref(section, part_id)

    def _is_there(self, name: str) -> bool:
        return name == "supply" or self._parts[name].get("origin") == "existing"

    def _action(self, given: Any, path: Path) -> str | None:
        if given in _ACTIONS:
            return str(given)
        near = self._faults.meant(given, _ACTIONS, "words") if isinstance(given, str) else None
        allowed = ", ".join(_ACTIONS)
        says = "this is not one of the words for this key"
        self._faults.add(path, says, given=given_text(given), allowed=allowed, near=near)
        return None

    def _entries(self, part: Ref, action: str, table: Mapping[str, Any], path: Path) -> Change | None:
        values = table.get("new", {})
        place = (*path, "new")
        if not isinstance(values, dict):
            allowed = 'a table such as { trade_size = "4 x 2-1/8 octagon" }'
            self._faults.add(place, "this says nothing about the new part", given=given_text(values), allowed=allowed)
            return None
        allowed_keys = new_keys(part.section, action)
        if action == REMOVE and values:
            self._faults.add(place, "a part that is removed has no entries", given=given_text(values))
            return None
        ends = PLACE_KEYS.get(part.section, ()) if action == MOVE else ()
        if ends and not any(end in values for end in ends):
            self._faults.add(place, f"{' or '.join(ends)} is missing: say where it goes", allowed="the name of a box")
        values = self._printed(part.section, values, place)
        judge_entries(part.section, allowed_keys, values, place, self._faults)
        known = values.get(KNOWN_BY_KEY, {})
        for group in ONE_OF.get(part.section, ()):
            present = [name for name in group if name in values]
            for name in present[1:]:
                says = f"{name} and {present[0]} say the same thing in two ways: keep one"
                self._faults.add((*place, name), says, allowed=f"one of {', '.join(group)}")
        own = {name: key for name, key in allowed_keys.items() if name in CHANGEABLE[part.section].keys}
        other = {name: BOX.keys[name] for name in BROUGHT.get(part.section, ()) if name in allowed_keys}
        new = self._converter.changed(part.section, own, values, place)
        brought = self._converter.changed("box", other, values, place)
        self._judge_names(own, values, place)
        how = dict(known) if isinstance(known, dict) else {}
        return Change(part=part, action=action, new=new, brought=brought, known_by=how)

    def _printed(self, section: str, values: Mapping[str, Any], place: Path) -> Mapping[str, Any]:
        """``cable = "14/2 NM-B"`` stands for what is printed, here as in a cable's own table."""
        given = values.get("cable")
        if section != "cable" or not isinstance(given, str):
            return values
        rest = {key: value for key, value in values.items() if key != "cable"}
        try:
            printed = read_cable_print(given, self._vocabulary.get("cable.type", ()))
        except QuantityError as error:
            self._faults.add((*place, "cable"), error.says, given=given_text(given), allowed=error.allowed)
            return rest
        for key in printed:
            if key in rest:
                says = f"cable says the {key} already: keep one"
                self._faults.add((*place, key), says, given=given_text(rest[key]))
        word = rest.get(KNOWN_BY_KEY, {})
        if isinstance(word, dict) and "cable" in word:
            how = dict.fromkeys((key for key in printed if key in PRINTED_KEYS), word["cable"])
            rest[KNOWN_BY_KEY] = {**how, **{key: value for key, value in word.items() if key != "cable"}}
        return {**rest, **printed}

    def _judge_names(self, keys: Mapping[str, Key], values: Mapping[str, Any], place: Path) -> None:
        """Names of parts that are nowhere in the file, or are parts of another kind."""
        for name, key in keys.items():
            target = values.get(name)
            if key.form is not Form.REFERENCE or not isinstance(target, str):
                continue
            section = "panel" if target == "panel" else self._sections.get(target)
            if section not in key.refers:
                known = [part_id for part_id, owner in self._sections.items() if owner in key.refers]
                near = self._faults.nearest(target, known)
                shown = ", ".join(known[:_SHOWN])
                says = "nothing that this can name has this name"
                self._faults.add((*place, name), says, given=given_text(target), allowed=shown, near=near)


def judge_planned(circuit: Circuit, document: Mapping[str, Any], faults: Faults) -> None:
    """Note what the changes leave hanging: added parts on what is no more, and ends without a feed or with two."""
    planned = as_planned(circuit)
    gone = planned.before.gone if planned.before is not None else frozenset[Ref]()
    ends = {Ref("cable", cable.id): cable for cable in planned.cables}
    left: dict[str, Any] = {}
    for name in SECTIONS:
        parts = document.get(name)
        if not isinstance(parts, list):
            continue
        left[name] = list(parts)
        for index, part in enumerate(parts):
            ref = Ref(name, part["id"])
            if ref in gone:
                left[name][index] = None
                if part.get("origin") != "existing":
                    says = "this is fed through a part that a change takes away, and nothing else feeds it"
                    faults.add((name, index), says, given=given_text(part["id"]))
            elif name == "cable":
                left[name][index] = {**part, "from": ends[ref].from_id, "to": ends[ref].to_id}
    if not faults:
        Connections(left, faults).judge_trees()
