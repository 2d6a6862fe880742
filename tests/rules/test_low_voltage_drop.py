"""Voltage at the far end of low-voltage lights.

Expected voltages are worked by hand from NFPA 70 Chapter 9 Table 8 (16 AWG stranded copper 4.99 ohm per 1000 ft, 18 AWG
7.95) and the formula for a uniform load, i r L^2 / 2 (Gonen, Electric Power Distribution Engineering).
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.case import EACH
from circuitcheck.case.making import case_of
from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.low_voltage_drop import RULE
from tests.rules.build import (
    EDITIONS,
    FOOT,
    between,
    book,
    box,
    cable,
    circuit,
    driver,
    findings,
    low_voltage_load,
    only,
)

FEED = cable("feed", "panel", "attic")


def strip(name="strip", **more):
    plain = {
        "power_per_length_w_per_m": 4.4 / FOOT,
        "length_m": 9 * FOOT,
        "resistance_per_length_ohm_per_m": 0.02 / FOOT,
        "fed_from": "one end",
        "kind": "constant current",
    }
    return low_voltage_load(name, **(plain | more))


def lead(feet=20.0, name="lead", start="driver", end="strip", **more):
    plain = {"size": "16 AWG", "stranding": "stranded", "type": "class 2 cable", "length_m": feet * FOOT}
    return cable(name, start, end, **(plain | more))


def built(*parts, **driver_given):
    return circuit(box("attic"), FEED, driver("driver", "attic", **driver_given), *parts)


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_drop_of_lead_and_strip_adds_up(edition):
    # 39.6 W / 24 V = 1.65 A; lead 2 x 20 ft x 4.99/1000 = 0.1996 ohm: 0.3293 V; strip 0.02 x 9 = 0.18 ohm:
    # 1.65 x 0.18 / 2 = 0.1485 V. Left: 23.522 V.
    found = only(RULE, built(lead(), strip()), "strip", edition)
    assert found.value == pytest.approx(23.522, abs=0.0005)
    assert found.limit == pytest.approx(22.8)
    assert found.outcome is Outcome.PASS
    assert [part.value for part in found.parts] == pytest.approx([0.3293, 0.1485], abs=0.0005)
    assert [part.subject for part in found.parts] == ["lead", "strip"]
    assert "2 % less" in found.says
    assert found.unit == "V"


@pytest.mark.parametrize(("feed", "part"), [("both ends", 8), ("middle", 8), ("one end", 2)])
def test_where_the_strip_is_fed(feed, part):
    found = only(RULE, built(lead(), strip(fed_from=feed)), "strip")
    assert found.value == pytest.approx(24 - 1.65 * 0.1996 - 1.65 * 0.18 / part, abs=0.0005)


def test_a_lead_to_each_end():
    # Each lead carries half; the middle lies 1.65 x 0.18 / 8 lower.
    found = only(RULE, built(lead(), lead(name="second"), strip(fed_from="both ends")), "strip")
    assert found.value == pytest.approx(24 - 0.825 * 0.1996 - 1.65 * 0.18 / 8, abs=0.0005)


def test_a_lamp_at_one_point_keeps_its_power():
    # V^2 - 24 V + 20 W x 0.1996 ohm = 0.
    found = only(RULE, built(lead(), low_voltage_load("strip", power_w=20, kind="constant power")), "strip")
    assert found.value == pytest.approx(12 + math.sqrt(144 - 20 * 0.1996), abs=0.0005)


def test_its_own_least_voltage_counts_before_the_usual_five_percent():
    wires = lead(60), strip(power_per_length_w_per_m=6 / FOOT)
    # 2.25 A x 0.5988 ohm = 1.347 V, strip 2.25 x 0.18 / 2 = 0.2025 V: 22.45 V.
    # Trade practice: a plan stays within 5 % where the label gives no least voltage; it is no limit of the code.
    assert only(RULE, built(*wires), "strip").outcome is Outcome.CAUTION
    wires = lead(60), strip(power_per_length_w_per_m=6 / FOOT, min_voltage_v=22)
    found = only(RULE, built(*wires), "strip")
    assert (found.outcome, found.limit) == (Outcome.PASS, 22)
    assert found.value == pytest.approx(22.45, abs=0.005)
    wires = lead(60), strip(power_per_length_w_per_m=6 / FOOT, min_voltage_v=22.5)
    assert only(RULE, built(*wires), "strip").outcome is Outcome.FAIL


def test_a_chain_leaves_the_far_end_of_a_strip():
    # Behind the strip a lamp of 0.5 A: lead 2.15 A, strip 2.15 x 0.18 less the spread half, then 10 ft more.
    parts = (
        lead(),
        strip(),
        lead(10, "onward", "strip", "lamp"),
        low_voltage_load("lamp", power_w=12, kind="constant current"),
    )
    far = 24 - 2.15 * 0.1996 - 1.65 * 0.18 / 2 - 0.5 * 0.18
    assert only(RULE, built(*parts), "strip").value == pytest.approx(far, abs=0.0005)
    assert only(RULE, built(*parts), "lamp").value == pytest.approx(far - 0.5 * 0.0998, abs=0.0005)


def test_lights_behind_a_box_share_its_cable():
    parts = (
        box("splice", origin="added"),
        lead(20, "trunk", "driver", "splice"),
        lead(10, "one", "splice", "a"),
        lead(10, "two", "splice", "b"),
        low_voltage_load("a", power_w=12, kind="constant current"),
        low_voltage_load("b", power_w=12, kind="constant current"),
    )
    for name in ("a", "b"):
        assert only(RULE, built(*parts), name).value == pytest.approx(24 - 1.0 * 0.1996 - 0.5 * 0.0998, abs=0.0005)


def test_beyond_v_squared_over_four_r_there_is_no_number():
    # 24^2 / (4 x 5.988 ohm) = 24.05 W through 600 ft of 16 AWG; the strip takes 39.6 W.
    found = only(RULE, built(lead(600), strip(kind="constant power")), "strip")
    assert found.outcome is Outcome.FAIL
    assert found.value is found.low is found.high is None
    assert "No voltage works for" in found.says
    assert "24 W" in found.says


def test_an_unknown_kind_takes_the_worse_and_asks_where_it_decides():
    sure = only(RULE, built(lead(), strip(kind=None)), "strip")
    assert sure.outcome is Outcome.PASS
    assert sure.low < sure.high
    assert "low_voltage_load.strip.kind" in sure.assumed_keys
    open_answer = only(RULE, built(lead(600), strip(kind=None, min_voltage_v=5)), "strip")
    assert open_answer.outcome is Outcome.UNDETERMINED
    assert open_answer.value is None
    assert "low_voltage_load.strip.kind" in open_answer.needs


def test_a_range_that_only_partly_fits_cannot_be_told():
    wide = lead(length_m=between(30 * FOOT, 90 * FOOT))
    found = only(RULE, built(wide, strip(min_voltage_v=22.8)), "strip")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.length",)
    assert found.value == found.low
    # 1.65 A x 0.898 ohm and 0.1485 V; 1.65 A x 0.299 ohm.
    assert (found.low, found.high) == pytest.approx((22.369, 23.357), abs=0.001)
    assert only(RULE, built(wide, strip()), "strip").outcome is Outcome.CAUTION


def test_an_unknown_feed_is_counted_at_one_end_and_asked_where_it_decides():
    # 1.65 A: 0.3293 V in the lead, in the strip 0.1485 V fed at one end, 0.0371 V fed in the middle.
    found = only(RULE, built(lead(), strip(fed_from=None, min_voltage_v=23.6)), "strip")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("low_voltage_load.strip.fed_from",)
    assert (found.low, found.high) == pytest.approx((23.522, 23.634), abs=0.001)


def test_unknown_strip_resistance_lies_between_nothing_and_thin_foil():
    found = only(RULE, built(lead(), strip(resistance_per_length_ohm_per_m=None)), "strip")
    assert found.high == pytest.approx(24 - 0.3293, abs=0.001)
    assert found.low == pytest.approx(24 - 0.3293 - 1.65 * 0.9 / 2, abs=0.001)
    assert "low_voltage_load.strip.resistance_per_length" in found.assumed_keys


@pytest.mark.parametrize(
    ("parts", "need"),
    [
        ((lead(length_m=None), strip(min_voltage_v=22)), "cable.lead.length"),
        ((lead(90, size=None), strip(min_voltage_v=22)), "cable.lead.size"),
        ((lead(), strip(length_m=None, min_voltage_v=22)), "low_voltage_load.strip.length"),
        ((lead(), low_voltage_load("strip", min_voltage_v=22)), "low_voltage_load.strip.power"),
    ],
)
def test_what_is_missing_is_named(parts, need):
    found = only(RULE, built(*parts), "strip")
    assert found.outcome is Outcome.UNDETERMINED
    assert need in found.needs


def test_an_unknown_output_voltage_is_named():
    found = only(RULE, built(lead(), strip(), output_voltage_v=None), "strip")
    assert found.needs == ("driver.driver.output_voltage",)


def test_an_unknown_lead_leaves_the_other_runs_alone():
    parts = (
        lead(),
        strip(),
        lead(1, "other", "driver", "lamp", length_m=None),
        low_voltage_load("lamp", power_w=10),
    )
    assert only(RULE, built(*parts), "strip").outcome is Outcome.PASS
    assert only(RULE, built(*parts), "lamp").outcome is Outcome.UNDETERMINED


def test_a_light_without_a_cable_is_asked_about():
    assert only(RULE, built(strip()), "strip").outcome is Outcome.UNDETERMINED


@pytest.mark.parametrize("count", [1200, pytest.param(3000, marks=pytest.mark.long)])  # Python nests 1,000 calls
@pytest.mark.parametrize(("watts", "outcome"), [(0.001, Outcome.PASS), (5, Outcome.FAIL)])
def test_thousands_of_lights_in_a_row_need_no_recursion(watts, outcome, count):
    parts = []
    previous = "driver"
    for index in range(count):
        name = f"lamp {index}"
        parts += [
            lead(0.1, f"lead {index}", previous, name, size="10 AWG"),
            low_voltage_load(name, power_w=watts, kind="constant power"),
        ]
        previous = name
    found = findings(RULE, built(*parts))
    assert len(found) == count
    assert {finding.outcome for finding in found} == {outcome}


def test_only_a_strip_fed_at_one_end_is_told_to_feed_its_middle():
    heavy = {"power_per_length_w_per_m": 20 / FOOT}
    told = only(RULE, built(lead(), strip(**heavy)), "strip")
    assert any("middle" in line for line in told.to_do)
    for light in (strip(fed_from="middle", **heavy), low_voltage_load("strip", power_w=180, kind="constant current")):
        found = only(RULE, built(lead(), light), "strip")
        assert found.outcome is Outcome.CAUTION
        assert not any("middle" in line for line in found.to_do)


def test_a_halogen_lamp_is_a_plain_resistance():
    # 20 W at 12 V: 7.2 ohm; behind 0.1996 ohm: 12 x 7.2 / 7.3996 = 11.676 V.
    lamp = low_voltage_load("strip", power_w=20, kind="incandescent")
    found = only(RULE, built(lead(), lamp, output_voltage_v=12, output_kind="ac"), "strip")
    assert found.value == pytest.approx(11.676, abs=0.0005)


KINDS = st.sampled_from(["constant current", "constant power", "resistor", None])


@settings(max_examples=40, deadline=None)
@given(
    kind=KINDS,
    feet=st.floats(1, 300),
    more=st.floats(1.01, 3),
    watts=st.floats(0.5, 12),
    ohm=st.floats(0, 0.2),
    feed=st.sampled_from(["one end", "both ends", "middle"]),
)
def test_longer_never_raises_and_thicker_never_lowers_the_far_end(kind, feet, more, watts, ohm, feed):
    def far_end(length, size="16 AWG"):
        light = strip(
            kind=kind,
            power_per_length_w_per_m=watts / FOOT,
            resistance_per_length_ohm_per_m=ohm / FOOT,
            fed_from=feed,
        )
        found = only(RULE, built(lead(length, size=size), light), "strip")
        return -1.0 if found.value is None else found.value

    here = far_end(feet)
    assert far_end(feet * more) <= here + 1e-9
    assert far_end(feet, "14 AWG") >= here - 1e-9
    assert far_end(feet, "18 AWG") <= here + 1e-9


@settings(max_examples=40, deadline=None)
@given(kind=KINDS, feet=st.floats(1, 100), stretch=st.floats(0, 2), inside=st.floats(0, 1), watts=st.floats(0.5, 8))
def test_every_value_inside_a_range_lies_between_the_two_ends(kind, feet, stretch, inside, watts):
    light = strip(kind=kind, power_per_length_w_per_m=watts / FOOT)
    low, high = feet * FOOT, feet * (1 + stretch) * FOOT
    both = only(RULE, built(lead(length_m=between(low, high)), light), "strip")
    one = only(RULE, built(lead(length_m=low + inside * (high - low)), light), "strip")
    if both.low is not None and one.low is not None:
        assert both.low - 1e-9 <= one.low
    if one.high is not None:
        assert one.high <= both.high + 1e-9
    if both.outcome in (Outcome.PASS, Outcome.FAIL):
        assert one.outcome is both.outcome


def test_a_light_of_unknown_power_at_two_cables_may_be_a_strip_that_both_feed():
    """As a strip it has the better of both cables, so that no length is its worst: what it gets is open."""
    leads = [cable(name, "driver", "light", size="18 AWG", length_m=10) for name in "ab"]
    bare = {"power_w": None, "power_per_length_w_per_m": None, "length_m": None}
    light = low_voltage_load("light", kind="constant current", **bare)
    case = case_of(built(*leads, light), book())
    assert RULE.worse["low_voltage_load.length"](None, case.low_voltage_loads[0], case) is EACH
    assert only(RULE, built(*leads, light), "light").outcome is Outcome.UNDETERMINED


def test_what_is_told():
    """Lead 0.3293 V, strip 0.1485 V, as above: 23.5222 V of 24 V are left, 1.99 % less."""
    found = only(RULE, built(lead(), strip()), "strip")
    assert found.says == (
        'Light "strip" gets 23.52 V of 24 V at its lowest point, 2 % less, within the 5 % of common practice.'
    )
    assert found.working == (
        "output of the driver: 24 V",
        "lead: 1.65 A x 0.2 ohm (both conductors) = 0.329 V",
        "lowest point of strip: 23.52 V, 2 % under the output of the driver",
    )
    assert [(row.name, row.value) for row in found.parts] == [
        ("lead", pytest.approx(0.3293, abs=5e-5)),
        ("along the light and other lights on the way", pytest.approx(0.1485, abs=5e-5)),
    ]
    assert found.keys == ("cable.lead.length", "low_voltage_load.strip.min_voltage")


def test_the_least_of_the_label_is_rounded_up():
    found = only(RULE, built(lead(), strip(min_voltage_v=23.5222)), "strip")
    assert (found.outcome, found.says.endswith("Its label requires at least 23.53 V.")) == (Outcome.FAIL, True)


@pytest.mark.parametrize(("feed", "middle"), [("one end", True), ("middle", False), ("both ends", False)])
def test_what_would_help(feed, middle):
    # 20 W/ft x 9 ft = 180 W, 7.5 A: 1.497 V in the lead alone
    heavy = strip(power_per_length_w_per_m=20 / FOOT, fed_from=feed)
    to_do = only(RULE, built(lead(), heavy), "strip").to_do
    assert to_do[0] == "Read the least voltage on the label of the light, or in its data sheet."
    assert any("middle" in line for line in to_do) is middle
    lamp = low_voltage_load("strip", power_w=180, kind="constant current")
    assert not any("middle" in line for line in only(RULE, built(lead(), lamp), "strip").to_do)


def test_of_a_long_row_the_last_cables_are_told_and_the_rest_as_one():
    """30 lamps of 1.2 W, 0.05 A each, 5 ft apart: cable n carries what hangs behind it, (30 - n) x 0.05 A."""
    parts, previous = [], "driver"
    for number in range(30):
        lamp = low_voltage_load(f"l{number}", power_w=1.2, kind="constant current")
        parts += [lead(5, f"c{number}", previous, lamp.id), lamp]
        previous = lamp.id
    found = only(RULE, built(*parts), "l29")
    assert [row.name for row in found.parts[:-1]] == [f"c{number}" for number in range(6, 30)]
    ohm = 2 * 5 * 4.99 / 1000
    lost = [(30 - number) * 0.05 * ohm for number in range(30)]
    assert [row.value for row in found.parts] == pytest.approx([*lost[6:], sum(lost[:6])], abs=1e-5)


def test_where_no_voltage_works_it_says_what_the_cables_can_bring():
    """24 V^2 / 4R through 600 ft and 100 ft of 16 AWG, 5.988 + 0.998 ohm: 20.6 W. 39.6 W are asked for."""
    way = (lead(600, "trunk", "driver", "splice"), lead(100, "on", "splice", "strip"), box("splice", origin="added"))
    found = only(RULE, built(*way, strip(kind="constant power")), "strip")
    assert "it takes 39.6 W, and these cables can bring it 20.6 W at most" in found.says
    # 15 W there and 15 W here are too much together, and each alone is not
    lamps = [low_voltage_load(name, power_w=15, kind="constant power") for name in ("strip", "other")]
    both = only(RULE, built(*way, lead(100, "more", "splice", "other"), *lamps), "strip")
    assert both.outcome is Outcome.FAIL
    assert both.says.endswith("the wires lose more than they bring, however far the voltage falls.")


def test_two_leads_to_both_ends_bring_more_than_either():
    """800 and 1000 ft of 16 AWG, 7.984 and 9.98 ohm, side by side 4.436 ohm: 24 V^2 / 4R = 32.47 W of the 39.6 W."""
    ends = lead(800), lead(1000, name="second")
    found = only(RULE, built(*ends, strip(kind="constant power", fed_from="both ends")), "strip")
    assert "these cables can bring it 32.4 W at most" in found.says


def test_a_cable_without_length_loses_nothing():
    way = (lead(600, "trunk", "driver", "splice"), lead(0, "on", "splice", "strip"), box("splice", origin="added"))
    found = only(RULE, built(*way, strip(kind="constant power")), "strip")
    assert "these cables can bring it 24 W at most" in found.says  # 24^2 / (4 x 5.988) = 24.05 W


def test_a_second_cable_to_a_light_at_one_point_is_left_out_and_told():
    lamp = low_voltage_load("strip", power_w=12, kind="constant current")
    found = only(RULE, built(lead(), lead(30, name="second"), lamp), "strip")
    assert found.working[-1] == ("cable second also feeds this place; it is left out, which can only lower the voltage")
    alone = only(RULE, built(lead(), lamp), "strip")
    assert "left out" not in " ".join(alone.working)
    assert alone.value == pytest.approx(24 - 0.5 * 0.1996, abs=0.0005)


def test_what_is_lost_is_told_in_two_digits_and_rounded_up():
    # 54 W / 24 V = 2.25 A: 2.25 x 0.5988 + 2.25 x 0.18 / 2 = 1.5498 V of 24 V, 6.4575 %
    found = only(RULE, built(lead(60), strip(power_per_length_w_per_m=6 / FOOT)), "strip")
    assert "gets 22.45 V of 24 V at its lowest point, 6.5 % less." in found.says


def test_common_practice_is_cited_where_the_label_gives_no_least_voltage():
    limit = book().value("low-voltage-drop-limit").source
    plain, labeled = (built(lead(), strip(**given)) for given in ({}, {"min_voltage_v": 22}))
    assert limit in only(RULE, plain, "strip").sources
    assert limit not in only(RULE, labeled, "strip").sources


def test_its_limit_is_the_least_that_is_allowed():
    case = case_of(built(lead(), strip()), book())
    assert RULE.answer(case.low_voltage_loads[0], case, book()).at_least


def test_a_strip_of_which_one_end_sits_at_the_splice_loses_what_the_way_there_loses():
    """Its other lead of 100 ft beside none: 24 V^2 / 4R through the 600 ft before, 5.988 ohm, is 24.05 W."""
    way = (lead(600, "trunk", "driver", "splice"), box("splice", origin="added"))
    ends = lead(0, "near", "splice", "strip"), lead(100, "far", "splice", "strip")
    found = only(RULE, built(*way, *ends, strip(kind="constant power", fed_from="both ends")), "strip")
    assert "these cables can bring it 24 W at most" in found.says
