"""Cells of a table: from what the file holds to SI numbers, texts, yes/no and lists, refusing what cannot be right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import isfinite
from typing import Any

from circuitcheck.errors import TableError
from circuitcheck.quantities.registry import factor

Cell = float | str | bool | tuple[str, ...] | None

#: Units that stay as printed: plain numbers, and temperatures, which are compared and never multiplied.
KEPT = frozenset({"", "degC"})
KINDS = frozenset({"number", "text", "yes/no", "list"})
DIRECTIONS = frozenset({"rises", "falls", "never falls", "never rises"})


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table as its header states it. ``least`` and ``greatest`` are in ``unit``, as printed."""

    name: str
    kind: str = "number"
    unit: str = ""
    least: float | None = None
    greatest: float | None = None
    direction: str = ""


@cache
def unit_factor(unit: str) -> float:
    """How many SI units one ``unit`` is; 1 for units that stay as printed. Raises: TableError for an unknown unit."""
    if unit in KEPT:
        return 1.0
    try:
        return factor(unit)
    except ValueError as error:
        raise TableError(f"unknown unit {unit!r}") from error


def column_from(name: str, header: Mapping[str, Any], where: str) -> Column:
    """The column that a header entry describes. Raises TableError for an unknown word in it."""
    unknown = set(header) - {"kind", "unit", "least", "greatest", "direction"}
    if unknown:
        raise TableError(f"{where}: column {name}: unknown key {sorted(unknown)[0]!r}")
    kind = header.get("kind", "number")
    if kind not in KINDS:
        raise TableError(f"{where}: column {name}: unknown kind {kind!r}")
    if kind == "number" and "unit" not in header:
        raise TableError(f'{where}: column {name}: no unit (a plain number says unit = "")')
    if kind != "number" and set(header) - {"kind"}:
        raise TableError(f"{where}: column {name}: only numbers have a unit, a range and a direction")
    if header.get("direction", "") not in {"", *DIRECTIONS}:
        raise TableError(f"{where}: column {name}: unknown direction {header['direction']!r}")
    try:
        unit_factor(header.get("unit", ""))
    except TableError as error:
        raise TableError(f"{where}: column {name}: {error}") from None
    return Column(
        name,
        kind,
        header.get("unit", ""),
        header.get("least"),
        header.get("greatest"),
        header.get("direction", ""),
    )


def cell_from(raw: object, column: Column, where: str) -> Cell:
    """The cell in SI; an empty text is an empty cell. Raises TableError for the wrong kind or a value out of range."""
    if raw == "" and isinstance(raw, str):
        return None
    if column.kind == "number":
        return _number_from(raw, column, where)
    if column.kind == "text" and isinstance(raw, str):
        return raw
    if column.kind == "yes/no" and isinstance(raw, bool):
        return raw
    if column.kind == "list" and isinstance(raw, list) and all(isinstance(item, str) for item in raw):
        return tuple(raw)
    raise TableError(f"{where}: column {column.name}: {raw!r} is not {column.kind}")


def _number_from(raw: object, column: Column, where: str) -> float:
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        raise TableError(f"{where}: column {column.name}: {raw!r} is not a number in {column.unit or 'plain numbers'}")
    if not isfinite(raw):
        raise TableError(f"{where}: column {column.name}: {raw} is no number")
    if column.least is not None and raw < column.least:
        raise TableError(f"{where}: column {column.name}: {raw} is under {column.least} {column.unit}".rstrip())
    if column.greatest is not None and raw > column.greatest:
        raise TableError(f"{where}: column {column.name}: {raw} is over {column.greatest} {column.unit}".rstrip())
    return float(raw) * unit_factor(column.unit)


def check_direction(column: Column, cells: Sequence[Cell], keys: Sequence[str], where: str) -> None:
    """Refuse a column that breaks its stated direction, empty cells left out. Raises TableError naming the row."""
    before: float | None = None
    for cell, key in zip(cells, keys, strict=True):
        if not isinstance(cell, float):
            continue
        if before is not None and not _follows(before, cell, column.direction):
            raise TableError(f"{where}: row {key}: column {column.name} should be one that {column.direction}")
        before = cell


def _follows(before: float, cell: float, direction: str) -> bool:
    if direction == "rises":
        return cell > before
    if direction == "falls":
        return cell < before
    if direction == "never falls":
        return cell >= before
    return cell <= before


def check_bands(bands: Sequence[tuple[Cell, Cell]], where: str) -> None:
    """Refuse bands that overlap, leave a gap or run backwards. Raises TableError."""
    for (above, up_to), (next_above, _) in pairwise(bands):
        if up_to is None or up_to != next_above:
            raise TableError(f"{where}: the band after {above} to {up_to} starts at {next_above}")
    for above, up_to in bands:
        if isinstance(above, float) and isinstance(up_to, float) and above >= up_to:
            raise TableError(f"{where}: the band {above} to {up_to} holds nothing")
