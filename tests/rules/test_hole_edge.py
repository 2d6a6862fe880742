"""1-1/4 in from the edge of the wood or a 1/16 in plate; a notch has a plate (300.4(A); IRC Table E3802.1)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.hole_edge import RULE
from tests.rules.build import EDITIONS, INCH, box, cable, circuit, findings, framing, load, only


def built(**given):
    plain = {"member": "stud", "cut": "hole", "origin": "added"}
    return circuit(framing("cut", **(plain | given)))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("inches", "outcome"), [(1.25, Outcome.PASS), (1.2, Outcome.FAIL)])
def test_the_distance(edition, inches, outcome):
    found = only(RULE, built(edge_distance_m=inches * INCH, plates=False), "cut", edition)
    assert (found.outcome, found.limit) == (outcome, pytest.approx(1.25))


def test_a_notch_wants_a_plate():
    assert only(RULE, built(cut="notch", plates=False), "cut").outcome is Outcome.FAIL
    assert only(RULE, built(cut="notch", plates=True), "cut").outcome is Outcome.PASS


def test_a_new_hole_is_told_how_far_from_the_edge():
    found = only(RULE, built(), "cut")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)
    assert "1.25 in" in found.says


def old(**more):
    hole = framing("cut", member="stud", cut="hole", origin="existing", cable="there")
    parts = [box("a"), cable("there", "panel", "a", origin="existing"), hole]
    return circuit(*parts, load("lamp", "a", power_w=9, **more))


def test_an_old_hole_that_the_work_uses_is_asked_about():
    found = only(RULE, old(origin="added"), "cut")
    assert found.outcome is Outcome.UNDETERMINED
    assert set(found.needs) == {"framing.cut.edge_distance", "framing.cut.plates"}


def test_an_old_hole_that_the_work_does_not_touch_says_nothing():
    assert findings(RULE, old(origin="existing")) == []


def test_an_old_hole_of_which_nobody_says_what_runs_through_it_says_nothing():
    hole = framing("cut", member="stud", cut="hole", origin="existing")
    parts = box("a"), cable("run", "panel", "a"), hole, load("lamp", "a", power_w=9, origin="added")
    assert findings(RULE, circuit(*parts)) == []


def test_a_notch_that_may_be_a_hole_is_nearer_to_the_nail():
    """A notch begins at the edge: none of it is covered by wood."""
    found = only(RULE, built(cut=None, plates=False, edge_distance_m=2 * INCH), "cut")
    assert found.outcome is Outcome.UNDETERMINED
    assert (found.value, found.low, found.high) == pytest.approx((0, 0, 2))


def test_of_a_distance_that_may_be_less_than_any_no_low_end_is_told():
    found = only(RULE, built(plates=False), "cut")
    assert found.low is None
    assert found.high is not None


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"cut": "notch", "plates": True}, 'A steel plate covers "cut".'),
        ({"cut": "notch", "plates": False}, '"cut" is a notch without a steel plate over it.'),
        (
            {"edge_distance_m": 1.0 * INCH, "plates": False},
            '"cut" is 1 in from the edge of the stud; 1.25 in or a plate is required.',
        ),
    ],
)
def test_what_keeps_the_nail_away_is_said(given, says):
    assert only(RULE, built(**given), "cut").says == says
