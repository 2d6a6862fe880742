"""Added drivers within reach (314.29 for their wiring compartment) and out of insulation (makers' instructions)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.driver_access import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, findings, only


def built(place="inside", box_reachable=None, **given):
    return circuit(
        box("closet", reachable=box_reachable),
        cable("feed", "panel", "closet", place=place),
        driver("driver", "closet", **given),
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_said_and_right_passes(edition):
    assert only(RULE, built(reachable=True, in_insulation=False), "driver", edition).outcome is Outcome.PASS


@pytest.mark.parametrize(
    "given",
    [
        {"reachable": False, "in_insulation": False},
        {"reachable": True, "in_insulation": True},
        {"box_reachable": False, "in_insulation": False},
    ],
)
def test_said_and_wrong_fails(given):
    found = only(RULE, built(**given), "driver")
    assert found.outcome is Outcome.FAIL
    assert found.to_do


def test_in_an_attic_insulation_has_to_be_known():
    found = only(RULE, built(place="attic", reachable=True), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.driver.in_insulation",)


@pytest.mark.parametrize("given", [{}, {"reachable": True}, {"in_insulation": False}])
def test_not_said_elsewhere_is_a_caution(given):
    assert only(RULE, built(**given), "driver").outcome is Outcome.CAUTION


def test_an_unknown_origin_counts_as_added():
    assert only(RULE, built(origin=None), "driver").outcome is Outcome.CAUTION


def test_a_driver_that_was_there_says_nothing():
    assert findings(RULE, built(origin="existing")) == []


def test_where_insulation_is_around_it_its_label_is_asked_about():
    buried = only(RULE, built(reachable=True, in_insulation=True), "driver")
    assert buried.ask == ('Does the label of driver "driver" allow thermal insulation around it?',)
    assert only(RULE, built(reachable=False, in_insulation=False), "driver").ask == ()
