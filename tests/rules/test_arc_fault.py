"""Arc-fault protection of an extension: 210.12(D) of 2017 and 2020, (E) of 2023; the 6 ft exception adds no outlet."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.arc_fault import RULE
from tests.rules.build import EDITIONS, FOOT, box, cable, circuit, control, findings, load, only, site, supply

ADDED = (box("attic"), box("new", origin="added"), cable("run", "attic", "new"), load("lamp", "new", origin="added"))
FEED = cable("feed", "panel", "attic", origin="existing")


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("protection", ["arc-fault", "both"])
def test_a_protected_circuit_passes(edition, protection):
    found = only(RULE, circuit(supply(protection=protection), FEED, *ADDED), "circuit", edition)
    assert found.outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("room", ["bedroom", "hallway", "closet", "living room"])
@pytest.mark.parametrize("protection", ["none", "ground-fault"])
def test_an_outlet_added_in_a_listed_room_needs_it(edition, room, protection):
    found = only(RULE, circuit(supply(protection=protection), site(room=room), FEED, *ADDED), "circuit", edition)
    assert found.outcome is Outcome.FAIL
    assert found.ask


def test_the_clause_moved_in_2023():
    built = circuit(supply(protection="none"), FEED, *ADDED)
    places = {edition: only(RULE, built, "circuit", edition).sources[1].place for edition in EDITIONS}
    assert "210.12(D)" in places["nec-2017"]
    assert "210.12(D)" in places["nec-2020"]
    assert "210.12(E)" in places["nec-2023"]


def test_unknown_protection_asks():
    found = only(RULE, circuit(supply(protection=None), FEED, *ADDED), "circuit")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.protection",))


def test_unknown_room_asks():
    found = only(RULE, circuit(supply(protection="none"), site(room=None), FEED, *ADDED), "circuit")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.new.room",))


@pytest.mark.parametrize(("feet", "outcome"), [(6.0, Outcome.PASS), (6.1, Outcome.FAIL)])
def test_six_feet_without_an_outlet_are_exempt(feet, outcome):
    built = circuit(
        supply(protection="none"),
        FEED,
        box("attic"),
        box("joint", origin="added"),
        cable("run", "attic", "joint", length_m=feet * FOOT),
    )
    assert only(RULE, built, "circuit").outcome is outcome


def test_short_cable_with_an_outlet_is_not_exempt():
    parts = (box("attic"), box("new", origin="added"), cable("run", "attic", "new", length_m=1.0))
    built = circuit(supply(protection="none"), FEED, *parts, load("lamp", "new", origin="added"))
    assert only(RULE, built, "circuit").outcome is Outcome.FAIL


@pytest.mark.parametrize(
    "built",
    [
        circuit(supply(protection="none"), site(room="garage"), FEED, *ADDED),
        circuit(supply(protection="none"), site(dwelling=False), FEED, *ADDED),
        circuit(supply(protection="none"), FEED, box("attic"), load("old", "attic")),
    ],
)
def test_it_says_nothing_where_it_does_not_apply(built):
    assert findings(RULE, built) == []


def test_a_room_of_the_box_goes_before_the_room_of_the_job():
    parts = (box("attic"), box("new", origin="added", room="bedroom"), cable("run", "attic", "new"))
    built = circuit(supply(protection="none"), site(room="garage"), FEED, *parts, load("lamp", "new", origin="added"))
    assert only(RULE, built, "circuit").outcome is Outcome.FAIL


@pytest.mark.parametrize("room", ["stairway", "foyer", "office"])
def test_a_room_that_may_be_similar_is_asked_about(room):
    found = only(RULE, circuit(supply(protection="none"), site(room=room), FEED, *ADDED), "circuit")
    assert found.outcome is Outcome.CAUTION
    assert "similar" in found.ask[0]


@pytest.mark.parametrize(("edition", "outcome"), [("nec-2020", Outcome.FAIL), ("nec-2023", Outcome.FAIL)])
def test_other_outlets_of_the_circuit_in_listed_rooms_count_since_2020(edition, outcome):
    """2017: wiring *in* the listed rooms; 2020 and later: wiring *for* them (210.12(D), 2023 (E))."""
    old = (box("bed", room="bedroom"), cable("on", "attic", "bed", origin="existing"), load("old", "bed"))
    built = circuit(supply(protection="none"), site(room="bathroom"), FEED, *ADDED, *old)
    found = only(RULE, built, "circuit", edition)
    assert found.outcome is outcome
    assert "bedroom" in found.says
    assert findings(RULE, built, "nec-2017") == []


def test_whether_it_is_a_dwelling_is_asked_where_it_decides():
    built = circuit(supply(protection="none"), site(dwelling=None), FEED, *ADDED)
    found = only(RULE, built, "circuit")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("site.dwelling",))


def test_a_switch_is_a_device_so_that_six_feet_do_not_exempt_it():
    """210.12(D) and (E), exception: no additional outlets or devices."""
    parts = (box("attic"), box("wall", origin="added"), cable("run", "attic", "wall", length_m=1.0))
    built = circuit(supply(protection="none"), FEED, *parts, control("new switch", "wall", kind="switch"))
    assert only(RULE, built, "circuit").outcome is Outcome.FAIL


def test_an_oversized_fuse_does_not_lead_out_of_the_rule():
    found = only(RULE, circuit(supply(protection="none", breaker_a=30), FEED, *ADDED), "circuit")
    assert found.outcome is Outcome.CAUTION


def test_what_runs_through_a_listed_room_counts_beside_the_room_of_the_light():
    """210.12(D) of 2017: wiring extended in a listed room; a new box in the bedroom is such, wherever the light is."""
    boxes = (box("attic"), box("new", origin="added", room="bedroom"), box("far", origin="added", room="bathroom"))
    lamp = load("lamp", "far", origin="added")
    runs = (cable("run", "attic", "new"), cable("on", "new", "far"))
    built = circuit(supply(protection="none"), site(room="bathroom"), FEED, *boxes, *runs, lamp)
    assert only(RULE, built, "circuit", "nec-2017").outcome is Outcome.FAIL


def test_whether_a_light_replaces_one_is_asked_where_that_decides_which_rooms_count():
    """A light in a room that is not listed, cable in one that is: if the light is no outlet more, the cable counts."""
    boxes = (box("attic", room="bathroom"), box("near", room="bathroom"))
    lamp = load("lamp", "near", origin="added", replaces=None)
    run = cable("run", "attic", "near", length_m=9)
    built = circuit(supply(protection="none"), site(room="bedroom"), FEED, *boxes, run, lamp)
    found = only(RULE, built, "circuit", "nec-2017")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.lamp.replaces",))


def test_rooms_that_are_served_already_are_told_where_they_count():
    """210.12(D) of 2020, (E) of 2023: where a circuit that supplies a listed room is extended; not so in 2017."""
    garage = site(room="garage")
    there = box("attic", room="bedroom"), load("old lamp", "attic")
    new = box("new", origin="added", room="garage"), cable("run", "attic", "new"), load("lamp", "new", origin="added")
    built = circuit(supply(protection="none"), garage, FEED, *there, *new)
    for edition, outcome in (("nec-2020", Outcome.FAIL), ("nec-2023", Outcome.FAIL)):
        found = only(RULE, built, "circuit", edition)
        assert found.outcome is outcome
        assert "listed rooms that the circuit serves already: bedroom" in found.working
        assert "also serves bedroom" in found.says
    assert findings(RULE, built, "nec-2017") == []
    plain = only(RULE, circuit(supply(protection="none"), site(room="bedroom"), FEED, *ADDED), "circuit")
    assert not any("serves already" in line for line in plain.working)
    assert "rooms of the added work: bedroom" in plain.working
    assert "protection: none" in plain.working
    assert "the exception for at most 6 ft of cable does not hold" in plain.working


def test_over_the_largest_circuit_of_the_rule_it_is_a_caution():
    """210.12: circuits of 10, 15 and 20 A."""
    for breaker, outcome in ((20, Outcome.FAIL), (25, Outcome.CAUTION)):
        built = circuit(supply(protection="none", breaker_a=breaker), site(room="bedroom"), FEED, *ADDED)
        assert only(RULE, built, "circuit").outcome is outcome
