"""One circuit file on the bench: the part one stands on, its entries, and what is done to them. No textual."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from circuitcheck.circuit.guide import entry_ref
from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.short.light_keys import LIGHT_KEYS, NAME_IN_LIGHT
from circuitcheck.circuit.written.block import Block
from circuitcheck.circuit.written.entry_text import table_text
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.document.history import Change
from circuitcheck.ui.drawing import part_and_entry
from circuitcheck.ui.entry import Typed, read_typed, split_how, with_how
from circuitcheck.ui.examining import Checked
from circuitcheck.ui.open_questions import OpenQuestion, open_questions
from circuitcheck.ui.part_text import part_title, section_word
from circuitcheck.ui.parts.copying import Copied, copied, duplicate, paste
from circuitcheck.ui.parts.naming import rename
from circuitcheck.ui.parts.planning import (
    KNOWN_BY,
    beside,
    change_of,
    changed_part,
    entries_of,
    entry_path,
    is_change,
    is_superseded,
    keys_of,
    may_be_planned,
    rewriting,
    section_of,
    stays,
    written_path,
)
from circuitcheck.ui.parts.removing import move, take_out
from circuitcheck.ui.reading_names import free_id, known_id
from circuitcheck.ui.settings import read_settings, write_settings
from circuitcheck.ui.shown_part import Draft, ShownEntry, ShownPart
from circuitcheck.ui.what_if import WhatIf


class Workbench:
    """The document, the place one stands, drafts and the copied part."""

    def __init__(self, document: Document) -> None:
        """Starts at the panel, or at the first part of a file that has none."""
        self.document = document
        self.vocabulary: Mapping[str, Sequence[str]] = vocabulary()
        self.checked: Checked | None = None
        self.drafts: dict[tuple[int, str], Draft] = {}
        self.clip: Copied | None = None
        first = document.first("supply") or document.first("job") or document.blocks[-1]
        self.standing = first.number
        self._session = 0
        self._looked_for = ""
        self._hinted: set[int] = set()
        self.what_if = WhatIf(document)
        self.given_up = read_settings().given_up_in(document.path)

    @property
    def part(self) -> Block:
        """The part one stands on; the first of the file when that one is gone."""
        return self.document.block(self.standing) or next(
            (block for block in self.document.blocks if block.section), self.document.blocks[0]
        )

    def new_session(self) -> str:
        """A name that joins the keystrokes of one visit to a field into one step of undo."""
        self._session += 1
        return f"visit {self._session}"

    def key_of(self, name: str) -> Key | None:
        """The key of the part one stands on."""
        return keys_of(self.part).get(name)

    @property
    def entries(self) -> Mapping[str, Any]:
        """What the part one stands on says; of a planned change, what it says of the new part."""
        return entries_of(self.part)

    @property
    def title(self) -> str:
        """What the part one stands on is called."""
        return part_title(self.part.section, self.part.data)

    def section_of(self, name: str) -> str:
        """The section whose key an entry of the part one stands on is."""
        return section_of(self.part, name)

    def shown_text(self, name: str) -> str:
        """The value of an entry as people read it; empty when unknown."""
        key = self.key_of(name)
        return split_how(key, self.entries.get(name), None)[0] if key else ""

    def find(self, path: str) -> Block | None:
        """The part of a path such as ``box.attic``, ``supply``, or ``box.#3`` for one without an id."""
        section, name, _ = Ref.of_part(path)
        same = [block for block in self.document.blocks if block.section == section]
        for block in same:
            if not block.repeated or block.id == name:
                return block
        place = name.removeprefix("#")
        if place.isdigit() and 0 < int(place) <= len(same):
            return same[int(place) - 1]
        part = next((part for part in self.document.parts if part.path == path), None)
        return self.document.block(part.number) if part is not None else None

    def _long_path(self, part: Block, name: str) -> str:
        """The key path of an entry in the long form: what findings call it."""
        if part.section != "light" or name not in LIGHT_KEYS:
            return entry_path(part, name)
        section, key = LIGHT_KEYS[name]
        own = next((p for p in self.document.parts if p.number == part.number and p.section == section), part)
        return f"{own.path}.{key}"

    def ref_of(self, name: str) -> Ref:
        """An entry of the part one stands on, as findings name it."""
        return entry_ref(self._long_path(self.part, name))

    def shown_part(self) -> ShownPart:
        """The part one stands on, with every key that may stand in it."""
        part = self.part
        return ShownPart(
            part.number, part.section, self.title, tuple(self._shown(part, key) for key in keys_of(part).values())
        )

    def _shown(self, part: Block, key: Key) -> ShownEntry:
        entries = entries_of(part)
        text, how = split_how(key, entries.get(key.name), entries.get(KNOWN_BY))
        long_path = self._long_path(part, key.name)
        draft = self.drafts.get((part.number, key.name))
        need = problem = ""
        if self.checked is not None:
            asked = key.name not in entries and not is_superseded(self.document, part)
            need = self.checked.need_of(long_path) if asked else ""
            problem = self.checked.problem_of(written_path(self.document, part, key.name))
        if key.name not in entries and long_path in self.given_up:
            need = "given up"
        there, stays, planned = beside(self.document, part, key)
        return ShownEntry(
            key,
            text,
            how,
            need if not stays else "",
            problem,
            draft.text if draft else "",
            draft.says if draft else "",
            f"{there}, stays" if stays and there and not text else self._inherited(part, key),
            there,
            planned,
        )

    def _inherited(self, part: Block, key: Key) -> str:
        """What a short form says for an entry that the part does not have itself: ``60 W, as wall 1``."""
        if key.name in part.data or not self.document.reasons or is_change(part):
            return ""
        path = self._long_path(part, key.name)
        reason = self.document.reasons.get(path)
        own_path, name = part_and_entry(path)
        spelled_out = next((p for p in self.document.parts if p.path == own_path), None)
        if reason is None or spelled_out is None:
            return ""
        return f"{split_how(key, spelled_out.data.get(name), None)[0]}, {reason}"

    def read(self, name: str, text: str) -> Typed:
        """What typed text stands for under a key of the part one stands on; an id that is taken is a problem."""
        key = self.key_of(name)
        if key is None:
            return Typed(problem="This part has no such entry.")
        typed = read_typed(key, text, self.vocabulary)
        if key.form is Form.ID and not typed.problem:
            return free_id(self.document, self.part, str(typed.value))
        if key.form is Form.REFERENCE and not typed.problem:
            return known_id(self.references(key), str(typed.value))
        return typed

    def references(self, key: Key) -> tuple[str, ...]:
        """The ids that a reference may name."""
        first = ("panel",) if "panel" in key.refers else ()
        own = self.part.id if self.part.section in key.refers and not is_change(self.part) else None
        return (*first, *(name for name in self.document.ids(key.refers) if name != own))

    def hint_of_change(self, name: str) -> str | None:
        """Said once of a part that is there, when somebody begins to write over a fact of it; else None."""
        part = self.part
        if part.number in self._hinted or name not in self.entries or not may_be_planned(part, name):
            return None
        self._hinted.add(part.number)
        another = "device at the panel" if part.section == "supply" else section_word(part.section)
        return f"To correct what is there, type. To plan another {another}: Esc, then C."

    def keep_draft(self, name: str, text: str, typed: Typed) -> None:
        """Keeps text that is no value; it is the latest thing done, so the next undo takes it away."""
        place = (self.part.number, name)
        self.drafts.pop(place, None)
        self.drafts[place] = Draft(text, typed.problem, typed.suggestion, self.document.history.latest)

    def drop_lost_drafts(self) -> None:
        """Forgets text typed in parts that are no more."""
        for place in [place for place in self.drafts if self.document.block(place[0]) is None]:
            del self.drafts[place]

    def _undo_draft(self) -> str | None:
        """Takes the latest text that is no value away, where nothing was changed after it; what it was, or None."""
        place, draft = next(reversed(self.drafts.items()), (None, None))
        if place is None or draft is None or draft.after is not self.document.history.latest:
            return None
        del self.drafts[place]
        if self.document.block(place[0]) is not None:
            self.standing = place[0]
        key = self.key_of(place[1])
        return f'"{draft.text}" typed in {key.title if key else place[1]}'

    def put(self, name: str, value: object, *, also: Mapping[str, object] | None = None, session: str = "") -> None:
        """Sets entries of the part one stands on. How the value before was known says nothing about the new one."""
        part = self.part
        key = self.key_of(name)
        if key is not None and key.form is Form.ID:
            rename(self.document, part, str(value), session)
            return
        title = key.title if key else name
        says = f"{title}, {self.title}"
        made = rewriting(part, {name: value, **(also or {})})
        self.document.rewrite(says, {part.number: made}, key=name, session=session)

    def clear(self, name: str) -> None:
        """Makes an entry unknown. The id, and entries that a part cannot be without, stay."""
        part = self.part
        key = self.key_of(name)
        if key is None or key.form is Form.ID or name not in self.entries:
            return
        self.document.rewrite(
            f"{key.title} unknown, {self.title}", {part.number: rewriting(part, {name: None})}, key=name
        )

    def mark(self, name: str, how: str) -> str:
        """Marks how an entry is known; marking it the same way again takes the mark off. Returns what it is now."""
        part = self.part
        key = self.key_of(name)
        if key is None or name not in self.entries:
            return "?"
        text, old = split_how(key, self.entries[name], self.entries.get(KNOWN_BY))
        new = "" if old == how else how
        made = (
            rewriting(part, {name: with_how(text, new)})
            if key.form is Form.PHYSICAL
            else rewriting(part, {}, {name: new})
        )
        says = f"{key.title}: {new or 'how it is known taken off'}"
        self.document.rewrite(says, {part.number: made}, key=name)
        return new

    def ensure_section(self, section: str) -> None:
        """Adds an empty single section (the place) when the file has none, and stands on it."""
        block = self.document.first(section)
        if block is None:
            change = self.document.insert(f"add {section}", [table_text(section, repeated=False, entries={})])
            self.standing = change.part
        else:
            self.standing = block.number

    def open_questions(self) -> tuple[OpenQuestion, ...]:
        """What open answers wait for and may still be found out, what settles most first."""
        report = self.checked.report if self.checked else None
        return open_questions(report, self.given_up) if report is not None else ()

    def next_unknown(self) -> tuple[str, str] | None:
        """The key path to go to next and its question in a line; None when nothing is left.

        It is an entry of the question that settles most, or of the one after that which was gone to and left open.
        """
        questions = self.open_questions()
        if not questions:
            return None
        last = next((place for place, asked in enumerate(questions) if self._looked_for in asked.keys), -1)
        place = (last + 1) % len(questions)
        question = questions[place]
        self._looked_for = question.keys[0]
        return question.keys[0], f"To find out, {place + 1} of {len(questions)}: {question.line}"

    def give_up(self, name: str) -> bool | None:
        """Remembers that an unknown entry cannot be found out, or no longer; None where it has a value.

        It is kept beside the settings, by file: the file itself only says that it is unknown.
        """
        part = self.part
        if name in self.entries or self.key_of(name) is None:
            return None
        path = self._long_path(part, name)
        self.given_up ^= {path}
        self.keep_given_up()
        return path in self.given_up

    def keep_given_up(self) -> None:
        """Keeps what cannot be found out under the file's name of now."""
        path = self.document.path
        settings = read_settings()
        if settings.given_up_in(path) != self.given_up:
            write_settings(settings.with_given_up(path, self.given_up))

    def stand_on_path(self, key_path: str) -> ShownEntry | None:
        """Stands on the part of a key path (adding a single section that is missing); its entry, or None."""
        path, name = part_and_entry(key_path)
        block = self.find(path.removesuffix(".new"))
        if block is not None:
            change = change_of(self.document, block)
            asks_change = change is not None and name in keys_of(change) and not stays(change, name)
            self.standing = change.number if change is not None and asks_change else block.number
        elif path in SECTIONS and not SECTIONS[path].many:
            self.ensure_section(path)
        if self.part.section == "light":
            name = NAME_IN_LIGHT.get((Ref.of_part(path).section, name), name)
        return next((entry for entry in self.shown_part().entries if entry.key.name == name), None)

    def undo(self) -> str | None:
        """Takes the latest step back and stands where it was; what it was, or None."""
        typed = self._undo_draft()
        if typed is not None:
            return typed
        if self.what_if.at_its_start:
            return None
        change = self.document.undo()
        if change is None:
            return None
        self._stand_after(change)
        return change.says

    def redo(self) -> str | None:
        """Makes the step last taken back again; what it was, or None."""
        change = self.document.redo()
        if change is None:
            return None
        self._stand_after(change)
        return change.says

    def reload(self, text: str) -> None:
        """Takes what is on disk in place of the work here. Raises CircuitFileError."""
        self.document.reload(text)
        self.drafts.clear()
        self.standing = self.part.number

    def _stand_after(self, change: Change) -> None:
        self.drafts.pop((change.part, change.key), None)
        if self.document.block(change.part) is not None:
            self.standing = change.part
        elif self.document.block(self.standing) is None:
            self.standing = self._nearest(change)

    def _nearest(self, change: Change) -> int:
        """The part that stands where one that is gone stood, or before it; of a planned change the one it is about."""
        planned = (block for splice in change.splices for block in splice.into if is_change(block))
        if (part := next((changed_part(self.document, block) for block in planned), None)) is not None:
            return part.number
        place = max((splice.at for splice in change.splices), default=0)
        before = [block for block in self.document.blocks[:place] if block.section]
        return before[-1].number if before else self.part.number

    def copy(self) -> str | None:
        """Copies the part one stands on; its title, or None where it cannot be copied."""
        self.clip = copied(self.document, self.part) or self.clip
        return self.title if self.part.repeated and not is_change(self.part) else None

    def paste(self) -> bool:
        """Puts the copied part in where one stands, and stands on it."""
        if self.clip is None:
            return False
        self.standing = paste(self.document, self.clip, self.part).part
        return True

    def duplicate(self) -> bool:
        """Puts one more like it in, and stands on it."""
        change = duplicate(self.document, self.part)
        if change is not None:
            self.standing = change.part
        return change is not None

    def move(self, step: int) -> bool:
        """Moves the part among its like."""
        return move(self.document, self.part, step) is not None

    def take_out(self) -> str | None:
        """Takes the part out with all that hangs on it; its title, or None."""
        title = self.title
        change = take_out(self.document, self.part)
        if change is None:
            return None
        self.standing = change.part
        return title
