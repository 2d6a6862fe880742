"""Current in low-voltage cables against their ampacity.

Expected ampacities by hand from Table 402.5 (18 AWG 6 A, 16 AWG 8 A), Table 310.16 (14 AWG 15 A at 60 degC) and the
correction table (60 degC insulation: 0.91 at 35, 0.58 at 50, none over 55 degC; 75 degC: 0.75 at 50, 0.58 at 60).
"""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.low_voltage_cable import RULE
from tests.rules.build import EDITIONS, FOOT, between, box, cable, circuit, driver, low_voltage_load, only


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


def test_the_thinnest_conductor_that_would_carry_it():
    # 7 A: 18 AWG carries 6 A, 16 AWG 8 A; at 50 degC 8 A x 0.58 = 4.64 A, 14 AWG 15 A x 0.58 = 8.7 A.
    found = only(RULE, built(7, rating=84, size="12 AWG"), "lead")
    assert (found.chosen, found.smallest) == ("12 AWG", "16 AWG")
    assert only(RULE, built(7, rating=84, size="12 AWG", ambient_c=50), "lead").smallest == "14 AWG"


def test_where_only_the_air_decides_only_the_air_is_asked():
    # 1 A, and 18 AWG carries 6 A at 30 degC and nothing in an attic: the strip's own unknowns do not matter.
    found = only(RULE, built(1, ambient_c=None, place=None, stranding=None), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.place",)


def test_a_range_of_ratings_across_the_ampacity_without_class_2():
    made = built(1, class_2=False)
    wide = driver("driver", "attic", output_voltage_v=12, output_power_w=(60, 90), class_2=False)
    parts = (*made.boxes, *made.cables, wide, *made.low_voltage_loads)
    found = only(RULE, circuit(*parts), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.driver.output_power",)


@pytest.mark.parametrize("material", ["copper-clad aluminum", "aluminum"])
def test_thin_conductors_of_another_metal_are_in_no_table(material):
    found = only(RULE, built(1, material=material), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.material",)


@pytest.mark.parametrize("rating", [60, 5])
def test_where_the_worst_end_has_no_voltage_the_most_current_is_open(rating):
    # A lamp that keeps its 40 W at 24 V, at the end of 16 AWG (4.99 ohm per 1000 ft, both ways): 20 ft are served and
    # take 40 / 23.6 = 1.7 A; through 400 ft, 3.992 ohm, no more than 24^2 / (4 x 3.992) = 36.1 W ever get there.
    made = circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        driver("driver", "attic", output_voltage_v=24, output_power_w=rating),
        cable("lead", "driver", "lamp", type="class 2 cable", size="16 AWG", stranding="stranded", ambient_c=30,
              length_m=between(20 * FOOT, 400 * FOOT)),
        low_voltage_load("lamp", power_w=40, kind="constant power"),
    )  # fmt: skip
    found = only(RULE, made, "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.low == pytest.approx(1.7, abs=0.05)
    assert found.high is None
    assert "cable.lead.length" in found.needs
