"""The JSON schema of the circuit file, made from the declared keys and the key guide, for editors that know schemas.

An editor with it shows what a key is, offers the words, and marks what cannot be right. It sees less than the reader:
neither whether an id names something, nor whether a number is plausible. What the reader takes it never marks:
patterns are wider than the grammar, and words are taken whatever their case.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import combinations
from typing import Any

from circuitcheck.circuit.connections import ONE_OF
from circuitcheck.circuit.entries import KNOWN_BY, KNOWN_BY_KEY
from circuitcheck.circuit.guide import KeyGuide, entry_guide
from circuitcheck.circuit.keys import FORMAT, SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.circuit.model import PANEL
from circuitcheck.quantities.patterns import designation_pattern, physical_pattern, size_pattern, word_pattern

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
    table["properties"][KNOWN_BY_KEY] = _known_by_schema(section)
    table["title"] = section.title
    pairs = [pair for group in ONE_OF.get(section.name, ()) for pair in combinations(group, 2)]
    if pairs:
        table["allOf"] = [{"not": {"required": list(pair)}} for pair in pairs]
    return {"type": "array", "items": table, "title": section.title} if section.many else table


def _table_schema(section: str, keys: Mapping[str, Key], within: str, vocabulary: Vocabulary) -> Schema:
    """A table of keys; ``within`` is the key whose list the table stands in, with a dot, or empty."""
    return {
        "type": "object",
        "properties": {name: _key_schema(section, key, within, vocabulary) for name, key in keys.items()},
        "required": [name for name, key in keys.items() if key.required],
        "additionalProperties": False,
    }


def _known_by_schema(section: Section) -> Schema:
    keys = [key for key in section.keys.values() if key.form is not Form.PHYSICAL and key.form is not Form.ID]
    guide = entry_guide(section.name, KNOWN_BY_KEY)
    return {
        "title": guide.title,
        "description": guide.what,
        "type": "object",
        "properties": {key.name: {"type": "string", "enum": list(KNOWN_BY), "title": key.title} for key in keys},
        "additionalProperties": False,
    }


def _key_schema(section: str, key: Key, within: str, vocabulary: Vocabulary) -> Schema:
    guide = entry_guide(section, f"{within}{key.name}")
    head = {"title": key.title, "description": _description(guide)}
    if key.form is Form.TABLES:
        items = _table_schema(section, key.parts, f"{within}{key.name}.", vocabulary)
        return {**head, "type": "array", "items": items}
    return {**head, **_FORMS[key.form](section, key, vocabulary)}


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


def _size(section: str, _key: Key, vocabulary: Vocabulary) -> Schema:
    pattern = designation_pattern() if section == "cable" else size_pattern()
    return {"type": "string", "anyOf": [{"enum": list(vocabulary["size"])}, {"pattern": pattern}]}


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
