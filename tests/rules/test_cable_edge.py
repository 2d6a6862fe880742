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
    found = only(RULE, built(run="through framing", edge_distance_m=inches * INCH), "run", edition)
    assert (found.outcome, found.limit) == (outcome, pytest.approx(1.25))


def test_a_plate_stands_in_for_the_distance():
    assert only(RULE, built(edge_distance_m=0.5 * INCH, plates=True), "run").outcome is Outcome.PASS


def test_a_range_across_the_limit_cannot_tell():
    found = only(RULE, built(edge_distance_m=(1.0 * INCH, 1.5 * INCH)), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.edge_distance",))


def test_nothing_said_is_a_reminder():
    assert only(RULE, built(), "run").outcome is Outcome.CAUTION


def test_existing_cable_and_other_runs_say_nothing():
    assert findings(RULE, built(origin="existing")) == []
    assert findings(RULE, built(run="across framing")) == []
