"""Current in low-voltage cables against their ampacity.

Expected ampacities by hand from Table 402.5 (18 AWG 6 A, 16 AWG 8 A), Table 310.16 (14 AWG 15 A at 60 degC) and the
correction table (60 degC insulation: 0.91 at 35, 0.58 at 50, none over 55 degC; 75 degC: 0.75 at 50, 0.58 at 60).
"""

from dataclasses import replace

import pytest

from circuitcheck.case import EACH
from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.low_voltage_cable import RULE
from tests.rules.build import (
    EDITIONS,
    FOOT,
    between,
    book,
    box,
    cable,
    circuit,
    direction,
    driver,
    low_voltage_load,
    only,
)


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


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("celsius", [60, 90])
@pytest.mark.parametrize(("amperes", "outcome"), [(5.9, Outcome.PASS), (6.1, Outcome.FAIL)])
def test_cool_air_allows_thin_wire_no_more(edition, celsius, amperes, outcome):
    """Table 402.5: 18 AWG 6 A. It has no factor for the air; 1.29 and 1.15 for 10 degC are for other conductors."""
    cool = built(amperes, rating=1, class_2=False, ambient_c=10, insulation_temperature_c=celsius)
    found = only(RULE, cool, "lead", edition)
    assert (found.outcome, found.limit) == (outcome, pytest.approx(6.0))


def test_more_than_it_may_carry_fails():
    found = only(RULE, built(5, ambient_c=50), "lead")
    assert found.outcome is Outcome.FAIL
    assert found.to_do


def test_air_as_hot_as_its_insulation_leaves_nothing():
    found = only(RULE, built(0.2, ambient_c=60), "lead")
    assert found.outcome is Outcome.FAIL
    assert found.limit == 0


def test_a_range_of_current_across_the_limit_cannot_be_told():
    parts = built(None, class_2=False)
    wide = low_voltage_load("lamp", power_w=between(60, 84), kind="constant current")
    made = circuit(*parts.boxes, *parts.cables, *parts.drivers, wide)
    found = only(RULE, made, "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert "low_voltage_load.lamp.power" in found.needs


def test_an_unknown_size_is_asked():
    found = only(RULE, built(size=None), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.size",)


@pytest.mark.parametrize("given", [{"size": None}, {"size": None, "material": None}])
def test_no_sentence_says_what_a_lead_is_that_nobody_has_read(given):
    says = only(RULE, built(**given), "lead").says
    assert "do not list every conductor" in says
    assert "mm^2" not in says
    assert "aluminum" not in says
    assert "0.5 mm^2 copper" in only(RULE, built(size="0.5 mm^2"), "lead").says  # which it is, by the file


def test_an_unknown_light_is_bounded_by_the_class_of_the_driver():
    # A class 2 source gives 5 A up to 20 V at most (NFPA 70, Chapter 9, Table 11(B)), and 18 AWG carries 6 A.
    for rating in (60, None):
        found = only(RULE, built(None, rating=rating), "lead")
        assert found.outcome is Outcome.PASS
        assert found.value == pytest.approx(5)
    asked = only(RULE, built(None, rating=None, class_2=False), "lead")
    assert asked.outcome is Outcome.UNDETERMINED
    assert {"driver.driver.output_power", "low_voltage_load.lamp.power"} <= {*asked.needs}


@pytest.mark.parametrize(
    ("class_2", "outcome"), [(True, Outcome.CAUTION), (None, Outcome.UNDETERMINED), (False, Outcome.FAIL)]
)
def test_a_driver_that_can_give_more_than_the_cable_carries(class_2, outcome):
    # 96 W at 24 V: 4 A, within class 2 (100 VA / 24 V = 4.17 A). 18 AWG carries 6 A x 0.58 = 3.48 A in air at 50 degC.
    found = only(RULE, built(1, volts=24, rating=96, class_2=class_2, ambient_c=50), "lead")
    assert found.outcome is outcome


def test_lights_count_with_their_rated_current():
    # Through 200 ft of 18 AWG, 3.18 ohm, a strip with resistors of 24 W at 24 V draws less than the 1 A of its label.
    lamp = low_voltage_load("lamp", power_w=24, kind="resistor")
    made = built(None, volts=24, length_m=200 * FOOT)
    found = only(RULE, circuit(*made.boxes, *made.cables, *made.drivers, lamp), "lead")
    assert found.value == pytest.approx(1.0)


def test_a_second_feed_of_one_place_counts_like_the_first():
    made = built(5, ambient_c=50)
    second = cable("second", "driver", "lamp", type="class 2 cable", size="18 AWG", ambient_c=50, length_m=3)
    both = circuit(*made.boxes, *made.cables, second, *made.drivers, *made.low_voltage_loads)
    assert only(RULE, both, "second").outcome is only(RULE, both, "lead").outcome is Outcome.FAIL


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


def test_what_is_thinner_than_any_fixture_wire_is_in_no_table():
    found = only(RULE, built(1, size="0.75 mm^2"), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.size",)


def test_thin_conductors_of_another_metal_carry_what_heats_them_as_much():
    # Heat goes with I^2 R and 10 % copper over 61 % aluminum conducts 64.9 % of copper, three percent less at least
    # (ASTM B566): 6 A x sqrt(0.629) = 4.76 A. NFPA 70, Table 310.16 allows 15 A for 20 A at 12 AWG: 0.75 beside 0.79.
    found = only(RULE, built(1, material="copper-clad aluminum"), "lead")
    assert found.limit == pytest.approx(6 * 0.629**0.5, rel=1e-3)
    # Chapter 9, Table 8: 18 AWG stranded, aluminum 13.1 and copper 7.95 ohm per 1000 ft.
    found = only(RULE, built(1, material="aluminum"), "lead")
    assert found.limit == pytest.approx(6 * (7.95 / 13.1) ** 0.5, rel=1e-3)


@pytest.mark.parametrize("rating", [60, 5])
def test_where_the_worst_end_has_no_voltage_the_class_of_the_driver_bounds_the_current(rating):
    # A lamp that keeps its 40 W at 24 V, at the end of 16 AWG (4.99 ohm per 1000 ft, both ways): 20 ft are served and
    # take 40 / 23.6 = 1.7 A; through 400 ft, 3.992 ohm, no more than 24^2 / (4 x 3.992) = 36.1 W ever get there.
    def found(**given):
        made = circuit(
            box("attic"),
            cable("feed", "panel", "attic"),
            driver("driver", "attic", output_voltage_v=24, output_power_w=rating, **given),
            cable("lead", "driver", "lamp", type="class 2 cable", size="16 AWG", stranding="stranded", ambient_c=30,
                  length_m=between(20 * FOOT, 400 * FOOT)),
            low_voltage_load("lamp", power_w=40, kind="constant power"),
        )  # fmt: skip
        return only(RULE, made, "lead")

    # No class 2 source of 24 V gives more than 100 VA, 4.17 A, and 16 AWG carries 8 A.
    bound = found()
    assert bound.outcome is Outcome.PASS
    assert (bound.low, bound.high) == pytest.approx((1.7, 100 / 24), abs=0.05)
    free = found(class_2=False)
    assert free.outcome is Outcome.UNDETERMINED
    assert free.low == pytest.approx(1.7, abs=0.05)
    assert free.high is None
    assert "cable.lead.length" in free.needs


def test_of_two_cables_to_one_strip_the_better_one_carries_more():
    # 6 A shared by two leads and the strip between them: without resistance of its own, as 1 / R (Ohm's law), and R
    # goes with the length: 10 ft, and 10 to 40 ft.
    def carried(length_m):
        built_from = [
            cable(
                name, "driver", "strip", type="class 2 cable", size=size, stranding="stranded", ambient_c=30, length_m=m
            )
            for name, size, m in (("a", "18 AWG", 10 * FOOT), ("b", "18 AWG", length_m))
        ]
        strip = low_voltage_load("strip", power_w=72, length_m=1, resistance_per_length_ohm_per_m=1e-6,
                                 fed_from="both ends", kind="constant current")  # fmt: skip
        source = driver("driver", "attic", output_voltage_v=12, output_power_w=100, class_2=False)
        return only(RULE, circuit(box("attic"), cable("feed", "panel", "attic"), source, *built_from, strip), "a")

    assert carried(10 * FOOT).value == pytest.approx(3, abs=0.01)
    assert carried(40 * FOOT).value == pytest.approx(6 * 40 / 50, abs=0.01)
    wide = carried(between(10 * FOOT, 40 * FOOT))
    assert (wide.low, wide.high) == pytest.approx((3, 4.8), abs=0.01)


def test_beside_a_lead_that_no_table_holds_nobody_knows_what_a_lead_carries():
    """8 A share by the resistances of both ways (Ohm's law), and 30 m of 2.5 mm^2 aluminum stand in no table: it was
    counted as no resistance, so that the other lead seemed to carry 1.6 A. As copper it leaves the other 5.9 A, as 18
    AWG more than 6 A, which is all that may flow there.
    """
    leads = (
        cable("near", "driver", "strip", type="class 2 cable", size="18 AWG", stranding="stranded", ambient_c=30,
              length_m=3),
        cable("far", "driver", "strip", type="class 2 cable", size="2.5 mm^2", material="aluminum",
              stranding="stranded", ambient_c=30, length_m=30),
    )  # fmt: skip
    strip = low_voltage_load("strip", power_w=96, length_m=5, resistance_per_length_ohm_per_m=0.02,
                             fed_from="both ends", kind="constant current")  # fmt: skip
    for class_2 in (True, False):
        source = driver("driver", "attic", output_voltage_v=12, output_power_w=96, class_2=class_2)
        found = only(RULE, circuit(box("attic"), cable("feed", "panel", "attic"), source, *leads, strip), "near")
        assert found.outcome is Outcome.UNDETERMINED
        assert found.value is None


def test_of_two_cables_of_unknown_metal_one_may_carry_more():
    """Parallel branches share by their conductance (Ohm's law): of 6 A copper carries 6 A x k / (1 + k) beside clad
    aluminum that resists k times as much, and clad the rest.
    """
    clad = book().value("copper-clad-aluminum-resistance-factor").number
    leads = [
        cable(each, "driver", "strip", type="class 2 cable", size="18 AWG", stranding="stranded", ambient_c=30,
              length_m=3, material=None)
        for each in "ab"
    ]  # fmt: skip
    strip = low_voltage_load("strip", power_w=72, length_m=1, resistance_per_length_ohm_per_m=1e-6,
                             fed_from="both ends", kind="constant current")  # fmt: skip
    source = driver("driver", "attic", output_voltage_v=12, output_power_w=100, class_2=False)
    built = circuit(box("attic"), cable("feed", "panel", "attic"), source, *leads, strip)
    for each in "ab":
        found = only(RULE, built, each)
        assert (found.low, found.high) == pytest.approx((6 / (1 + clad), 6 * clad / (1 + clad)), abs=0.01)


def test_just_above_the_volts_of_class_2_nothing_limits_the_current():
    """Table 11(A) ends at 30 V ac. 200 W are 4.2 A at 24 V (100 VA / 24 V), 5.6 A at 36 V, and 6.7 A just above 30 V,
    where no class 2 source limits them; 18 AWG may carry 6 A.
    """
    parts = built(200 / 24, 24, 200)
    source = driver("driver", "attic", output_voltage_v=between(24, 36), output_kind="ac", output_power_w=200)
    found = only(RULE, replace(parts, drivers=(source,)), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.driver.output_voltage",)
    assert found.high == pytest.approx(200 / 30, abs=0.01)


@pytest.mark.parametrize(
    ("given", "outcome", "says"),
    [
        # 18 AWG 6 A; the driver gives 12 W / 12 V = 1 A
        ({"rating": 12}, Outcome.PASS, 'Cable "lead" carries 1 A and may carry 6 A in these conditions.'),
        (
            {"amperes": 7, "rating": 84, "class_2": False},
            Outcome.FAIL,
            'Cable "lead" would carry 7 A, more than the 6 A it may carry in these conditions.',
        ),
        (
            {"rating": 84, "class_2": False},
            Outcome.FAIL,
            'Cable "lead" carries 1 A and may carry 6 A. Driver "driver" can give 7 A, and no class 2 limit protects '
            "the cable.",
        ),
        # class 2 at 12 V: 5 A (Table 11(B)); at 50 degC 6 x 0.58 = 3.48 A
        (
            {"ambient_c": 50, "rating": 60},
            Outcome.CAUTION,
            'Cable "lead" carries 1 A and may carry 3.48 A. Driver "driver" can give 5 A, so a fault in a light can '
            "overheat the cable.",
        ),
    ],
)
def test_the_sentence_names_what_flows_and_what_may(given, outcome, says):
    found = only(RULE, built(**given), "lead")
    assert (found.outcome, found.says) == (outcome, says)
    assert found.keys == ("cable.lead.size", "cable.lead.ambient")
    assert found.working[0].startswith("current in lead: ")
    assert found.working[-1].startswith("driver can give ")
    assert bool(found.to_do) is (outcome is not Outcome.PASS)


def test_a_thin_cable_behind_it_decides_what_a_light_that_keeps_its_power_draws_here():
    """20 W of 12 V behind 30 m of 18 AWG clad aluminum, 60 m of 0.04 ohm/m, and V^2 / 4R = 15 W: no voltage serves it.

    Of 14 AWG the clad wire has no figure of its own, which is worst for itself, and serves the light all the same.
    """
    parts = (
        box("attic"),
        box("splice"),
        cable("feed", "panel", "attic"),
        driver("driver", "attic", output_voltage_v=12, output_power_w=24, class_2=False),
        cable("first", "driver", "splice", type="class 2 cable", size="18 AWG", ambient_c=30, length_m=1),
        low_voltage_load("lamp", power_w=20, kind="constant power"),
    )
    clad = {"type": "class 2 cable", "material": "copper-clad aluminum", "ambient_c": 30, "length_m": 30}
    for size, outcome in (("18 AWG", Outcome.FAIL), ("14 AWG", Outcome.PASS), (None, Outcome.UNDETERMINED)):
        onward = cable("onward", "splice", "lamp", size=size, **clad)
        assert only(RULE, circuit(*parts, onward), "first").outcome is outcome


@pytest.mark.parametrize(
    ("kinds", "outcome"),
    [
        (("constant power", "resistor"), Outcome.UNDETERMINED),
        (("resistor", "constant power"), Outcome.UNDETERMINED),
        (("constant current", "resistor"), Outcome.PASS),
    ],
)
def test_a_wire_that_no_table_holds_matters_where_one_light_keeps_its_power(kinds, outcome):
    lights = [low_voltage_load(name, power_w=6, kind=kind) for name, kind in zip(("lamp", "other"), kinds, strict=True)]
    made = built(rating=12)
    onward = cable("onward", "lamp", "other", type="class 2 cable", size="1 mm^2", material="aluminum", length_m=1)
    mixed = replace(made, cables=(*made.cables, onward), low_voltage_loads=tuple(lights))
    assert only(RULE, mixed, "lead").outcome is outcome


def test_the_rule_for_conductors_behind_any_other_source_is_cited_there_only():
    source = book().value("secondary-conductor-protection").source
    assert source not in only(RULE, built(rating=12), "lead").sources
    assert source in only(RULE, built(rating=12, class_2=False), "lead").sources


def test_each_of_several_outputs_gives_its_share():
    # 84 W / 12 V = 7 A, over two outputs 3.5 A each; 18 AWG may carry 6 A
    made = built(rating=84, class_2=False)
    assert only(RULE, made, "lead").outcome is Outcome.FAIL
    split = driver("driver", "attic", output_voltage_v=12, output_power_w=84, class_2=False, outputs=2)
    found = only(RULE, replace(made, drivers=(split,)), "lead")
    assert (found.outcome, found.working[-1]) == (Outcome.PASS, "driver can give 3.5 A")


def chained(*kinds, **given):
    """The lead of aluminum to one light, and where there are more a cable on to each."""
    made = built(**({"material": "aluminum"} | given))
    lights = [low_voltage_load(f"lamp {n}" if n else "lamp", power_w=6, kind=kind) for n, kind in enumerate(kinds)]
    more = [cable(f"on {n}", "lamp", f"lamp {n}", length_m=1) for n in range(1, len(kinds))]
    return replace(made, cables=(*made.cables, *more), low_voltage_loads=tuple(lights))


def test_which_size_carries_less():
    """310.16 has no aluminum in 14 AWG; thinner wire counts as copper that heats as much."""
    copper = direction(RULE, built(), "cable.size", "lead")
    sizes = ["12 AWG", "14 AWG", "16 AWG", "18 AWG"]
    assert sorted(sizes, key=copper) == sizes
    aluminum = direction(RULE, chained("resistor"), "cable.size", "lead")
    assert sorted(sizes, key=aluminum) == ["12 AWG", "16 AWG", "18 AWG", "14 AWG"]


@pytest.mark.parametrize("material", ["copper-clad aluminum", "aluminum"])
def test_worst_of_all_sizes_is_one_that_no_table_holds(material):
    """402.5 begins with 18 AWG, and no table has metric aluminum: nobody can tell what such a wire may carry."""
    sizes = ["12 AWG", "16 AWG", "18 AWG", "14 AWG", "0.75 mm^2", "0.5 mm^2"]
    for kinds in (("constant power",), ("resistor", "constant power"), ("resistor",)):
        worse = direction(RULE, chained(*kinds, material=material, size=None), "cable.size", "lead")
        assert sorted(sizes, key=worse) == sizes


def test_what_is_worst_for_itself_is_not_worst_for_others_where_one_keeps_its_power():
    """Nor for the current in it: a thinner one makes such a light draw more."""
    thin = {
        kinds: direction(RULE, chained(*kinds), "cable.size", "lead")("14 AWG") is EACH
        for kinds in (
            ("constant power",),
            ("resistor", "resistor"),
            ("constant power", "resistor"),
            ("resistor", "constant power"),
        )
    }
    assert list(thin.values()) == [True, False, True, True]
    assert direction(RULE, chained("constant power", "resistor"), "cable.size", "lead")("12 AWG") is not EACH


@pytest.mark.parametrize(("size", "celsius"), [("18 AWG", 10), ("18 AWG", 50), ("14 AWG", 10)])
def test_cooler_insulation_carries_less(size, celsius):
    """310.15(B)(1)(1) and 310.16: a lower factor, and from 14 AWG on a cooler column."""
    given = {"size": size, "ambient_c": celsius}
    insulation = direction(RULE, built(**given), "cable.insulation_temperature", "lead")
    assert insulation(50) > insulation(60) > insulation(90), "no column is as cool as 50"
    kind = direction(RULE, built(**given), "cable.type", "lead")
    assert kind("NM") > kind("NM-B")  # 60 and 90 degC


def pair(**given):
    leads = [cable(name, "driver", "strip", length_m=3, **given) for name in "ab"]
    strip = low_voltage_load("strip", power_w=72, length_m=1, resistance_per_length_ohm_per_m=0.1, fed_from="both ends",
                             kind="constant current")  # fmt: skip
    source = driver("driver", "attic", output_voltage_v=12, output_power_w=100, class_2=False)
    return circuit(box("attic"), cable("feed", "panel", "attic"), source, *leads, strip)


@pytest.mark.parametrize(
    ("entry", "of", "value"),
    [
        ("cable.material", "a", "copper"),
        ("cable.stranding", "a", "solid"),
        ("cable.conductor_temperature", "a", 75.0),
        ("low_voltage_load.resistance_per_length", "strip", 0.1),
    ],
)
def test_of_a_pair_of_unknown_size_the_rest_is_tried_one_way_only(entry, of, value):
    """Every size with every value of it would take too long, and the size makes far more."""
    assert direction(RULE, pair(), entry, of)(value) is EACH
    assert direction(RULE, pair(size=None), entry, of)(value) is not EACH
    assert direction(RULE, pair(), "cable.length", "a")(3.0) is EACH
    assert direction(RULE, pair(size=None), "cable.length", "a")(3.0) is EACH


def test_warmer_wire_and_a_strip_that_resists_more_are_worse():
    warmer = direction(RULE, built(), "cable.conductor_temperature", "lead")
    assert warmer(75.0) > warmer(60.0)
    resists = direction(RULE, built(), "low_voltage_load.resistance_per_length", "lamp")
    assert resists(0.2) > resists(0.1)
