"""Edits made to a file's text: only the entries that change are written anew, comments and order stay."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from circuitcheck.circuit.edits import (
    AddPart,
    DropPart,
    Edit,
    EditError,
    PlanChange,
    SetEntries,
    Vocabulary,
    all_of,
    edited,
    merged_change,
)
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.change import CHANGE
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.short.tidy_long import long_text
from circuitcheck.circuit.toml_text import parsed
from circuitcheck.circuit.written.block import Block, blocks_of
from circuitcheck.circuit.written.entry_text import table_text, with_entry, without_entry
from circuitcheck.errors import CircuitFileError
from circuitcheck.refs import Ref

_KNOWN_BY = "known_by"
_CHANGE_ORDER = ("part", "action", "new")


def with_edits(text: str, edits: Iterable[Edit], vocabulary: Vocabulary) -> str:
    """The file's text after the edits. Short forms stay where the edits do not touch them, else they are written out.

    What is written is read again and has to be the circuit that was meant. Lines end as they did.

    Raises: EditError; ValueError for tables written on one line or with dots.
    """
    if "\r\n" in text:
        return with_edits(text.replace("\r\n", "\n"), edits, vocabulary).replace("\n", "\r\n")
    edits = tuple(edits)
    wanted = meaning(edited(read_circuit(text, "", vocabulary), edits, vocabulary))
    for start in (text, long_text(text, vocabulary)):
        try:
            changed = _spliced(start, edits)
            if meaning(read_circuit(changed, "", vocabulary)) == wanted:
                return changed
        except (CircuitFileError, EditError):
            continue
    raise EditError("the file is written in a way in which this change cannot be put in")


def meaning(circuit: Circuit) -> Mapping[str, Any]:
    """The circuit's parts and changes by their ids: the order in which a file lists them means nothing."""
    parts: dict[str, Any] = {CHANGE.name: {change.part: change for change in circuit.changes}}
    for section in SECTIONS.values():
        value = getattr(circuit, section.attribute)
        parts[section.name] = {part.id: part for part in value} if section.many else value
    return parts


def _spliced(text: str, edits: Iterable[Edit]) -> str:
    blocks = list(blocks_of(text, parsed(text, "")))
    for edit in edits:
        if isinstance(edit, SetEntries):
            index = _place(blocks, edit.part)
            blocks[index] = _with_entries(blocks[index], edit)
        elif isinstance(edit, DropPart):
            del blocks[_place(blocks, edit.part)]
        elif isinstance(edit, AddPart):
            _append(blocks, edit.section, edit.entries)
        else:
            _change(blocks, edit)
    return "".join(block.text for block in blocks)


def _place(blocks: list[Block], part: Ref) -> int:
    found = next((index for index, block in enumerate(blocks) if block.path == str(part)), None)
    if found is None:
        raise EditError(f"{part} has no table of its own")
    return found


def _with_entries(block: Block, edit: SetEntries) -> Block:
    order = list(SECTIONS[edit.part.section].keys)
    entries = all_of(edit.entries, edit.part.section)
    text = block.text
    for key, value in entries.items():
        text = without_entry(text, key) if value is None else with_entry(text, key, value, order)
    known = block.data.get(_KNOWN_BY, {})
    left = {key: word for key, word in known.items() if key not in entries}
    if left != known:
        text = with_entry(text, _KNOWN_BY, left, [*order, _KNOWN_BY]) if left else without_entry(text, _KNOWN_BY)
    return block.rewritten(text)


def _append(blocks: list[Block], section: str, entries: Mapping[str, Any]) -> None:
    """A new table behind the last one of its section, else at the end, a blank line before it."""
    same = [index for index, block in enumerate(blocks) if block.section == section]
    at = same[-1] + 1 if same else len(blocks)
    before = blocks[at - 1]
    gap = "" if before.text.endswith("\n\n") or not before.text.strip() else "\n"
    if before.text.strip() and not before.text.endswith("\n"):
        gap = "\n\n"
    text = table_text(section, True, entries)
    if at == len(blocks):
        text = text.rstrip("\n") + "\n"
    blocks[at - 1] = Block(before.text + gap, before.section, before.repeated, before.data, before.number)
    blocks.insert(at, Block(text, section, True, entries))


def _change(blocks: list[Block], edit: PlanChange) -> None:
    for index, block in enumerate(blocks):
        if block.section == CHANGE.name and block.data.get("part") == str(edit.part):
            old = PlanChange(edit.part, str(block.data.get("action")), block.data.get("new", {}))
            new = dict(merged_change(old, edit).new)
            known = new.get(_KNOWN_BY)
            if isinstance(known, Mapping):
                new[_KNOWN_BY] = {key: word for key, word in known.items() if key not in edit.new}
                if not new[_KNOWN_BY]:
                    del new[_KNOWN_BY]
            blocks[index] = block.rewritten(with_entry(block.text, "new", new, _CHANGE_ORDER))
            return
    entries: dict[str, Any] = {"part": str(edit.part), "action": edit.action}
    _append(blocks, CHANGE.name, {**entries, "new": dict(edit.new)} if edit.new else entries)
