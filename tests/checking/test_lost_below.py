"""What is said of the voltage lost behind a cable: the worst of it, and who is asked about it at all."""

from dataclasses import replace

import pytest

from circuitcheck.case import CaseRule
from circuitcheck.case.making import case_of
from circuitcheck.checking import lost_below
from circuitcheck.checking.lost_below import Lost, fed_through, worst_below
from circuitcheck.checking.scope import WHOLE, Scope
from circuitcheck.findings import Outcome
from circuitcheck.rules import ALL_RULES
from circuitcheck.rules.capacity.voltage_drop import RULE as DROP
from circuitcheck.rules.capacity.wire_size import RULE
from tests.rules.build import book, box, cable, circuit, control, exact, findings, load, supply

RULES = {each.name: each for each in ALL_RULES if isinstance(each, CaseRule)}


def branched():
    return circuit(
        supply(), *map(box, ("hall", "a", "b", "switch")),
        cable("home", "panel", "hall"), cable("to a", "hall", "a"), cable("to b", "hall", "b"),
        cable("loop", "hall", "switch", carries="switch loop"), control("s", "switch"),
        load("here", "hall"), load("near", "a"), load("far", "b", switched_by="s"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("cables", "names"),
    [
        ({"to a"}, {"near"}), ({"to b"}, {"far"}), ({"loop"}, {"far"}), ({"to a", "loop"}, {"near", "far"}),
        ({"home"}, {"here", "near", "far"}), (set(), set()),
    ],
)  # fmt: skip
def test_what_a_cable_feeds_is_behind_it_or_switched_through_it(cables, names):
    assert fed_through(case_of(branched(), book()), cables) == names


def test_the_worst_of_what_a_cable_feeds():
    built = circuit(
        box("a"), box("b"), box("c"), box("s"),
        cable("to a", "panel", "a"), cable("to b", "a", "b", length_m=50), cable("to c", "a", "c"),
        cable("loop", "b", "s", carries="switch loop"), control("switch", "s"),
        load("near", "a", power_w=100), load("far", "b", power_w=500, switched_by="switch"),
        load("side", "c", power_w=100),
    )  # fmt: skip
    drops = {finding.subject: finding for finding in findings(DROP, built)}
    below = worst_below(case_of(built, book()), drops)
    assert below == {"to a": ("far",), "to b": ("far",), "to c": ("side",), "loop": ("far",)}


def test_of_those_that_are_alike_the_one_that_loses_most_is_the_worst():
    """Both recommend a thicker wire: 12 A over 80 and 140 ft of 14 AWG (0.00614 ohm/ft) lose 5.9 and 10.3 V."""
    built = circuit(
        box("a"), box("b"), cable("to a", "panel", "a", length_m=80 * 0.3048),
        cable("to b", "a", "b", length_m=60 * 0.3048), load("near", "a", current_a=0.1), load("far", "b", current_a=12),
    )  # fmt: skip
    drops = {finding.subject: finding for finding in findings(DROP, built)}
    assert {name: drop.outcome for name, drop in drops.items()} == dict.fromkeys(("near", "far"), Outcome.CAUTION)
    assert worst_below(case_of(built, book()), drops)["to a"] == ("far",)


def test_one_that_no_voltage_can_serve_has_no_number_and_is_hidden_by_none_that_has():
    built = circuit(
        box("a"), box("b"), cable("to a", "panel", "a"), cable("to b", "a", "b"),
        load("near", "a", power_w=100), load("far", "b", power_w=500),
    )  # fmt: skip
    drops = {finding.subject: replace(finding, outcome=Outcome.FAIL) for finding in findings(DROP, built)}
    drops["near"] = replace(drops["near"], value=None)
    assert worst_below(case_of(built, book()), drops)["to a"] == ("near", "far")
    drops["far"] = replace(drops["far"], value=None)
    assert set(worst_below(case_of(built, book()), drops)["to a"]) == {"near", "far"}


def said(outcome, value):
    """What is said of the voltage lost, as far as it is told apart here. Values are percent."""
    return replace(findings(DROP, row_of_two())[0], outcome=outcome, value=value)


def row_of_two():
    return circuit(
        box("a"), box("b"), cable("to a", "panel", "a"), cable("to b", "a", "b"),
        load("near", "a", power_w=60), load("far", "b", power_w=60),
    )  # fmt: skip


def worst_of(near, far):
    return worst_below(case_of(row_of_two(), book()), {"near": said(*near), "far": said(*far)})["to a"]


@pytest.mark.parametrize(
    ("near", "far", "names"),
    [
        ((Outcome.PASS, 0.5), (Outcome.PASS, 2.5), ("far",)),
        ((Outcome.UNDETERMINED, 0.5), (Outcome.PASS, 2.5), ("near", "far")),
        ((Outcome.PASS, 2.5), (Outcome.FAIL, 0.5), ("far", "near")),
        ((Outcome.FAIL, 0.5), (Outcome.CAUTION, 6.0), ("near", "far")),
        # of what is unknown nobody knows that it is less: it is no zero
        ((Outcome.UNDETERMINED, None), (Outcome.UNDETERMINED, 0.5), ("near", "far")),
        ((Outcome.UNDETERMINED, None), (Outcome.PASS, 0.5), ("near", "far")),
        ((Outcome.FAIL, None), (Outcome.UNDETERMINED, None), ("near", "far")),
    ],
)
def test_the_worst_answer_comes_first_and_then_what_loses_most(near, far, names):
    """As it is promised: the worst answer, the one that loses most; what has no number is hidden by neither."""
    assert worst_of(near, far) == names


def test_behind_a_cable_that_feeds_nothing_nothing_is_lost():
    built = circuit(box("a"), box("spare"), cable("to a", "panel", "a"), cable("on", "a", "spare"), load("near", "a"))
    drops = {finding.subject: finding for finding in findings(DROP, built)}
    assert worst_below(case_of(built, book()), drops) == {"to a": ("near",), "on": ()}


def test_one_of_which_nothing_is_said_is_left_out():
    assert worst_below(case_of(row_of_two(), book()), {"near": said(Outcome.PASS, 1.0)}) == {
        "to a": ("near",),
        "to b": (),
    }


def lost(built, known=None, scope=WHOLE, cables=("home", "to a", "to b", "loop")):
    return Lost(RULE, case_of(built, book()), RULES, known or {}, scope, frozenset(cables))


def told(of, built):
    return {cable.id: [finding.subject for finding in of.below(cable)] for cable in built.tree.branch_cables}


@pytest.fixture
def asked(monkeypatch):
    """The ids of those about whom the rules are asked, one after the other."""
    names = []
    finding_about = lost_below.finding_about

    def noted(asker, part, **given):
        names.append(part.id)
        return finding_about(asker, part, **given)

    monkeypatch.setattr(lost_below, "finding_about", noted)
    return names


def long_branches():
    """30 m of cable to each of two boxes behind the first; more is lost on the way to the one that is switched."""
    known = branched()
    longer = [replace(each, length_m=exact(30.0)) if each.id[:2] == "to" else each for each in known.cables]
    watts = [load(each.id, each.box, power_w=60, switched_by=each.switched_by) for each in known.loads]
    return circuit(supply(), *known.boxes, *longer, *known.controls, *watts)


def test_where_all_is_asked_every_load_is_asked_about_once(asked):
    built = long_branches()
    of = lost(built)
    assert told(of, built) == {"home": ["far"], "to a": ["near"], "to b": ["far"], "loop": ["far"]}
    assert sorted(asked) == ["far", "here", "near"]


def test_what_is_known_already_of_all_is_asked_of_nobody(asked):
    built = long_branches()
    known = {(DROP.name, finding.subject): finding for finding in findings(DROP, built)}
    other = {("ampacity", "near"): replace(known[DROP.name, "near"], outcome=Outcome.FAIL, value=99.0)}
    assert told(lost(built, known | other), built) == told(lost(built), built)
    asked.clear()
    of = lost(built, known | other)
    assert [finding.outcome for cable in built.tree.branch_cables for finding in of.below(cable)] == [Outcome.PASS] * 4
    assert asked == []


def test_one_of_which_the_rule_says_nothing_is_left_out_among_those_known(asked):
    """Where the rule was asked about all, it said nothing of one of which there is no finding."""
    built = long_branches()
    known = {(DROP.name, finding.subject): finding for finding in findings(DROP, built) if finding.subject != "far"}
    assert told(lost(built, known), built)["to b"] == []
    assert asked == []


def test_for_one_cable_what_it_feeds_is_asked_as_far_as_it_is_not_known(asked):
    built = long_branches()
    about = Scope(about=frozenset({"home"}))
    known = {(DROP.name, finding.subject): finding for finding in findings(DROP, built) if finding.subject == "near"}
    assert told(lost(built, known, about, ("home",)), built)["home"] == ["far"]
    assert sorted(asked) == ["far", "here"]
    asked.clear()
    assert told(lost(built, {}, Scope(about=frozenset({"to a"})), ("to a",)), built)["to a"] == ["near"]
    assert asked == ["near"]


def test_a_load_of_which_the_rule_says_nothing_is_left_out():
    built = circuit(box("a"), cable("to a", "panel", "a"), load("spare", "a", kind="receptacle"))
    built = replace(built, loads=(*built.loads, load("near", "a", power_w=60)))
    mute = replace(
        DROP, answer=lambda subject, case, book: None if subject.id == "near" else DROP.answer(subject, case, book)
    )
    of = Lost(RULE, case_of(built, book()), RULES | {DROP.name: mute}, {}, WHOLE, frozenset({"to a"}))
    assert told(of, built) == {"to a": ["spare"]}


def test_in_the_cable_itself_is_lost_what_its_own_length_loses():
    """60 W at 120 V are 0.5 A. 10 m of 14 AWG (10.1 ohm/km, NFPA 70, Chapter 9, Table 8) carry it
    there and back: 20 m x 10.1 ohm/km x 0.5 A = 0.101 V in the second cable, twice as much in the first.
    """
    built = row_of_two()
    built = replace(built, boxes=(*built.boxes, box("spare")), cables=(*built.cables, cable("on", "b", "spare")))
    of = lost(built, cables=("to a", "to b", "on"))
    volts = {each.id: of.in_itself(each) for each in built.tree.branch_cables}
    assert volts == pytest.approx({"to a": 0.202, "to b": 0.101, "on": 0.0}, rel=5e-3)
