"""A table's text taken apart into its entries, each with the comments that belong to it, and put together again."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from circuitcheck.circuit.written.block import Block, lines_of
from circuitcheck.circuit.written.entry_text import comment_of, entry_spans, toml_key, toml_value, with_entry

_STRING_OR_COMMENT = re.compile(
    r'''"""(?:[^"\\]|\\.|"(?!""))*"{3,5}|\'{3}.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'|\#[^\n]*''', re.DOTALL
)
_SUBTABLE = re.compile(r"^[ \t]*\[")


@dataclass(frozen=True, slots=True)
class Piece:
    """One entry: its key, the comment lines above it, and its own text with what stands behind the value."""

    key: str
    text: str
    above: str = ""

    def renamed(self, key: str) -> Piece:
        """The same value under another key."""
        start = re.match(r"""[ \t]*(?:"(?:[^"\\]|\\.)*"|'[^']*'|[A-Za-z0-9_-]+)""", self.text)
        behind = self.text[start.end() :] if start else self.text
        return replace(self, key=key, text=toml_key(key) + behind)

    def with_value(self, value: object) -> Piece:
        """Another value under the same key, with the comment that stood behind the old one."""
        return replace(self, text=f"{toml_key(self.key)} = {toml_value(value)}{comment_of(self.text)}\n")


@dataclass(frozen=True, slots=True)
class Pieces:
    """A table: what stands above its header, the header's line, its entries, and what stands behind the last one."""

    above: str
    header: str
    entries: tuple[Piece, ...]
    behind: str

    def named(self, key: str) -> Piece | None:
        """The entry under that key."""
        return next((piece for piece in self.entries if piece.key == key), None)

    @property
    def text(self) -> str:
        """The table's text."""
        return "".join([self.above, self.header, *(piece.above + piece.text for piece in self.entries), self.behind])


def entry(key: str, value: object, comment: str = "") -> Piece:
    """A new entry, with a comment behind it where one is given."""
    return Piece(key, f"{toml_key(key)} = {toml_value(value)}{f'  # {comment}' if comment else ''}\n")


def pieces_of(block: Block) -> Pieces:
    """The block's text taken apart. Keys with dots and tables inside the table are first written in braces."""
    lines = lines_of(_in_braces(block))
    if lines and not lines[-1].endswith("\n"):
        lines[-1] += "\n"
    top = next(index for index, line in enumerate(lines) if _SUBTABLE.match(line))
    spans = sorted((start, end, key) for key, places in entry_spans(lines).items() for start, end in places)
    pieces: list[Piece] = []
    at = top + 1
    for start, end, key in spans:
        pieces.append(Piece(key, "".join(lines[start:end]), "".join(lines[at:start])))
        at = end
    return Pieces("".join(lines[:top]), lines[top], tuple(pieces), "".join(lines[at:]))


def with_text(block: Block, pieces: Iterable[Piece], *, above: str = "") -> str:
    """The block's table with these entries, and more comments above its header."""
    old = pieces_of(block)
    return Pieces(above + old.above, old.header, tuple(pieces), old.behind).text


def _in_braces(block: Block) -> str:
    """The text with each entry on lines of its own; comments of tables that are moved into braces stay behind."""
    text = block.text
    for key, value in block.data.items():
        if isinstance(value, Mapping) and _is_spread(text, key):
            comments = "".join(f"{found}\n" for found in _comments_inside(text, key))
            text = with_entry(text, key, value, tuple(block.data)).rstrip("\n") + "\n" + comments
            text += "\n" if block.text.endswith("\n\n") else ""
    return text


def _is_spread(text: str, key: str) -> bool:
    """Whether the table under ``key`` is written with dots or under a header of its own."""
    name = re.escape(key)
    return bool(re.search(rf'^[ \t]*(?:\[[^\]\n]*\.[ \t]*"?{name}"?[ \t]*\]|"?{name}"?[ \t]*\.)', text, re.MULTILINE))


def _comments_inside(text: str, key: str) -> list[str]:
    """The comments that go when such a table is written in braces."""
    found: list[str] = []
    inside = False
    dotted = re.compile(rf'^[ \t]*"?{re.escape(key)}"?[ \t]*\.')
    headers = 0
    for line in lines_of(text):
        if _SUBTABLE.match(line):
            headers += 1
            inside = headers > 1
        if inside or dotted.match(line):
            comment = line.strip() if line.lstrip().startswith("#") else comment_of(line).strip()
            if comment:
                found.append(comment)
    return found


def comments_of(text: str) -> list[str]:
    """The comments in a piece of the file, without what they stand beside."""
    return [match[0].rstrip() for match in _STRING_OR_COMMENT.finditer(text) if match[0].startswith("#")]
