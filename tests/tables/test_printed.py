"""What a book always prints: a table that is asked so has it in every row that can be asked for."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import circuitcheck
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.errors import TableError
from circuitcheck.tables.rulebook import all_table_names, editions, load_rulebook, read_table, vocabulary

PACKAGE = Path(circuitcheck.__file__).parent
BOOKS = [load_rulebook(edition) for edition in editions("nec")]
#: Columns that are empty in some row, and what makes sure that such a row is not asked: a test of its own below.
EMPTY_SOMEWHERE = {
    "power": "class 2 sources: there where there is no current",
    "up_to": "class 2 sources: in the last row",
    "in_room": "there where there is a room",
    "question": "there where the answer is to ask",
}


def constants(argument: ast.expr) -> Iterator[str]:
    """The columns that an argument may name; of one that is put together, nothing."""
    if isinstance(argument, ast.IfExp):
        yield from constants(argument.body)
        yield from constants(argument.orelse)
    elif isinstance(argument, ast.Constant):
        yield str(argument.value)


def printed_columns() -> set[str]:
    """The columns that any module takes for printed in every row."""
    columns = set()
    texts = (file.read_text("utf-8") for file in PACKAGE.rglob("*.py"))
    for text in (text for text in texts if "printed_" in text):  # every process that collects tests reads them
        for node in ast.walk(ast.parse(text)):
            called = node.func if isinstance(node, ast.Call) else None
            if isinstance(called, ast.Attribute) and called.attr in ("printed_number", "printed_text"):
                columns.update(constants(node.args[0]))
    return columns


COLUMNS = sorted(printed_columns())
HELD = {name: {column.name for column in read_table(name).columns} for name in all_table_names()}


def test_the_columns_are_found_and_stand_in_tables() -> None:
    assert {"area", "volume", "rating", "hole", "notch", "steel", "nonmetallic", "reason"} <= set(COLUMNS)
    assert set(COLUMNS) <= set().union(*HELD.values())
    assert set(EMPTY_SOMEWHERE) <= set(COLUMNS)


@pytest.mark.parametrize("column", [column for column in COLUMNS if column not in EMPTY_SOMEWHERE])
def test_a_column_that_is_always_printed_is_empty_in_no_row(column: str) -> None:
    empty = [
        (edition, name, row.key)
        for name, columns in HELD.items()
        if column in columns
        for edition, table in read_table(name).tables.items()
        for row in table.rows
        if row.cells[column] is None
    ]
    assert empty == []


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.edition)
def test_those_that_are_empty_somewhere_are_printed_where_they_are_asked(book) -> None:
    for kind in ("ac", "dc"):
        rows = book.table(f"class-2-{kind}").rows
        assert all((row.number("current") is None) != (row.number("power") is None) for row in rows)
        assert rows[-1].number("up_to") is not None
    for row in book.table("circuit-uses").rows:
        assert (row.text("own_room") is None) == (row.text("in_room") is None)
    for row in book.table("cable-places").rows:
        assert row.text("question") or "ask" not in {row.text(column) for column in ("damp", "wet", "buried")}


@pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.edition)
def test_rows_and_bands_that_are_taken_for_printed_are_there(book) -> None:
    assert [row.key[0] for row in book.table("cable-types").rows] == list(vocabulary()["cable.type"])
    serves, member = SECTIONS["supply"].keys["serves"], SECTIONS["framing"].keys["member"]
    assert {row.key[0] for row in book.table("circuit-uses").rows} >= set(serves.words)
    kinds = {row.key[0] for row in book.table("framing-cuts").rows}
    for word in set(member.words) - {"truss"}:
        assert {word} <= kinds or {f"bearing {word}", f"non-bearing {word}"} <= kinds
    assert "doubled bearing stud" in kinds
    for count in (0, 1, 3, 4, 6, 7, 9, 10, 20, 21, 30, 31, 40, 41, 1000):
        assert book.table("conductor-count-adjustment").printed_band(count).printed_number("factor") > 0.0


def test_an_empty_cell_a_row_and_a_band_that_are_not_there_are_named() -> None:
    book = BOOKS[0]
    row = book.table("conductors").printed_row("1 AWG")
    assert row.number("copper_solid") is None
    with pytest.raises(TableError, match=r"^table conductors: row 1 AWG: column copper_solid is empty$"):
        row.printed_number("copper_solid")
    with pytest.raises(TableError, match=r"^table circuit-uses: row individual: column own_room is empty$"):
        book.table("circuit-uses").printed_row("individual").printed_text("own_room")
    with pytest.raises(TableError, match=r"^table conductors has no row 15 AWG$"):
        book.table("conductors").printed_row("15 AWG")
    with pytest.raises(TableError, match=r"^table ambient-correction has no band for 200$"):
        book.table("ambient-correction").printed_band(200.0)
    # NFPA 70, Chapter 9, Table 8: 1 AWG is 83690 circular mils, which is 42.41 mm^2
    assert row.printed_number("area") == pytest.approx(42.41e-6, rel=1e-3)
    assert book.table("circuit-uses").printed_row("garage").printed_text("own_room") == "garage"
