"""Conductors against printed tables. No expected value here comes from this package."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitcheck.physics.conductors import (
    COPPER_COEFFICIENT_PER_K,
    COPPER_RESISTIVITY_OHM_M,
    awg_area_m2,
    awg_diameter_m,
    coefficient_at,
    resistance_at,
    resistance_ohm_per_m,
)

FOOT = 0.3048
CIRCULAR_MIL_M2 = math.pi / 4 * (0.001 * 0.0254) ** 2

#: gauge: (area in circular mils, ohm per 1,000 ft at 20 degC, diameter in inches), solid annealed copper.
#: Source: Georgia State University, HyperPhysics, table "American Wire Gages (AWG) Sizes and Resistances",
#: after T. L. Floyd, Electric Circuit Fundamentals, 2nd edition; rows 4/0 to 1 print the resistance to fewer digits.
HYPERPHYSICS = {
    -3: (211600, 0.049, 0.46),
    -2: (167810, 0.0618, 0.40965),
    -1: (133080, 0.078, 0.3648),
    0: (105530, 0.0983, 0.32485),
    1: (83694, 0.124, 0.2893),
    2: (66373, 0.1563, 0.25763),
    4: (41742, 0.2485, 0.20431),
    6: (26250, 0.3951, 0.16202),
    8: (16509, 0.6282, 0.12849),
    10: (10381, 0.9989, 0.10189),
    12: (6529, 1.588, 0.0808),
    14: (4106.8, 2.525, 0.06408),
    16: (2582.9, 4.016, 0.05082),
    18: (1624.3, 6.385, 0.0403),
    20: (1021.5, 10.15, 0.03196),
    22: (642.4, 16.14, 0.02535),
    36: (25, 414.8, 0.005),
    40: (9.89, 1049, 0.00314),
}

#: NFPA 70 Chapter 9 Table 8, ohm per 1,000 ft at 75 degC: uncoated copper solid, stranded; aluminum solid, stranded.
#: Source: the text of NFPA 70-2017, read in a public copy.
TABLE_8 = {
    18: (7.77, 7.95, 12.8, 13.1),
    16: (4.89, 4.99, 8.05, 8.21),
    14: (3.07, 3.14, 5.06, 5.17),
    12: (1.93, 1.98, 3.18, 3.25),
    10: (1.21, 1.24, 2.00, 2.04),
    8: (0.764, 0.778, 1.26, 1.28),
}

#: Extra length of strands, 2 percent (ASTM B8 and B496); aluminum of 61 percent IACS with 0.00403/K (ASTM B233).
LAY = 0.02
ALUMINUM_RESISTIVITY = COPPER_RESISTIVITY_OHM_M / 0.61
ALUMINUM_COEFFICIENT = 0.00403


def last_digit(printed):
    """Half a unit of the last printed digit, taking trailing zeros of a whole number as not printed."""
    text = repr(printed)
    decimals = len(text.split(".")[1]) if "." in text and not text.endswith(".0") else 0
    return 0.5 * 10.0**-decimals


def ohm_per_kft(gauge, resistivity, coefficient, lay, celsius):
    at_20 = resistance_ohm_per_m(awg_area_m2(gauge), resistivity, lay)
    return resistance_at(at_20, coefficient, 20.0, celsius) * 1000 * FOOT


@pytest.mark.parametrize("gauge", HYPERPHYSICS)
def test_diameter_and_area_against_a_printed_wire_table(gauge):
    mils, _, inches = HYPERPHYSICS[gauge]
    # The table cuts diameters off rather than rounding them, hence a whole unit of its last digit.
    assert awg_diameter_m(gauge) / 0.0254 == pytest.approx(inches, abs=1.1e-5)
    assert awg_area_m2(gauge) / CIRCULAR_MIL_M2 == pytest.approx(mils, rel=3e-4)


@pytest.mark.parametrize("gauge", HYPERPHYSICS)
def test_copper_at_20_degrees_against_a_printed_wire_table(gauge):
    printed = HYPERPHYSICS[gauge][1]
    ours = ohm_per_kft(gauge, COPPER_RESISTIVITY_OHM_M, COPPER_COEFFICIENT_PER_K, 0.0, 20.0)
    assert ours == pytest.approx(printed, rel=3e-4, abs=last_digit(printed))


def test_the_two_exact_gauges():
    assert awg_diameter_m(36) == pytest.approx(0.005 * 0.0254, rel=1e-15)
    assert awg_diameter_m(-3) == pytest.approx(0.46 * 0.0254, rel=1e-14)


@pytest.mark.parametrize("gauge", TABLE_8)
def test_chapter_9_table_8_within_its_own_rounding(gauge):
    """The printed table itself is rounded by up to 0.5 percent (12 AWG stranded), so 0.6 percent is the test."""
    solid, stranded, aluminum_solid, aluminum_stranded = TABLE_8[gauge]
    copper = (COPPER_RESISTIVITY_OHM_M, COPPER_COEFFICIENT_PER_K)
    aluminum = (ALUMINUM_RESISTIVITY, ALUMINUM_COEFFICIENT)
    assert ohm_per_kft(gauge, *copper, 0.0, 75.0) == pytest.approx(solid, rel=0.006)
    assert ohm_per_kft(gauge, *copper, LAY, 75.0) == pytest.approx(stranded, rel=0.006)
    assert ohm_per_kft(gauge, *aluminum, 0.0, 75.0) == pytest.approx(aluminum_solid, rel=0.006)
    assert ohm_per_kft(gauge, *aluminum, LAY, 75.0) == pytest.approx(aluminum_stranded, rel=0.006)


def test_coefficients_of_the_note_below_table_8():
    """The note states 0.00323 for copper and 0.00330 for aluminum, from 75 degC (NFPA 70-2017, note 2)."""
    assert coefficient_at(COPPER_COEFFICIENT_PER_K, 20.0, 75.0) == pytest.approx(0.00323, abs=5e-6)
    assert coefficient_at(ALUMINUM_COEFFICIENT, 20.0, 75.0) == pytest.approx(0.00330, abs=5e-6)


def test_copper_resistivity_in_the_units_of_astm_b233():
    """ASTM B233, table of equivalents: 100 percent IACS is 0.017241 ohm mm2/m and 10.371 ohm cmil/ft."""
    assert pytest.approx(0.017241, abs=5e-7) == COPPER_RESISTIVITY_OHM_M * 1e6
    per_circular_mil_foot = COPPER_RESISTIVITY_OHM_M * FOOT / CIRCULAR_MIL_M2
    assert per_circular_mil_foot == pytest.approx(10.371, abs=5e-4)


@given(gauge=st.integers(-3, 40), celsius=st.floats(-40, 200), hotter=st.floats(0.01, 100))
def test_hotter_and_thinner_never_have_less_resistance(gauge, celsius, hotter):
    cold = ohm_per_kft(gauge, COPPER_RESISTIVITY_OHM_M, COPPER_COEFFICIENT_PER_K, 0.0, celsius)
    assert ohm_per_kft(gauge, COPPER_RESISTIVITY_OHM_M, COPPER_COEFFICIENT_PER_K, 0.0, celsius + hotter) > cold
    assert ohm_per_kft(gauge + 1, COPPER_RESISTIVITY_OHM_M, COPPER_COEFFICIENT_PER_K, 0.0, celsius) > cold


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="area"):
        resistance_ohm_per_m(0.0, COPPER_RESISTIVITY_OHM_M)
    with pytest.raises(ValueError, match="straight line"):
        resistance_at(1.0, COPPER_COEFFICIENT_PER_K, 20.0, -273.0)
