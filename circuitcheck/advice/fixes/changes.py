"""What a fix changes, entry by entry: what the file says now, and what it will say."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from circuitcheck.advice.fixes.step import Step
from circuitcheck.circuit.as_written import entry_as_written
from circuitcheck.circuit.edits import AddPart, DropPart, PlanChange
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.refs import Ref


def changes_of(steps: Iterable[Step], found: Circuit) -> Iterator[dict[str, Any]]:
    """Part, action, key, value before and after of all that the steps change in the circuit as the file has it."""
    for step, edit in ((each, edit) for each in steps for edit in each.edits):
        if isinstance(edit, DropPart):
            yield _change(edit.part, "leave out", None, None, None, step)
        elif isinstance(edit, AddPart):
            for key, value in edit.entries.items():
                yield _change(Ref(edit.section, str(edit.entries["id"])), "add", key, None, value, step)
        else:
            action, entries = (edit.action, edit.new) if isinstance(edit, PlanChange) else ("set", edit.entries)
            for key, value in entries.items():
                before = _held(found, edit.part, key)
                if before != value:
                    yield _change(edit.part, action, key, before, value, step)


def _change(part: Ref, action: str, key: str | None, before: Any, after: Any, step: Step) -> dict[str, Any]:
    return {"part": str(part), "action": action, "key": key, "from": before, "to": after, "says": step.says}


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
