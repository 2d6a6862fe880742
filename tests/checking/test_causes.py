"""What several checks see of one cause is told once; what can kill is told first."""

from dataclasses import replace
from pathlib import Path

from circuitcheck.checking import check, worst_first
from circuitcheck.checking.causes import (
    AMPACITY,
    BREAKER,
    CAUSES,
    DROP,
    FIRST,
    LAST,
    LOAD,
    PLAN_THICKER,
    SETTLE_FIRST,
    SIZE,
    TAKE_OFF,
    leads,
    one_advice_each,
    protection_that_fails,
    with_causes,
)
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


def advised(*findings):
    """What each finding tells to do, where cable "feed" is there and "run" is planned."""
    built = circuit(box("a"), box("b"), cable("feed", "panel", "a", origin="existing"), cable("run", "a", "b"))
    return [each.to_do for each in one_advice_each(findings, built)]


def own(check, subject, outcome=FAIL, **more):
    return finding(check, subject, outcome, to_do=(f"{check} {subject}",), **more)


class TestOneAdvice:
    """One thing is wrong, so one thing is told to do: by what is there, and what is only planned."""

    def test_a_thin_wire_that_is_there_is_settled_before_anything_is_planned(self):
        feed, run, size = own(BREAKER, "feed"), own(BREAKER, "run"), own(SIZE, "run")
        assert advised(feed, run, size) == [("breaker-vs-wire feed",), SETTLE_FIRST, ()]
        assert advised(feed, size) == [("breaker-vs-wire feed",), ()]
        assert advised(feed, own(AMPACITY, "run")) == [("breaker-vs-wire feed",), SETTLE_FIRST]

    def test_a_thin_wire_that_is_planned_is_planned_thicker(self):
        run, size = own(BREAKER, "run"), own(SIZE, "run")
        assert advised(run, size) == [("wire-size run",), ()]
        assert advised(run) == [PLAN_THICKER]
        assert advised(run, own(SIZE, "other")) == [PLAN_THICKER, ("wire-size other",)]
        assert advised(size) == [("wire-size run",)]

    def test_a_wire_that_is_there_cannot_be_planned_thicker(self):
        assert advised(own(AMPACITY, "feed", limit=12.0)) == [TAKE_OFF]
        assert advised(own(AMPACITY, "feed")) == [("ampacity feed",)]  # no table holds it: nothing to take off helps
        assert advised(own(BREAKER, "feed", limit=15.0)) == [("breaker-vs-wire feed",)]

    def test_heat_on_a_planned_cable_has_its_own_advice_and_the_size(self):
        warm, size = own(AMPACITY, "run", limit=12.0), own(SIZE, "run")
        assert advised(warm, size) == [("ampacity run", "wire-size run"), ()]
        assert advised(warm) == [("ampacity run",)]

    def test_what_does_not_fail_or_is_about_something_else_keeps_its_advice(self):
        caution, other = own(AMPACITY, "feed", CAUTION, limit=12.0), own("box-fill", "a")
        assert advised(caution, other) == [("ampacity feed",), ("box-fill a",)]
        assert advised(own(BREAKER, "feed", CAUTION), own(BREAKER, "run")) == [("breaker-vs-wire feed",), PLAN_THICKER]

    def test_of_too_much_load_only_the_load_is_advised(self):
        load_share, warm = own(LOAD, "circuit"), own(AMPACITY, "feed", limit=12.0)
        drop, cords = own(DROP, "lamp", CAUTION), own("cord-load-share", "vacuum cleaner")
        assert advised(load_share, warm, drop, cords) == [
            ("load-share circuit",), (), (), ("cord-load-share vacuum cleaner",),
        ]  # fmt: skip
        assert advised(drop) == [("voltage-drop lamp",)]


def test_an_order_within_each_outcome_and_none_among_what_passes():
    kills, delays, plain = finding("ampacity", "feed"), finding("who-may"), finding("box-fill", "a")
    assert [each.check for each in worst_first([delays, plain, kills])] == ["ampacity", "box-fill", "who-may"]
    passes = [replace(each, outcome=PASS) for each in (delays, plain, kills)]
    assert worst_first(passes) == passes
    assert worst_first([*passes, plain, finding("box-fill", "b", CAUTION)])[:2] == [
        plain,
        finding("box-fill", "b", CAUTION),
    ]
    places = [finding(name) for name in FIRST]
    assert worst_first(reversed(places)) == places
    assert [each.check for each in worst_first(finding(name) for name in reversed(LAST))] == list(LAST)


def test_only_protection_that_can_be_added_fails():
    assert protection_that_fails([finding("arc-fault"), finding("box-fill", "a", CAUTION)]) == ("arc-fault",)
    assert protection_that_fails([finding("arc-fault"), finding("box-fill", "a")]) == ()
    assert protection_that_fails([]) == ()


def test_a_reminder_is_not_held_back_by_the_load():
    reminder = finding("voltage-drop", "lamp", CAUTION, to_come=True)
    assert causes(finding("load-share"), reminder) == ["", ""]
    assert causes(finding("load-share"), finding("voltage-drop", "lamp", PASS)) == ["", ""]


def test_the_first_cause_keeps_a_finding_and_only_its_lead_tells_it():
    thin, warm = CAUSES[0].text, CAUSES[2].text
    told = with_causes([finding("breaker-vs-wire", "feed"), finding("ampacity", "feed"), finding("wire-size", "feed")])
    assert [each.cause for each in told] == [thin, thin, thin]
    assert [leads(each) for each in told] == [True, False, False]
    assert causes(finding("ampacity", "run"), finding("wire-size", "run")) == [warm, warm]
    assert not leads(finding("ampacity", "run"))
    assert causes(finding("box-fill", "a", cause="something else")) == [""]
