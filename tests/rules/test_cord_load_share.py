"""One cord-and-plug load: at most four fifths of the breaker."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.cord_load_share import RULE
from tests.rules.build import EDITIONS, box, circuit, direction, findings, guess, load, only, supply


def judged(thing, *parts, edition="nec-2023"):
    return only(RULE, circuit(box("b"), thing, *parts), thing.id, edition)


def plugged(**given):
    return load("thing", "b", kind="receptacle", **given)


@pytest.mark.parametrize("edition", EDITIONS)
def test_twelve_and_sixteen_amperes(edition):
    # forums.mikeholt.com/threads/210-21-b-2.2585630: over 12 A on a 15 A circuit is too much, so a 1500 W heater is
    assert judged(plugged(power_w=1500), edition=edition).outcome is Outcome.FAIL
    assert judged(plugged(power_w=1440), edition=edition).outcome is Outcome.PASS
    assert judged(plugged(power_w=1440), edition=edition).limit == pytest.approx(12)
    assert judged(plugged(current_a=16), supply(breaker_a=20), edition=edition).outcome is Outcome.PASS
    assert judged(plugged(current_a=16.1), supply(breaker_a=20), edition=edition).outcome is Outcome.FAIL


def test_each_piece_by_itself():
    found = judged(plugged(current_a=7, quantity=2))
    assert (found.outcome, found.value) == (Outcome.PASS, pytest.approx(7))


def test_cord_connected_things_count_whatever_they_are():
    assert judged(load("saw", "b", kind="other", connection="cord", current_a=13)).outcome is Outcome.FAIL


def test_says_nothing_where_nobody_said_what_is_plugged_in():
    assert findings(RULE, circuit(box("b"), plugged())) == []
    assert findings(RULE, circuit(box("b"), load("lamp", "b", current_a=14))) == []
    assert findings(RULE, circuit(box("b"), plugged(current_a=29), supply(breaker_a=30))) == []


def test_a_cord_connected_load_of_unknown_size_is_asked_for():
    found = judged(load("thing", "b", kind="other", connection="cord"))
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("load.thing.power",)


def test_guess_that_decides():
    found = judged(plugged(current_a=guess(11)))
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("load.thing.current",)
    assert judged(plugged(current_a=guess(9))).outcome is Outcome.PASS


def test_only_what_plugs_in_is_one_plugged_in_load():
    assert findings(RULE, circuit(box("b"), load("lamp", "b", power_w=60, connection="hardwired"))) == []
    assert len(findings(RULE, circuit(box("b"), load("lamp", "b", power_w=60, connection="cord")))) == 1
    assert len(findings(RULE, circuit(box("b"), load("pc", "b", kind="receptacle", apparent_va=60)))) == 1
    assert findings(RULE, circuit(box("b"), load("none", "b", power_w=0, connection="cord"))) == []
    assert findings(RULE, circuit(box("b"), load("none", "b", power_w=60, connection="cord", quantity=0))) == []


def test_the_working_has_both_sides():
    # 1500 W / 120 V = 12.5 A; 0.8 x 15 A = 12 A (210.23(A)(1))
    found = judged(plugged(power_w=1500))
    assert list(found.working) == ["1500 W / power factor 1 / 120 V = 12.5 A each", "limit: 0.8 x 15 A = 12 A"]
    assert "alone draws 12.5 A, more than the 12 A" in found.says


def test_which_way_is_worse():
    """Of what is plugged in nothing is said without its power; a cord makes a load one that is plugged in."""
    built = circuit(box("b"), plugged(power_w=60))
    power = direction(RULE, built, "load.power", "thing")
    assert power(None) < power(0.0) < power(60.0)
    connection = direction(RULE, built, "load.connection", "thing")
    assert connection("cord") > connection("hardwired")


def test_the_most_that_one_may_draw_is_cut_in_the_sentence():
    """NFPA 70, 210.23(A)(1): 80 percent of 18.85 A, which nobody makes, are 15.08 A."""
    found = judged(plugged(current_a=16), supply(breaker_a=18.85))
    assert "more than the 15 A one plugged-in load may draw" in found.says
    assert found.limit == pytest.approx(15.08)
