"""The volts that arrive, at worst and at best, by hand: 14 AWG solid, 0.614 ohm there and back for 100 ft."""

import pytest

from circuitcheck.checking.volts import branch_volts
from tests.rules.build import FOOT, book, box, cable, circuit, load, supply


def volts_of(*parts, **on):
    run = cable("run", "panel", "b", length_m=100 * FOOT, conductor_temperature_c=75)
    return branch_volts(circuit(supply(**on), box("b"), run, *parts), book())


def arriving(watts):
    """60 + sqrt(60^2 - P R): P = v (120 - v) / R."""
    return 60 + (3600 - watts * 0.614) ** 0.5


def test_both_ends_of_the_loss_and_what_arrives_at_worst():
    found = volts_of(load("l", "b", power_w=(300, 600)))
    there = found.parts["l"]
    assert (there.least_v, there.most_v) == pytest.approx((120 - arriving(300), 120 - arriving(600)), rel=2e-3)
    assert there.arrives_v == pytest.approx(arriving(600), rel=1e-4)
    assert there.known
    assert found.boxes["b"] == there
    assert "panel" not in found.boxes
    assert (found.panel_v, found.nominal_v, found.measured) == ((120, 120), (120, 120), False)
    assert (found.impedance_ohm, found.limit_percent) == (None, 3)


def test_what_is_read_at_the_panel_counts_for_what_arrives():
    found = volts_of(load("l", "b", power_w=6), measured_voltage_v=(117, 118), impedance_ohm=(0.1, 0.2))
    assert (found.panel_v, found.nominal_v, found.measured) == ((117, 118), (120, 120), True)
    assert found.impedance_ohm == (0.1, 0.2)
    assert found.parts["l"].arrives_v == pytest.approx(117, abs=0.1)


def test_what_nothing_bounds_is_unknown_and_what_cannot_be_served_has_no_volts():
    assert not volts_of(load("l", "b")).parts["l"].known
    # 120^2 / (4 x 0.614) = 5,863 W at the most
    there = volts_of(load("l", "b", power_w=7000)).parts["l"]
    assert (there.least_v, there.most_v, there.arrives_v) == (None, None, None)
    half = volts_of(load("l", "b", power_w=(600, 7000))).parts["l"]
    assert half.least_v == pytest.approx(120 - arriving(600), rel=2e-3)
    assert (half.most_v, half.arrives_v) == (None, None)


def test_a_cable_of_no_table_is_not_known():
    run = cable("run", "panel", "b", size="2.5 mm^2", material="aluminum")
    found = branch_volts(circuit(box("b"), run, load("l", "b", power_w=60)), book())
    assert not found.parts["l"].known
