"""docs/python.md runs as it stands, and names every promised name."""

import doctest
from pathlib import Path

import circuitcheck

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "python.md"


def test_the_page_runs(monkeypatch) -> None:
    monkeypatch.chdir(ROOT)
    failed, tried = doctest.testfile(str(PAGE), module_relative=False, encoding="utf-8", verbose=False)
    assert failed == 0
    assert tried >= 25


def test_the_page_says_every_promised_function() -> None:
    text = PAGE.read_text("utf-8")
    for name in circuitcheck.__all__:
        if name.islower() and not name.startswith("_"):
            assert f"{name}(" in text or f"`{name}`" in text, name
