"""A voltage under load: the resistance of the way by hand, against what wire, joints and service explain.

14 AWG solid copper has 3.07 ohm/kft at 75 degC (NFPA 70, Chapter 9, Table 8): 0.00614 ohm for each foot of cable, there
and back. The allowances are common practice: 0.25 ohm for the service, 0.01 ohm for a sound joint, of which two are
counted at the panel and four in each box.
"""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.loaded_voltage import RULE
from tests.rules.build import FOOT, between, box, cable, circuit, control, findings, guess, load, only, supply

PASS, CAUTION, FAIL, UNDETERMINED = Outcome.PASS, Outcome.CAUTION, Outcome.FAIL, Outcome.UNDETERMINED


def read(loaded, amperes=12, at="end", *, unloaded=120, feet=52, **given):
    readings = {"measured_voltage_v": unloaded, "loaded_voltage_v": loaded, "loaded_current_a": amperes}
    way = cable("run", "panel", "end", origin="existing", **({"length_m": feet * FOOT} | given))
    return circuit(supply(loaded_at=at, **readings), box("end"), way)


@pytest.mark.parametrize(
    ("loaded", "amperes", "percent", "outcome"),
    [
        # 52 ft: 0.319 ohm, joints 6 x 0.01, service 0.25: 0.629 ohm explained
        (116, 12, 3.333, PASS),  # 4 V / 12 A = 0.333 ohm
        (112, 12, 6.667, CAUTION),  # 8 V / 12 A = 0.667 ohm: 0.45 V unexplained, two readings may be off by as much
        (108, 12, 10.0, FAIL),  # 12 V / 12 A = 1 ohm: 4.5 V unexplained
        (106.8, 12, 11.0, FAIL),  # 1.1 ohm
        (113, 1, 5.833, FAIL),  # 7 ohm
        (113, 20, 5.833, PASS),  # 7 V / 20 A = 0.35 ohm
    ],
)
def test_the_loss_against_what_the_way_explains(loaded, amperes, percent, outcome):
    found = only(RULE, read(loaded, amperes), "circuit")
    assert (found.outcome, found.stop) == (outcome, outcome is FAIL)
    assert found.value == pytest.approx(percent, abs=0.001)


def test_what_is_explained_is_shown_in_ohms_and_the_heat_of_the_joint_in_watts():
    found = only(RULE, read(113, 1), "circuit")
    # 7 ohm - 0.629 ohm = 6.37 ohm: 6.37 W at 1 A, and x 15 A x 15 A = 1,433 W
    assert "0.63 ohm" in found.says
    assert "6.37 W" in found.says
    assert "1433 W" in found.says
    assert any("7 ohm" in line for line in found.working)


def test_a_long_thin_wire_explains_much_and_is_looked_into_over_eight_percent():
    # 150 ft: 0.921 ohm + 0.06 + 0.25 = 1.231 ohm; 14.4 V / 12 A = 1.2 ohm, 12 %
    found = only(RULE, read(105.6, feet=150), "circuit")
    assert (found.outcome, found.stop) == (CAUTION, False)
    assert only(RULE, read(105.6, feet=52), "circuit").outcome is FAIL


def test_the_wire_down_to_the_switch_and_back_counts():
    # 40 ft and a loop of 60 ft: 0.614 ohm, joints 10 x 0.01 and service: 0.964 ohm; without the loop 0.556 ohm
    built = circuit(
        supply(loaded_at="a", measured_voltage_v=120, loaded_voltage_v=109, loaded_current_a=12), box("a"), box("s"),
        cable("feed", "panel", "a", origin="existing", length_m=40 * FOOT),
        cable("loop", "a", "s", origin="existing", length_m=60 * FOOT, carries="switch loop"), control("c", "s"),
        load("lamp", "a", power_w=60, switched_by="c"),
    )  # fmt: skip
    found = only(RULE, built, "circuit")  # 11 V / 12 A = 0.917 ohm
    assert (found.outcome, found.stop) == (CAUTION, False)
    assert "The wire explains it" in found.says


@pytest.mark.parametrize(
    ("built", "keys"),
    [
        # The four go together (a loop impedance is volts lost over amperes, and is held against the way to that
        # outlet), and one visit with the meter reads them all: nobody is sent back for the next.
        (circuit(supply(loaded_voltage_v=116)), ("measured_voltage", "loaded_current", "loaded_at")),
        (circuit(supply(loaded_voltage_v=116, loaded_current_a=1)), ("measured_voltage", "loaded_at")),
        (read(113, None, None), ("loaded_current", "loaded_at")),
        (read(113, None), ("loaded_current",)),
        (read(113, 0), ("loaded_current",)),
        (read(113, 1, None), ("loaded_at",)),
        (read(113, 1, "nowhere"), ("loaded_at",)),
    ],
)
def test_a_reading_without_its_partners_asks_and_never_stops(built, keys):
    found = only(RULE, built, "circuit")
    assert (found.outcome, found.stop) == (UNDETERMINED, False)
    assert found.needs == tuple(f"supply.{key}" for key in keys)


def test_a_loss_that_the_service_alone_explains_needs_no_box():
    assert only(RULE, read(118, 12, None), "circuit").outcome is PASS  # 2 V / 12 A = 0.167 ohm


def test_a_voltage_that_rises_under_load_is_asked_about():
    found = only(RULE, read(123), "circuit")
    assert found.outcome is UNDETERMINED
    assert set(found.needs) == {"supply.loaded_voltage", "supply.measured_voltage"}
    assert only(RULE, read(120.5), "circuit").outcome is PASS  # the supply drifts


def test_an_unknown_length_is_asked_where_it_decides():
    found = only(RULE, read(108, length_m=None), "circuit")
    assert (found.outcome, found.needs, found.stop) == (UNDETERMINED, ("cable.run.length",), False)
    assert only(RULE, read(118, length_m=None), "circuit").outcome is PASS


def test_a_reading_that_was_guessed_stops_nothing_unless_all_of_it_fails():
    # about 10 V lost: (108 to 112) V; 0.667 ohm to 1 ohm against 0.629
    found = only(RULE, read(between(108, 116)), "circuit")
    assert (found.outcome, found.needs) == (UNDETERMINED, ("supply.loaded_voltage",))
    assert only(RULE, read(between(100, 105)), "circuit").outcome is FAIL
    assert only(RULE, read(113, guess(1)), "circuit").outcome is FAIL


def test_no_reading_says_nothing():
    assert findings(RULE, circuit(supply(measured_voltage_v=120))) == []


def test_the_heat_of_the_joint_is_told_now_and_at_the_rating():
    # as above: 6.37 ohm are unexplained; at 15 A 6.37 x 225 = 1433 W
    found = only(RULE, read(113, 1), "circuit")
    assert "1433 W would at 15 A" in found.says
    assert any(line.startswith("(120 V - 113 V) / 1 A = 7 ohm; 5.83 % of 120 V") for line in found.working)


def test_the_heat_of_now_goes_with_the_square_of_the_current_that_was_read():
    """52 ft: 0.62928 ohm explained (0.31928 + 0.06 + 0.25); 12 V / 12 A = 1 ohm: 0.37072 ohm at 12 A and at 15 A.

    0.37072 x 144 = 53.4 W and x 225 = 83.4 W; explained are 0.62928 ohm x 12 A = 7.551 V of 120 V: 6.29 %.
    """
    found = only(RULE, read(108), "circuit")
    assert "About 53.4 W heat a bad connection now, and 83.4 W would at 15 A." in found.says
    assert found.limit == pytest.approx(6.2928, rel=1e-3)


def test_readings_are_shown_to_a_tenth_of_a_volt():
    found = only(RULE, read(117.26, unloaded=121.37), "circuit")
    assert found.working[0].startswith("(121.4 V - 117.3 V) / 12 A = ")


def test_of_two_loops_the_longer_one_is_on_the_way():
    """40 ft and a loop of two cables of 30 ft: 100 ft x 0.00614 = 0.614 ohm, 14 joints 0.14, service: 1.004 ohm."""
    built = circuit(
        supply(loaded_at="a", measured_voltage_v=120, loaded_voltage_v=109, loaded_current_a=12),
        box("a"), box("near"), box("mid"), box("far"),
        cable("feed", "panel", "a", origin="existing", length_m=40 * FOOT),
        cable("short", "a", "near", origin="existing", length_m=5 * FOOT, carries="switch loop"), control("n", "near"),
        cable("long", "a", "mid", origin="existing", length_m=30 * FOOT, carries="switch loop"),
        cable("on", "mid", "far", origin="existing", length_m=30 * FOOT, carries="switch loop"), control("f", "far"),
        load("first", "a", power_w=60, switched_by="n"), load("second", "a", power_w=60, switched_by="f"),
    )  # fmt: skip
    found = only(RULE, built, "circuit")
    assert any("wire 0.614 ohm there and back, sound connections 0.14 ohm" in line for line in found.working)
