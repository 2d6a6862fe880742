"""docs/circuit-file.md is what making/make_circuit_file.py makes now, and its tables hold together."""

import re
from pathlib import Path

from circuitcheck.circuit.keys import SECTIONS
from making import make_circuit_file

DOCS = Path(__file__).parents[2] / "docs"


def test_the_page_is_current():
    assert (DOCS / "circuit-file.md").read_text("utf-8") == make_circuit_file.page(), "run: make docs"


def test_the_page_holds_every_key():
    text = make_circuit_file.page()
    for section in SECTIONS.values():
        for key in section.keys.values():
            assert f"\n### `{section.name}.{key.name}`\n" in text


def test_links_within_the_page_lead_somewhere_once():
    text = make_circuit_file.page()
    anchors = re.findall(r'<a id="([^"]+)">', text)
    assert len(anchors) == len(set(anchors))
    assert set(re.findall(r"\]\(#([^)]+)\)", text)) == set(anchors)


def test_every_row_of_the_tables_has_four_cells():
    rows = [line for line in make_circuit_file.page().splitlines() if line.startswith(("| [`", "| key"))]
    assert len(rows) > 150
    assert {row.count("|") for row in rows} == {5}
