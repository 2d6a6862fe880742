"""1-1/4 in from the face of the wood or a 1/16 in plate (300.4; IRC Table E3802.1 as adopted in law)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cable_edge import RULE
from tests.rules.build import EDITIONS, INCH, box, cable, circuit, findings, only


def built(**given):
    return circuit(box("new", origin="added"), cable("run", "panel", "new", **given))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("inches", "outcome"), [(1.25, Outcome.PASS), (1.2, Outcome.FAIL)])
def test_the_distance(edition, inches, outcome):
    found = only(RULE, built(run="through framing", edge_distance_m=inches * INCH, plates=False), "run", edition)
    assert (found.outcome, found.limit) == (outcome, pytest.approx(1.25))


def test_a_plate_stands_in_for_the_distance():
    assert (
        only(RULE, built(run="along framing", edge_distance_m=0.5 * INCH, plates=True), "run").outcome is Outcome.PASS
    )


def test_a_range_across_the_limit_cannot_tell():
    found = only(RULE, built(run="along framing", edge_distance_m=(1.0 * INCH, 1.5 * INCH), plates=False), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.edge_distance",))


@pytest.mark.parametrize("given", [{}, {"run": "along framing", "edge_distance_m": 1.0 * INCH}])
def test_plates_that_are_still_to_come_are_a_line_of_the_checklist(given):
    found = only(RULE, built(**given), "run")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)
    assert "1.25 in" in found.says
    assert only(RULE, built(**given), "run").needs == ()


def test_existing_cable_and_other_runs_say_nothing():
    assert findings(RULE, built(origin="existing")) == []
    assert findings(RULE, built(run="across framing")) == []


def test_of_a_range_the_end_nearer_to_the_face_is_told():
    found = only(RULE, built(run="through framing", plates=False, edge_distance_m=(1.0 * INCH, 2.0 * INCH)), "run")
    assert (found.value, found.low, found.high) == pytest.approx((1.0, 1.0, 2.0))


def test_of_a_distance_that_may_be_less_than_any_no_low_end_is_told():
    found = only(RULE, built(run="through framing", plates=False), "run")
    assert found.outcome is Outcome.CAUTION
    assert found.low is None
    assert found.high is not None
