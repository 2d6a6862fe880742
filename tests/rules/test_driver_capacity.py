"""A driver's rating against its lights; watts worked by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.driver_capacity import RULE
from tests.rules.build import EDITIONS, FOOT, between, box, cable, circuit, driver, low_voltage_load, only

FEED = cable("feed", "panel", "attic")


def lead(feet=20, **more):
    plain = {"size": "16 AWG", "stranding": "stranded", "type": "class 2 cable", "length_m": feet * FOOT}
    return cable("lead", "driver", "lamp", **(plain | more))


def lamp(watts=30, kind="constant current"):
    return low_voltage_load("lamp", power_w=watts, kind=kind)


def built(*parts, **given):
    return circuit(box("attic"), FEED, driver("driver", "attic", **given), *parts)


@pytest.mark.parametrize("edition", EDITIONS)
def test_within_the_rating_with_a_fifth_to_spare(edition):
    found = only(RULE, built(lead(), lamp()), "driver", edition)
    assert found.outcome is Outcome.PASS
    assert (found.value, found.limit, found.unit) == (pytest.approx(30.0), 60, "W")


def test_line_losses_count():
    # A lamp that keeps 20 W behind 0.1996 ohm: V = 12 + sqrt(144 - 20 x 0.1996) = 23.832 V, 0.8392 A, 20.141 W.
    found = only(RULE, built(lead(), lamp(20, "constant power")), "driver")
    assert found.value == pytest.approx(20.141, abs=0.001)
    assert found.parts[-1].value == pytest.approx(0.141, abs=0.001)


def test_less_than_a_fifth_free_is_a_caution():
    assert only(RULE, built(lead(), lamp(50)), "driver").outcome is Outcome.CAUTION
    assert only(RULE, built(lead(), lamp(48)), "driver").outcome is Outcome.PASS


def test_over_the_rating_fails():
    found = only(RULE, built(lead(), lamp(61)), "driver")
    assert found.outcome is Outcome.FAIL
    assert found.to_do


def test_losses_alone_can_pass_the_rating():
    assert only(RULE, built(lead(), lamp(60, "constant power")), "driver").outcome is Outcome.FAIL


def test_a_range_across_the_rating_cannot_be_told():
    found = only(
        RULE, built(lead(), low_voltage_load("lamp", power_w=between(50, 70), kind="constant current")), "driver"
    )
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("low_voltage_load.lamp.power",)
    assert (found.low, found.high) == pytest.approx((50, 70))


@pytest.mark.parametrize(
    ("parts", "given", "need"),
    [
        ((lead(), lamp()), {"output_power_w": None}, "driver.driver.output_power"),
        ((lead(), lamp(30, "constant power")), {"output_voltage_v": None}, "driver.driver.output_voltage"),
        ((lead(length_m=None), lamp(30, "constant power")), {}, "cable.lead.length"),
        ((lead(), low_voltage_load("lamp")), {}, "low_voltage_load.lamp.power"),
    ],
)
def test_what_is_missing_is_named(parts, given, need):
    found = only(RULE, built(*parts, **given), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert need in found.needs


def test_without_lights_nothing_is_compared():
    assert only(RULE, built(), "driver").outcome is Outcome.CAUTION


def test_where_no_voltage_serves_no_watts_are_told():
    found = only(RULE, built(lead(600), lamp(39, "constant power")), "driver")
    # 24 V behind 2 x 600 ft of 16 AWG, 4.99 ohm/kft: 5.99 ohm, so V^2/4R = 24 W at most (Ohm's law).
    assert found.outcome is Outcome.FAIL
    assert found.value is None
    assert "39 W" in found.says


def test_where_a_voltage_may_or_may_not_serve_the_range_decides():
    found = only(RULE, built(lead(length_m=between(100 * FOOT, 600 * FOOT)), lamp(39, "constant power")), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.length",)


def test_a_strip_with_resistors_counts_with_its_label():
    # It draws less at the end of a long lead, but what is on its label is what the driver must be made for.
    found = only(RULE, built(lead(length_m=between(5 * FOOT, 60 * FOOT)), lamp(20, "resistor")), "driver")
    assert (found.low, found.high) == pytest.approx((20, 20))


def test_a_lamp_that_keeps_its_power_is_counted_at_both_ends_of_a_range():
    found = only(RULE, built(lead(length_m=between(5 * FOOT, 60 * FOOT)), lamp(20, "constant power")), "driver")
    # 2 x 5 ft x 4.99 ohm/kft = 0.0499 ohm, 60 ft: 0.5988 ohm; V = 12 + sqrt(144 - 20 R), and 24 V x 20 W / V given.
    ends = [24 * 20 / (12 + (144 - 20 * ohm) ** 0.5) for ohm in (0.0499, 0.5988)]
    assert (found.low, found.high) == pytest.approx(ends)


def test_wires_that_no_table_holds_matter_only_to_lamps_that_keep_their_power():
    thin = lead(size="1 mm^2", material="aluminum")
    assert only(RULE, built(thin, lamp(20, "resistor")), "driver").outcome is Outcome.PASS
    found = only(RULE, built(thin, lamp(20, "constant power")), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.material",)


@pytest.mark.parametrize(
    ("watts", "outcome", "value"),
    [
        ((40, 40), Outcome.PASS, 80),
        ((60, 20), Outcome.FAIL, 120),
        ((45, 20), Outcome.CAUTION, 90),
        ((20, 20, 40), Outcome.PASS, 80),
    ],
)
def test_each_of_two_outputs_gives_half(watts, outcome, value):
    # 100 W on two outputs: 50 W each. 60 W on one of them is too much, whatever the other one gives.
    runs = [
        cable(f"lead {number}", "driver", f"lamp {number}", size="16 AWG", length_m=1) for number in range(len(watts))
    ]
    lights = [
        low_voltage_load(f"lamp {number}", power_w=each, kind="constant current") for number, each in enumerate(watts)
    ]
    found = only(RULE, built(*runs, *lights, output_power_w=100, outputs=2), "driver")
    assert (found.outcome, found.value) == (outcome, pytest.approx(value))
    assert sum(part.value for part in found.parts) == pytest.approx(value)


@settings(max_examples=40, deadline=None)
@given(feet=st.floats(1, 40), more=st.floats(1, 2), watts=st.floats(1, 50))
def test_a_longer_lead_to_a_lamp_that_keeps_its_power_never_asks_less_of_the_driver(feet, more, watts):
    short = only(RULE, built(lead(feet), lamp(watts, "constant power")), "driver")
    long = only(RULE, built(lead(feet * more), lamp(watts, "constant power")), "driver")
    assert short.value >= watts - 1e-9
    assert long.value >= short.value - 1e-9


@pytest.mark.parametrize(
    ("watts", "says"),
    [
        (30, 'Driver "driver" supplies 30 W of its 60 W, and a fifth of it stays free.'),
        (50, 'Driver "driver" supplies 50 W of its 60 W. That is over 48 W, which would leave a fifth free.'),
        (61, 'Driver "driver" would have to supply 61 W, more than its 60 W rating.'),
    ],
)
def test_the_sentence_names_both(watts, says):
    found = only(RULE, built(lead(), lamp(watts)), "driver")
    assert found.says == says
    assert found.keys == ("driver.driver.output_power",)
    assert found.working[0] == f"lamp: {watts} W"
    assert found.working[-1] == f"together {watts} W; a fifth free would be 48 W"
    assert sum(part.value for part in found.parts) == pytest.approx(found.value)


def test_of_several_outputs_the_fullest_counts_for_all():
    """60 W on two outputs, 30 W each: 20 W and 10 W share them out, and the one with 20 W counts twice."""
    other = low_voltage_load("other", power_w=10, kind="constant current")
    second = cable("second", "driver", "other", size="16 AWG", stranding="stranded", type="class 2 cable", length_m=3)
    found = only(RULE, built(lead(), lamp(20), other, second, outputs=2), "driver")
    assert found.value == pytest.approx(40)
    assert "2 outputs, each counted like the fullest one" in found.working
    assert [part.value for part in found.parts] == pytest.approx([20, 10, 0, 10], abs=1e-9)
    assert "outputs" not in " ".join(only(RULE, built(lead(), lamp(20), other, second), "driver").working)


def test_without_a_light_there_is_nothing_to_compare():
    found = only(RULE, built(), "driver")
    assert (found.outcome, found.value) == (Outcome.CAUTION, None)
    assert "names no light" in found.says


def test_the_watts_lost_in_the_wires_are_told():
    # 20 W kept behind 0.1996 ohm: 20.141 W, as above; 0.141 W of it are lost
    found = only(RULE, built(lead(), lamp(20, "constant power")), "driver")
    assert found.working[:2] == ("lamp: 20 W", "lost in the wires: 0.141 W")


def test_one_light_that_keeps_its_power_is_enough_to_ask_for_a_wire_that_no_table_holds():
    thin = lead(size="1 mm^2", material="aluminum")
    onward = cable("on", "lamp", "other", size="16 AWG", stranding="stranded", type="class 2 cable", length_m=1)
    other = low_voltage_load("other", power_w=5, kind="resistor")
    found = only(RULE, built(thin, lamp(20, "constant power"), onward, other), "driver")
    assert found.outcome is Outcome.UNDETERMINED
