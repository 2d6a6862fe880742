"""Single values of the books: ``values-*.toml``, found by name and parsed one block at a time, since few are needed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from math import nan
from pathlib import Path
from typing import Any

from circuitcheck.errors import TableError
from circuitcheck.tables.cells import Column, cell_from, unit_factor
from circuitcheck.tables.editions import check_editions, editions_listed, parse, tables_folder
from circuitcheck.tables.loading import source_from
from circuitcheck.tables.table import Value

VALUE_KEYS = frozenset(
    {
        "name",
        "value",
        "unit",
        "least",
        "greatest",
        "editions",
        "document",
        "edition",
        "place",
        "status",
        "checked",
        "read",
        "formula",
        "note",
    }
)
FILE_KEYS = frozenset({"name", "title", "note"})
HEADING = re.compile(r"^\[\[value\]\][ \t]*(?:#.*)?$", re.MULTILINE)
NAME = re.compile(r'^name[ \t]*=[ \t]*"([^"\n]*)"', re.MULTILINE)
NAME_SHAPE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def blocks_in(text: str, where: str) -> Iterator[tuple[str, str]]:
    """Name and text of each ``[[value]]`` block. Raises: TableError for a missing name."""
    parts = HEADING.split(text)
    strangers = sorted(set(parse(parts[0], where)) - FILE_KEYS)
    if strangers:
        raise TableError(f"{where}: unknown key {strangers[0]!r} before the first [[value]]")
    for part in parts[1:]:
        found = NAME.search(part)
        if found is None:
            raise TableError(f"{where}: a value without a name")
        yield found[1], part


def block_index(folder: Path) -> dict[str, tuple[str, list[str]]]:
    """Each value's file and blocks by name. Raises: TableError for a name that two files use."""
    index: dict[str, tuple[str, list[str]]] = {}
    for file in sorted(folder.glob("values-*.toml")):
        for name, block in blocks_in(file.read_text("utf-8"), file.name):
            where, blocks = index.setdefault(name, (file.name, []))
            if where != file.name:
                raise TableError(f"{file.name}: value {name} stands in {where} too")
            blocks.append(block)
    return index


@cache
def _index() -> Mapping[str, tuple[str, list[str]]]:
    return block_index(tables_folder())


@cache
def all_value_names() -> tuple[str, ...]:
    """Names of all single values, sorted."""
    return tuple(sorted(_index()))


@cache
def value_by_edition(name: str) -> Mapping[str, Value]:
    """The value of that name in each edition that has it. Raises: TableError; KeyError when no edition has it."""
    file, blocks = _index()[name]
    return values_from(blocks, name, file)


def values_from(blocks: list[str], name: str, file: str) -> dict[str, Value]:
    """The value in each edition, from all blocks of its name. Raises: TableError for whatever cannot be right."""
    where = f"{file}: value {name}"
    parsed = [parse(block, where) for block in blocks]
    check_editions([block.get("editions", []) for block in parsed], name, where, gaps=True)
    values: dict[str, Value] = {}
    kinds = {_kind(block.get("value"), block.get("unit"), where) for block in parsed}
    if len(kinds) > 1:
        raise TableError(f"{where}: not of one kind and unit in all editions")
    for block in parsed:
        unknown = sorted(set(block) - VALUE_KEYS)
        if unknown:
            raise TableError(f"{where}: unknown key {unknown[0]!r}")
        if not block.get("editions"):
            raise TableError(f"{where}: no editions")
        for edition in block["editions"]:
            values[edition] = _value_of(block, edition, name, where)
    _refuse_gap(values, where)
    return values


def _kind(raw: object, unit: object, where: str) -> tuple[str, str]:
    if isinstance(raw, bool):
        return "yes/no", ""
    if isinstance(raw, int | float):
        if not isinstance(unit, str):
            raise TableError(f'{where}: no unit (a plain number says unit = "")')
        return "number", unit
    if isinstance(raw, str):
        return "text", ""
    if isinstance(raw, list):
        return "list", ""
    raise TableError(f"{where}: value is missing")


def _value_of(block: Mapping[str, Any], edition: str, name: str, where: str) -> Value:
    if not NAME_SHAPE.fullmatch(name):
        raise TableError(f"{where}: names are lower-case words joined by hyphens")
    source = source_from(block, editions_listed()[edition], where)
    note = str(block.get("note", "")).strip()
    raw = block["value"]
    if isinstance(raw, bool):
        return Value(name, nan, "", "yes" if raw else "no", (), source, note)
    if isinstance(raw, str):
        return Value(name, nan, "", raw, (), source, note)
    if isinstance(raw, list):
        return Value(name, nan, "", "", tuple(str(item) for item in raw), source, note)
    unit = block["unit"]
    try:
        unit_factor(unit)
    except TableError as error:
        raise TableError(f"{where}: {error}") from None
    column = Column("value", "number", unit, block.get("least"), block.get("greatest"))
    number = cell_from(raw, column, where)
    assert isinstance(number, float)  # noqa: S101 - a number column gives a float or raises
    return Value(name, number, unit, "", (), source, note)


def _refuse_gap(values: Mapping[str, Value], where: str) -> None:
    """Refuse a value that an edition between two others lacks: it would be a slip, not a rule that came or went."""
    books: dict[str, list[bool]] = {}
    for edition in editions_listed().values():
        books.setdefault(edition.book, []).append(edition.name in values)
    for book, present in books.items():
        if True in present:
            first, last = present.index(True), len(present) - 1 - present[::-1].index(True)
            if not all(present[first : last + 1]):
                raise TableError(f"{where}: an edition of {book} in the middle is missing")
