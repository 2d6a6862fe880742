"""What several checks see of one cause is told once; what can kill is told first."""

from pathlib import Path

from circuitcheck.checking import check, worst_first
from circuitcheck.checking.causes import CAUSES, FIRST, LAST, leads, protection_that_fails, with_causes
from circuitcheck.cli.finding_page import open_lines
from circuitcheck.cli.lines import PageStyle
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules import ALL_RULES
from tests.rules.build import book, box, cable, circuit, load, supply

FAIL, CAUTION, PASS = Outcome.FAIL, Outcome.CAUTION, Outcome.PASS
ROOT = Path(__file__).parents[2]


def finding(name, subject="circuit", outcome=FAIL, **more):
    return Finding(check=name, subject=subject, outcome=outcome, says=f"{name} of {subject}", **more)


def causes(*findings):
    return [each.cause for each in with_causes(findings)]


def test_every_check_that_is_named_exists():
    names = {rule.name for rule in ALL_RULES}
    named = {*FIRST, *LAST}
    for cause in CAUSES:
        named |= {cause.lead, *cause.also, *cause.held_back}
    assert named <= names


def test_one_cause_needs_two_that_see_it():
    thin = CAUSES[0].text
    assert causes(finding("breaker-vs-wire", "feed"), finding("ampacity", "feed")) == [thin, thin]
    assert causes(finding("breaker-vs-wire", "feed")) == [""]
    assert causes(finding("ampacity", "feed")) == [""]
    assert causes(finding("breaker-vs-wire", "feed"), finding("ampacity", "run")) == ["", ""]
    assert causes(finding("breaker-vs-wire", "feed", CAUTION), finding("ampacity", "feed")) == ["", ""]


def test_the_drop_is_held_back_while_the_load_fails():
    load_fails = CAUSES[1].text
    assert causes(finding("load-share"), finding("voltage-drop", "lamp", CAUTION)) == [load_fails, load_fails]
    assert causes(finding("load-share", outcome=CAUTION), finding("voltage-drop", "lamp", CAUTION)) == ["", ""]


def test_fourteen_gauge_on_twenty_amperes_is_told_once():
    """NFPA 70, 240.4(D)(3): 14 AWG copper on 15 A at most."""
    built = circuit(
        supply(breaker_a=20),
        box("a"),
        box("new", origin="added"),
        cable("feed", "panel", "a", origin="existing"),
        cable("run", "a", "new"),
        load("lamp", "new", origin="added", power_w=60),
    )
    report = check(built, book())
    same = [each for each in report.findings if each.cause == CAUSES[0].text]
    assert {each.check for each in same if leads(each)} == {"breaker-vs-wire"}
    assert {each.check for each in same} > {"breaker-vs-wire"}
    page = "\n".join(open_lines(worst_first(report.findings), PageStyle(brief=True)))
    assert page.count("FAIL  breaker vs wire") == 1
    assert "FAIL  ampacity" not in page
    assert "also: " in page


def test_what_can_kill_comes_first_and_protection_last():
    ordered = worst_first(
        [
            finding("arc-fault"),
            finding("box-fill", "a"),
            finding("breaker-vs-wire", "feed"),
            finding("equipment-ground", "lamp"),
            finding("load-share", outcome=PASS),
            finding("stop-first", stop=True),
        ]
    )
    assert [each.check for each in ordered] == [
        "stop-first",
        "equipment-ground",
        "breaker-vs-wire",
        "box-fill",
        "arc-fault",
        "load-share",
    ]


def test_the_page_says_when_only_protection_is_missing():
    assert protection_that_fails([finding("arc-fault"), finding("load-share", outcome=CAUTION)]) == ("arc-fault",)
    assert protection_that_fails([finding("arc-fault"), finding("box-fill", "a")]) == ()
    assert protection_that_fails([finding("load-share", outcome=PASS)]) == ()
