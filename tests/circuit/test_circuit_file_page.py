"""docs/circuit-file.md and the page of each section are made from the keys, hold together, and show files that work."""

import re
from pathlib import Path

import pytest

from circuitcheck.checking import check
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.tables.rulebook import load_rulebook
from making import make_circuit_file

PAGES = make_circuit_file.pages()
MAIN = PAGES[make_circuit_file.PAGE]


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_a_page_is_current(path: Path) -> None:
    assert path.read_text("utf-8") == PAGES[path], "run: make docs"


def test_no_page_is_left_over() -> None:
    assert set(make_circuit_file.FOLDER.glob("*.md")) <= PAGES.keys()


@pytest.mark.parametrize("name", SECTIONS)
def test_every_key_stands_in_the_table_and_on_its_section_s_page(name: str) -> None:
    page = PAGES[make_circuit_file.FOLDER / f"{name}.md"]
    anchors = re.findall(r'<a id="([^"]+)">', page)
    assert len(anchors) == len(set(anchors)) == len(SECTIONS[name].keys)
    for key in SECTIONS[name].keys.values():
        assert f"\n## `{name}.{key.name}`\n" in page
        assert re.search(rf"^\| \[`{key.name}`\]\(circuit-file/{name}\.md#([^)]+)\)", MAIN, re.MULTILINE)
    assert set(re.findall(rf"circuit-file/{name}\.md#([^)]+)", MAIN)) == set(anchors)


def test_every_row_of_the_tables_has_three_cells() -> None:
    rows = [line for line in MAIN.splitlines() if line.startswith(("| [`", "| key"))]
    assert len(rows) == sum(len(section.keys) + 1 for section in SECTIONS.values())
    assert {line.count("|") for line in rows} == {4}


def test_nothing_is_left_to_fill_in() -> None:
    assert not re.search(r"@\w+@", MAIN)


def test_the_examples_of_the_sections_are_one_circuit(vocabulary) -> None:
    text = make_circuit_file.EXAMPLE.read_text("utf-8")
    read_circuit(text, "example", vocabulary)
    assert list(make_circuit_file.examples()) == list(SECTIONS)
    for name, piece in make_circuit_file.examples().items():
        assert piece in MAIN
        assert piece.startswith((f"[{name}]", f"[[{name}]]"))


def test_the_whole_file_on_the_page_is_a_circuit_file(vocabulary) -> None:
    text = re.findall(r"```toml\n(.*?)```", MAIN, re.DOTALL)[0]
    circuit = read_circuit(text, "small", vocabulary)
    report = check(circuit, load_rulebook(circuit.job.rulebook))
    assert {finding.check for finding in report.findings} >= {"load-share", "box-fill", "ampacity", "voltage-drop"}
