"""Class 2 ratings: NFPA 70 Chapter 9, Tables 11(A) and 11(B), rows of the greatest nameplate rating."""

import pytest

from circuitcheck.domain.class_2_limits import class_2_allowance
from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.class_2 import RULE
from tests.rules.build import EDITIONS, between, book, box, cable, circuit, driver, low_voltage_load, only


def built(**given):
    return circuit(box("attic"), cable("feed", "panel", "attic"), driver("driver", "attic", **given))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("kind", "volts", "va", "amperes"),
    [
        ("ac", 12, 60, 5),
        ("ac", 20, 100, 5),
        ("ac", 24, 100, 100 / 24),
        ("ac", 30, 100, 100 / 30),
        ("ac", 30.5, 0, 0),
        ("dc", 12, 60, 5),
        ("dc", 24, 100, 100 / 24),
        ("dc", 48, 100, 100 / 48),
        ("dc", 60, 100, 100 / 60),
        ("dc", 61, 0, 0),
    ],
)
def test_the_tables(edition, kind, volts, va, amperes):
    found = class_2_allowance(book(edition), kind, volts)
    assert (found.power_va, found.current_a) == pytest.approx((va, amperes))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("volts", "watts"), [(12, 60), (24, 96), (24, 100), (48, 100)])
def test_usual_class_2_drivers_pass(edition, volts, watts):
    found = only(RULE, built(output_voltage_v=volts, output_power_w=watts), "driver", edition)
    assert found.outcome is Outcome.PASS
    assert (found.value, found.unit) == (watts, "VA")


@pytest.mark.parametrize(("volts", "watts", "limit"), [(12, 75, 60), (24, 101, 100), (15, 80, 75)])
def test_a_label_against_itself_is_a_question(volts, watts, limit):
    # The listing mark decides, not the watts: they may be read wrong, or be those of several outputs together.
    found = only(RULE, built(output_voltage_v=volts, output_power_w=watts), "driver")
    assert (found.outcome, found.needs) == (
        Outcome.UNDETERMINED,
        ("driver.driver.class_2", "driver.driver.output_power"),
    )
    assert found.limit == pytest.approx(limit)


def test_unknown_class_counts_as_not_class_2_and_is_told():
    found = only(RULE, built(class_2=None), "driver")
    assert (found.outcome, found.assumed_keys) == (Outcome.CAUTION, ("driver.driver.class_2",))
    assert "house wiring" in found.says


def test_no_class_2_means_house_wiring():
    found = only(RULE, built(class_2=False, output_power_w=150), "driver")
    assert found.outcome is Outcome.CAUTION
    assert "house wiring" in found.says


@pytest.mark.parametrize("name", ["output_voltage_v", "output_power_w"])
def test_an_unread_label_is_asked(name):
    found = only(RULE, built(**{name: None}), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == (f"driver.driver.{name[:-2]}",)


def test_ac_or_dc_matters_only_where_the_tables_differ():
    assert only(RULE, built(output_kind=None), "driver").outcome is Outcome.PASS
    found = only(RULE, built(output_kind=None, output_voltage_v=48), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.driver.output_kind",)


def test_a_range_of_watts_across_the_limit():
    found = only(RULE, built(output_power_w=between(90, 110)), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.driver.output_power",)


@pytest.mark.parametrize(("edition", "place"), [("nec-2017", "411.1"), ("nec-2020", "411.1"), ("nec-2023", "411.3")])
def test_above_low_voltage_lighting(edition, place):
    found = only(RULE, built(output_voltage_v=32, output_kind="ac", class_2=False), "driver", edition)
    assert found.outcome is Outcome.FAIL
    assert place in {source.place for source in found.sources}


def test_more_than_25_amperes_is_not_covered():
    assert only(RULE, built(output_voltage_v=12, output_power_w=312, class_2=False), "driver").outcome is Outcome.FAIL
    assert (
        only(RULE, built(output_voltage_v=12, output_power_w=300, class_2=False), "driver").outcome is Outcome.CAUTION
    )


@pytest.mark.parametrize(
    ("edition", "place"), [("nec-2017", "725.121(A)"), ("nec-2020", "725.121(A)"), ("nec-2023", "725.60(A)")]
)
def test_where_the_source_is_defined(edition, place):
    assert place in {source.place for source in only(RULE, built(), "driver", edition).sources}


def lit(length_m, **given):
    light = low_voltage_load("strip", power_per_length_w_per_m=15, length_m=length_m, kind="resistor")
    parts = (box("attic"), cable("feed", "panel", "attic"), cable("lead", "driver", "strip"), light)
    return circuit(*parts, driver("driver", "attic", **given))


@pytest.mark.parametrize("edition", EDITIONS)
def test_lights_that_draw_more_than_any_class_2_source_gives_fail(edition):
    # 15 W/m x 7 m = 105 W; no class 2 source of 24 V is rated above 100 VA, whatever its label says.
    assert only(RULE, lit(7, output_power_w=None), "driver", edition).outcome is Outcome.FAIL
    for rating in (96, 150):  # within a class 2 source, and a label against itself
        assert only(RULE, lit(7, output_power_w=rating), "driver", edition).outcome is Outcome.FAIL
    # 15 W/m x 6 m = 90 W: the rating still has to be read.
    found = only(RULE, lit(6, output_power_w=None), "driver", edition)
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("driver.driver.output_power",))


def test_the_step_of_the_table_between_two_ends_of_the_volts():
    # 18 V: 5 A x 18 V = 90 VA; 20 V to 60 V dc: 100 VA; 62 V: no class 2 source. 95 W fits only in between.
    for ends in (between(18, 24), between(18, 62)):
        found = only(RULE, built(output_voltage_v=ends, output_power_w=95), "driver")
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("driver.driver.output_voltage",))


def test_an_unknown_light_may_draw_more_than_any_class_2_source_gives():
    found = only(RULE, lit(None), "driver")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("low_voltage_load.strip.length",))


def test_each_of_several_outputs_counts_alone():
    # Table 11(B): 100 VA at 24 V. 192 W over two outputs are 96 W each.
    assert only(RULE, built(output_power_w=192, outputs=2), "driver").outcome is Outcome.PASS
    assert only(RULE, built(output_power_w=192), "driver").outcome is Outcome.UNDETERMINED
    found = only(RULE, built(output_power_w=210, outputs=2), "driver")
    assert (found.outcome, found.value) == (Outcome.UNDETERMINED, pytest.approx(105))


@pytest.mark.parametrize(("second", "outcome"), [(90, Outcome.PASS), (105, Outcome.FAIL)])
def test_lights_of_two_runs_share_two_outputs(second, outcome):
    runs = [cable(name, "driver", f"strip {name}", length_m=1) for name in "ab"]
    lights = [low_voltage_load(f"strip {name}", power_w=watts) for name, watts in (("a", 90), ("b", second))]
    source = driver("driver", "attic", output_power_w=200, outputs=2)
    made = circuit(box("attic"), cable("feed", "panel", "attic"), source, *runs, *lights)
    assert only(RULE, made, "driver").outcome is outcome


def test_the_working_names_the_current_and_how_many_outputs_share_the_rating():
    # 192 W / 2 outputs = 96 W; 96 W / 24 V = 4 A
    found = only(RULE, built(output_power_w=192, outputs=2), "driver")
    assert found.working[:2] == ("each of 2 outputs counts alone", "rating 96 W at 24 V = 4 A")
    assert only(RULE, built(output_power_w=96), "driver").working[0] == "rating 96 W at 24 V = 4 A"


@pytest.mark.parametrize(
    ("given", "what"),
    [
        ({}, None),
        ({"class_2": False}, "no class 2 cable behind it"),
        ({"output_voltage_v": 80}, "licensed electrician"),
        ({"output_voltage_v": 12, "output_power_w": 312}, "licensed electrician"),
        ({"output_power_w": 101}, "Read the label again"),
        ({"output_voltage_v": None, "class_2": False}, "Read the label again"),
    ],
)
def test_what_to_do(given, what):
    to_do = only(RULE, built(**given), "driver").to_do
    assert to_do == () if what is None else what in to_do[0]


def test_lights_that_draw_too_much_go_to_a_second_driver():
    assert "second class 2 driver" in only(RULE, lit(7), "driver").to_do[0]
