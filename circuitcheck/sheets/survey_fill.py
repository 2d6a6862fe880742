"""From the answers of a survey form to a circuit file: a new one, or the old one with what was found out."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from datetime import date
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.circuit.written.block import Block, block_from, blocks_of, text_of
from circuitcheck.circuit.written.entry_text import table_text, with_entry
from circuitcheck.errors import CommandError

MARK = "circuitcheck survey"
VERSION = 1

#: The word in front of a value that says how it is known.
HOW_WORD = {"measured": "measured ", "label": "label ", "guess": "about ", "": ""}
KNOWN_BY = "known_by"

#: Sections in the order in which a new file has them.
ORDER = ("job", "supply", "site", "box", "cable", "load", "control", "driver")


def filled_text(answers: bytes, text: str | None, name: str) -> str:
    """The text of the circuit file with the answers in it. ``text``: of the file they are about; None makes a new one.

    name: of the file with the answers, for errors. Raises: CommandError for a file that no form of ours wrote.
    """
    told = _parts(answers, name)
    blocks = _blocks(text, name) if text is not None else [Block("format = 1\n\n", "", False, {"format": 1})]
    for part in sorted(told, key=lambda part: ORDER.index(part["section"])):
        _put(blocks, part["section"], part["id"], _entries(part, name))
    return text_of(blocks)


def _parts(answers: bytes, name: str) -> list[dict[str, Any]]:
    """The parts that the form told, every name in them one that a circuit file has. Raises: CommandError."""
    try:
        data = json.loads(answers)
    except (ValueError, RecursionError) as error:
        raise CommandError(f"{name}: not the answers of a survey form ({error})") from error
    if not isinstance(data, dict) or data.get(MARK) != VERSION or not isinstance(data.get("parts"), list):
        raise CommandError(f'{name}: not the answers of a survey form; it begins with "{MARK}": {VERSION}')
    for part in data["parts"]:
        if not isinstance(part, dict) or part.get("section") not in ORDER or not isinstance(part.get("id"), str):
            raise CommandError(f"{name}: a part without a section and a name")
        if not isinstance(part.get("entries"), dict):
            raise CommandError(f"{name}: {part['section']} {part['id']}: no entries")
        for key in part["entries"]:
            if key not in SECTIONS[part["section"]].keys:
                raise CommandError(f"{name}: {part['section']} has no entry {key}")
    return list(data["parts"])


def _blocks(text: str, name: str) -> list[Block]:
    try:
        return list(blocks_of(text, tomllib.loads(text)))
    except ValueError as error:
        raise CommandError(f"{name}: the circuit file cannot be filled in: {error}") from error


def _entries(part: Mapping[str, Any], name: str) -> dict[str, object]:
    """The entries of a part as the circuit file writes them, with how words are known under ``known_by``."""
    section = SECTIONS[part["section"]]
    entries: dict[str, object] = {}
    known: dict[str, str] = {}
    for key_name, answer in part["entries"].items():
        where = f"{name}: {part['section']} {part['id']}, {key_name}"
        if not isinstance(answer, dict):
            raise CommandError(f"{where}: no answer")
        how = answer.get("how") or ""
        if how not in HOW_WORD:
            raise CommandError(f"{where}: known by {how!r}; it is one of {', '.join(filter(None, HOW_WORD))}")
        key = section.keys[key_name]
        entries[key_name] = _value(key, answer.get("value"), how, where)
        if how and key.form is not Form.PHYSICAL:
            known[key_name] = how
    return {**entries, KNOWN_BY: known} if known else entries


def _value(key: Key, value: object, how: str, where: str) -> object:
    if key.form is Form.WORD_LIST:
        if isinstance(value, list) and all(isinstance(word, str) for word in value):
            return value
        raise CommandError(f"{where}: a list of words")
    if not isinstance(value, str):
        raise CommandError(f"{where}: a text")
    if key.form is Form.YES_NO and value in ("yes", "no"):
        return value == "yes"
    if key.form is Form.WHOLE and value.isdecimal() and value.isascii():
        return int(value)
    if key.form is Form.DATE:
        try:
            return date.fromisoformat(value)
        except ValueError as error:
            raise CommandError(f"{where}: a date is written as 2026-03-14") from error
    return f"{HOW_WORD[how]}{value}" if key.form is Form.PHYSICAL else value


def _put(blocks: list[Block], section: str, part_id: str, entries: Mapping[str, object]) -> None:
    """Set the entries in the table of the part, or put a new table at the end of its kind."""
    many = SECTIONS[section].many
    for place, block in enumerate(blocks):
        if block.section == section and (not many or block.data.get("id") == part_id):
            text = block.text
            for key, value in entries.items():
                kept = block.data.get(KNOWN_BY, {}) if key == KNOWN_BY else {}
                whole = {**kept, **value} if isinstance(value, Mapping) else value
                text = with_entry(text, key, whole, tuple(SECTIONS[section].keys))
            blocks[place] = block_from(text)
            return
    if text_of(blocks) and not text_of(blocks).endswith("\n"):
        last = blocks[-1]
        blocks[-1] = Block(f"{last.text}\n", last.section, last.repeated, last.data)
    named = {"id": part_id} if many else {}
    blocks.append(block_from(table_text(section, many, {**named, **entries})))
