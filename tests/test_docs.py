"""What is made from the code is current, and findings cite only what their rule declares."""

import re
from pathlib import Path

import pytest

from circuitcheck.case import AnyRule
from circuitcheck.checking import check, findings_of
from circuitcheck.circuit.guide import entry_guide
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import Source
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import editions, load_rulebook, vocabulary
from making import make_checks, make_readme
from making.recorded import uses_of

ROOT = Path(__file__).parents[1]
EXAMPLES = sorted((ROOT / "examples").glob("*.circuit.toml"))


def test_rule_pages_are_current() -> None:
    pages = make_checks.pages()
    for path, text in pages.items():
        assert path.exists(), f"{path.name} is missing: make docs"
        assert path.read_text("utf-8") == text, f"{path.name} is not current: make docs"
    assert set((ROOT / "docs" / "checks").glob("*.md")) <= pages.keys()


@pytest.mark.parametrize("path", make_readme.PAGES, ids=lambda path: path.name)
def test_a_page_with_made_parts_is_current(path: Path) -> None:
    text = path.read_text("utf-8")
    assert "<!-- made: " in text
    assert make_readme.filled(text) == text, f"{path.name} is not current: make docs"


def test_the_readme_shows_one_short_result() -> None:
    """What a reader wants first: a picture, two commands, one result of at most twelve lines, then links."""
    text = (ROOT / "README.md").read_text("utf-8")
    assert (
        text.index("![")
        < text.index("make demo")
        < text.index("<!-- made: result -->")
        < text.index("Where to read on")
    )
    result = re.findall(r"<!-- made: result -->\n```text\n(.*?)```", text, re.DOTALL)[0].splitlines()
    assert len(result) <= make_readme.MOST_LINES + 1
    assert any("DOES NOT FIT" in line for line in result)
    assert any(line.startswith("✗ FAIL") for line in result)


@pytest.mark.parametrize("rule", ALL_RULES, ids=lambda rule: rule.name)
def test_a_rule_is_where_its_name_says(rule: AnyRule) -> None:
    family = rule.family.replace(" ", "_")
    assert rule.module == f"circuitcheck.rules.{family}.{rule.name.replace('-', '_')}"


def test_every_rule_is_listed_once() -> None:
    names = [rule.name for rule in ALL_RULES]
    assert len(names) == len(set(names))
    files = (ROOT / "circuitcheck" / "rules").rglob("*.py")
    declaring = {path.stem.replace("_", "-") for path in files if "\nRULE = " in path.read_text("utf-8")}
    assert declaring == set(names)


@pytest.mark.parametrize("edition", editions())
@pytest.mark.parametrize("rule", ALL_RULES, ids=lambda rule: rule.name)
def test_what_a_rule_reads_exists_somewhere(rule: AnyRule, edition: str) -> None:
    book = load_rulebook(edition)
    books = [load_rulebook(name) for name in editions()]
    for use in uses_of(rule):
        name = use.removeprefix("value:")
        if use.startswith("value:"):
            assert any(name in one.values for one in books), use
            if name in book.values:
                assert book.value(name).source
        else:
            assert any(name in one.tables for one in books), use


def read_by(rule: AnyRule, edition: str) -> set[Source]:
    sources_of = make_checks.sources_of
    return {source for use in uses_of(rule) for source in sources_of(use, load_rulebook(edition))}


@pytest.mark.parametrize("edition", editions("nec"))
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_findings_cite_only_what_the_rule_reads(path: Path, edition: str) -> None:
    circuit = read_file(path, vocabulary())
    book = load_rulebook(edition)
    for rule in ALL_RULES:
        allowed = read_by(rule, edition)
        for finding in findings_of(circuit, book, [rule]):
            assert finding.check == rule.name
            assert {source for source in finding.sources if source.document != "circuitcheck"} <= allowed, (
                f"{rule.name} cites {set(finding.sources) - allowed}"
            )


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_every_key_that_a_finding_names_exists(path: Path) -> None:
    circuit = read_file(path, vocabulary())
    for finding in check(circuit, load_rulebook(circuit.job.rulebook)).findings:
        for key in (*finding.needs, *finding.assumed_keys, *finding.keys):
            section, _, rest = key.partition(".")
            assert section in SECTIONS, f"{finding.check}: {key}"
            parts = getattr(circuit, SECTIONS[section].attribute) if SECTIONS[section].many else ()
            is_part = key in finding.keys and rest in {part.id for part in parts}
            assert is_part or rest.rpartition(".")[2] in SECTIONS[section].keys, f"{finding.check}: {key}"


@pytest.mark.parametrize("section", SECTIONS)
def test_every_key_has_its_page_of_help(section: str) -> None:
    for key in SECTIONS[section].keys:
        assert entry_guide(section, key).what
