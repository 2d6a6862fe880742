"""Parts copied, pasted and duplicated; what belongs together goes together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.short.sections import written_section
from circuitcheck.circuit.written.block import Block, lines_of
from circuitcheck.circuit.written.entry_text import with_entry, without_entry
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.document.history import Change
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.parts.adding import box_at
from circuitcheck.ui.parts.key_order import key_order
from circuitcheck.ui.parts.naming import all_ids, free_name


@dataclass(frozen=True, slots=True)
class Copied:
    """Parts taken along: the one that was copied first."""

    parts: tuple[Mapping[str, Any], ...]
    sections: tuple[str, ...]
    texts: tuple[str, ...]


def copied(document: Document, part: Block) -> Copied | None:
    """A copy of a part: a box goes with its feeding cable and what is in it. None for the job, the place, the panel."""
    if not part.repeated or part.section == "change":
        return None
    group = [part]
    if part.section in ("box", "cable"):
        box = part if part.section == "box" else document.named("box", str(part.data.get("to", "")))
        if box is not None:
            cable = next((b for b in document.blocks if b.section == "cable" and b.data.get("to") == box.id), None)
            inside = [
                block
                for block in document.blocks
                if block.section in ("load", "control") and block.data.get("box") == box.id
            ]
            group = [block for block in (cable, box, *inside) if block is not None]
    return Copied(tuple(block.data for block in group), tuple(b.section for b in group), tuple(b.text for b in group))


def paste(document: Document, copy: Copied, onto: Block | None, *, says: str = "paste") -> Change:
    """Puts a copy in under new names, joined to where one stands (None: where the original is joined)."""
    taken = all_ids(document)
    new_names: dict[tuple[str, str], str] = {}
    for section, data in zip(copy.sections, copy.parts, strict=True):
        old = str(data.get("id", ""))
        new_names[section, old] = free_name(old or section, taken)
        taken.add(new_names[section, old])
    texts = []
    for section, data, original in zip(copy.sections, copy.parts, copy.texts, strict=True):
        text = _without_comments_above(original)
        order = key_order(section)
        text = with_entry(text, "id", new_names[section, str(data.get("id", ""))], order)
        if section == "light":  # its box and cable are called after it again
            text = without_entry(without_entry(text, "box_id"), "cable_id")
        described = written_section(section, data)
        for key in described.keys.values() if described else ():
            named = data.get(key.name)
            if not key.refers or not isinstance(named, str):
                continue
            inner = next((new_names[s, named] for s in key.refers if (s, named) in new_names), None)
            if inner is not None:
                text = with_entry(text, key.name, inner, order)
            elif onto is not None and key.name in ("from", "box", "cable"):
                target = onto.id if onto.section in key.refers else box_at(document, onto)
                text = with_entry(text, key.name, target, order)
        texts.append(text if text.endswith("\n\n") else text.rstrip("\n") + "\n\n")
    return document.insert(says, texts)


def _without_comments_above(text: str) -> str:
    lines = lines_of(text)
    start = next((index for index, line in enumerate(lines) if line.lstrip().startswith("[")), 0)
    return "".join(lines[start:])


def duplicate(document: Document, part: Block) -> Change | None:
    """One more part like this one, joined to the same place. None for the job, the place and the panel."""
    copy = copied(document, part)
    return paste(document, copy, None, says=f"duplicate {part_title(part.section, part.data)}") if copy else None
