"""Lights in damp and wet places are marked for them (410.10(A)); over a bath for damp or wet (410.10(D))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.location import RULE
from tests.rules.build import EDITIONS, FOOT, box, cable, circuit, driver, findings, load, low_voltage_load, only, site


def built(marked, room="bathroom", location=None, **given):
    given = {"over_bath": False, "mounting": "ceiling"} | given
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


@pytest.mark.parametrize("room", ["bathroom", "basement", "crawl space"])
def test_a_room_that_may_be_damp_is_something_to_see_to(room):
    found = only(RULE, built(None, room=room), "lamp")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)
    assert findings(RULE, built("damp", room=room)) == []


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
        ("damp", "damp", Outcome.UNDETERMINED),
        ("damp", None, Outcome.UNDETERMINED),
        ("wet", None, Outcome.PASS),
        (None, None, Outcome.UNDETERMINED),
    ],
)
def test_over_a_bath_it_is_damp_at_least_and_wet_where_spray_reaches(marked, location, outcome):
    assert only(RULE, built(marked, location=location, over_bath=True), "lamp").outcome is outcome


def test_a_light_that_may_hang_from_a_high_ceiling_is_asked_how_high_it_is():
    """410.10(D): only up to 8 ft over the rim; a light fixed to a wall or a usual ceiling is within it."""
    found = only(RULE, built("dry", location="dry", over_bath=True, in_spray=False, mounting=None), "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.lamp.height_over_bath",))


def test_eight_feet_over_the_rim_are_out_of_the_bath():
    """410.10(D): up to 8 ft over the rim or threshold."""
    assert findings(RULE, built("dry", location="dry", over_bath=True, height_over_bath_m=8.1 * FOOT)) == []


def test_dry_places_say_nothing():
    assert findings(RULE, built(None, room="hallway")) == []
    assert findings(RULE, built(None, location="dry")) == []


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("marked", "spray", "outcome"),
    [
        ("damp", False, Outcome.PASS),
        ("damp", True, Outcome.FAIL),
        ("damp", None, Outcome.UNDETERMINED),
        ("wet", None, Outcome.PASS),
        ("dry", False, Outcome.FAIL),
        ("dry", None, Outcome.FAIL),
    ],
)
def test_spray_asks_for_the_wet_mark(edition, marked, spray, outcome):
    """410.10(D): marked for damp or wet locations in the zone, and for wet ones where subject to shower spray."""
    found = only(RULE, built(marked, location="dry", over_bath=True, in_spray=spray), "lamp", edition)
    assert found.outcome is outcome
    if outcome is Outcome.UNDETERMINED:
        assert found.needs == ("load.lamp.in_spray",)


def test_over_the_bath_is_asked_for_every_added_light_in_a_bathroom():
    found = only(RULE, built("damp", location="dry", over_bath=None), "lamp")
    assert found.outcome is Outcome.UNDETERMINED
    assert "load.lamp.over_bath" in found.needs
    assert findings(RULE, built("wet", location="dry", over_bath=None)) == []
    assert findings(RULE, built("damp", room="hallway", over_bath=None)) == []


def test_low_voltage_lights_and_drivers_are_marked_for_their_place_too():
    def strip(marked, **given):
        return circuit(site(room="bathroom"), low_voltage_load("strip", location_marked=marked, **given))

    shower = {"over_bath": True, "height_over_bath_m": 6.5 * FOOT, "in_spray": True, "location": "dry"}
    assert only(RULE, strip("dry", **shower), "strip").outcome is Outcome.FAIL
    assert only(RULE, strip("damp", **shower), "strip").outcome is Outcome.FAIL
    assert only(RULE, strip("wet", **shower), "strip").outcome is Outcome.PASS

    def supply(marked, location):
        parts = box("new", origin="added", location=location), cable("f", "panel", "new")
        return circuit(*parts, driver("driver", "new", location_marked=marked))

    assert only(RULE, supply("dry", "damp"), "driver").outcome is Outcome.FAIL
    assert only(RULE, supply("damp", "damp"), "driver").outcome is Outcome.PASS
    assert only(RULE, supply(None, "wet"), "driver").needs == ("driver.driver.location_marked",)
    assert findings(RULE, supply(None, "dry")) == []


def test_what_and_why_is_said():
    """410.10(D): within the zone of a tub or shower for damp or wet, where spray reaches it for wet."""
    given = {"location": "dry", "over_bath": True, "height_over_bath_m": 6.5 * FOOT}
    spray = only(RULE, built("wet", in_spray=True, **given), "lamp")
    assert spray.says == 'The light "lamp" is marked for wet locations and is in a wet one (in the spray of a shower).'
    zone = only(RULE, built("damp", in_spray=False, **given), "lamp")
    assert zone.says == 'The light "lamp" is marked for damp locations and is in a damp one (over or beside a bath).'
    parts = box("new", origin="added", location="damp"), cable("f", "panel", "new")
    found = only(RULE, circuit(*parts, driver("driver", "new", location_marked="wet")), "driver")
    assert found.says == 'The driver "driver" is marked for wet locations and is in a damp one (by its place).'


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("kind", ["fan", "heater"])
@pytest.mark.parametrize(
    ("marked", "room", "location", "outcome"),
    [
        ("dry", "porch", "damp", Outcome.FAIL),
        ("damp", "porch", "damp", Outcome.PASS),
        ("damp", "porch", "wet", Outcome.FAIL),
        ("wet", "porch", None, Outcome.PASS),
        ("dry", "porch", None, Outcome.FAIL),
        ("damp", "outdoors", None, Outcome.UNDETERMINED),
        (None, "outdoors", "damp", Outcome.UNDETERMINED),
        ("dry", "bathroom", "wet", Outcome.FAIL),
        # a fan in a bathroom's ceiling is made for such rooms: nobody is asked
        ("dry", "bathroom", "damp", None),
        (None, "bathroom", None, None),
        (None, "bedroom", None, None),
    ],
)
def test_a_fan_outdoors_is_marked_for_it_too(edition, kind, marked, room, location, outcome):
    """110.11: what is in a damp or wet place is identified for use there (the words of 29 CFR 1926.432(a)(1))."""
    made = circuit(
        site(room=room),
        box("new", origin="added", location=location),
        cable("f", "panel", "new"),
        load("it", "new", origin="added", kind=kind, mounting="ceiling", location_marked=marked),
    )
    found = findings(RULE, made, edition)
    assert [each.outcome for each in found] == ([] if outcome is None else [outcome])
    for each in found:
        assert f'The {kind} "it" is marked' in each.says or outcome is Outcome.UNDETERMINED
        assert each.sources[0].place == "110.11, 110.3(B)"


def test_a_fan_with_a_cord_and_one_that_was_there_are_left_alone():
    parts = (box("new", origin="added", room="porch", location="damp"), cable("f", "panel", "new"))
    for given in ({"origin": "added", "connection": "cord"}, {"origin": "existing"}):
        fan = load("fan", "new", kind="fan", mounting="ceiling", location_marked="dry", **given)
        assert findings(RULE, circuit(*parts, fan)) == []
