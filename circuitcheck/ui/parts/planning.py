"""Planned changes to parts that are there: each a table of the file, whose new entries are edited like any part's."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from circuitcheck.circuit.change import ALTER, MOVE, REMOVE, REPLACE
from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.keys.change import CHANGE, CHANGEABLE, OF_THE_PLACE, PLACE_KEYS, new_keys
from circuitcheck.circuit.short.sections import written_section
from circuitcheck.circuit.written.block import Block
from circuitcheck.circuit.written.entry_text import table_text, with_entry, without_entry
from circuitcheck.refs import Ref
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.document.history import Change
from circuitcheck.ui.entry import split_how
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.parts.key_order import key_order

NAME = CHANGE.name
KNOWN_BY = "known_by"
_NEW = "new"
_ORDER = ("part", "action", _NEW)
_ACTIONS = (REPLACE, REMOVE, MOVE, ALTER)

#: What can be planned, in the words of a list.
ACTION_SAYS = {
    REPLACE: "Replace it: another one in its place",
    REMOVE: "Remove it, with everything fed from it",
    MOVE: "Move it to another place",
    ALTER: "Alter something about it; it stays",
}


def is_change(part: Block) -> bool:
    """Whether this table is a planned change."""
    return part.section == NAME


def target_of(change: Block) -> Ref:
    """The part that a change is about."""
    return Ref.of_part(str(change.data.get("part", "")))


def action_of(change: Block) -> str:
    """What is done with it; empty where the file does not tell."""
    action = str(change.data.get("action", ""))
    return action if action in _ACTIONS else ""


def keys_of(part: Block) -> Mapping[str, Key]:
    """The keys that may be entered in a part; of a change, those that its new part may have."""
    if is_change(part):
        section, action = target_of(part).section, action_of(part)
        return new_keys(section, action) if section in CHANGEABLE and action else {}
    described = written_section(part.section, part.data)
    return described.keys if described else {}


def entries_of(part: Block) -> Mapping[str, Any]:
    """What a part says; of a change, what it says of the new part."""
    if not is_change(part):
        return part.data
    new = part.data.get(_NEW)
    return new if isinstance(new, Mapping) else {}


def section_of(part: Block, name: str) -> str:
    """The section whose key an entry is: of a change that of its part, or its box for what is brought into it."""
    if not is_change(part):
        return part.section
    section = target_of(part).section
    return section if section in SECTIONS and name in SECTIONS[section].keys else "box"


def entry_path(part: Block, name: str) -> str:
    """How findings name an entry: a planned one by the part that it is planned for."""
    return f"{target_of(part)}.{name}" if is_change(part) else f"{part.path}.{name}"


def rewriting(
    part: Block, values: Mapping[str, object], known: Mapping[str, str] | None = None
) -> Callable[[str], str]:
    """Rewrites a table's text with these entries; None makes one unknown.

    known: entry -> how it is known; empty takes that off. Of an entry that gets another value it is taken off anyway.
    """
    said = entries_of(part).get(KNOWN_BY)
    how = {key: word for key, word in said.items() if key not in values} if isinstance(said, Mapping) else {}
    how.update(known or {})
    how = {key: word for key, word in how.items() if word}
    changed = {**values, **({KNOWN_BY: how or None} if said != how and (said or how) else {})}

    def rewritten(text: str) -> str:
        if is_change(part):
            new = {**entries_of(part), **changed}
            new = {key: value for key, value in new.items() if value is not None}
            return with_entry(text, _NEW, new, _ORDER) if new else without_entry(text, _NEW)
        for name, value in changed.items():
            text = (
                without_entry(text, name) if value is None else with_entry(text, name, value, key_order(part.section))
            )
        return text

    return rewritten


def ref_of(part: Block) -> Ref:
    """The part that a change of this one names: of a light in the short form its load."""
    section = "load" if part.section == "light" else part.section
    return Ref(section, part.id if part.repeated else "")


def change_of(document: Document, part: Block) -> Block | None:
    """The change that is planned for a part."""
    path = str(ref_of(part))
    return next((b for b in document.blocks if is_change(b) and b.data.get("part") == path), None)


def changed_part(document: Document, change: Block) -> Block | None:
    """The part that a change is about; None of a part that is no change."""
    ref = target_of(change)
    return (
        None
        if not is_change(change)
        else document.named(ref.section, ref.id)
        if ref.id
        else document.first(ref.section)
    )


def is_there(part: Block) -> bool:
    """Whether the part is there already, so that what happens to it is planned and not overwritten."""
    section = ref_of(part).section
    return section == "supply" or (section in CHANGEABLE and part.data.get("origin") == "existing")


def why_no_change(part: Block) -> str:
    """What is said where no change can be planned for a part."""
    if ref_of(part).section not in CHANGEABLE:
        return f"No change is planned for this ({part_title(part.section, part.data)}): change its own entries."
    return "A change is planned for a part that is there. This one is still to be added: change its own entries."


def actions_for(part: Block) -> tuple[str, ...]:
    """What can be planned for a part that is there."""
    section = ref_of(part).section
    if section == "supply":
        return (REPLACE,)
    return tuple(action for action in _ACTIONS if action == REMOVE or new_keys(section, action))


def ends_of(part: Block) -> tuple[str, ...]:
    """The keys that say where a part goes that is moved."""
    return PLACE_KEYS.get(ref_of(part).section, ())


def stays(change: Block, name: str) -> bool:
    """Whether an entry that the change does not name stays as it is there."""
    section = target_of(change).section
    if action_of(change) == REPLACE:
        return section == "supply" or name in OF_THE_PLACE.get(section, ()) or name not in SECTIONS[section].keys
    return action_of(change) == ALTER


def plan(document: Document, part: Block, action: str, new: Mapping[str, object] | None = None) -> Change:
    """Plans a change of a part; what is there keeps its facts."""
    entries: dict[str, object] = {"part": str(ref_of(part)), "action": action}
    text = table_text(NAME, True, {**entries, _NEW: dict(new)} if new else entries)
    return document.insert(f"plan: {action} {part_title(part.section, part.data)}", [text])


def beside(document: Document, part: Block, key: Key) -> tuple[str, bool, str]:
    """What stands beside an entry: what is there now, whether that stays, and what is planned instead.

    Of a planned change the first two, of the part as it is there the last.
    """
    if not is_change(part):
        change = change_of(document, part) if is_there(part) else None
        new = entries_of(change) if change is not None and key.name in keys_of(change) else {}
        return "", False, split_how(key, new.get(key.name), None)[0]
    there = changed_part(document, part)
    if there is not None and key.name not in SECTIONS[there.section].keys:  # what it brings into its box
        there = document.named("box", str(there.data.get("box", "")))
    text = split_how(key, there.data.get(key.name), None)[0] if there is not None else ""
    return text, stays(part, key.name), ""


def is_superseded(document: Document, part: Block) -> bool:
    """Whether another part is planned in its place, or none, so that what is open is not asked of this one."""
    change = change_of(document, part)
    return change is not None and action_of(change) in (REPLACE, REMOVE)


def may_be_planned(part: Block, name: str) -> bool:
    """Whether an entry of a part that is there tells of the thing, which work may replace, and not of its place."""
    if not is_there(part):
        return False
    section = ref_of(part).section
    return name in new_keys(section, REPLACE) and name not in OF_THE_PLACE.get(section, ())


def written_path(document: Document, part: Block, name: str) -> str:
    """How a problem of the file names an entry."""
    if not is_change(part):
        return f"{part.path}.{name}"
    same = [block.number for block in document.blocks if is_change(block)]
    return f"{NAME}.#{same.index(part.number) + 1}.{_NEW}.{name}"


def changes_naming(document: Document, paths: Collection[str]) -> list[Block]:
    """The planned changes of these parts."""
    return [block for block in document.blocks if is_change(block) and block.data.get("part") in paths]
