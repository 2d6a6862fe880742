"""How much less light the far end of a strip with resistors gives.

By hand: the current, and the light with it, goes with the volts above those of the diodes (Kirchhoff's voltage law; the
light of a white diode goes with its current). A strip of 24 V with six diodes of 2.8 V in a row needs 16.8 V, with
seven of 2.85 V 19.9 V.
"""

from dataclasses import replace

import numpy as np
import pytest
import scipy  # loads what is used of it when it is used: not in every process that collects all tests

from circuitcheck.case import EACH
from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.low_voltage_drop import RULE as DROP
from circuitcheck.rules.low_voltage.strip_brightness import RULE
from tests.rules.build import EDITIONS, FOOT, box, cable, circuit, direction, driver, findings, low_voltage_load, only


def built(watts_per_foot=4.4, feet=9.0, lead_feet=2.0, **light):
    plain = {"resistance_per_length_ohm_per_m": 0.02 / FOOT, "fed_from": "one end", "kind": "resistor"}
    strip = {"power_per_length_w_per_m": watts_per_foot / FOOT, "length_m": feet * FOOT}
    lead = cable("lead", "driver", "strip", size="16 AWG", stranding="stranded", length_m=lead_feet * FOOT)
    source = driver("driver", "attic", output_power_w=200)
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        source,
        lead,
        low_voltage_load("strip", **(plain | strip | light)),
    )


def ends_by_scipy(watts_per_foot, feet, lead_feet):
    """Volts at both ends: V'' = r g (V - 16.8), V(0) = 24 - R I(0), I(L) = 0, by a general boundary-value solver."""
    ohm, conductance = 0.02, watts_per_foot / 24 / 7.2
    lead_ohm = 2 * lead_feet * 4.99 / 1000

    def slope(x, y):
        return np.vstack((-ohm * y[1], -conductance * (y[0] - 16.8)))

    x = np.linspace(0, feet, 50)
    solved = scipy.integrate.solve_bvp(
        slope, lambda a, b: np.array((a[0] - 24 + lead_ohm * a[1], b[1])), x, np.ones((2, 50)) * (24,)
    )
    return solved.sol(0)[0], solved.sol(feet)[0]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("watts", "outcome"), [(4.4, Outcome.PASS), (9, Outcome.CAUTION)])
def test_the_far_end_against_the_near_end(edition, watts, outcome):
    near, far = ends_by_scipy(watts, 15, 2)
    found = only(RULE, built(watts, 15), "strip", edition)
    assert found.outcome is outcome
    most = 100 * (1 - (far - 0.83 * 24) / (near - 0.83 * 24))
    assert found.value == pytest.approx(most, rel=0.01)
    assert found.limit == 15
    least = 100 * (1 - (far - 16.8) / (near - 16.8))
    assert f"about {least:.2g} % to {found.value:.2g} % less light" in found.says


def test_a_short_strip_keeps_its_light_and_a_long_one_is_told_how_to_feed_it():
    assert only(RULE, built(4.4, 5), "strip").outcome is Outcome.PASS
    found = only(RULE, built(4.4, 20), "strip")
    assert found.outcome is Outcome.CAUTION
    assert "middle" in found.to_do[0]
    assert only(RULE, built(4.4, 20, fed_from="middle"), "strip").outcome is Outcome.PASS


def test_what_the_lead_loses_dims_both_ends_alike():
    # A long lead lowers the whole strip: the drop says so, and both ends stay nearly alike.
    long = built(4.4, 5, lead_feet=200)
    assert only(DROP, long, "strip").outcome is Outcome.CAUTION
    assert only(RULE, long, "strip").outcome is Outcome.PASS


def test_a_lead_that_leaves_the_strip_dark_cures_nothing():
    """Under the 19.9 V that seven diodes in a row need there is no light at either end."""
    found = only(RULE, built(4.4, 15, lead_feet=20000), "strip")
    assert (found.outcome, found.value) == (Outcome.CAUTION, 100)


@pytest.mark.parametrize("kind", ["constant current", "constant power", "incandescent"])
def test_other_kinds_keep_their_light_or_are_no_strips(kind):
    assert not findings(RULE, built(9, 15, kind=kind))


def test_a_lamp_at_one_point_has_no_far_end():
    assert not findings(RULE, built(power_w=20, power_per_length_w_per_m=None, length_m=None))


def test_of_an_unknown_kind_it_is_said_only_where_it_would_show():
    assert only(RULE, built(9, 15, kind=None), "strip").outcome is Outcome.CAUTION
    assert not findings(RULE, built(4.4, 5, kind=None))


def test_an_unknown_resistance_counts_up_to_thin_foil():
    found = only(RULE, built(4.4, 9, resistance_per_length_ohm_per_m=None), "strip")
    assert found.outcome is Outcome.CAUTION
    assert "low_voltage_load.strip.resistance_per_length" in found.assumed_keys


def test_an_unknown_cable_leaves_it_open():
    """A thin one dims the strip, and for aluminum of a metric size no table has a resistance."""
    parts = built(4.4, 9)
    unknown = cable("lead", "driver", "strip", size=None, material=None, length_m=2 * FOOT)
    found = only(RULE, replace(parts, cables=(parts.cables[0], unknown)), "strip")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.material",)


@pytest.mark.parametrize(
    ("kind", "outcome"),
    [("constant current", Outcome.PASS), ("constant power", Outcome.CAUTION), (None, Outcome.CAUTION)],
)
def test_another_light_on_the_cable_may_keep_its_power(kind, outcome):
    """43.2 W behind 200 ft of 16 AWG, 2 ohm: 1.8 A take 3.6 of 24 V, and 20.4 V are left; what keeps its power comes to
    rest at 12 + sqrt(144 - 86) = 19.6 V, less than the 19.9 V of seven diodes in a row: the strip is dark.
    """
    parts = built(1, 1, lead_feet=200)
    onward = cable("on", "strip", "lamp", size="10 AWG", stranding="stranded", length_m=1)
    lamp = low_voltage_load("lamp", power_w=43.2, kind=kind)
    lit = replace(parts, cables=(*parts.cables, onward), low_voltage_loads=(*parts.low_voltage_loads, lamp))
    assert only(RULE, lit, "strip").outcome is outcome


def test_a_light_of_which_nobody_knows_the_power_may_be_a_strip():
    """It is one where its watts are given per length, and then it may be as long as any."""
    bare = {"power_w": None, "power_per_length_w_per_m": None, "length_m": None}
    found = only(RULE, built(**bare), "strip")
    assert found.outcome is Outcome.UNDETERMINED
    assert "low_voltage_load.strip.length" in found.needs
    assert not findings(RULE, built(**{**bare, "power_w": 20}))


def test_the_working_names_both_ends_of_the_strip_and_of_the_range():
    # 0.70 and 0.83 of 24 V: 16.8 V and 19.92 V for the diodes
    for watts in (3, 5, 7, 9, 11, 13):
        near, far = ends_by_scipy(watts, 15, 2)
        found = only(RULE, built(watts, 15), "strip")
        least, most = (100 * (near - far) / (near - diodes) for diodes in (16.8, 19.92))
        assert f"about {least:.2g} % to {most:.2g} % less light at its darkest point" in found.says
        assert found.working == (
            f"highest voltage along strip: {near:.4g} V, lowest {np.floor(100 * far) / 100:.4g} V",
            f"diodes that take 16.8 V of 24 V: {least:.2g} % less light",
            f"diodes that take 19.9 V of 24 V: {most:.2g} % less light",
        )


def test_half_of_all_people_notice_it():
    assert only(RULE, built(9, 15), "strip").says.endswith("brightest. Half of all people notice 15 %.")
    assert only(RULE, built(4.4, 5), "strip").says.endswith("brightest.")


def test_where_no_voltage_serves_the_run_the_strip_is_dark():
    """24 V behind 2 x 200 ft of 16 AWG, 1.996 ohm: no more than 24 x 24 / (4 x 1.996) = 72.1 W arrive (V^2 / 4R)."""
    parts = built(1, 1, lead_feet=200)
    onward = cable("on", "strip", "lamp", size="10 AWG", stranding="stranded", length_m=1)
    lamp = low_voltage_load("lamp", power_w=80, kind="constant power")
    lit = replace(parts, cables=(*parts.cables, onward), low_voltage_loads=(*parts.low_voltage_loads, lamp))
    found = only(RULE, lit, "strip")
    assert (found.outcome, found.value) == (Outcome.CAUTION, 100)


@pytest.mark.parametrize("edition", EDITIONS)
def test_both_ends_of_the_range_have_their_sources(edition):
    places = {source.place for source in only(RULE, built(), "strip", edition).sources}
    assert {"three white diodes, 3.0 V at 20 mA each, with 150 ohm on 12 V", "seven white diodes in a row on 24 V"} < (
        places
    )


def test_which_kind_dims_a_strip_most():
    """Alone only its own resistors count; beside another light its own kind counts both ways, and what keeps its power
    takes most from it.
    """
    alone = direction(RULE, built(), "low_voltage_load.kind", "strip")
    assert alone("resistor") > alone("constant power") == alone("constant current")
    parts = built()
    onward = cable("on", "strip", "lamp", size="10 AWG", stranding="stranded", length_m=1)
    lamp = low_voltage_load("lamp", power_w=5, kind="resistor")
    both = replace(parts, cables=(*parts.cables, onward), low_voltage_loads=(*parts.low_voltage_loads, lamp))
    assert direction(RULE, both, "low_voltage_load.kind", "strip")("resistor") is EACH
    of_the_lamp = direction(RULE, both, "low_voltage_load.kind", "lamp")
    assert of_the_lamp("constant power") > of_the_lamp("resistor") == of_the_lamp("constant current")
    loose = circuit(box("attic"), cable("feed", "panel", "attic"), *parts.low_voltage_loads)
    assert direction(RULE, loose, "low_voltage_load.kind", "strip")("resistor") == alone("resistor")


def test_which_length_dims_a_strip_most():
    by_length = direction(RULE, built(), "low_voltage_load.length", "strip")
    assert by_length(2.0) > by_length(1.0)
    in_all = built(power_w=20, power_per_length_w_per_m=None)
    assert direction(RULE, in_all, "low_voltage_load.length", "strip")(1.0) is EACH


def test_the_more_uneven_two_cables_to_one_strip_are_the_more_uneven_is_its_light():
    """Two like cables leave both ends of the strip alike, which are brightest then; a short one raises its own end."""

    def found(length_m):
        strip = {"power_per_length_w_per_m": 4.4 / FOOT, "length_m": 9 * FOOT, "fed_from": "both ends"}
        built = circuit(
            box("attic"),
            cable("feed", "panel", "attic"),
            driver("driver", "attic", output_power_w=200),
            cable("one", "driver", "strip", size="18 AWG", stranding="stranded", length_m=length_m),
            cable("two", "driver", "strip", size="18 AWG", stranding="stranded", length_m=5),
            low_voltage_load("strip", kind="resistor", resistance_per_length_ohm_per_m=0.02 / FOOT, **strip),
        )
        return only(RULE, built, "strip")

    told, known = found((1, 8)), {length: found(length).value for length in (1, 3, 5, 6, 8)}
    assert known[1] > known[3] > known[5] < known[8] < known[1]
    assert (told.low, told.high) == (pytest.approx(known[5]), pytest.approx(known[1]))


def fed_at_both_ends(one, two, *beyond):
    """15 ft of strip, 4.4 W a foot, between two cables of 16 AWG at 75 degC (4.99 ohm per 1000 ft, Table 8)."""
    strip = {"power_per_length_w_per_m": 4.4 / FOOT, "length_m": 15 * FOOT, "fed_from": "both ends"}
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        driver("driver", "attic", output_power_w=200),
        cable("one", "driver", "strip", **({"size": "16 AWG", "stranding": "stranded"} | one)),
        cable("two", "driver", "strip", **({"size": "16 AWG", "stranding": "stranded"} | two)),
        low_voltage_load("strip", kind="resistor", resistance_per_length_ohm_per_m=0.02 / FOOT, **strip),
        *beyond,
    )


def test_a_cable_of_unknown_metal_may_be_as_good_as_the_other_where_copper_is_not():
    """10 ft of copper-clad aluminum resist as much as 10 / 0.629 ft of copper: each feeds one half of the strip."""
    near, far = ends_by_scipy(4.4, 7.5, 10 / 0.629)
    least = 100 * (near - far) / (near - 0.83 * 24)
    told = only(
        RULE, fed_at_both_ends({"length_m": (12 * FOOT, 20 * FOOT)}, {"length_m": 10 * FOOT, "material": None}), "strip"
    )
    assert told.low == pytest.approx(least, rel=0.01)
    copper = only(RULE, fed_at_both_ends({"length_m": (12 * FOOT, 20 * FOOT)}, {"length_m": 10 * FOOT}), "strip")
    assert copper.low > 1.02 * told.low


def test_where_a_lamp_hangs_on_the_strip_the_cable_to_that_end_has_to_be_the_better():
    """66 W in the strip and 33 W in the lamp: the second cable carries 66 W, twice as much as the first."""
    lamp = low_voltage_load("lamp", power_w=33, kind="constant current")
    on = cable("on", "strip", "lamp", size="10 AWG", stranding="stranded", length_m=1)

    def found(feet):
        built = fed_at_both_ends({"length_m": feet}, {"length_m": 6 * FOOT}, on, lamp)
        return only(RULE, built, "strip")

    told = found((3 * FOOT, 30 * FOOT))
    known = {feet: found(feet * FOOT).value for feet in (3, 6, 9, 12, 15, 20, 30)}
    assert min(known, key=known.get) == 12
    assert told.low == pytest.approx(known[12], rel=1e-6)
    assert told.high == pytest.approx(max(known.values()))


def less_light_by_scipy(one_ohm, two_ohm):
    """Percent less light of that strip between leads of these ohms: V(0) = 24 - R I(0), V(L) = 24 + R I(L)."""
    ohm, conductance = 0.02, 4.4 / 24 / 7.2

    def slope(x, y):
        return np.vstack((-ohm * y[1], -conductance * (y[0] - 16.8)))

    def ends(a, b):
        return np.array((a[0] - 24 + one_ohm * a[1], b[0] - 24 - two_ohm * b[1]))

    volts = scipy.integrate.solve_bvp(slope, ends, np.linspace(0, 15, 50), np.ones((2, 50)) * (24,)).sol(
        np.linspace(0, 15, 500)
    )[0]
    return 100 * (volts.max() - volts.min()) / (volts.max() - 0.83 * 24)


@pytest.mark.parametrize(("one", "two"), [(10, 12), (12, 10)])
def test_of_two_cables_of_unknown_size_the_longer_may_be_thin_and_the_shorter_thick(one, two):
    """18 AWG has 7.95 ohm per 1000 ft, 10 AWG 1.24 (Table 8, stranded): a loop of it twice that."""
    thin, thick = (2 * ohm / 1000 for ohm in (7.95, 1.24))
    sizes = ("10 AWG", "18 AWG") if one < two else ("18 AWG", "10 AWG")
    by_hand = less_light_by_scipy(*((thick * one, thin * two) if one < two else (thin * one, thick * two)))

    def found(*sizes):
        leads = ({"length_m": feet * FOOT, "size": size} for feet, size in zip((one, two), sizes, strict=True))
        return only(RULE, fed_at_both_ends(*leads), "strip")

    assert found(*sizes).value == pytest.approx(by_hand, rel=0.01)
    told = found(None, None)
    assert told.low < found("18 AWG", "18 AWG").value < by_hand < told.high
