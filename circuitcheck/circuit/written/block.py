"""A circuit file cut into blocks, one a table, so that an edit reads and rewrites one block and leaves the rest alone.

Joining the blocks' texts gives the file back, letter by letter: comments, order and spacing are the user's.
"""

from __future__ import annotations

import itertools
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from circuitcheck.circuit.locator import Locator

#: A table header of one plain name, or that of a table of defaults.
_HEADER = re.compile(
    r"^[ \t]*(?:\[\[[ \t]*(?P<many>[A-Za-z0-9_-]+)[ \t]*\]\]|\[[ \t]*(?P<one>(?:defaults\.)?[A-Za-z0-9_-]+)[ \t]*\])"
)
_DEFAULTS = "defaults"

_ANY_HEADER = re.compile(r"^[ \t]*\[", re.MULTILINE)
_LINE = re.compile(r"[^\n]*\n|[^\n]+")

_numbers = itertools.count(1)


@dataclass(frozen=True, slots=True)
class Block:
    """One table of the file with the comments that stand right above it.

    ``section`` is the table's name, empty for what stands before the first table; ``defaults.cable`` for
    ``[defaults.cable]``. ``repeated`` tells ``[[box]]`` from ``[supply]``. ``number`` stays with the block through
    every edit, so that the screen can follow a part.
    """

    text: str
    section: str
    repeated: bool
    data: Mapping[str, Any]
    number: int = field(default_factory=lambda: next(_numbers))

    @property
    def id(self) -> str:
        """The part's id as text; empty where it has none."""
        value = self.data.get("id", "")
        return value if isinstance(value, str) else str(value)

    @property
    def path(self) -> str:
        """``supply`` or ``box.attic``: how findings name this part."""
        return f"{self.section}.{self.id}" if self.repeated else self.section

    def rewritten(self, text: str) -> Block:
        """Another text for this block, under the same number. Raises ValueError when the text is no such table."""
        section, repeated, data = _table_in(text)
        if (section, repeated) != (self.section, self.repeated):
            raise ValueError("the text holds another table")
        return Block(text, section, repeated, data, self.number)


def block_from(text: str) -> Block:
    """A new block out of its text. Raises ValueError when the text is not exactly one table."""
    return Block(text, *_table_in(text))


def _table_in(text: str) -> tuple[str, bool, Mapping[str, Any]]:
    """Section, whether it repeats, and the data of a text that holds one table."""
    parsed = tomllib.loads(text)
    header = next((found for line in lines_of(text) if (found := _HEADER.match(line))), None)
    if header is None:
        return "", False, parsed
    name = header["many"] or header["one"]
    table: Any = parsed
    for step in name.split("."):
        table = table.get(step) if isinstance(table, dict) else None
    if len(parsed) != 1 or (header["many"] and (not isinstance(table, list) or len(table) != 1)):
        raise ValueError("more than one table in a block")
    data = table[0] if isinstance(table, list) else table
    if not isinstance(data, dict):
        raise ValueError("not a table")
    return name, bool(header["many"]), data


def blocks_of(text: str, whole: Mapping[str, Any]) -> tuple[Block, ...]:
    """The file's blocks, in order; ``whole`` is the text as parsed.

    Raises: ValueError when its tables are laid out in a way that cannot be cut into blocks (``standard_layout``
    rewrites such a file).
    """
    lines = lines_of(text)
    locator = Locator(text)
    cuts: list[tuple[int, str, bool, Any]] = []
    plain: dict[str, Any] = {}
    for name, value in whole.items():
        if isinstance(value, list):
            cuts += [
                (_header_line(locator, lines, (name, index)), name, True, item) for index, item in enumerate(value)
            ]
        elif name == _DEFAULTS and _all_tables(value):
            cuts += [
                (_header_line(locator, lines, (name, inner)), f"{name}.{inner}", False, table)
                for inner, table in value.items()
            ]
        elif isinstance(value, dict):
            cuts.append((_header_line(locator, lines, (name,)), name, False, value))
        else:
            plain[name] = value
    cuts.sort(key=lambda cut: cut[0])
    starts = [0, *(_with_comments(lines, cut[0]) for cut in cuts), len(lines)]
    found = [Block("".join(lines[: starts[1]]), "", False, plain)]
    for number, (_, name, repeated, data) in enumerate(cuts, start=1):
        block = Block("".join(lines[starts[number] : starts[number + 1]]), name, repeated, data)
        if len(_ANY_HEADER.findall(block.text)) > 1 and _table_in(block.text) != (name, repeated, data):
            raise ValueError("a table inside a table stands apart from it")
        found.append(block)
    return tuple(found)


def _all_tables(value: object) -> bool:
    return isinstance(value, dict) and bool(value) and all(isinstance(table, dict) for table in value.values())


def _header_line(locator: Locator, lines: Sequence[str], path: tuple[str | int, ...]) -> int:
    """The line, counted from 0, of the header of a table. Raises ValueError when it has none of its own."""
    line = locator.line_of(path)
    header = _HEADER.match(lines[line - 1]) if line else None
    repeated = isinstance(path[-1], int)
    name = path[0] if repeated else ".".join(map(str, path))
    if line is None or header is None or (header["many"] if repeated else header["one"]) != name:
        raise ValueError("a table written on one line, or with dots")
    return line - 1


def _with_comments(lines: Sequence[str], line: int) -> int:
    """Where the comment lines right above a header begin; the header's own line when there are none."""
    while line and lines[line - 1].lstrip().startswith("#"):
        line -= 1
    return line


def lines_of(text: str) -> list[str]:
    """The lines with their ends. Only a line feed ends a line in TOML, whatever else ends one elsewhere."""
    return _LINE.findall(text)


def data_of(blocks: Iterable[Block]) -> dict[str, Any]:
    """What ``tomllib`` would read from the joined blocks."""
    data: dict[str, Any] = {}
    for block in blocks:
        if not block.section:
            data.update(block.data)
        elif block.repeated:
            data.setdefault(block.section, []).append(block.data)
        elif "." in block.section:
            outer, _, inner = block.section.partition(".")
            data.setdefault(outer, {})[inner] = block.data
        else:
            data[block.section] = block.data
    return data


def text_of(blocks: Iterable[Block]) -> str:
    """The file's text."""
    return "".join(block.text for block in blocks)
