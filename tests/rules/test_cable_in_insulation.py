"""More than two cables in one sealed hole, or touching insulation together, are adjusted (334.80)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cable_in_insulation import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, only


def built(**given):
    return circuit(box("new", origin="added"), cable("run", "panel", "new", **given))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("others", "outcome"), [(1, Outcome.PASS), (2, Outcome.CAUTION)])
def test_cables_in_one_sealed_hole(edition, others, outcome):
    found = only(RULE, built(sealed_hole_with=others), "run", edition)
    assert (found.outcome, found.value, found.limit) == (outcome, others + 1, 2)


@pytest.mark.parametrize(
    ("given", "outcome"),
    [
        ({"bundled_with": 2, "in_insulation": True}, Outcome.CAUTION),
        ({"bundled_with": 2}, Outcome.CAUTION),
        ({"bundled_with": 1, "in_insulation": True}, Outcome.PASS),
    ],
)
def test_cables_together_in_insulation(given, outcome):
    assert only(RULE, built(**given), "run").outcome is outcome


def test_a_lone_cable_says_nothing():
    assert findings(RULE, built()) == []
    assert findings(RULE, built(bundled_with=3, in_insulation=False)) == []


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"sealed_hole_with": 2}, '3 cables share a sealed hole with "run": over 2, so adjustment applies.'),
        (
            {"sealed_hole_with": 2, "bundled_with": 4, "in_insulation": True},
            '5 cables share a sealed hole with "run": over 2, so adjustment applies.',
        ),
        (
            {"bundled_with": 3, "in_insulation": True},
            '4 cables lie together in insulation at "run": over 2, so adjustment applies.',
        ),
        ({"sealed_hole_with": 1}, 'No more than 2 cables lie together in insulation or a hole at "run".'),
    ],
)
def test_which_of_the_two_it_is_is_said(given, says):
    """334.80: over two cables in one sealed opening, or in contact with insulation."""
    assert only(RULE, built(**given), "run").says == says
