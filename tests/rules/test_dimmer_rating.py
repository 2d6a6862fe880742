"""Dimmers: the LED rating counts, never the incandescent headline; least load and number of lamps."""

import pytest

from circuitcheck.case import EACH
from circuitcheck.case.making import case_of
from circuitcheck.findings import Outcome
from circuitcheck.rules.site.dimmer_rating import RULE
from tests.rules.build import EDITIONS, between, book, box, cable, circuit, control, driver, findings, load


def built(lamp="LED", power_w=10, quantity=5, **given):
    return circuit(
        box("wall"),
        cable("f", "panel", "wall"),
        control("dimmer", "wall", **({"kind": "dimmer"} | given)),
        load("lamps", "wall", lamp=lamp, power_w=power_w, quantity=quantity, switched_by="dimmer"),
    )


def outcomes(*args, **given):
    return [finding.outcome for finding in findings(RULE, built(*args, **given))]


@pytest.mark.parametrize(("rating", "outcome"), [(50, Outcome.PASS), (49, Outcome.FAIL)])
def test_led_watts(rating, outcome):
    assert outcomes(rated_led_w=rating) == [outcome]


def test_an_unknown_led_rating_is_unknown_whatever_the_headline_says():
    (found,) = findings(RULE, built(rated_incandescent_w=600))
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("control.dimmer.rated_led",))
    assert "incandescent rating" in found.says


def test_incandescent_lamps_use_the_incandescent_rating():
    assert outcomes("incandescent", power_w=60, rated_incandescent_w=300) == [Outcome.PASS]
    assert outcomes("incandescent", power_w=61, rated_incandescent_w=300) == [Outcome.FAIL]


@pytest.mark.parametrize(("most", "outcome"), [(5, Outcome.PASS), (4, Outcome.FAIL)])
def test_number_of_lamps(most, outcome):
    assert outcomes(rated_led_w=150, max_lamps=most) == [Outcome.PASS, outcome]


def test_unknown_watts_ask():
    (found,) = findings(RULE, built(power_w=None, rated_led_w=150))
    assert found.needs == ("load.lamps.power",)


def test_a_plain_switch_says_nothing():
    assert outcomes(kind="switch") == []


def test_a_rating_that_is_a_range_decides_only_where_all_of_it_does():
    # A guessed rating of 50 W stands for 37.5 to 62.5 W: 50 W of lamps may be too much, 65 W are in any case.
    (found,) = findings(RULE, built(rated_led_w=between(37.5, 62.5)))
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("control.dimmer.rated_led",))
    assert outcomes(power_w=13, rated_led_w=between(37.5, 62.5)) == [Outcome.FAIL]


def behind(*things, **given):
    return circuit(
        box("wall"),
        box("ceiling"),
        cable("f", "panel", "wall", origin="existing"),
        cable("up", "wall", "ceiling", switched_by="dimmer"),
        control("dimmer", "wall", kind="dimmer", **given),
        *things,
    )


@pytest.mark.parametrize(("rating", "outcome"), [(70, Outcome.PASS), (69, Outcome.FAIL)])
def test_a_driver_counts_by_what_goes_in(rating, outcome):
    """60 W of light behind an input of 70 W on the label, not 60 W."""
    built = behind(driver("strip driver", "ceiling", input_power_w=70, input_current_a=None), rated_led_w=rating)
    (found,) = findings(RULE, built)
    assert (found.outcome, found.value) == (outcome, 70)
    assert [part.name for part in found.parts] == ["strip driver"]


def test_a_driver_of_unknown_draw_asks():
    built = behind(driver("d", "ceiling", output_power_w=None, input_current_a=None), rated_led_w=150)
    (found,) = findings(RULE, built)
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs[0].startswith("driver.d.")


def test_volt_amperes_stand_in_for_watts():
    lamp = load("lamp", "ceiling", lamp="LED", apparent_va=30, origin="added")
    assert [one.outcome for one in findings(RULE, behind(lamp, rated_led_w=30))] == [Outcome.PASS]
    assert [one.outcome for one in findings(RULE, behind(lamp, rated_led_w=29))] == [Outcome.FAIL]


def test_a_dimmer_does_not_work_a_receptacle():
    """404.14(E) of 2017 and 2020, (F) of 2023: permanently connected lights, unless listed for more."""
    (found,) = findings(RULE, behind(load("outlet", "ceiling", kind="receptacle", origin="added"), rated_led_w=150))
    assert found.outcome is Outcome.FAIL
    assert "receptacle" in found.says


def test_the_dimmer_of_a_pair_is_judged_though_the_light_names_the_other_switch():
    built = circuit(
        box("wall"),
        box("far"),
        cable("f", "panel", "wall", origin="existing"),
        cable("t", "wall", "far", origin="existing", carries="travelers", conductors=3),
        control("knob", "wall", kind="dimmer", ways="three-way", with_id="switch", rated_led_w=40),
        control("switch", "far", kind="switch", ways="three-way"),
        load("lamp", "far", lamp="LED", power_w=50, switched_by="switch", origin="added"),
    )
    (found,) = findings(RULE, built)
    assert (found.subject, found.outcome) == ("knob", Outcome.FAIL)


def test_an_old_dimmer_that_new_work_does_not_touch_says_nothing():
    assert findings(RULE, behind(load("old", "ceiling", power_w=10), origin="existing")) == []


def test_the_clause_on_dimmers_moved_in_2023():
    places = [findings(RULE, built(rated_led_w=49), edition)[0].sources[0].place for edition in EDITIONS]
    assert [place.split(",")[0] for place in places] == ["404.14", "404.14(E)", "404.14(F)"]


@pytest.mark.parametrize("kind", ["fan", "heater", "alarm", "other"])
def test_a_dimmer_for_lights_works_nothing_else(kind):
    """404.14(E) of 2017 and 2020, (F) of 2023: permanently connected lights, unless listed for other loads."""
    thing = load("thing", "ceiling", kind=kind, power_w=40, origin="added")
    assert Outcome.FAIL in [found.outcome for found in findings(RULE, behind(thing, rated_led_w=150))]


def test_a_lamp_of_unknown_kind_counts_as_led_but_where_a_control_carries_more_led():
    """The LED rating is mostly the lower one: LED is worse. Where it is the higher one, neither is always worse."""
    way = RULE.worse["load.lamp"]

    def worse(*controls):
        case = case_of(circuit(box("wall"), load("lamps", "wall"), *controls), book())
        return way("LED", case.loads[0], case)

    usual = control("usual", "wall", kind="dimmer", rated_led_w=150, rated_incandescent_w=600)
    odd = control("odd", "wall", kind="dimmer", rated_led_w=300, rated_incandescent_w=150)
    same = control("same", "wall", kind="dimmer", rated_led_w=150, rated_incandescent_w=150)
    assert worse(usual) is True
    assert worse(usual, same) is True
    assert worse(odd) is EACH
    assert worse(usual, odd) is EACH


def test_more_led_than_incandescent_leaves_an_unknown_lamp_open():
    # 50 W: as LED within 60 W, as incandescent over 40 W
    found = findings(RULE, built(None, rated_led_w=60, rated_incandescent_w=40))
    assert [(each.outcome, each.needs) for each in found] == [(Outcome.UNDETERMINED, ("load.lamps.lamp",))]


@pytest.mark.parametrize("kind", [None, "dimmer"])
def test_a_rating_that_may_count_is_asked_where_the_lamp_is_unknown(kind):
    """50 W within the 212 W for LED; as incandescent they may be too many for a rating that nobody read."""
    (found,) = findings(RULE, built(None, kind=kind, rated_led_w=212))
    assert found.outcome is Outcome.UNDETERMINED
    assert {"control.dimmer.rated_incandescent", "load.lamps.lamp"} <= set(found.needs)


def test_the_kind_of_lights_is_named_with_its_rating():
    (led,) = findings(RULE, built(rated_led_w=60, rated_incandescent_w=600))
    assert "controls 50 W of LED lights; it is rated 60 W" in led.says
    (hot,) = findings(RULE, built("halogen", rated_led_w=60, rated_incandescent_w=600))
    assert "controls 50 W of incandescent lights; it is rated 600 W" in hot.says
    assert (led.keys, hot.keys) == (("control.dimmer.rated_led",), ("control.dimmer.rated_incandescent",))


def test_that_the_incandescent_rating_is_another_is_said_where_it_does_not_count():
    (printed,) = findings(RULE, built(rated_incandescent_w=600))
    assert "Its incandescent rating does not stand in for it" in printed.says
    (hot,) = findings(RULE, built("halogen", rated_incandescent_w=between(40, 60)))
    assert hot.outcome is Outcome.UNDETERMINED
    assert "incandescent rating" not in hot.says
