"""What the wiring tells about a driver: access through its box, insulation on the floor of an attic.

Outside facts: 314.29 asks that the box which holds a driver's connections stays accessible; batts lie on attic floors.
"""

import pytest

from circuitcheck.possible.drivers import driver_insulation, driver_reachable
from circuitcheck.possible.entry import UNSETTLED, Later
from circuitcheck.possible.inferences import strip_length, strip_resistance
from circuitcheck.possible.reading import inferred_of
from circuitcheck.quantities import How
from tests.rules.build import book, box, cable, circuit, driver, low_voltage_load


def built(place="inside", box_reachable=None, known_by=None, **given):
    feed = cable("feed", "panel", "closet", place=place)
    return circuit(
        box("closet", reachable=box_reachable, known_by=known_by or {}), feed, driver("driver", "closet", **given)
    )


def asked(inference, made):
    return inferred_of(inference.__name__, made.drivers[0], made, book())


def test_a_driver_on_a_box_out_of_reach_is_out_of_reach():
    assert asked(driver_reachable, built(box_reachable=False)).options == (False,)


@pytest.mark.parametrize(
    "given",
    [{}, {"box_reachable": True}, {"box_reachable": False, "known_by": {"reachable": How.GUESS}}, {"reachable": True}],
)
def test_else_nothing_follows_about_reach(given):
    assert asked(driver_reachable, built(**given)) is UNSETTLED


def test_away_from_attics_insulation_is_work_to_come():
    possible = asked(driver_insulation, built())
    assert (set(possible.options), possible.later) == ({True, False}, Later.WORK_TO_COME)


@pytest.mark.parametrize("given", [{"place": "attic"}, {"place": None}, {"origin": "existing"}])
def test_in_an_attic_or_where_nobody_knows_insulation_is_a_question(given):
    assert asked(driver_insulation, built(**given)) is UNSETTLED


@pytest.mark.parametrize("power", [{"power_w": 20}, {"power_per_length_w_per_m": 10}])
def test_a_light_with_a_length_has_conductors_of_its_own(power):
    # whether the label gives watts in all or per length, current runs along the strip
    worst = book().value("unknown-strip-resistance").number
    light = low_voltage_load("strip", length_m=2, **power)
    assert strip_resistance(light, circuit(light), book()).options == (0.0, worst)


def test_a_light_at_one_point_has_none():
    light = low_voltage_load("puck", power_w=3)
    assert strip_resistance(light, circuit(light), book()) is None
    assert strip_length(light, circuit(light), book()) is None


def test_a_light_of_which_nobody_gave_any_power_may_be_a_strip_or_none():
    light = low_voltage_load("bare", power_w=None, length_m=None)
    assert strip_length(light, circuit(light), book()).options[0] is None
    assert not strip_length(light, circuit(light), book()).bounded
    assert len(strip_resistance(light, circuit(light), book()).options) == 2
    strip = low_voltage_load("strip", power_w=None, length_m=None, power_per_length_w_per_m=10)
    assert None not in strip_length(strip, circuit(strip), book()).options
