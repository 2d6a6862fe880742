"""docs/tables.md is what making/make_tables.py makes now, and lists everything."""

from pathlib import Path

from circuitcheck.tables.rulebook import all_table_names, all_value_names
from making import make_tables

DOCS = Path(__file__).parents[2] / "docs"


def test_the_page_is_current() -> None:
    assert (DOCS / "tables.md").read_text("utf-8") == make_tables.page(), "run: make docs"


def test_the_page_lists_every_table_and_value() -> None:
    text = make_tables.page()
    for name in all_table_names():
        assert f"\n### {name}\n" in text
    for name in all_value_names():
        assert f"\n| {name} | nec-" in text


def test_no_line_of_a_table_breaks() -> None:
    """Every line of one Markdown table has as many cells as its head."""
    cells = None
    for line in make_tables.page().splitlines():
        if not line.startswith("|"):
            cells = None
            continue
        count = line.replace("\\|", "").count("|")
        assert cells in (None, count), line
        cells = count
