"""The circuit file as it is worked on: blocks, every change undoable, and where it stands on disk."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from circuitcheck.circuit.toml_text import decoded, parsed, read_bytes
from circuitcheck.circuit.written.block import Block, block_from, blocks_of, text_of
from circuitcheck.circuit.written.entry_text import table_text
from circuitcheck.errors import CircuitFileError
from circuitcheck.paper.writing import write_whole
from circuitcheck.ui.document.disk import (
    Stamp,
    drop_recovery,
    fingerprint,
    recovery_path,
    stamp_of,
    write_recovery,
)
from circuitcheck.ui.document.history import Change, History, Splice, apply_all
from circuitcheck.ui.document.long_form import LongForm, long_form

_documents = itertools.count(1)


def parsed_blocks(text: str, file: str) -> tuple[Block, ...]:
    """The text's blocks; a file laid out in an unusual way is rewritten in the usual one. Raises CircuitFileError."""
    whole = parsed(text, file)
    try:
        return blocks_of(text, whole)
    except ValueError:
        rewritten = standard_layout(whole)
        return blocks_of(rewritten, parsed(rewritten, file))


def standard_layout(data: Mapping[str, Any]) -> str:
    """The same entries, one table after another. Comments are lost, so this is only for files that need it."""
    plain = {key: value for key, value in data.items() if not isinstance(value, dict | list)}
    pieces = [table_text("", repeated=False, entries=plain).partition("\n")[2]] if plain else []
    for name, value in data.items():
        if name == "defaults" and isinstance(value, dict) and all(isinstance(table, dict) for table in value.values()):
            pieces.extend(
                table_text(f"{name}.{inner}", repeated=False, entries=table) for inner, table in value.items()
            )
        elif isinstance(value, dict):
            pieces.append(table_text(name, repeated=False, entries=value))
        elif isinstance(value, list):
            pieces.extend(table_text(name, repeated=True, entries=item) for item in value if isinstance(item, dict))
    return "".join(pieces)


def _blank_lines_missing(text: str) -> str:
    """The line ends that a text needs before another table may follow it after a blank line."""
    end = "\r\n" if "\r\n" in text else "\n"
    if not text or text.endswith(end + end):
        return ""
    return end if text.endswith("\n") else end + end


class Document:
    """One circuit file in work. Knows no screen; whoever changes it shows it again."""

    def __init__(self, path: Path, text: str, *, on_disk: str | None, taken_from: Path | None = None) -> None:
        """Takes the text to work on and the text that is on disk (None: the file is not there yet).

        ``taken_from``: the recovery copy that the text was read from; it goes once the text is kept elsewhere.

        Raises: CircuitFileError when the text is no TOML.
        """
        self.path = path
        self.blocks: tuple[Block, ...] = parsed_blocks(text, str(path))
        self.history = History()
        self.rearranged = text_of(self.blocks) != text
        self._on_disk = on_disk
        self._taken_from = taken_from
        self._stamp = stamp_of(path)
        self.number = next(_documents)
        self._spelled_out = LongForm(())
        if on_disk != text or self.rearranged:
            self.history.mark_unsaved()

    @classmethod
    def opened(cls, path: Path) -> Document:
        """The file as it is on disk. Raises CircuitFileError."""
        text = decoded(read_bytes(path), str(path))
        return cls(path, text, on_disk=text)

    @property
    def text(self) -> str:
        """The file's text as it would be saved."""
        return text_of(self.blocks)

    @property
    def parts(self) -> tuple[Block, ...]:
        """The blocks with all short forms spelled out: a light is three parts under its block's number."""
        if self._spelled_out.blocks is not self.blocks:
            self._spelled_out = long_form(self.blocks)
        return self._spelled_out.parts

    @property
    def reasons(self) -> Mapping[str, str]:
        """Key path of an entry that a short form stands for -> where it comes from."""
        return self._spelled_out.reasons if self.parts is not self.blocks else {}

    @property
    def changed(self) -> bool:
        """Whether there is unsaved work."""
        return self.history.changed

    @property
    def is_new(self) -> bool:
        """Whether the file is not on disk yet."""
        return self._on_disk is None

    def block(self, number: int) -> Block | None:
        """The block of that number, or None when it is gone."""
        return next((block for block in self.blocks if block.number == number), None)

    def place(self, number: int) -> int:
        """Where the block stands. Raises KeyError when it is gone."""
        for index, block in enumerate(self.blocks):
            if block.number == number:
                return index
        raise KeyError(number)

    def first(self, section: str) -> Block | None:
        """The first block of a section."""
        return next((block for block in self.blocks if block.section == section), None)

    def named(self, section: str, id: str) -> Block | None:
        """The part with that id; one that a short form stands for where no table has it."""
        same = (block for block in (*self.blocks, *self.parts) if block.section == section and block.id == id)
        return next(same, None)

    def ids(self, sections: Iterable[str]) -> tuple[str, ...]:
        """The ids of every part of these sections, in file order."""
        wanted = set(sections)
        written = [block.id for block in self.blocks if block.section in wanted and block.id]
        return tuple(dict.fromkeys([*written, *(part.id for part in self.parts if part.section in wanted and part.id)]))

    def apply(self, change: Change) -> None:
        """Makes a change and remembers it. A change without splices is none."""
        if not change.splices:
            return
        self.blocks = apply_all(change.splices, self.blocks)
        self.history.add(change)

    def rewrite(
        self, says: str, texts: Mapping[int, Callable[[str], str]], *, key: str = "", session: str = ""
    ) -> Change | None:
        """Rewrites the texts of some blocks as one change; None when nothing became different.

        Raises: ValueError when a text is no longer the table it was (nothing is changed then).
        """
        splices: list[Splice] = []
        for number, rewriting in texts.items():
            place = self.place(number)
            block = self.blocks[place]
            text = rewriting(block.text)
            if text != block.text:
                splices.append(Splice(place, (block,), (block.rewritten(text),)))
        if not splices:
            return None
        change = Change(says, tuple(splices), next(iter(texts)), key, session)
        self.apply(change)
        return change

    def insert(self, says: str, texts: Sequence[str], *, after: int = 0) -> Change:
        """Puts new tables in as one change: the first behind block ``after``, others behind the last of their section.

        The change stands on the last of them. Raises ValueError when a text is not one table.
        """
        splices: list[Splice] = []
        blocks: Sequence[Block] = self.blocks
        number = 0
        for text in texts:
            new = block_from(text)
            number = new.number
            at = self._place_for(blocks, new, after if not splices else 0)
            if at and (missing := _blank_lines_missing(blocks[at - 1].text)):
                before = blocks[at - 1]
                splices.append(Splice(at - 1, (before,), (before.rewritten(before.text + missing),)))
            splices.append(Splice(at, (), (new,)))
            blocks = apply_all(splices, self.blocks)
        change = Change(says, tuple(splices), number)
        self.apply(change)
        return change

    @staticmethod
    def _place_for(blocks: Sequence[Block], new: Block, after: int) -> int:
        """Behind block ``after``, or behind the last block of the new one's section, or at the end."""
        same = [index for index, block in enumerate(blocks) if block.section == new.section]
        behind = [index for index, block in enumerate(blocks) if block.number == after]
        return (behind or same or [len(blocks) - 1])[-1] + 1

    def remove(
        self, says: str, numbers: Iterable[int], *, stand_on: int, rewritten: Mapping[int, str] | None = None
    ) -> Change:
        """Takes parts out as one change, and gives others the texts in ``rewritten``."""
        gone = set(numbers)
        splices: list[Splice] = []
        for index in range(len(self.blocks) - 1, -1, -1):
            block = self.blocks[index]
            if block.number in gone:
                splices.append(Splice(index, (block,), ()))
            elif rewritten and block.number in rewritten:
                splices.append(Splice(index, (block,), (block.rewritten(rewritten[block.number]),)))
        change = Change(says, tuple(splices), stand_on)
        self.apply(change)
        return change

    def replace_all(self, says: str, text: str) -> None:
        """Puts a whole other text in place, as one change that undo takes back. Raises CircuitFileError."""
        blocks = parsed_blocks(text, str(self.path))
        known = {(block.section, block.id): block.number for block in self.blocks}
        renumbered = tuple(
            Block(block.text, block.section, block.repeated, block.data, known.pop((block.section, block.id)))
            if (block.section, block.id) in known
            else block
            for block in blocks
        )
        self.apply(Change(says, (Splice(0, self.blocks, renumbered),), 0))

    def undo(self) -> Change | None:
        """Takes the latest change back; None when there is none."""
        change = self.history.undo()
        if change is not None:
            self.blocks = apply_all((splice.reversed for splice in reversed(change.splices)), self.blocks)
        return change

    def drop(self, session: str) -> bool:
        """Takes back for good what one visit to a field did, when it was the latest change."""
        change = self.history.drop(session)
        if change is not None:
            self.blocks = apply_all((splice.reversed for splice in reversed(change.splices)), self.blocks)
        return change is not None

    def take_back(self, mark: Change | None) -> tuple[Change, ...]:
        """Takes back for good all that was done after ``mark``; returns it, so that it can be done again."""
        taken = self.history.take(mark)
        for change in reversed(taken):
            self.blocks = apply_all((splice.reversed for splice in reversed(change.splices)), self.blocks)
        return taken

    def join(self, mark: Change | None, says: str) -> None:
        """Makes one step of undo of all that was done after ``mark``."""
        taken = self.history.take(mark)
        if taken:
            splices = tuple(splice for change in taken for splice in change.splices)
            self.history.add(Change(says, splices, taken[-1].part, taken[-1].key))

    def redo(self) -> Change | None:
        """Makes the change last taken back again; None when there is none."""
        change = self.history.redo()
        if change is not None:
            self.blocks = apply_all(change.splices, self.blocks)
        return change

    def save(self, path: Path | None = None) -> None:
        """Writes the file (elsewhere when ``path`` says so) and drops its recovery copy. Raises CommandError."""
        target = path or self.path
        text = self.text
        write_whole(target, text.encode(), replace=True)
        self.drop_recovery()
        self.path = target
        self._on_disk = text
        self._stamp = stamp_of(target)
        self.history.mark_saved()

    def keep_recovery(self, text: str, draft: str = "") -> None:
        """Writes the recovery copy of this document. Raises CommandError."""
        write_recovery(self.path, text, fingerprint(self._on_disk or ""), draft)
        self._drop_taken()

    def drop_recovery(self) -> None:
        """Removes the recovery copy of this document, and the one that it was taken from; those of others stay."""
        drop_recovery(self.path)
        self._drop_taken()

    def _drop_taken(self) -> None:
        if self._taken_from is not None and self._taken_from != recovery_path(self.path):
            self._taken_from.unlink(missing_ok=True)
        self._taken_from = None

    def changed_elsewhere(self) -> str | None:
        """The text now on disk when someone else changed it since it was read, else None.

        A file that was taken away counts as unchanged here: the next save writes it again.
        """
        stamp = stamp_of(self.path)
        if stamp == self._stamp or stamp == Stamp(None, None):
            return None
        try:
            text = decoded(read_bytes(self.path), str(self.path))
        except CircuitFileError:
            return None
        if text == self._on_disk:
            self._stamp = stamp
            return None
        return text

    def reload(self, text: str) -> None:
        """Takes what is on disk in place of the work here; undo takes that back. Raises CircuitFileError."""
        self.replace_all("read the file again", text)
        self._on_disk = text
        self._stamp = stamp_of(self.path)
        self.history.mark_saved()

    def take_over(self, text: str) -> None:
        """Takes what is on disk now as what the next save may replace."""
        self._on_disk = text
        self._stamp = stamp_of(self.path)
        self.history.mark_unsaved()
