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
    assert (found.outcome, found.needs[0]) == (Outcome.UNDETERMINED, "box.attic.reachable")


def test_a_new_box_that_says_nothing_is_a_reminder():
    found = only(RULE, circuit(box("new", origin="added")), "new")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)


def test_a_box_behind_a_light_is_reached_by_taking_it_off():
    parts = (box("ceiling"), load("lamp", "ceiling"), box("new", origin="added"), cable("run", "ceiling", "new"))
    found = only(RULE, circuit(*parts), "ceiling")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)


def test_closing_an_opened_box_is_work_to_come():
    found = only(RULE, built(reachable=True), "attic")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)


def test_untouched_boxes_say_nothing():
    assert findings(RULE, circuit(box("old", reachable=False))) == []
