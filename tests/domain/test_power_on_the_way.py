"""At which power factor most is lost, by hand: R P + X Q, of 14 AWG in plastic 3.07 and 0.058 ohm per 1000 ft.

Of 120 VA most is lost where P to Q is as R to X: at a power factor of cos(atan(X / R)).
"""

import math

import pytest

from circuitcheck.case import EACH
from circuitcheck.case.making import case_of
from circuitcheck.domain.power_on_the_way import (
    POWER_TURNS,
    POWER_WORSE,
    efficiency_is_worse,
    efficiency_turns,
    factor_is_worse,
    factor_turns,
    output_is_worse,
    output_turns,
    watts_are_worse,
    watts_turn,
)
from tests.rules.build import book, box, cable, circuit, driver, load

#: Reactance of the way, as a share of its resistance, and the power factor at which most is lost.
SHARE = 0.058 / 3.07
TURN = 1 / math.sqrt(1 + SHARE**2)
WAY = (
    box("a"), box("b"), cable("1", "panel", "a", conductor_temperature_c=75),
    cable("2", "a", "b", conductor_temperature_c=75),
)  # fmt: skip


def lamp(**given):
    case = case_of(circuit(*WAY, load("l", "b", **given)), book())
    return case.loads[0], case


def supplied(**given):
    """A driver at b; nothing else is known of it."""
    plain = {"input_current_a": None, "output_power_w": 60}
    case = case_of(circuit(*WAY, driver("d", "b", **(plain | given))), book())
    return case.drivers[0], case


def asked(what, *arguments):
    """The answer where what is not given is nothing at all."""
    case = arguments[-1]
    with case.reading.at(lambda entry: None):
        answer = what(*arguments)
        return answer if not hasattr(answer, "__next__") else list(answer)


def lost(volt_amperes, factor):
    """R P + X Q over R."""
    return volt_amperes * (factor + SHARE * math.sqrt(1 - factor**2))


def near(value):
    return pytest.approx(value, rel=2e-4)


def test_of_known_watts_the_lower_factor_is_worse():
    for part, case in (lamp(power_w=60), supplied(input_power_w=60)):
        assert asked(factor_is_worse, 0.9, part, case) == -0.9
        assert asked(factor_turns, 0.1, 1.0, part, case) == []


@pytest.mark.parametrize(
    ("part", "case"), [lamp(apparent_va=120), lamp(current_a=1), supplied(input_current_a=1)], ids=("va", "a", "driver")
)
def test_of_known_volt_amperes_most_is_lost_just_below_one(part, case):
    for factor in (0.5, TURN, 1.0):
        assert asked(factor_is_worse, factor, part, case) == near(lost(120, factor))
    assert asked(factor_turns, 0.5, 1.0, part, case) == [near(TURN)]
    assert asked(factor_turns, 0.5, 0.9, part, case) == []  # it lies between them
    assert asked(factor_turns, 0.99999, 1.0, part, case) == []


def test_a_lamp_above_the_label_turns_it_too():
    """Below 60 / 120 VA = 0.5 the lamp of 60 W takes more than the 120 VA of the label."""
    for given in ({"apparent_va": 120}, {"current_a": 1}):
        part, case = lamp(fitted_w=60, **given)
        assert asked(factor_is_worse, 0.9, part, case) is EACH
        assert asked(factor_turns, 0.1, 1.0, part, case) == [near(TURN), 0.5]
        assert asked(factor_turns, 0.6, 1.0, part, case) == [near(TURN)]
    part, case = lamp(fitted_w=60, current_a=0)
    assert asked(factor_turns, 0.1, 1.0, part, case) == [near(TURN)]


def test_beside_known_volt_amperes_most_watts_are_not_the_worst():
    for part, case in (lamp(apparent_va=120), supplied(input_current_a=1)):
        for watts in (60, 119, 120, 200):  # never more watts than volt-amperes
            factor = min(watts / 120, 1)
            assert asked(watts_are_worse, watts, part, case) == near(lost(120, factor))
        assert asked(watts_turn, 60, 120, part, case) == [near(120 * TURN)]
        assert asked(watts_turn, 60, 110, part, case) == []
        assert asked(watts_turn, 119.999, 120, part, case) == []
        assert asked(watts_turn, None, 120, part, case) == []
    for part, case in (lamp(power_w=60), lamp(current_a=1), supplied()):
        assert asked(watts_are_worse, 60.0, part, case) == 60
        assert asked(watts_turn, 60, 120, part, case) == []


def test_what_a_driver_gives_counts_by_what_it_takes():
    part, case = supplied(input_current_a=1, efficiency=0.5)
    assert asked(output_is_worse, 30, part, case) == near(lost(120, 0.5))
    assert asked(output_turns, 30, 60, part, case) == [near(60 * TURN)]
    assert asked(output_turns, 30, 50, part, case) == []
    assert asked(output_turns, 59.995, 60, part, case) == []
    part, case = supplied(input_current_a=1)
    assert asked(output_is_worse, 30, part, case) == 30
    assert asked(output_turns, 30, 60, part, case) == []


def test_the_share_that_a_driver_gives():
    """60 W out of 120 VA: most is lost where it takes 120 x cos(atan(X / R)) W, just above a share of 0.5."""
    part, case = supplied(input_current_a=1)
    assert asked(efficiency_is_worse, 0.8, part, case) is EACH
    assert asked(efficiency_turns, 0.4, 0.9, part, case) == [near(0.5 / TURN)]
    assert asked(efficiency_turns, 0.6, 0.9, part, case) == []
    assert asked(efficiency_turns, 0.4, 0.45, part, case) == []
    part, case = supplied()
    assert asked(efficiency_is_worse, 0.8, part, case) == -0.8
    assert asked(efficiency_turns, 0.4, 0.9, part, case) == []
    part, case = supplied(input_current_a=1, output_power_w=(0, 60))
    assert asked(efficiency_turns, 0.4, 0.9, part, case) == [near(0.5 / TURN)]  # of nothing given there is none


def test_without_a_way_vars_cost_nothing():
    case = case_of(circuit(*WAY, box("alone"), load("l", "alone", apparent_va=120)), book())
    assert asked(factor_is_worse, 0.6, case.loads[0], case) == pytest.approx(72)
    assert asked(factor_turns, 0.5, 1.0, case.loads[0], case) == []


def test_both_tables_speak_of_the_same_entries():
    assert set(POWER_WORSE) == set(POWER_TURNS)
