"""Closets (410.16), insulation (410.116), combustible surfaces, the zone over a bath (410.10(D))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.clearance import RULE
from tests.rules.build import INCH, box, cable, circuit, findings, load, site


def outcomes(room="hallway", **given):
    built = circuit(
        site(room=room),
        box("new", origin="added"),
        cable("f", "panel", "new"),
        load("lamp", "new", origin="added", **given),
    )
    return [finding.outcome for finding in findings(RULE, built)]


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"lamp": "LED", "closet_distance_m": 12 * INCH}, [Outcome.PASS]),
        ({"lamp": "LED", "closet_distance_m": 11 * INCH}, [Outcome.FAIL]),
        (
            {"lamp": "LED", "mounting": "recessed", "closet_distance_m": 6 * INCH, "insulation_contact": True},
            [Outcome.PASS, Outcome.PASS],
        ),
        ({"lamp": "incandescent", "enclosed": False}, [Outcome.FAIL]),
        (
            {"lamp": "incandescent", "enclosed": None, "closet_distance_m": 12 * INCH},
            [Outcome.UNDETERMINED, Outcome.PASS],
        ),
        ({"lamp": "LED", "closet_distance_m": (10 * INCH, 14 * INCH)}, [Outcome.UNDETERMINED]),
        ({"lamp": "LED"}, [Outcome.CAUTION]),
    ],
)
def test_closets(given, expected):
    assert outcomes("closet", **given) == expected


@pytest.mark.parametrize(
    ("given", "outcome"),
    [
        ({"insulation_contact": True}, Outcome.PASS),
        ({"insulation_contact": False, "in_insulation": False}, Outcome.PASS),
        ({"insulation_contact": False, "in_insulation": True}, Outcome.FAIL),
        ({}, Outcome.UNDETERMINED),
    ],
)
def test_recessed_lights_and_insulation(given, outcome):
    assert outcomes(mounting="recessed", **given) == [outcome]


@pytest.mark.parametrize(("has", "outcome"), [(3, Outcome.PASS), (2, Outcome.FAIL), (None, Outcome.CAUTION)])
def test_what_burns(has, outcome):
    distance = None if has is None else has * INCH
    assert outcomes(combustible_clearance_m=3 * INCH, combustible_distance_m=distance) == [outcome]


@pytest.mark.parametrize(("inches", "outcome"), [(96, Outcome.PASS), (90, Outcome.FAIL), (None, Outcome.CAUTION)])
def test_hanging_lights_over_a_bath(inches, outcome):
    height = None if inches is None else inches * INCH
    assert outcomes("bathroom", over_bath=True, mounting="pendant", height_over_bath_m=height) == [outcome]


def test_a_plain_wall_light_says_nothing():
    assert outcomes(mounting="wall") == []
