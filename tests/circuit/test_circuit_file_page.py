"""docs/circuit-file.md is what docs/make_circuit_file.py makes now, and its tables hold together."""

import importlib.util
import re
from pathlib import Path

import pytest

from circuitcheck.circuit.keys import SECTIONS

DOCS = Path(__file__).parents[2] / "docs"


@pytest.fixture(scope="module")
def maker():
    spec = importlib.util.spec_from_file_location("make_circuit_file", DOCS / "make_circuit_file.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_is_current(maker):
    assert (DOCS / "circuit-file.md").read_text("utf-8") == maker.page(), "run: make docs"


def test_the_page_holds_every_key(maker):
    text = maker.page()
    for section in SECTIONS.values():
        for key in section.keys.values():
            assert f"\n### `{section.name}.{key.name}`\n" in text


def test_links_within_the_page_lead_somewhere_once(maker):
    text = maker.page()
    anchors = re.findall(r'<a id="([^"]+)">', text)
    assert len(anchors) == len(set(anchors))
    assert set(re.findall(r"\]\(#([^)]+)\)", text)) == set(anchors)


def test_every_row_of_the_tables_has_four_cells(maker):
    rows = [line for line in maker.page().splitlines() if line.startswith(("| [`", "| key"))]
    assert len(rows) > 150
    assert {row.count("|") for row in rows} == {5}
