"""Dimmers: the LED rating counts, never the incandescent headline; least load and number of lamps."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.dimmer_rating import RULE
from tests.rules.build import between, box, cable, circuit, control, findings, load


def built(lamp="LED", power_w=10, quantity=5, **given):
    return circuit(
        box("wall"),
        cable("f", "panel", "wall"),
        control("dimmer", "wall", **({"kind": "dimmer"} | given)),
        load("lamps", "wall", lamp=lamp, power_w=power_w, quantity=quantity, switched_by="dimmer"),
    )


def outcomes(*args, **given):
    return [finding.outcome for finding in findings(RULE, built(*args, **given))]


@pytest.mark.parametrize(("rating", "outcome"), [(50, Outcome.PASS), (49, Outcome.FAIL)])
def test_led_watts(rating, outcome):
    assert outcomes(rated_led_w=rating) == [outcome]


def test_an_unknown_led_rating_is_unknown_whatever_the_headline_says():
    (found,) = findings(RULE, built(rated_incandescent_w=600))
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("control.dimmer.rated_led",))
    assert "incandescent rating" in found.says


def test_incandescent_lamps_use_the_incandescent_rating():
    assert outcomes("incandescent", power_w=60, rated_incandescent_w=300) == [Outcome.PASS]
    assert outcomes("incandescent", power_w=61, rated_incandescent_w=300) == [Outcome.FAIL]


@pytest.mark.parametrize(("least", "outcome"), [(50, Outcome.PASS), (60, Outcome.CAUTION)])
def test_least_load(least, outcome):
    assert outcomes(rated_led_w=150, min_load_w=least) == [Outcome.PASS, outcome]


@pytest.mark.parametrize(("most", "outcome"), [(5, Outcome.PASS), (4, Outcome.FAIL)])
def test_number_of_lamps(most, outcome):
    assert outcomes(rated_led_w=150, max_lamps=most) == [Outcome.PASS, outcome]


def test_unknown_watts_ask():
    (found,) = findings(RULE, built(power_w=None, rated_led_w=150))
    assert found.needs == ("load.lamps.power",)


def test_a_plain_switch_says_nothing():
    assert outcomes(kind="switch") == []


def test_a_rating_that_is_a_range_decides_only_where_all_of_it_does():
    # A guessed rating of 50 W stands for 37.5 to 62.5 W: 50 W of lamps may be too much, 65 W are in any case.
    (found,) = findings(RULE, built(rated_led_w=between(37.5, 62.5)))
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("control.dimmer.rated_led",))
    assert outcomes(power_w=13, rated_led_w=between(37.5, 62.5)) == [Outcome.FAIL]
