"""Current in low-voltage cables against their ampacity.

Expected ampacities by hand from Table 402.5 (18 AWG 6 A, 16 AWG 8 A), Table 310.16 (14 AWG 15 A at 60 degC) and the
correction table (60 degC insulation: 0.91 at 35, 0.58 at 50, none over 55 degC; 75 degC: 0.75 at 50, 0.58 at 60).
"""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.low_voltage_cable import RULE
from tests.rules.build import EDITIONS, between, box, cable, circuit, driver, low_voltage_load, only


def built(amperes=1.0, volts=12, rating=60, class_2=True, **given):
    plain = {"type": "class 2 cable", "size": "18 AWG", "stranding": "stranded", "ambient_c": 30, "length_m": 3}
    power = None if amperes is None else amperes * volts
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        driver("driver", "attic", output_voltage_v=volts, output_power_w=rating, class_2=class_2),
        cable("lead", "driver", "lamp", **(plain | given)),
        low_voltage_load("lamp", power_w=power, kind="constant current"),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("given", "limit"),
    [
        ({}, 6),
        ({"size": "16 AWG"}, 8),
        ({"ambient_c": 35}, 6 * 0.91),
        ({"ambient_c": 50}, 6 * 0.58),
        ({"ambient_c": 50, "insulation_temperature_c": 75}, 6 * 0.75),
        ({"ambient_c": 60, "insulation_temperature_c": 75}, 6 * 0.58),
        ({"current_carrying": 4}, 6 * 0.8),
        ({"size": "14 AWG"}, 15),
        ({"size": "14 AWG", "ambient_c": 50}, 15 * 0.58),
    ],
)
def test_ampacity(edition, given, limit):
    found = only(RULE, built(rating=12, **given), "lead", edition)
    assert found.limit == pytest.approx(limit)
    assert found.value == pytest.approx(1.0)
    assert found.outcome is Outcome.PASS
    assert found.unit == "A"


def test_more_than_it_may_carry_fails():
    found = only(RULE, built(5, ambient_c=50), "lead")
    assert found.outcome is Outcome.FAIL
    assert found.to_do


def test_air_as_hot_as_its_insulation_leaves_nothing():
    found = only(RULE, built(0.2, ambient_c=60), "lead")
    assert found.outcome is Outcome.FAIL
    assert found.limit == 0


def test_a_range_of_current_across_the_limit_cannot_be_told():
    parts = built(None)
    wide = low_voltage_load("lamp", power_w=between(60, 84), kind="constant current")
    made = circuit(*parts.boxes, *parts.cables, *parts.drivers, wide)
    found = only(RULE, made, "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert "low_voltage_load.lamp.power" in found.needs


def test_an_unknown_size_is_asked():
    found = only(RULE, built(size=None), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.size",)


def test_an_unknown_light_is_bounded_by_the_driver():
    found = only(RULE, built(None, rating=60), "lead")
    assert found.outcome is Outcome.PASS
    assert found.value == pytest.approx(5)
    asked = only(RULE, built(None, rating=None), "lead")
    assert asked.outcome is Outcome.UNDETERMINED
    assert "driver.driver.output_power" in asked.needs


@pytest.mark.parametrize(
    ("class_2", "outcome"), [(True, Outcome.CAUTION), (None, Outcome.UNDETERMINED), (False, Outcome.FAIL)]
)
def test_a_driver_that_can_give_more_than_the_cable_carries(class_2, outcome):
    # 96 W at 12 V: 8 A, and 18 AWG carries 6 A.
    found = only(RULE, built(1, rating=96, class_2=class_2), "lead")
    assert found.outcome is outcome
