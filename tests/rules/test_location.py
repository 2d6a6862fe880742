"""Lights in damp and wet places are marked for them (410.10(A))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.location import RULE
from tests.rules.build import box, cable, circuit, findings, load, only, site, supply


def built(marked, room="bathroom", location=None, protection="ground-fault"):
    return circuit(
        supply(protection=protection),
        site(room=room),
        box("new", origin="added", location=location),
        cable("f", "panel", "new"),
        load("lamp", "new", origin="added", location_marked=marked),
    )


@pytest.mark.parametrize(
    ("marked", "location", "outcome"),
    [
        ("damp", "damp", Outcome.PASS),
        ("wet", "damp", Outcome.PASS),
        ("wet", "wet", Outcome.PASS),
        ("dry", "damp", Outcome.FAIL),
        ("damp", "wet", Outcome.FAIL),
        (None, "wet", Outcome.UNDETERMINED),
    ],
)
def test_the_mark_against_the_place(marked, location, outcome):
    assert only(RULE, built(marked, location=location), "lamp").outcome is outcome


def test_the_room_stands_in_for_a_place_that_is_not_said():
    found = only(RULE, built(None), "lamp")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.assumed_keys == ("box.new.location",)


def test_ground_fault_protection_is_asked_about():
    found = only(RULE, built("damp", protection="none"), "lamp")
    assert found.outcome is Outcome.CAUTION
    assert "ground-fault" in found.ask[0]


def test_outdoors_may_be_under_a_roof():
    assert only(RULE, built("damp", room="outdoors"), "lamp").outcome is Outcome.UNDETERMINED


def test_dry_places_say_nothing():
    assert findings(RULE, built(None, room="hallway")) == []
    assert findings(RULE, built(None, location="dry")) == []
