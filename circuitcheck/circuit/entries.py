"""What a circuit file may hold, as a strict pydantic schema made from the declared keys.

The schema judges the shape: unknown keys, missing ones, and a wrong kind of TOML value. Units, words and ids are judged
by ``conversion`` and ``connections``. It is built for pydantic's engine directly, since building model classes would
cost more time than the whole check.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from pydantic_core import CoreConfig, CoreSchema, ErrorDetails, SchemaValidator, ValidationError, core_schema

from circuitcheck.circuit.faults import Faults, cut_short, given_text
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section

#: The ways in which an entry that carries no word of its own (text, yes or no, lists) may be known.
KNOWN_BY = ("measured", "label", "guess")
KNOWN_BY_KEY = "known_by"

_EXPECTED: dict[Form, str] = {
    Form.PHYSICAL_LIST: "a list of texts in quotes",
    Form.WORD: "a text in quotes",
    Form.WORD_LIST: 'a list of texts, such as ["stud"]',
    Form.TEXT: "a text in quotes",
    Form.ID: "a text in quotes",
    Form.REFERENCE: "a text in quotes",
    Form.SIZE: 'a size in quotes, such as "14 AWG"',
    Form.YES_NO: "true or false, without quotes",
    Form.WHOLE: "a whole number without quotes",
    Form.DATE: "a date such as 2026-03-14, without quotes",
    Form.TABLES: "a list of tables in braces, such as [{ … }]",
}

_EXTRA_FORBIDDEN: CoreConfig = {"strict": True, "extra_fields_behavior": "forbid"}


def _value_schema(key: Key) -> CoreSchema:
    if key.form is Form.PHYSICAL:
        return core_schema.any_schema() if key.kind and key.kind.bare else core_schema.str_schema()
    if key.form is Form.YES_NO:
        return core_schema.bool_schema()
    if key.form is Form.WHOLE:
        return core_schema.int_schema(ge=key.least, le=key.greatest)
    if key.form is Form.DATE:
        return core_schema.any_schema()
    if key.form in (Form.WORD_LIST, Form.PHYSICAL_LIST):
        return core_schema.list_schema(core_schema.str_schema())
    if key.form is Form.TABLES:
        return core_schema.list_schema(_table_schema(key.parts))
    return core_schema.str_schema()


def _table_schema(keys: Mapping[str, Key], extra: Mapping[str, CoreSchema] | None = None) -> CoreSchema:
    fields = {
        name: core_schema.typed_dict_field(_value_schema(key), required=key.required) for name, key in keys.items()
    }
    for name, schema in (extra or {}).items():
        fields[name] = core_schema.typed_dict_field(schema, required=False)
    return core_schema.typed_dict_schema(fields, config=_EXTRA_FORBIDDEN)


def _section_schema(section: Section) -> CoreSchema:
    known_by = core_schema.dict_schema(core_schema.str_schema(), core_schema.str_schema())
    schema = _table_schema(section.keys, {KNOWN_BY_KEY: known_by})
    return core_schema.list_schema(schema) if section.many else schema


@cache
def _validator() -> SchemaValidator:
    fields = {"format": core_schema.typed_dict_field(core_schema.int_schema())}
    for name, section in SECTIONS.items():
        fields[name] = core_schema.typed_dict_field(_section_schema(section), required=section.required)
    fields["change"] = core_schema.typed_dict_field(core_schema.any_schema(), required=False)  # ``changes`` judges it
    return SchemaValidator(core_schema.typed_dict_schema(fields, config=_EXTRA_FORBIDDEN), _EXTRA_FORBIDDEN)


def judge_shape(document: dict[str, Any], faults: Faults) -> None:
    """Note every unknown key, missing key and wrong kind of TOML value of the document."""
    try:
        _validator().validate_python(document)
    except ValidationError as error:
        for detail in error.errors(include_url=False, include_context=True):
            _note(detail, faults)


def judge_entries(
    section: str, keys: Mapping[str, Key], values: Mapping[str, Any], place: tuple[int | str, ...], faults: Faults
) -> None:
    """Note what is wrong with entries of a part of ``section`` that stand elsewhere, at ``place``. None is required."""
    fields = {name: core_schema.typed_dict_field(_value_schema(key), required=False) for name, key in keys.items()}
    known_by = core_schema.dict_schema(core_schema.str_schema(), core_schema.str_schema())
    fields[KNOWN_BY_KEY] = core_schema.typed_dict_field(known_by, required=False)
    try:
        SchemaValidator(core_schema.typed_dict_schema(fields, config=_EXTRA_FORBIDDEN)).validate_python(dict(values))
    except ValidationError as error:
        for detail in error.errors(include_url=False, include_context=True):
            _note_entry(detail, section, keys, place, faults)


def _note_entry(
    detail: ErrorDetails, section: str, allowed: Mapping[str, Key], place: tuple[int | str, ...], faults: Faults
) -> None:
    inner, kind, value = detail["loc"], detail["type"], detail["input"]
    name = str(inner[0])
    key = allowed.get(name)
    for step in inner[1:]:
        key = key.parts.get(step) if key is not None and isinstance(step, str) else key
    path = (*place, *inner)
    if kind == "extra_forbidden":
        last = str(inner[-1])
        outer = allowed[name].parts if len(inner) > 1 and name in allowed else allowed
        says = "there is no such key here"
        if len(inner) == 1 and name in SECTIONS[section].keys:
            says = "a change does not touch this"
        shown = ", ".join(outer)
        faults.add(path, says, given=cut_short(last), allowed=shown, near=faults.meant(last, list(outer), "keys"))
    elif name == KNOWN_BY_KEY:
        says = "this does not say how an entry is known"
        faults.add(path, says, given=given_text(value), allowed=f"{', '.join(KNOWN_BY)}, for each key")
    elif kind == "missing":
        faults.add(path, f"{inner[-1]} is missing", allowed=_allowed(key) if key else "")
    elif key is not None:
        _note_wrong_type(path, kind, key, value, faults)


def _declared(path: tuple[int | str, ...]) -> tuple[Section | None, Key | None, Mapping[str, Key]]:
    """Section and key that the path names, and the keys that may stand beside it."""
    section = SECTIONS.get(str(path[0]))
    if section is None:
        return None, None, {}
    keys, key = section.keys, None
    for step in path[1:]:
        if isinstance(step, int):
            continue
        if key is not None and key.parts:
            keys = key.parts
        key = keys.get(step)
    return section, key, keys


def _note(detail: ErrorDetails, faults: Faults) -> None:
    path, kind, value = detail["loc"], detail["type"], detail["input"]
    section, key, keys = _declared(path)
    if kind == "extra_forbidden":
        _note_unknown(path, keys, value, faults)
    elif kind == "missing":
        if section is None or len(path) == 1:
            name = f"[{path[0]}]" if section else str(path[0])
            says = f"{name} is missing" if section else "format is missing: the file starts with format = 1"
        else:
            says = f"{path[-1]} is missing"
        faults.add(path, says, allowed=_allowed(key) if key else "")
    elif KNOWN_BY_KEY in path:
        allowed = 'a table such as { size = "label" } with measured, label or guess'
        faults.add(path, "this does not say how an entry is known", given=given_text(value), allowed=allowed)
    elif key is None:
        _note_wrong_brackets(path, section, value, faults)
    else:
        _note_wrong_type(path, kind, key, value, faults)


def _note_unknown(path: tuple[int | str, ...], keys: Mapping[str, Key], value: Any, faults: Faults) -> None:
    name = str(path[-1])
    if len(path) == 1 and isinstance(value, dict | list):
        known = [*SECTIONS, "light", "change"]
        near = faults.meant(name, known, "sections")
        faults.add(path, "there is no such section", given=cut_short(name), allowed=", ".join(known), near=near)
        return
    known = [*keys, KNOWN_BY_KEY] if len(path) <= 3 else list(keys)
    if not keys:
        known = ["format", *(key for section in SECTIONS.values() if not section.many for key in section.keys)]
    known += ["like"] if "origin" in keys else []
    known += ["cable"] if path[0] == "cable" else []
    near = faults.meant(name, known, "keys")
    owners = [section.name for section in SECTIONS.values() if name in section.keys]
    says = "there is no such key here" if keys else "this key stands above every section"
    if near is None and owners:
        says += f"; it belongs to {' or '.join(owners)}"
    faults.add(path, says, given=cut_short(name), near=near)


def _note_wrong_brackets(path: tuple[int | str, ...], section: Section | None, value: Any, faults: Faults) -> None:
    if section is None:
        faults.add(path, "this is not a whole number", given=given_text(value), allowed="format = 1")
        return
    brackets = f"[[{section.name}]]" if section.many else f"[{section.name}]"
    says = f"write this section in {'double' if section.many else 'single'} brackets: {brackets}"
    faults.add(path, says, given=given_text(value), allowed=brackets)


def _note_wrong_type(path: tuple[int | str, ...], kind: str, key: Key, value: Any, faults: Faults) -> None:
    given = given_text(value)
    allowed = _allowed(key)
    bare = isinstance(value, int | float) and not isinstance(value, bool)
    if kind in ("greater_than_equal", "less_than_equal"):
        faults.add(path, "this number is out of range", given=given, allowed=allowed)
    elif key.form in (Form.PHYSICAL, Form.PHYSICAL_LIST) and bare and key.kind:
        near = f"{given} {key.kind.unit}"
        faults.add(path, "a bare number: its unit is missing", given=given, allowed=allowed, near=near)
    elif key.form is Form.SIZE and bare:
        says = "a conductor size is a name and stands in quotes"
        faults.add(path, says, given=given, allowed=allowed, near=f"{given} AWG")
    else:
        expected = key.kind.allowed if key.kind else _EXPECTED[key.form]
        faults.add(path, "this key takes another kind of value", given=given, allowed=expected)


def _allowed(key: Key) -> str:
    if key.kind:
        return key.kind.allowed
    if key.form is Form.WHOLE:
        return f"a whole number from {key.least} to {key.greatest}"
    return ", ".join(key.words) or _EXPECTED[key.form]
