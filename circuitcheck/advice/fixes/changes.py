"""What a fix changes, entry by entry: what the file says now, and what it will say."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from circuitcheck.advice.fixes.step import Step
from circuitcheck.circuit.as_written import entry_as_written
from circuitcheck.circuit.edits import AddPart, DropPart, Edit, PlanChange
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.refs import Ref


def changes_of(steps: Iterable[Step], found: Circuit) -> Iterator[dict[str, Any]]:
    """Part, action, key, value before and after of all that the steps change in the circuit as the file has it."""
    for step in steps:
        for edit in step.edits:
            part, action = _what_is_done(edit)
            for key, before, after in _entries(edit, found):
                yield {
                    "part": str(part), "action": action, "key": key, "from": before, "to": after, "says": step.says
                }  # fmt: skip


def _what_is_done(edit: Edit) -> tuple[Ref, str]:
    """The part that an edit is about, and what it does with it."""
    if isinstance(edit, DropPart):
        return edit.part, "leave out"
    if isinstance(edit, AddPart):
        return Ref(edit.section, str(edit.entries["id"])), "add"
    return edit.part, edit.action if isinstance(edit, PlanChange) else "set"


def _entries(edit: Edit, found: Circuit) -> Iterator[tuple[str | None, Any, Any]]:
    """Key, value before and after of each entry that an edit changes; a part that goes has none."""
    if isinstance(edit, DropPart):
        yield None, None, None
    elif isinstance(edit, AddPart):
        yield from ((key, None, value) for key, value in edit.entries.items())
    else:
        for key, value in (edit.new if isinstance(edit, PlanChange) else edit.entries).items():
            before = _held(found, edit.part, key)
            if before != value:
                yield key, before, value


def _held(circuit: Circuit, part: Ref, key: str) -> Any:
    """What the file says under a key, or of a part's box for what a new light brings into it."""
    section = SECTIONS[part.section]
    held = getattr(circuit, section.attribute)
    if section.many:
        held = next((each for each in held if each.id == part.id), None)
    if held is None:
        return None
    if key not in section.keys:
        return _held(circuit, Ref("box", held.box), key) if hasattr(held, "box") else None
    return entry_as_written(held, section.keys[key])
