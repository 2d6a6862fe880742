"""What is possible, as ``tables/possible/`` holds it: one row a key, or the reason why it may be absent."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Key
from circuitcheck.errors import TableError
from circuitcheck.findings import Source, Status
from circuitcheck.possible.entry import Later
from circuitcheck.tables.editions import parse, tables_folder

_KEYS = {
    "may_be",
    "infer",
    "absent",
    "or_absent",
    "presumed",
    "assumed",
    "time",
    "status",
    "formula",
    "document",
    "edition",
    "place",
    "checked",
}
ANYTHING, ANY_WORD, YES_OR_NO = "anything", "any word", "yes or no"
#: The inference always says what the entry can be.
AS_INFERRED = "as inferred"


@dataclass(frozen=True, slots=True)
class Declared:
    """One row: what a key can be while the file does not say.

    may_be: ``anything``, ``any word``, ``yes or no``, ``as inferred``, the list of all options, a table that names
    values of the book (``values`` with ``to``: from the value to that number; ``numbers``: the items of a value), or
    None.
    infer: the function in ``inferences`` that looks at the other entries first, empty where nothing is inferred.
    presumed: the first option counts, and is listed as assumed where an answer rests on it.
    absent: why the entry may be absent, so that a case holds None for it; empty where it never is.
    """

    key: str
    may_be: Any
    infer: str
    absent: str
    assumed: str
    later: Later | None
    presumed: bool
    source: Source | None

    @property
    def may_be_absent(self) -> bool:
        """Whether a known circuit may do without it."""
        return bool(self.absent)


@cache
def declared() -> Mapping[str, Declared]:
    """Every row by ``section.key``. Raises: TableError for a key that is missing, unknown, or has no source."""
    rows: dict[str, Declared] = {}
    for name, section in SECTIONS.items():
        file = tables_folder() / "possible" / f"{name}.toml"
        where = f"possible/{file.name}"
        texts = parse(file.read_text("utf-8"), where) if file.exists() else {}
        strangers = sorted(set(texts) - set(section.keys))
        if strangers:
            raise TableError(f"{where}: {strangers[0]!r} is no key of {name}")
        for key in section.keys.values():
            row = _row(f"{name}.{key.name}", key, texts.get(key.name), where)
            if row is not None:
                rows[row.key] = row
    return rows


def _row(name: str, key: Key, text: Mapping[str, Any] | None, where: str) -> Declared | None:
    if text is None:
        if key.required:  # a file without it is refused
            return None
        raise TableError(f"{where}: nothing says what {name} can be while it is unknown")
    unknown = sorted(set(text) - _KEYS)
    if unknown:
        raise TableError(f"{where}: {name}: unknown key {unknown[0]!r}")
    absent = text.get("absent", "")
    if text.get("or_absent") and not absent:
        if "infer" not in text:
            raise TableError(f"{where}: {name}: it may be absent, but no inference says when")
        absent = "another entry says it instead"
    if not absent and "may_be" not in text:
        raise TableError(f"{where}: {name}: neither what it may be nor why it may be absent")
    later = Later(text["time"]) if "time" in text else None
    return Declared(
        name,
        text.get("may_be"),
        text.get("infer", ""),
        absent,
        text.get("assumed", ""),
        later,
        bool(text.get("presumed")),
        _source(name, text, where),
    )


def _source(name: str, text: Mapping[str, Any], where: str) -> Source | None:
    if "status" not in text:
        if "may_be" in text:
            raise TableError(f"{where}: {name}: no status")
        return None
    status = Status(text["status"])
    checked = text.get("formula", "") if status is Status.DERIVED else text.get("checked", "")
    if status in (Status.DERIVED, Status.PUBLISHED) and not checked:
        raise TableError(f"{where}: {name}: {status} without what it rests on")
    document = text.get("document", "circuitcheck")
    return Source(document, text.get("edition", ""), text.get("place", "what is possible"), status, checked)
