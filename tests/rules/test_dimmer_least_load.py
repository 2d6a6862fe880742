"""The least load on a control's label against what its lamps draw (110.3(B), arithmetic)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.dimmer_least_load import RULE
from tests.rules.build import box, cable, circuit, control, findings, load, supply


def outcomes(least, kind="dimmer", **lamp):
    return [
        found.outcome
        for found in findings(
            RULE,
            circuit(
                box("wall"),
                cable("f", "panel", "wall"),
                control("dimmer", "wall", kind=kind, min_load_w=least),
                load("lamps", "wall", quantity=5, switched_by="dimmer", **lamp),
            ),
        )
    ]


@pytest.mark.parametrize(("least", "outcome"), [(50, Outcome.PASS), (60, Outcome.CAUTION)])
def test_five_lamps_of_ten_watts_draw_fifty(least, outcome):
    assert outcomes(least, power_w=10) == [outcome]


def test_the_lamps_that_are_in_count_and_not_the_rating():
    # 5 x 5 W = 25 W
    assert outcomes(30, power_w=60, fitted_w=5) == [Outcome.CAUTION]
    assert outcomes(25, power_w=60, fitted_w=5) == [Outcome.PASS]


def test_a_plain_switch_and_a_control_without_a_least_load_say_nothing():
    assert outcomes(60, kind="switch", power_w=10) == []
    assert outcomes(None, power_w=10) == []


def test_the_sentence_and_the_entry_that_decides():
    def told(least):
        lamps = load("lamps", "wall", quantity=5, switched_by="dimmer", power_w=10)
        dimmer = control("dimmer", "wall", kind="dimmer", min_load_w=least)
        (found,) = findings(RULE, circuit(box("wall"), cable("f", "panel", "wall"), dimmer, lamps))
        return found

    assert told(60).says == '"dimmer" requires at least 60 W, and its lamps draw only 50 W.'
    assert told(50).says == '"dimmer" requires 50 W; 50 W are connected.'
    assert (told(60).value, told(60).limit, told(60).keys) == (50, 60, ("control.dimmer.min_load",))
    assert told((40, 60)).value == 50
    assert told(60).to_do
    assert not told(50).to_do


@pytest.mark.parametrize(
    "lamp",
    [
        {"power_w": (8, 12)},
        {"power_w": 60, "fitted_w": (8, 12)},
        {"current_a": (0.08, 0.12)},  # at 100 V 8 to 12 W
        {"current_a": 0.1, "supply_v": (80, 120)},
    ],
)
def test_of_what_lamps_may_draw_the_least_counts(lamp):
    """Five lamps of 8 to 12 W draw 40 to 60 W: a least load of 50 W may not be reached, one of 40 W is."""
    lamp = dict(lamp)
    volts = supply(voltage_v=lamp.pop("supply_v", 100))

    def told(least):
        dimmer = control("dimmer", "wall", kind="dimmer", min_load_w=least)
        lamps = load("lamps", "wall", quantity=5, switched_by="dimmer", **lamp)
        (found,) = findings(RULE, circuit(volts, box("wall"), cable("f", "panel", "wall"), dimmer, lamps))
        return found.outcome, found.value

    assert told(50) == (Outcome.CAUTION, pytest.approx(40))
    assert told(39.9) == (Outcome.PASS, pytest.approx(40))
