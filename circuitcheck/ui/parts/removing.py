"""Parts moved in their order, and taken out with all that hangs on them."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.short.sections import written_section
from circuitcheck.circuit.written.block import Block
from circuitcheck.circuit.written.entry_text import without_entry
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.document.history import Change, Splice
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.parts.planning import changed_part, changes_naming


def move(document: Document, part: Block, step: int) -> Change | None:
    """Moves the part before or behind its neighbour of the same section; None at the end of the line."""
    place = document.place(part.number)
    step = 1 if step > 0 else -1
    other = place + step
    while 0 <= other < len(document.blocks) and document.blocks[other].section != part.section:
        other += step
    if not 0 <= other < len(document.blocks) or not part.repeated:
        return None
    neighbour = document.blocks[other]
    change = Change(
        f"move {part_title(part.section, part.data)}",
        (Splice(place, (part,), (neighbour,)), Splice(other, (neighbour,), (part,))),
        part.number,
    )
    document.apply(change)
    return change


def below(document: Document, part: Block) -> list[Block]:
    """The part and everything that hangs on it: what is in a box, and every run that leaves it.

    A light is told as its load, box and cable, which have its number.
    """
    parts = document.parts
    leaving: dict[str, list[Block]] = {}
    inside: dict[str, list[Block]] = {}
    ends = {block.id: block for block in parts if block.section in ("box", "low_voltage_load")}
    for block in parts:
        if block.section == "cable":
            leaving.setdefault(str(block.data.get("from", "")), []).append(block)
        elif block.section in ("load", "driver", "control"):
            inside.setdefault(str(block.data.get("box", "")), []).append(block)
        elif block.section == "framing":
            inside.setdefault(str(block.data.get("cable", "")), []).append(block)
    waiting = [block for block in parts if block.number == part.number] or [part]
    found: dict[int, Block] = {id(block): block for block in waiting}
    while waiting:
        block = waiting.pop()
        if block.section == "cable":
            end = ends.get(str(block.data.get("to", "")))
            further = [*inside.get(block.id, ()), *([end] if end else [])]
        elif block.section in ("box", "driver", "low_voltage_load"):
            further = [*inside.get(block.id, ()), *leaving.get(block.id, ())]
        else:
            further = []
        for other in further:
            if id(other) not in found:
                found[id(other)] = other
                waiting.append(other)
    return list(found.values())


def feeding(document: Document, part: Block) -> Block | None:
    """The cable that feeds a box or a low-voltage light, where it has a table of its own."""
    if part.section not in ("box", "low_voltage_load"):
        return None
    return next((b for b in document.blocks if b.section == "cable" and b.data.get("to") == part.id), None)


def take_out(document: Document, part: Block) -> Change | None:
    """Takes the part out with all that hangs on it, and the cable that feeds it. None for job, place and panel."""
    if not part.repeated:
        return None
    gone = below(document, part)
    feed = feeding(document, part)
    if feed is not None:
        gone.append(feed)
    numbers = {block.number for block in (*gone, *changes_naming(document, {block.path for block in gone}))}
    place = document.place(part.number)
    remaining = [block for block in document.blocks if block.number not in numbers and block.section]
    before = [block for block in document.blocks[:place] if block.number not in numbers and block.section]
    stand_on = (before or remaining or [document.blocks[0]])[-1].number
    if (planned_for := changed_part(document, part)) is not None:
        stand_on = planned_for.number
    says = f"delete {part_title(part.section, part.data)}"
    return document.remove(says, numbers, stand_on=stand_on, rewritten=_no_longer_naming(remaining, gone))


def _no_longer_naming(remaining: list[Block], gone: list[Block]) -> Mapping[int, str]:
    """Block number -> its text without the entries that name a part that goes."""
    ids = {(block.section, block.id) for block in gone}
    ids |= {("light", block.id) for block in gone if block.section == "load"}
    rewritten: dict[int, str] = {}
    for block in remaining:
        described = written_section(block.section, block.data)
        for key in described.keys.values() if described else ():
            named = block.data.get(key.name)
            if not key.required and any((section, named) in ids for section in key.refers):
                rewritten[block.number] = without_entry(rewritten.get(block.number, block.text), key.name)
    return rewritten
