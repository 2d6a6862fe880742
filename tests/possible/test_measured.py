"""What a reading under load says about the length of the cable on the way: the ohms of a foot by hand.

14 AWG copper has 3.07 ohm/kft solid and 3.14 stranded at 75 degC (NFPA 70, Chapter 9, Table 8). At -20 degC it has
1 + 0.00323 x (-95) = 0.69315 of that (note 2 there): 2.128 ohm/kft, 4.256 mohm for a foot of cable, there and back. Two
readings are off by 2 V together at most, and the supply drifts by 1 V (common practice).
"""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking import check
from circuitcheck.findings import Outcome
from circuitcheck.quantities import How, Interval
from tests.rules.build import FOOT, between, book, box, cable, circuit, load, supply

FOOT_OHM = 2 * 3.07e-3 * 0.69315


def feed(**given):
    return cable("feed", "panel", "end", **({"origin": "existing", "length_m": None} | given))


def built(way, *parts, **given):
    readings = {"measured_voltage_v": 120, "loaded_voltage_v": 117, "loaded_current_a": 12, "loaded_at": "end"}
    return circuit(supply(**(readings | given)), box("end"), way, *parts)


def ends_ft(of, name="feed"):
    """Ends of the length of a cable [ft], whether they bound it; None where it is settled."""
    entry = next((each for each in case_of(of, book()).entries if str(each.ref) == f"cable.{name}.length"), None)
    if entry is None:
        return None
    low, high = entry.possible.options
    return low / FOOT, high / FOOT, entry.possible.bounded


def test_a_reading_bounds_an_unknown_length():
    # (3 + 2 + 1) V / 12 A = 0.5 ohm
    low, high, bounded = ends_ft(built(feed()))
    assert bounded
    assert low < 0.1
    assert high == pytest.approx(0.5 / FOOT_OHM, rel=1e-3)  # 117.5 ft


def test_a_small_load_bounds_it_too_if_loosely():
    # (3 + 2 + 1) V / 0.9 A = 6.7 ohm: 1,566 ft
    _, high, bounded = ends_ft(built(feed(), loaded_current_a=0.9))
    assert (high, bounded) == (pytest.approx(6 / 0.9 / FOOT_OHM, rel=1e-3), True)


def test_it_narrows_a_range_and_leaves_what_it_contradicts():
    assert ends_ft(built(feed(length_m=(20 * FOOT, 300 * FOOT))))[1] == pytest.approx(0.5 / FOOT_OHM, rel=1e-3)
    assert ends_ft(built(feed(length_m=(20 * FOOT, 60 * FOOT))))[1] == pytest.approx(60)
    assert ends_ft(built(feed(length_m=(200 * FOOT, 300 * FOOT))))[1] == pytest.approx(300)
    assert ends_ft(built(feed(length_m=50 * FOOT))) is None


def test_a_range_of_readings_counts_at_its_widest():
    # 121 - 115 + 3 = 9 V over 10 A
    wide = built(feed(), measured_voltage_v=(119, 121), loaded_voltage_v=(115, 118), loaded_current_a=(10, 13))
    assert ends_ft(wide)[1] == pytest.approx(0.9 / FOOT_OHM, rel=1e-3)


@pytest.mark.parametrize(
    "of",
    [
        built(feed(), loaded_current_a=None),
        built(feed(), loaded_current_a=0),
        built(feed(), measured_voltage_v=None),
        built(feed(), loaded_at=None),
        built(feed(), loaded_voltage_v=124),  # it rose by more than the readings are off
        built(feed(size=None)),
        built(feed(known_by={"size": How.GUESS})),
        built(feed(origin="added")),
        circuit(supply(measured_voltage_v=120, loaded_voltage_v=117, loaded_current_a=12, loaded_at="other"),
                box("other"), cable("there", "panel", "other", origin="existing"), box("end"), feed()),
    ],
)  # fmt: skip
def test_a_reading_that_says_nothing_of_the_cable(of):
    assert ends_ft(of)[2] is False


def test_metal_that_nobody_knows_is_copper_and_aluminum_has_its_own_ohms():
    assert ends_ft(built(feed(material=None)))[1] == pytest.approx(0.5 / FOOT_OHM, rel=1e-3)
    # 12 AWG aluminum has 3.18 ohm/kft at 75 degC, and 1 + 0.00330 x (-95) = 0.6865 of it in the cold
    aluminum = built(feed(material="aluminum", size="12 AWG"))
    assert ends_ft(aluminum)[1] == pytest.approx(0.5 / (2 * 3.18e-3 * 0.6865), rel=2e-2)


def test_the_drop_is_settled_by_a_reading():
    """117.5 ft x 0.00614 ohm and 10 W more: under 3 percent of 120 V. Without the reading nobody can tell."""
    lamp = load("lamp", "end", power_w=60, origin="added")

    def drop(of):
        return next(each for each in check(of, book()).findings if each.check == "voltage-drop")

    assert drop(built(feed(), lamp, loaded_voltage_v=None)).outcome is Outcome.UNDETERMINED
    told = drop(built(feed(), lamp))
    assert told.outcome is Outcome.PASS
    assert any("by the reading under load at most 118 ft" in line for line in told.assumed)


def test_a_guess_at_a_reading_is_as_wide_as_it_is():
    loose = Interval(87.75, 146.25, How.GUESS, "about 117 V")
    assert ends_ft(built(feed(), loaded_voltage_v=loose))[1] > 500
    assert ends_ft(built(feed(), loaded_current_a=between(12, 12)))[1] < 120
