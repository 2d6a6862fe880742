"""A rulebook: one edition's tables and values, each handed out together with its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from circuitcheck.findings import Source

Cell = float | str | bool | tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table. Numbers are in SI (the header's unit is converted on loading)."""

    table: str
    key: tuple[str, ...]
    cells: Mapping[str, Cell]
    source: Source

    def number(self, column: str) -> float | None:
        """The number in ``column`` [SI], or None where the book prints none. Raises TableError on a non-number."""
        raise NotImplementedError

    def text(self, column: str) -> str | None:
        """The text in ``column``, or None where there is none. Raises TableError on a non-text."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class Value:
    """A single value of the book with its source. Exactly one of the three is meant; the others are None or empty."""

    name: str
    number: float
    unit: str
    text: str
    items: tuple[str, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Table:
    """One printed table as one edition has it, rows in the order of the page."""

    name: str
    title: str
    rows: tuple[Row, ...]

    def find(self, *key: str) -> Row | None:
        """The row with this key (as text, e.g. ``"14 AWG"``), or None."""
        raise NotImplementedError

    def band(self, value: float) -> Row | None:
        """The row whose band holds ``value``: over ``above``, up to and including ``up_to`` (columns of the table, SI;
        an empty cell is open-ended). None outside every band. Bands are never interpolated."""
        raise NotImplementedError

    def first_at_least(self, column: str, value: float) -> Row | None:
        """The row with the least number in ``column`` that is not under ``value``, or None."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class Rulebook:
    """Everything that one edition says. Rules receive it as an argument; there is no current edition anywhere."""

    edition: str
    title: str
    tables: Mapping[str, Table]
    values: Mapping[str, Value]

    def table(self, name: str) -> Table:
        """The table of that name. Raises TableError when this edition has none: a rule that can live without asks ``tables``."""
        raise NotImplementedError

    def value(self, name: str) -> Value:
        """The single value of that name. Raises TableError when this edition has none."""
        raise NotImplementedError

    def find_value(self, name: str) -> Value | None:
        """The single value of that name, or None when this edition has none (a rule that came with a later edition)."""
        return self.values.get(name)


def editions() -> tuple[str, ...]:
    """Names of the rulebooks that ``tables/`` carries (``nec-2017`` …), oldest first."""
    raise NotImplementedError


def load_rulebook(edition: str) -> Rulebook:
    """The rulebook of that name. Raises KeyError for an unknown name, TableError for a wrong table."""
    raise NotImplementedError


def vocabulary() -> Mapping[str, tuple[str, ...]]:
    """Words that the tables allow for text keys of the circuit file, over all editions.

    Keys are ``section.key``: ``job.rulebook``, ``box.trade_size``, ``cable.type``, ``size`` (any conductor size) …
    The reader takes it as an argument, so that ``circuit`` need not know ``tables``.
    """
    raise NotImplementedError
