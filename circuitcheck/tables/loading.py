"""The table files: read once a process and checked as they are read; every row gets its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from circuitcheck.errors import TableError
from circuitcheck.findings import Reading, Source, Status
from circuitcheck.tables.cells import Cell, Column, cell_from, check_bands, check_direction, column_from
from circuitcheck.tables.editions import Edition, check_editions, editions_listed, parse, tables_folder
from circuitcheck.tables.table import Row, Table

TABLE_KEYS = frozenset({"name", "title", "key", "columns", "version", "note"})
VERSION_KEYS = frozenset(
    {"editions", "document", "edition", "place", "status", "checked", "read", "formula", "rows", "row_status"}
)
SOURCE_KEYS = frozenset({"document", "edition", "place", "status", "checked", "read", "formula", "note"})


def table_names_in(folder: Path) -> tuple[str, ...]:
    """Names of the table files in ``folder``, sorted."""
    return tuple(
        sorted(
            file.stem
            for file in folder.glob("*.toml")
            if file.stem != "rulebooks" and not file.stem.startswith("values-")
        )
    )


def source_from(fields: Mapping[str, Any], edition: Edition, where: str) -> Source:
    """The source that a version, a row or a single value states for one edition.

    Raises: TableError when a field is missing, ``published`` names nothing read or not how, or ``derived`` no formula.
    """
    named = _for_edition(fields.get("status", ""), edition, where)
    try:
        status = Status(named)
    except ValueError:
        raise TableError(f"{where}: status {named!r} is not one of {[str(known) for known in Status]}") from None
    checked = _for_edition(fields.get("checked", ""), edition, where, absent="")
    if status is Status.DERIVED:
        checked = _for_edition(fields.get("formula", ""), edition, where, absent="") or checked
        if not checked:
            raise TableError(f"{where}: derived, but no formula is named")
    if status is Status.PUBLISHED and not checked:
        raise TableError(f"{where}: published, but nothing that it was checked against is named")
    document = _for_edition(fields.get("document", ""), edition, where)
    place = _for_edition(fields.get("place", ""), edition, where)
    if status is Status.COMMON_PRACTICE:
        document = document or str(status)
    elif not document or not place:
        raise TableError(f"{where}: {'document' if not document else 'place'} is missing")
    year = _for_edition(fields.get("edition", edition.year if document == edition.document else ""), edition, where)
    return Source(document, year, place, status, checked, _reading(fields, edition, where, status, checked))


def _reading(fields: Mapping[str, Any], edition: Edition, where: str, status: Status, checked: str) -> Reading | None:
    """Whether what ``checked`` names was read first-hand. Raises: TableError where it must be said and is not."""
    named = _for_edition(fields.get("read", ""), edition, where, absent="")
    if named not in {"", *Reading}:
        raise TableError(f"{where}: read {named!r} is not one of {[str(known) for known in Reading]}")
    if named and not checked:
        raise TableError(f"{where}: read {named}, but nothing is named that was read")
    if not named and checked and status is Status.PUBLISHED:
        raise TableError(f"{where}: published, but not whether it was read first-hand or second-hand")
    return Reading(named) if named else None


def _for_edition(field: object, edition: Edition, where: str, absent: str | None = None) -> str:
    """A field that may say one thing for all editions or name each."""
    if isinstance(field, Mapping):
        strangers = sorted(set(field) - set(editions_listed()))
        if strangers:
            raise TableError(f"{where}: unknown edition {strangers[0]!r}")
        if edition.name not in field and absent is None:
            raise TableError(f"{where}: no entry for {edition.name}")
        return str(field.get(edition.name, absent)).strip()
    return str(field).strip()


@dataclass(frozen=True, slots=True)
class TableFile:
    """One parsed and checked table file: its header, and one table for each edition that it serves.

    ``row_notes`` holds remarks on single rows, by row key.
    """

    name: str
    title: str
    note: str
    columns: tuple[Column, ...]
    tables: Mapping[str, Table]
    versions: tuple[tuple[str, ...], ...]
    row_notes: Mapping[str, str]


def table_file_from(text: str, stem: str) -> TableFile:
    """The table file in ``text``; ``stem`` is its file name without ``.toml``.

    Raises: TableError naming file and row for whatever cannot be right.
    """
    where = f"{stem}.toml"
    data = parse(text, where)
    _refuse_unknown(data, TABLE_KEYS, where)
    if data.get("name") != stem:
        raise TableError(f"{where}: name is {data.get('name')!r}, not {stem!r}")
    if not data.get("title") or not data.get("version"):
        raise TableError(f"{where}: no {'title' if not data.get('title') else 'version'}")
    columns = tuple(column_from(name, header, where) for name, header in data.get("columns", {}).items())
    key_columns = tuple(data.get("key", ()))
    names = [column.name for column in columns]
    if not key_columns or not set(key_columns) <= set(names):
        raise TableError(f"{where}: key {list(key_columns)} names no columns")
    check_editions([version.get("editions", []) for version in data["version"]], stem, where, gaps=False)
    tables: dict[str, Table] = {}
    for version in data["version"]:
        _refuse_unknown(version, VERSION_KEYS, where)
        if not version.get("editions"):
            raise TableError(f"{where}: a version without editions")
        tables.update(_tables_of(version, columns, key_columns, data, where))
    versions = tuple(tuple(version["editions"]) for version in data["version"])
    notes = {
        key: own["note"]
        for version in data["version"]
        for key, own in version.get("row_status", {}).items()
        if own.get("note")
    }
    return TableFile(stem, data["title"], data.get("note", ""), columns, tables, versions, notes)


def _refuse_unknown(given: Mapping[str, Any], known: frozenset[str], where: str) -> None:
    unknown = sorted(set(given) - known)
    if unknown:
        raise TableError(f"{where}: unknown key {unknown[0]!r}")


def _tables_of(
    version: Mapping[str, Any],
    columns: tuple[Column, ...],
    key_columns: tuple[str, ...],
    header: Mapping[str, Any],
    where: str,
) -> dict[str, Table]:
    """One table for each edition of a version, sharing cells."""
    positions = [i for i, column in enumerate(columns) if column.name in key_columns]
    keys: list[tuple[str, ...]] = []
    cells: list[dict[str, Cell]] = []
    seen: set[tuple[str, ...]] = set()
    for raw in version.get("rows", ()):
        key = tuple(_key_text(raw[i]) for i in positions if i < len(raw))
        at = f"{where}: row {' | '.join(key)}"
        if len(raw) != len(columns):
            raise TableError(f"{at}: {len(raw)} cells, {len(columns)} columns")
        if key in seen:
            raise TableError(f"{at}: stands twice in one version")
        seen.add(key)
        keys.append(key)
        cells.append({column.name: cell_from(value, column, at) for column, value in zip(columns, raw, strict=True)})
    if not keys:
        raise TableError(f"{where}: a version without rows")
    texts = [" | ".join(key) for key in keys]
    for column in columns:
        if column.direction:
            check_direction(column, [row[column.name] for row in cells], texts, where)
    if {"above", "up_to"} <= {column.name for column in columns}:
        check_bands([(row["above"], row["up_to"]) for row in cells], where)
    own = version.get("row_status", {})
    strangers = sorted(set(own) - set(texts))
    if strangers:
        raise TableError(f"{where}: row_status names no row: {strangers[0]!r}")
    units = {column.name: column.unit for column in columns if column.kind == "number"}
    tables: dict[str, Table] = {}
    for name in version["editions"]:
        edition = editions_listed()[name]
        common = source_from(version, edition, where)
        rows = []
        for key, text, row in zip(keys, texts, cells, strict=True):
            source = common
            if text in own:
                _refuse_unknown(own[text], SOURCE_KEYS, f"{where}: row {text}")
                inherited = {k: v for k, v in version.items() if k in ("document", "edition", "place")}
                source = source_from({**inherited, **own[text]}, edition, f"{where}: row {text}")
            rows.append(Row(header["name"], key, row, source))
        tables[name] = Table(header["name"], header["title"], tuple(rows), units)
    return tables


def _key_text(raw: object) -> str:
    return f"{raw:g}" if isinstance(raw, int | float) and not isinstance(raw, bool) else str(raw)


@cache
def table_file(name: str) -> TableFile:
    """The table file of that name, read once a process. Raises: TableError; KeyError when there is no such file."""
    file = tables_folder() / f"{name}.toml"
    if name not in all_table_names():
        raise KeyError(name)
    return table_file_from(file.read_text("utf-8"), name)


@cache
def all_table_names() -> tuple[str, ...]:
    """Names of all tables in ``tables/``, sorted."""
    return table_names_in(tables_folder())
