"""A rule that raises is one line in every output; the other answers stand, and status 4 never says "fits"."""

import json

import pytest

from circuitcheck.case import EvidenceRule
from circuitcheck.checking import check
from circuitcheck.findings import Finding, Outcome
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import examine
from circuitcheck.ui.plain.pages import answer_page
from circuitcheck.ui.spans import line_text

LINE = "fault of the program in check trial"


def broken(circuit, book):
    raise ZeroDivisionError("a slip of ours")


def good(circuit, book):
    return [Finding(check="sound", subject="hall", outcome=Outcome.PASS, says="The other answer stands.")]


RULES = tuple(
    EvidenceRule(name=name, title=name, rank=1, check=function)
    for name, function in (("trial", broken), ("sound", good))
)


@pytest.fixture(autouse=True)
def _one_rule_raises(monkeypatch):
    def with_a_fault(circuit, book, rules=RULES):
        return check(circuit, book, RULES)

    for module in ("circuitcheck.checking", "circuitcheck.ui.examining"):
        monkeypatch.setattr(f"{module}.check", with_a_fault)


def test_check_in_words_and_as_json(run, circuit_file) -> None:
    ran = run("check", circuit_file())
    assert (ran.status, ran.out.count(LINE), ran.err.count(LINE)) == (4, 1, 1)
    assert "FITS ON PAPER" not in ran.out
    ran = run("check", "--json", circuit_file())
    document = json.loads(ran.out)
    assert (ran.status, document["verdict"]) == (4, "undetermined")
    assert document["faults"] == [{"check": "trial", "says": "ZeroDivisionError: a slip of ours"}]
    assert [finding["check"] for finding in document["findings"]] == ["sound"]


@pytest.mark.parametrize("command", ["note", "survey", "plan"])
def test_papers(command, run, circuit_file, tmp_path) -> None:
    paper = tmp_path / "paper.txt"
    ran = run(command, circuit_file(), "-o", paper)
    text = " ".join(paper.read_text("utf-8").split())
    assert (ran.status, text.count(LINE), ran.err.count(LINE)) == (4, 1, 1)
    assert "FITS ON PAPER" not in text
    assert "every check passes" not in text


def test_beside_others_and_with_fixes(run, circuit_file) -> None:
    for ran in (run("compare", circuit_file(), circuit_file(name="b.circuit.toml")), run("fixes", circuit_file())):
        assert (ran.status, ran.err.count(LINE)) == (4, 1)
        assert "FITS ON PAPER" not in ran.out


def test_screens_and_the_line_by_line_mode(circuit_file) -> None:
    checked = examine(Document.opened(circuit_file()).blocks, "a")
    line = line_text(checked.verdict_line())
    assert LINE in line
    assert "FITS" not in line
    assert LINE in next(iter(answer_page(checked)))
