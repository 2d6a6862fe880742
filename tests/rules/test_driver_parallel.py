"""One driver is not joined to another: 725.121(B) until 2020."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.driver_parallel import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, findings, low_voltage_load, only

FEED = cable("feed", "panel", "attic")


def built(*parts):
    return circuit(box("attic"), FEED, *parts)


def test_one_driver_says_nothing():
    assert findings(RULE, built(driver("one", "attic"))) == []


@pytest.mark.parametrize("edition", EDITIONS)
def test_two_drivers_with_lights_of_their_own_pass(edition):
    parts = (
        driver("one", "attic"),
        driver("two", "attic"),
        cable("a", "one", "left"),
        cable("b", "two", "right"),
        low_voltage_load("left", power_w=5),
        low_voltage_load("right", power_w=5),
    )
    found = findings(RULE, built(*parts), edition)
    assert [one.outcome for one in found] == [Outcome.PASS, Outcome.PASS]


@pytest.mark.parametrize("edition", EDITIONS)
def test_joined_by_word_fails_for_both(edition):
    parts = (driver("one", "attic", paralleled_with="two"), driver("two", "attic"))
    found = findings(RULE, built(*parts), edition)
    assert [one.outcome for one in found] == [Outcome.FAIL, Outcome.FAIL]


def test_cables_that_meet_fail():
    parts = (
        driver("one", "attic"),
        driver("two", "attic"),
        cable("a", "one", "strip"),
        cable("b", "two", "strip"),
        low_voltage_load("strip", power_w=5),
    )
    found = only(RULE, built(*parts), "two")
    assert found.outcome is Outcome.FAIL
    assert "strip" in found.says


def test_a_driver_whose_lights_nobody_joined_cannot_be_told():
    parts = (
        driver("one", "attic"),
        driver("two", "attic"),
        cable("a", "one", "left"),
        low_voltage_load("left", power_w=5),
        low_voltage_load("right", power_w=5),
    )
    found = only(RULE, built(*parts), "two")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.two.paralleled_with",)
    assert only(RULE, built(*parts), "one").outcome is Outcome.PASS


@pytest.mark.parametrize(("edition", "place"), [("nec-2017", "725.121(B)"), ("nec-2023", "725.60(B)")])
def test_the_section_by_edition(edition, place):
    (found, _) = findings(RULE, built(driver("one", "attic"), driver("two", "attic")), edition)
    assert found.sources[0].place == place


def test_the_sentences_name_what_is_joined():
    by_word = built(driver("one", "attic", paralleled_with="two"), driver("two", "attic"))
    assert 'Drivers "one" and "two" are joined on the low-voltage side.' in only(RULE, by_word, "one").says
    assert 'Drivers "two" and "one" are joined on the low-voltage side.' in only(RULE, by_word, "two").says


def test_the_sentence_names_the_light_that_nothing_feeds():
    lights = [low_voltage_load(name, power_w=5) for name in ("left", "right")]
    found = only(RULE, built(driver("one", "attic"), driver("two", "attic"), cable("a", "one", "left"), *lights), "two")
    assert 'which driver feeds "right"' in found.says
