"""A rule that raises is one line in every output; the other answers stand, and status 4 never says "fits"."""

import importlib
import json
import pkgutil

import pytest

import circuitcheck
from circuitcheck.case import CaseRule, EvidenceRule, Family, SizeRule
from circuitcheck.checking import check
from circuitcheck.findings import Finding, Outcome, Verdict
from circuitcheck.rules.low_voltage.low_voltage_drop import RULE as DROPS
from circuitcheck.tables.rulebook import load_rulebook
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import examine
from circuitcheck.ui.plain.pages import answer_page
from circuitcheck.ui.spans import line_text
from tests.rules.build import box, cable, circuit, driver, load, low_voltage_load

LINE = "fault of the program in check trial"


def broken(circuit, book):
    raise ZeroDivisionError("a slip of ours")


def good(circuit, book):
    return [Finding(check="sound", subject="hall", outcome=Outcome.PASS, says="The other answer stands.")]


def broken_answer(subject, case, book):
    raise ZeroDivisionError("a slip of ours")


RULES = tuple(
    EvidenceRule(name=name, title=name, rank=1, check=function)
    for name, function in (("trial", broken), ("sound", good))
)


@pytest.fixture(autouse=True)
def _one_rule_raises(monkeypatch):
    # A module that is first imported while ``check`` is another one would keep that for the tests after these.
    for module in pkgutil.walk_packages(circuitcheck.__path__, "circuitcheck."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)

    def with_a_fault(circuit, book, rules=RULES):
        return check(circuit, book, RULES)

    monkeypatch.setattr("circuitcheck.checking.check", with_a_fault)
    monkeypatch.setattr("circuitcheck.checking.check_again.ALL_RULES", RULES)


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


def test_one_job_on_several_circuits(run, circuit_file, monkeypatch) -> None:
    """What is left on the breaker is then unknown, and not the 0 A of a full one."""
    monkeypatch.setattr("circuitcheck.advice.placing.check", lambda circuit, book: check(circuit, book, RULES))
    light = '[[light]]\nid = "new"\nfrom = "hall"\ncable = "14/2 NM-B with ground"\nlength = "20 ft"\npower = "9 W"\n'
    job = circuit_file(('[[load]]\nid = "hall lamp"', f'{light}[[load]]\nid = "hall lamp"'), name="job.circuit.toml")
    house = circuit_file(name="house.circuit.toml")
    ran = run("compare", job, "--on", house)
    assert (ran.status, ran.err.count(LINE), ran.out.count(LINE)) == (4, 1, 1)
    row = next(line for line in ran.out.splitlines() if "0, 0, 0" in line)
    assert ("unknown" in row, " A" in row, "FITS" in row) == (True, False, False)
    (place,) = json.loads(run("compare", job, "--on", house, "--json").out)["places"]
    assert (place["load_left"], place["faults"]) == (
        None,
        [{"check": "trial", "says": "ZeroDivisionError: a slip of ours"}],
    )


def test_screens_and_the_line_by_line_mode(circuit_file) -> None:
    checked = examine(Document.opened(circuit_file()).blocks, "a")
    line = line_text(checked.verdict_line())
    assert LINE in line
    assert "FITS" not in line
    assert LINE in next(iter(answer_page(checked)))


def known(rules=RULES):
    """The faults of a circuit of one light, and whether the other check still says what it has to say."""
    built = circuit(box("b"), cable("f", "panel", "b"), load("l", "b", power_w=60), *LEAD)
    report = check(built, load_rulebook("nec-2023"), rules)
    assert not report.faults or report.verdict is not Verdict.FITS
    assert "The other answer stands." in [finding.says for finding in report.findings]
    return [fault.check for fault in report.faults]


LEAD = (
    driver("d", "b"),
    low_voltage_load("strip", power_w=60, min_voltage_v=23),
    cable("lead", "d", "strip", size="18 AWG", stranding="stranded", length_m=30, origin="added"),
)


@pytest.mark.parametrize(
    "rule",
    [
        CaseRule(name="trial", title="t", family=Family.SITE, rank=1, subjects=lambda case: (case.supply,),
                 answer=broken_answer),
        CaseRule(name="trial", title="t", family=Family.SITE, rank=1, answer=broken_answer,
                 subjects=lambda case: 1 / 0),
        SizeRule(name="trial", title="t", family=Family.CAPACITY, rank=1, sizes=lambda book: 1 / 0,
                 must=("breaker-vs-wire",), wish=("voltage-drop",)),
    ],
    ids=["an answer", "the subjects", "the sizes"],
)  # fmt: skip
def test_a_rule_of_any_kind(rule) -> None:
    assert known((rule, RULES[1])) == ["trial"]


def test_a_rule_that_raises_only_once_another_length_is_tried(monkeypatch) -> None:
    assert known((DROPS, RULES[1])) == []
    monkeypatch.setattr("circuitcheck.checking.lead_sizes.longest_lead_m", broken_answer)
    assert known((DROPS, RULES[1])) == [DROPS.name]
