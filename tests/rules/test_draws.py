"""What a driver draws from the branch circuit, against worked examples."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.draws import driver_draw
from tests.rules.build import book, box, circuit, driver


def drawn(**given):
    plain = {"input_current_a": None, "output_power_w": None}
    case = case_of(circuit(box("b"), driver("d", "b", **(plain | given))), book())
    return driver_draw(case, case.drivers[0])


def test_the_ampere_rating_counts_not_the_watts_of_the_lamp():
    # A lamp of 14 W marked 120 V, 0.200 A counts as 24 VA, power factor 14/24 = 0.58: the ampere rating
    # counts, not the watts of the lamp (NFPA 70-2017, 220.18(B)).
    draw = drawn(output_power_w=14, input_power_w=14, input_current_a=0.2)
    assert (draw.amperes, abs(draw.power), draw.power.real) == pytest.approx((0.2, 24, 14))


def test_output_power_with_efficiency_and_power_factor():
    # 60 W / 0.86 = 69.8 W in; 69.8 W / 0.92 = 75.8 VA: division by hand.
    draw = drawn(output_power_w=60, efficiency=0.86, power_factor=0.92)
    assert draw.power.real == pytest.approx(69.77, abs=0.005)
    assert abs(draw.power) == pytest.approx(75.83, abs=0.005)


def test_no_more_watts_than_volt_amperes_flow_in():
    assert drawn(input_power_w=90, input_current_a=0.5).power.real == pytest.approx(60)
