"""docs/tables.md is what docs/make_tables.py makes now, and lists everything."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from circuitcheck.tables.rulebook import all_table_names, all_value_names

DOCS = Path(__file__).parents[2] / "docs"


@pytest.fixture(scope="module")
def maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_tables", DOCS / "make_tables.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_is_current(maker: ModuleType) -> None:
    assert (DOCS / "tables.md").read_text("utf-8") == maker.page(), "run: make docs"


def test_the_page_lists_every_table_and_value(maker: ModuleType) -> None:
    text = maker.page()
    for name in all_table_names():
        assert f"\n### {name}\n" in text
    for name in all_value_names():
        assert f"\n| {name} | nec-" in text


def test_no_line_of_a_table_breaks(maker: ModuleType) -> None:
    """Every line of one Markdown table has as many cells as its head."""
    cells = None
    for line in maker.page().splitlines():
        if not line.startswith("|"):
            cells = None
            continue
        count = line.replace("\\|", "").count("|")
        assert cells in (None, count), line
        cells = count
