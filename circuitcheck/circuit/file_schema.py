"""The JSON schema of the circuit file, made from the declared keys and the key guide, for editors that know schemas.

An editor with it shows what a key is, offers the words, and marks what cannot be right. It sees less than the reader:
neither whether an id names something, nor whether a number is plausible. What the reader takes it never marks:
patterns are wider than the grammar, and words are taken whatever their case.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import combinations
from typing import Any

from circuitcheck.circuit.change import ALTER, MOVE, REPLACE
from circuitcheck.circuit.connections import ONE_OF
from circuitcheck.circuit.entries import KNOWN_BY, KNOWN_BY_KEY
from circuitcheck.circuit.guide import KeyGuide, entry_guide
from circuitcheck.circuit.keys import FORMAT, SECTIONS
from circuitcheck.circuit.keys.change import CHANGE, CHANGEABLE, new_keys
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.circuit.model import PANEL
from circuitcheck.circuit.short.light_keys import CABLE_PRINT, LIGHT, LIGHT_KEYS, NAME_IN_LIGHT, OWNERS
from circuitcheck.circuit.short.planned import SECTIONS_OF_PARTS, may_be_default
from circuitcheck.quantities.patterns import (
    cable_print_pattern,
    designation_pattern,
    physical_pattern,
    size_pattern,
    word_pattern,
)

Schema = dict[str, Any]
Vocabulary = Mapping[str, tuple[str, ...]]

DRAFT = "http://json-schema.org/draft-07/schema#"

_NOT_BLANK = r"\S"
_TRIMMED = r"^\S(.*\S)?$"
_POWER_OF_TEN = r"[0-9][eE][-+]?[0-9]"
_DATE = r"^[0-9]{4}-?([0-9]{2}-?[0-9]{2}|W[0-9]{2}(-?[1-7])?)$"


def file_schema(vocabulary: Vocabulary) -> Schema:
    """The whole schema (draft 7, nothing referred to elsewhere); ``vocabulary`` holds the words out of the tables."""
    properties: dict[str, Schema] = {
        "format": {
            "type": "integer",
            "enum": [FORMAT],
            "description": f"The version of the file format: format = {FORMAT} stands at the top of every file.",
        }
    }
    for name, section in SECTIONS.items():
        properties[name] = _section_schema(section, vocabulary)
    properties[LIGHT.name] = _section_schema(LIGHT, vocabulary)
    properties[CHANGE.name] = _change_schema(vocabulary)
    properties["defaults"] = _defaults_schema(vocabulary)
    return {
        "$schema": DRAFT,
        "title": "Circuit file",
        "description": "One branch circuit of a house, existing and added parts alike, for circuitcheck.",
        "type": "object",
        "properties": properties,
        "required": ["format", *(name for name, section in SECTIONS.items() if section.required)],
        "additionalProperties": False,
    }


def _section_schema(section: Section, vocabulary: Vocabulary) -> Schema:
    table = _table_schema(section.name, section.keys, "", vocabulary)
    properties = table["properties"]
    if section.name in SECTIONS_OF_PARTS:
        properties["like"] = _like_schema(section.name)
        # What another part or the file's defaults may bring need not stand in the table itself.
        table["required"] = [key for key in table["required"] if not may_be_default(section.name, key)]
    if section.name == "cable":
        properties["cable"] = _cable_print_schema()
    properties[KNOWN_BY_KEY] = _known_by_schema(section, properties)
    table["title"] = section.title
    pairs = _excluding(section.name)
    if pairs:
        table["allOf"] = [{"not": {"required": list(pair)}} for pair in pairs]
    return {"type": "array", "items": table, "title": section.title} if section.many else table


def _excluding(section: str) -> list[tuple[str, str]]:
    """Pairs of keys that may not stand in one table."""
    if section == LIGHT.name:
        inner = [(owner, pair) for owner in ONE_OF if owner in OWNERS for pair in _excluding(owner)]
        return [(NAME_IN_LIGHT[owner, one], NAME_IN_LIGHT[owner, other]) for owner, (one, other) in inner]
    pairs = [pair for group in ONE_OF.get(section, ()) for pair in combinations(group, 2)]
    return [*pairs, ("cable", "size"), ("cable", "conductors")] if section == "cable" else pairs


def _defaults_schema(vocabulary: Vocabulary) -> Schema:
    """``[defaults.cable]`` and its like: what added parts have unless they say otherwise."""
    sections: dict[str, Schema] = {}
    for name in SECTIONS_OF_PARTS:
        keys = {key: value for key, value in SECTIONS[name].keys.items() if may_be_default(name, key)}
        sections[name] = {**_table_schema(name, keys, "", vocabulary), "required": []}
        if name == "cable":
            sections[name]["properties"]["cable"] = _cable_print_schema()
    return {
        "title": "Defaults",
        "description": "What every added part of a section has, unless the part itself says otherwise.",
        "type": "object",
        "properties": sections,
        "additionalProperties": False,
    }


def _change_schema(vocabulary: Vocabulary) -> Schema:
    """``[[change]]``: what ``new`` may say goes by the part that is named, which a schema cannot look up."""
    new: dict[str, Schema] = {}
    for section in CHANGEABLE:
        keys = {**new_keys(section, REPLACE), **new_keys(section, MOVE), **new_keys(section, ALTER)}
        for name, key in keys.items():
            owner = section if name in SECTIONS[section].keys else "box"
            new.setdefault(name, {"title": key.title, "anyOf": []})["anyOf"].append(
                _key_schema(owner, key, "", vocabulary)
            )
    new["cable"] = _cable_print_schema()
    known_by = {"type": "object", "additionalProperties": {"type": "string", "enum": list(KNOWN_BY)}}
    table = {
        "title": CHANGE.title,
        "type": "object",
        "properties": {
            "part": {
                "title": CHANGE.keys["part"].title,
                "description": "The section and the name of a part that is there, such as box.attic; or supply.",
                "type": "string",
                "pattern": _TRIMMED,
            },
            "action": {
                "title": CHANGE.keys["action"].title,
                "description": "replace: another part in its place. remove: it goes, with what is fed from it. "
                "move: the same part elsewhere. alter: the part stays, and entries of it change.",
                "type": "string",
                "enum": list(CHANGE.keys["action"].words),
            },
            "new": {
                "title": "What is known of the new part",
                "description": "What is not said of a new part is unknown.",
                "type": "object",
                "properties": {**new, KNOWN_BY_KEY: known_by},
                "additionalProperties": False,
            },
        },
        "required": ["part", "action"],
        "additionalProperties": False,
    }
    return {"type": "array", "items": table, "title": CHANGE.title}


def _table_schema(section: str, keys: Mapping[str, Key], within: str, vocabulary: Vocabulary) -> Schema:
    """A table of keys; ``within`` is the key whose list the table stands in, with a dot, or empty."""
    return {
        "type": "object",
        "properties": {name: _key_schema(section, key, within, vocabulary) for name, key in keys.items()},
        "required": [name for name, key in keys.items() if key.required],
        "additionalProperties": False,
    }


def _like_schema(section: str) -> Schema:
    described = f"The name of another added {section.replace('_', ' ')}: what is planned there holds here too."
    return {"title": "Like another added part", "description": described, "type": "string", "pattern": _TRIMMED}


def _cable_print_schema() -> Schema:
    return {
        "title": CABLE_PRINT.title,
        "description": "Size, conductors, type and ground as the sheath says them; what it does not say is unknown.",
        "type": "string",
        "pattern": cable_print_pattern(),
        "examples": ["14/2 NM-B with ground"],
    }


def _known_by_schema(section: Section, properties: Mapping[str, Schema]) -> Schema:
    physical = {key.name for key in section.keys.values() if key.form is Form.PHYSICAL}
    never = physical | {"id", "like", KNOWN_BY_KEY}
    words = {"type": "string", "enum": list(KNOWN_BY)}
    guide = entry_guide("box", KNOWN_BY_KEY)
    return {
        "title": guide.title,
        "description": guide.what,
        "type": "object",
        "properties": {
            name: {**words, "title": described["title"]} for name, described in properties.items() if name not in never
        },
        "additionalProperties": False,
    }


def _key_schema(section: str, key: Key, within: str, vocabulary: Vocabulary) -> Schema:
    if section == LIGHT.name:
        return _light_key_schema(key, vocabulary)
    guide = entry_guide(section, f"{within}{key.name}")
    head = {"title": key.title, "description": _description(guide)}
    if key.form is Form.TABLES:
        items = _table_schema(section, key.parts, f"{within}{key.name}.", vocabulary)
        return {**head, "type": "array", "items": items}
    return {**head, **_FORMS[key.form](section, key, vocabulary)}


def _light_key_schema(key: Key, vocabulary: Vocabulary) -> Schema:
    """A key of ``[[light]]``: the one of the load, box or cable that it stands for, under the light's own title."""
    if key.name == "like":
        return _like_schema(LIGHT.name)
    if key.name == "cable":
        return _cable_print_schema()
    owner, own = LIGHT_KEYS[key.name]
    return {**_key_schema(owner, SECTIONS[owner].keys[own], "", vocabulary), "title": key.title}


def _description(guide: KeyGuide) -> str:
    return "\n\n".join(
        part for part in (guide.what, f"How to find out: {guide.read[0]}", f"If unknown: {guide.if_unknown}") if part
    )


def _physical(_section: str, key: Key, _vocabulary: Vocabulary) -> Schema:
    kind = key.kind
    if kind is None:
        raise ValueError(f"{key.name} has no kind")
    text: Schema = {"type": "string", "pattern": physical_pattern(kind), "examples": [kind.example]}
    text["not"] = {"pattern": _POWER_OF_TEN}
    if not kind.bare:
        return text
    number = {"type": "number", "minimum": kind.least, "maximum": kind.greatest}
    return {"anyOf": [number, {**text, "examples": [f'"{kind.example}"']}]}


def _word(section: str, key: Key, vocabulary: Vocabulary) -> Schema:
    words = vocabulary.get(f"{section}.{key.name}") or key.words
    return {"type": "string", "anyOf": [{"enum": list(words)}, {"pattern": word_pattern(words)}]}


def _size(section: str, key: Key, vocabulary: Vocabulary) -> Schema:
    pattern = designation_pattern() if section == "cable" else size_pattern()
    return {"type": "string", "anyOf": [{"enum": [*key.words, *vocabulary["size"]]}, {"pattern": pattern}]}


def _text(_section: str, key: Key, _vocabulary: Vocabulary) -> Schema:
    return {"type": "string", "pattern": _NOT_BLANK} if key.required else {"type": "string"}


def _name(_section: str, _key: Key, _vocabulary: Vocabulary) -> Schema:
    return {"type": "string", "pattern": _TRIMMED}


def _id(_section: str, _key: Key, _vocabulary: Vocabulary) -> Schema:
    return {"type": "string", "pattern": _TRIMMED, "not": {"enum": [PANEL]}}


def _whole(_section: str, key: Key, _vocabulary: Vocabulary) -> Schema:
    return {"type": "integer", "minimum": key.least, "maximum": key.greatest}


def _list_of(element: Callable[[str, Key, Vocabulary], Schema]) -> Callable[[str, Key, Vocabulary], Schema]:
    return lambda section, key, vocabulary: {"type": "array", "items": element(section, key, vocabulary)}


#: How each form of value is described; a form that is declared and not here stops the making of the schema.
_FORMS: Mapping[Form, Callable[[str, Key, Vocabulary], Schema]] = {
    Form.PHYSICAL: _physical,
    Form.PHYSICAL_LIST: _list_of(_physical),
    Form.WORD: _word,
    Form.WORD_LIST: _list_of(_word),
    Form.TEXT: _text,
    Form.ID: _id,
    Form.REFERENCE: _name,
    Form.SIZE: _size,
    Form.YES_NO: lambda _section, _key, _vocabulary: {"type": "boolean"},
    Form.WHOLE: _whole,
    Form.DATE: lambda _section, _key, _vocabulary: {
        "anyOf": [{"type": "string", "format": "date"}, {"type": "string", "pattern": _DATE}]
    },
}
