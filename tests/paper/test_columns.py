"""Plain text in columns: widths, wrapping, tables too wide for the page."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitcheck.paper import Cell, Column, Known, Outline, Row, RowKind, Section, Table
from circuitcheck.paper.columns import filled, grid_width, padded, shared_widths
from circuitcheck.paper.text_form import WIDTH, plain_text_of


def sheet(*blocks):
    return Outline(
        kind="test", banner="Banner", title="Title", subtitle="", foot="Foot", made=(2026, 1, 2),
        sections=(Section("Part", blocks),),
    )  # fmt: skip


# Widths by Unicode Standard Annex 11 (wide characters take two columns) and by combining marks taking none.
@pytest.mark.parametrize(
    ("text", "width"), [("abc", 3), ("漢字", 4), ("e\u0301", 1), ("😀", 2), ("Ω²", 2), ("क\u093fं", 2)]
)
def test_grid_width(text, width):
    assert grid_width(text) == width


@pytest.mark.parametrize("text", ["one two three four", "x" * 50, "漢" * 30, "a b " + "y" * 40, "", " lead"])
@pytest.mark.parametrize("width", [10, 17])
def test_no_line_is_wider_than_the_column_and_nothing_is_lost(text, width):
    lines = filled(text, width, first="* ", rest="  ")
    assert all(grid_width(line) <= width for line in lines)
    assert "".join("".join(line[2:].split()) for line in lines) == "".join(text.split())


def test_a_long_word_is_broken_after_its_hyphen():
    assert filled("breaker-vs-wire: feed", 14) == ["breaker-vs-", "wire: feed"]
    assert filled("a-verylongword", 6) == ["a-very", "longwo", "rd"]


def test_padding_counts_columns():
    assert padded("漢", 4) == "漢  "
    assert padded("7", 3, right=True) == "  7"


def test_columns_share_what_is_short():
    assert shared_widths([30, 10, 10], [5, 5, 5], [1, 1, 1], 60) == [30, 10, 10]
    assert shared_widths([30, 10, 10], [5, 5, 5], [1, 1, 1], 40) == [20, 10, 10]
    assert shared_widths([60, 60], [5, 5], [3, 1], 40) == [30, 10]
    assert shared_widths([60, 60], [5, 14], [9, 1], 40) == [26, 14]


@given(st.lists(st.tuples(st.integers(1, 60), st.integers(1, 12), st.floats(0.5, 6)), min_size=1, max_size=8))
def test_columns_fit_where_they_can_and_get_what_they_need(columns):
    natural = [max(want, need) for want, need, _ in columns]
    least = [need for _, need, _ in columns]
    widths = shared_widths(natural, least, [share for *_, share in columns], 78)
    assert all(need <= width <= want for need, width, want in zip(least, widths, natural, strict=True))
    assert sum(widths) <= max(78, sum(least))


def test_a_table_that_fits_stands_in_columns():
    table = Table(
        "Title",
        (Column("Name"), Column("Value", numeric=True)),
        (
            Row((Cell("Group"),), RowKind.GROUP),
            Row((Cell("first"), Cell("1.25", Known.MEASURED))),
            Row((Cell("all"), Cell("1.25")), RowKind.TOTAL),
        ),
        "Note",
    )
    lines = plain_text_of(sheet(table)).split("\n")
    assert "first  1.25 (●\u00a0measured)" in lines
    assert lines[lines.index("first  1.25 (●\u00a0measured)") + 2] == "all" + "1.25".rjust(
        len("first  1.25 (●\u00a0measured)") - 3
    )


def test_a_table_that_does_not_fit_becomes_a_list():
    columns = tuple(Column(f"Column {number}") for number in range(14))
    row = Row(tuple(Cell(f"value{number}") for number in range(14)))
    text = plain_text_of(sheet(Table("", columns, (row,))))
    assert all(grid_width(line) <= WIDTH for line in text.split("\n"))
    assert "Column 13 value13" in " ".join(text.split())


def test_a_blank_cell_is_a_line_to_write_on():
    text = plain_text_of(sheet(Table("", (Column("A"), Column("B")), (Row((Cell("x"), Cell("", blank=True))),))))
    assert "________" in text
