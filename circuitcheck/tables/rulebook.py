"""A rulebook: one edition's tables and values, each handed out together with its source.

Tables and values are read when first asked for and once a process, so that a check pays only for what it uses.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, TypeVar

from circuitcheck.errors import NotInBookError
from circuitcheck.tables.cells import Cell
from circuitcheck.tables.editions import Edition, editions_listed
from circuitcheck.tables.loading import TableFile, all_table_names, table_file
from circuitcheck.tables.table import Row, Table, Value
from circuitcheck.tables.values import all_value_names, value_by_edition

__all__ = [
    "Cell",
    "Edition",
    "Row",
    "Rulebook",
    "Table",
    "TableFile",
    "Value",
    "all_table_names",
    "all_value_names",
    "edition_details",
    "editions",
    "editions_beside",
    "load_rulebook",
    "newest_edition",
    "read_table",
    "vocabulary",
]

Held = TypeVar("Held", Table, Value)


@dataclass(frozen=True, slots=True)
class Rulebook:
    """Everything that one edition says. Rules receive it as an argument; there is no current edition anywhere."""

    edition: str
    title: str
    tables: Mapping[str, Table]
    values: Mapping[str, Value]
    #: Tables and values that this book does not have although others do.
    lacks: frozenset[str] = frozenset()
    #: What others worked out of this book alone, so that it is worked out once.
    worked_out: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    #: The values that were asked for: rules ask for the same ones again and again.
    _asked: dict[str, Value] = field(default_factory=dict, init=False, repr=False, compare=False)

    def table(self, name: str) -> Table:
        """The table of that name.

        Raises: NotInBookError when this edition has none: a rule that can live without asks ``tables``.
        """
        try:
            return self.tables[name]
        except KeyError:
            raise NotInBookError(self.edition, f"table {name!r}", absent=name in self.lacks) from None

    def value(self, name: str) -> Value:
        """The single value of that name. Raises: NotInBookError when this edition has none."""
        value = self._asked.get(name)
        if value is None:
            try:
                value = self._asked[name] = self.values[name]
            except KeyError:
                raise NotInBookError(self.edition, f"value {name!r}", absent=name in self.lacks) from None
        return value

    def recording(self, read: set[str]) -> Rulebook:
        """The same book, which writes down in ``read`` what is asked of it: ``ampacity``, ``value:ambient-base``."""
        tables, values = _Recorded(self.tables, read, ""), _Recorded(self.values, read, "value:")
        return Rulebook(self.edition, self.title, tables, values, self.lacks)

    def find_value(self, name: str) -> Value | None:
        """The single value of that name, or None when this edition has none (a rule that came with a later edition)."""
        return self.values.get(name)


class _Recorded(Mapping[str, Held]):
    """A mapping that writes down which names were asked for, present or not."""

    def __init__(self, held: Mapping[str, Held], read: set[str], prefix: str) -> None:
        self._held: Mapping[str, Held] = held
        self._read, self._prefix = read, prefix

    def __getitem__(self, name: str) -> Held:
        self._read.add(self._prefix + name)
        return self._held[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._held)

    def __len__(self) -> int:
        return len(self._held)


class _Tables(Mapping[str, Table]):
    """The tables of one edition, each read when first asked for."""

    def __init__(self, edition: str) -> None:
        self._edition = edition
        self._known: dict[str, Table] = {}

    def __getitem__(self, name: str) -> Table:
        table = self._known.get(name)
        if table is None:
            table = self._known[name] = table_file(name).tables[self._edition]
        return table

    def __iter__(self) -> Iterator[str]:
        return (name for name in all_table_names() if self._edition in table_file(name).tables)

    def __len__(self) -> int:
        return sum(1 for _ in self)


class _Values(Mapping[str, Value]):
    """The single values of one edition, each read when first asked for."""

    def __init__(self, edition: str) -> None:
        self._edition = edition
        self._known: dict[str, Value] = {}

    def __getitem__(self, name: str) -> Value:
        value = self._known.get(name)
        if value is None:
            value = self._known[name] = value_by_edition(name)[self._edition]
        return value

    def __iter__(self) -> Iterator[str]:
        return (name for name in all_value_names() if self._edition in value_by_edition(name))

    def __len__(self) -> int:
        return sum(1 for _ in self)


def editions(book: str | None = None) -> tuple[str, ...]:
    """Names of the rulebooks that ``tables/`` carries (``nec-2017`` …), oldest first; of one ``book``, or of all."""
    return tuple(edition.name for edition in editions_listed().values() if book in (None, edition.book))


def newest_edition() -> str:
    """The edition that is taken while nobody has said which: the newest of the book that is listed first."""
    listed = edition_details()
    return editions(listed[0].book)[-1]


def editions_beside(name: str) -> tuple[str, ...]:
    """The editions of the book that the rulebook of that name belongs to, oldest first. Raises: KeyError."""
    return editions(editions_listed()[name].book)


def edition_details() -> tuple[Edition, ...]:
    """The rulebooks with title, country, document and year, in the same order."""
    return tuple(editions_listed().values())


@cache
def load_rulebook(edition: str) -> Rulebook:
    """The rulebook of that name. Raises: KeyError for an unknown name; TableError, on use, for a wrong table."""
    listed = editions_listed()[edition]
    return Rulebook(edition, listed.title, _Tables(edition), _Values(edition), listed.lacks)


def read_table(name: str) -> TableFile:
    """The table of that name with every version, for printing. Raises: KeyError for an unknown name."""
    return table_file(name)


@cache
def vocabulary() -> Mapping[str, tuple[str, ...]]:
    """Words that the tables allow for text keys of the circuit file, over all editions.

    Keys are ``section.key``: ``job.rulebook``, ``box.trade_size``, ``cable.type``, ``size`` (any conductor size) …
    The reader takes it as an argument, so that ``circuit`` need not know ``tables``.
    """
    awg, metric = _keys_of("conductors"), _keys_of("metric-conductors")
    return {
        "job.rulebook": editions(),
        "box.trade_size": _keys_of("box-volumes"),
        "cable.type": _keys_of("cable-types"),
        "size": awg + metric,
        "size.awg": awg,
        "size.metric": metric,
    }


def _keys_of(name: str) -> tuple[str, ...]:
    """The first key of every row of a table, over all editions, in order of first appearance."""
    tables = table_file(name).tables.values()
    return tuple(dict.fromkeys(row.key[0] for table in tables for row in table.rows))
