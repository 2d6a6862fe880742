"""Tables, rows and single values, each with its source. Numbers are in SI; temperatures in degC."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from circuitcheck.errors import TableError
from circuitcheck.findings import Source, exceeds
from circuitcheck.tables.cells import Cell


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table. Numbers are in SI (the header's unit is converted on loading)."""

    table: str
    key: tuple[str, ...]
    cells: Mapping[str, Cell]
    source: Source

    def number(self, column: str) -> float | None:
        """The number in ``column`` [SI], or None where the book prints none.

        Raises: TableError for an unknown column or a non-number.
        """
        cell = self.cells[column] if column in self.cells else self._cell(column)
        if cell is None or isinstance(cell, float):
            return cell
        raise TableError(f"table {self.table}: column {column} holds {cell!r}, not a number")

    def printed_number(self, column: str) -> float:
        """The number in ``column`` [SI] of a row where the book prints one.

        Raises: TableError naming table, row and column where it prints none, and as ``number`` does.
        """
        number = self.number(column)
        if number is None:
            raise self._empty(column)
        return number

    def text(self, column: str) -> str | None:
        """The text in ``column``, or None where there is none. Raises: TableError for another kind of column."""
        cell = self._cell(column)
        if cell is None or isinstance(cell, str):
            return cell
        raise TableError(f"table {self.table}: column {column} holds {cell!r}, not a text")

    def printed_text(self, column: str) -> str:
        """The text in ``column`` of a row that has one.

        Raises: TableError naming table, row and column where it has none, and as ``text`` does.
        """
        text = self.text(column)
        if text is None:
            raise self._empty(column)
        return text

    def yes(self, column: str) -> bool | None:
        """The yes/no in ``column``, or None where there is none. Raises: TableError for another kind of column."""
        cell = self._cell(column)
        if cell is None or isinstance(cell, bool):
            return cell
        raise TableError(f"table {self.table}: column {column} holds {cell!r}, not yes/no")

    def items(self, column: str) -> tuple[str, ...]:
        """The list in ``column``, empty where there is none. Raises: TableError for another kind of column."""
        cell = self._cell(column)
        if cell is None:
            return ()
        if isinstance(cell, tuple):
            return cell
        raise TableError(f"table {self.table}: column {column} holds {cell!r}, not a list")

    def _empty(self, column: str) -> TableError:
        return TableError(f"table {self.table}: row {' | '.join(self.key)}: column {column} is empty")

    def _cell(self, column: str) -> Cell:
        try:
            return self.cells[column]
        except KeyError:
            raise TableError(f"table {self.table} has no column {column!r}") from None


@dataclass(frozen=True, slots=True)
class Value:
    """A single value of the book with its source. Exactly one of the four is meant; the others are None or empty.

    ``number`` is in SI (temperatures in degC), ``unit`` is the unit in which the book states it, for showing.
    A yes/no is the text "yes" or "no". ``note`` is a remark in our own words.
    """

    name: str
    number: float
    unit: str
    text: str
    items: tuple[str, ...]
    source: Source
    note: str = ""

    @property
    def yes(self) -> bool:
        """Whether a yes/no value says yes. Raises: TableError for another kind of value."""
        if self.text not in {"yes", "no"}:
            raise TableError(f"value {self.name} is not yes/no")
        return self.text == "yes"


@dataclass(frozen=True, slots=True)
class Table:
    """One printed table as one edition has it, rows in the order of the page.

    ``units`` gives each number column's printed unit, for showing.
    """

    name: str
    title: str
    rows: tuple[Row, ...]
    units: Mapping[str, str] = field(default_factory=dict)
    _index: Mapping[tuple[str, ...], Row] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Index the rows by key."""
        object.__setattr__(self, "_index", {row.key: row for row in self.rows})

    def find(self, *key: str) -> Row | None:
        """The row with this key (as text, e.g. ``"14 AWG"``), or None."""
        return self._index.get(key)

    def printed_row(self, *key: str) -> Row:
        """The row with this key, of a table that has one for all that can be asked. Raises: TableError naming both."""
        row = self.find(*key)
        if row is None:
            raise TableError(f"table {self.name} has no row {' | '.join(key)}")
        return row

    def printed_band(self, value: float) -> Row:
        """The row whose band holds ``value`` [SI], of a table that leaves none out. Raises: TableError naming both."""
        row = self.band(value)
        if row is None:
            raise TableError(f"table {self.name} has no band for {value:g}")
        return row

    def band(self, value: float) -> Row | None:
        """The row whose band holds ``value`` [SI]: over ``above``, up to and including ``up_to``; None outside all.

        An empty cell is open-ended. Bands are never interpolated. Float noise at an edge counts as the edge itself.
        """
        for row in self.rows:
            up_to = row.number("up_to")
            if up_to is None or not exceeds(value, up_to):
                above = row.number("above")
                return row if above is None or exceeds(value, above) else None
        return None

    def first_at_least(self, column: str, value: float) -> Row | None:
        """The row with the least number in ``column`` that is not under ``value`` [SI], or None."""
        best: Row | None = None
        least = float("inf")
        for row in self.rows:
            number = row.number(column)
            if number is not None and number < least and not exceeds(value, number):
                best, least = row, number
        return best
