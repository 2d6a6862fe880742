"""Lights in damp and wet places are marked for them (410.10(A)); over a bath for damp or wet (410.10(D))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.location import RULE
from tests.rules.build import EDITIONS, FOOT, box, cable, circuit, findings, load, only, site


def built(marked, room="bathroom", location=None, **given):
    return circuit(
        site(room=room),
        box("new", origin="added", location=location),
        cable("f", "panel", "new"),
        load("lamp", "new", origin="added", location_marked=marked, **given),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("marked", "location", "outcome"),
    [
        ("damp", "damp", Outcome.PASS),
        ("wet", "damp", Outcome.PASS),
        ("wet", "wet", Outcome.PASS),
        ("dry", "damp", Outcome.FAIL),
        ("damp", "wet", Outcome.FAIL),
        (None, "damp", Outcome.UNDETERMINED),
        (None, "wet", Outcome.UNDETERMINED),
    ],
)
def test_the_mark_against_the_place(edition, marked, location, outcome):
    assert only(RULE, built(marked, location=location), "lamp", edition).outcome is outcome


@pytest.mark.parametrize(("marked", "outcome"), [(None, Outcome.CAUTION), ("damp", Outcome.PASS)])
@pytest.mark.parametrize("room", ["bathroom", "basement", "crawl space"])
def test_a_room_that_may_be_damp_is_a_reminder(room, marked, outcome):
    assert only(RULE, built(marked, room=room), "lamp").outcome is outcome


def test_a_light_for_dry_places_in_a_bathroom_hangs_on_the_place():
    """Article 100 does not call a bathroom damp by itself."""
    found = only(RULE, built("dry"), "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.new.location",))
    assert findings(RULE, built("dry", location="dry")) == []


@pytest.mark.parametrize("room", ["outdoors", "porch"])
@pytest.mark.parametrize(
    ("marked", "outcome"),
    [
        ("wet", Outcome.PASS),
        ("damp", Outcome.UNDETERMINED),
        ("dry", Outcome.FAIL),
        (None, Outcome.UNDETERMINED),
    ],
)
def test_outdoors_is_damp_at_least(room, marked, outcome):
    assert only(RULE, built(marked, room=room), "lamp").outcome is outcome


@pytest.mark.parametrize(
    ("marked", "location", "outcome"),
    [
        ("dry", "dry", Outcome.FAIL),
        ("damp", "damp", Outcome.PASS),
        ("damp", None, Outcome.UNDETERMINED),
        ("wet", None, Outcome.PASS),
        (None, None, Outcome.UNDETERMINED),
    ],
)
def test_over_a_bath_it_is_damp_at_least_and_wet_where_spray_reaches(marked, location, outcome):
    assert only(RULE, built(marked, location=location, over_bath=True), "lamp").outcome is outcome


def test_eight_feet_over_the_rim_are_out_of_the_bath():
    """410.10(D): up to 8 ft over the rim or threshold."""
    assert findings(RULE, built("dry", location="dry", over_bath=True, height_over_bath_m=8.1 * FOOT)) == []


def test_dry_places_say_nothing():
    assert findings(RULE, built(None, room="hallway")) == []
    assert findings(RULE, built(None, location="dry")) == []
