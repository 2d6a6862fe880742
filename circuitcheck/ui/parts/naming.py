"""Ids of parts: free ones, and another id that every entry naming the part follows."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence

from circuitcheck.circuit.short.sections import written_section
from circuitcheck.circuit.written.block import Block
from circuitcheck.circuit.written.entry_text import with_entry
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.document.history import Change
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.parts.key_order import key_order
from circuitcheck.ui.parts.planning import changes_naming

PANEL = "panel"


def free_name(wanted: str, taken: Iterable[str]) -> str:
    """``wanted``, or the next number behind it that nothing is called yet."""
    used = set(taken) | {PANEL}
    if wanted not in used:
        return wanted
    stem = re.sub(r"\s*\d+$", "", wanted) or wanted
    number = 2
    while f"{stem} {number}" in used:
        number += 1
    return f"{stem} {number}"


def all_ids(document: Document) -> set[str]:
    """Every id in the file."""
    return {block.id for block in (*document.blocks, *document.parts) if block.repeated and block.id}


def referring(document: Document, name: str, sections: Collection[str]) -> dict[int, list[str]]:
    """Block number -> the keys in it that name ``name``, an id of a part of one of these sections."""
    found: dict[int, list[str]] = {}
    for block in document.blocks:
        described = written_section(block.section, block.data)
        if described is None:
            continue
        keys = [
            key.name
            for key in described.keys.values()
            if not set(key.refers).isdisjoint(sections) and block.data.get(key.name) == name
        ]
        if keys:
            found[block.number] = keys
    return found


def rename(document: Document, part: Block, new_id: str, session: str = "") -> Change | None:
    """Gives the part another id, and every entry that names it with it; a light's box and cable are called after it."""

    def own(text: str) -> str:
        return with_entry(text, "id", new_id, key_order(part.section))

    texts: dict[int, Callable[[str], str]] = {part.number: own}
    if document.named(part.section, part.id) is part and not _others_called(document, part):
        for section, old, new in _names(part, new_id):
            for number, keys in referring(document, old, (section,)).items():
                texts[number] = _renaming(keys, new, texts.get(number))
            for change in changes_naming(document, (f"{section}.{old}",)):
                texts[change.number] = _renaming(("part",), f"{section}.{new}", texts.get(change.number))
    return document.rewrite(f"name of {part_title(part.section, part.data)}", texts, key="id", session=session)


def _names(part: Block, new_id: str) -> Iterator[tuple[str, str, str]]:
    """Section, old id and new id of the part and of what is called after it."""
    yield part.section, part.id, new_id
    if part.section == "light":
        for section in ("box", "cable"):
            if f"{section}_id" not in part.data:
                yield section, f"{part.id} {section}", f"{new_id} {section}"


def _others_called(document: Document, part: Block) -> bool:
    return sum(block.section == part.section and block.id == part.id for block in document.blocks) > 1


def _renaming(keys: Sequence[str], new_id: str, first: Callable[[str], str] | None) -> Callable[[str], str]:
    def rewritten(text: str) -> str:
        text = first(text) if first else text
        for key in keys:
            text = with_entry(text, key, new_id, ())
        return text

    return rewritten
