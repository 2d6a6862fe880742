"""Boxes stay within reach and covered (314.29, 314.25); an attic counts as within reach."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.box_access import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only


def built(**given):
    return circuit(
        box("attic", **given), box("new", origin="added", reachable=True, covered=True), cable("run", "attic", "new")
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_covered_box_within_reach_passes(edition):
    assert only(RULE, built(reachable=True, covered=True), "attic", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("given", [{"reachable": False}, {"reachable": True, "covered": False}])
def test_a_buried_or_open_box_fails(given):
    assert only(RULE, built(**given), "attic").outcome is Outcome.FAIL


def test_a_luminaire_covers_its_box():
    built_with_lamp = circuit(box("new", origin="added", reachable=True), load("lamp", "new", origin="added"))
    assert only(RULE, built_with_lamp, "new").outcome is Outcome.PASS


def test_an_existing_box_that_says_nothing_asks():
    found = only(RULE, built(), "attic")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.attic.reachable",))


def test_a_new_box_that_says_nothing_is_a_reminder():
    assert only(RULE, circuit(box("new", origin="added")), "new").outcome is Outcome.CAUTION


def test_untouched_boxes_say_nothing():
    assert findings(RULE, circuit(box("old", reachable=False))) == []
