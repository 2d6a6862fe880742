"""What a driver counts for on the branch circuit, and the 20 A limit: 411.7 until 2020, 411.8 in 2023."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.driver_input import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, only, supply

FEED = cable("feed", "panel", "attic")


def built(*parts, **given):
    return circuit(box("attic"), FEED, *parts, driver("driver", "attic", **given))


def test_the_label_gives_volt_amperes():
    # 0.7 A x 120 V = 84 VA; x 0.9 = 75.6 W.
    found = only(RULE, built(input_current_a=0.7, power_factor=0.9, output_power_w=None), "driver")
    assert found.outcome is Outcome.PASS
    assert (found.value, found.unit) == (pytest.approx(84), "VA")
    assert "75.6 W" in found.says


def test_nothing_given_asks_for_the_label():
    found = only(RULE, built(input_current_a=None, output_power_w=None), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.driver.input_current",)


@pytest.mark.parametrize(("edition", "place"), [("nec-2017", "411.7"), ("nec-2020", "411.7"), ("nec-2023", "411.8")])
def test_no_more_than_20_amperes_in_front(edition, place):
    found = only(RULE, built(supply(breaker_a=30)), "driver", edition)
    assert found.outcome is Outcome.FAIL
    assert place in {source.place for source in found.sources}


@pytest.mark.parametrize("edition", EDITIONS)
def test_20_amperes_will_do(edition):
    assert only(RULE, built(supply(breaker_a=20)), "driver", edition).outcome is Outcome.PASS


def test_a_breaker_that_may_be_too_large_is_asked_about():
    # 411.7: at most 20 A; standard ratings from 20 to 30 A are 20, 25 and 30 (240.6(A))
    found = only(RULE, built(supply(breaker_a=(20, 30))), "driver")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.breaker",))


def test_a_driver_that_draws_more_than_the_breaker_carries():
    # 20 A x 120 V = 2400 VA on a breaker of 15 A x 120 V = 1800 VA
    found = only(RULE, built(input_current_a=20), "driver")
    assert (found.outcome, found.value, found.limit) == (Outcome.FAIL, pytest.approx(2400), pytest.approx(1800))


def test_the_working():
    # 0.7 A x 120 V = 84 VA; x 0.9 = 75.6 W
    found = only(RULE, built(input_current_a=0.7, power_factor=0.9, output_power_w=None), "driver")
    assert found.working == (
        "0.7 A on its label = 0.7 A",
        "0.7 A x 120 V = 84 VA, of which 75.6 W are real power",
    )
