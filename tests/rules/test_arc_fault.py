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


SIMILAR = "Does stairway count as similar to the rooms of the arc-fault rule?"


@pytest.mark.parametrize(
    ("room", "protection", "asks", "clauses"),
    [
        ("stairway", "none", True, ["210.12(B), similar areas"]),
        ("bedroom", "none", False, []),
        ("stairway", "both", None, []),
    ],
)
def test_whether_a_room_counts_as_similar_is_asked_only_where_that_decides(room, protection, asks, clauses):
    """210.12(B) of 2023 ends with "similar areas" and names none."""
    found = only(RULE, circuit(supply(protection=protection), site(room=room), FEED, *ADDED), "circuit")
    assert (SIMILAR in found.ask) is bool(asks)
    assert bool(found.ask) is (asks is not None)
    assert [each.place for each in found.sources if "similar" in each.place] == clauses


def test_in_a_listed_room_and_one_that_may_be_similar_nothing_is_asked_of_the_second():
    boxes = (box("attic"), box("new", origin="added", room="bedroom"), box("far", origin="added", room="stairway"))
    runs = (cable("run", "attic", "new"), cable("on", "new", "far"))
    built = circuit(supply(protection="none"), FEED, *boxes, *runs, load("lamp", "far", origin="added"))
    found = only(RULE, built, "circuit")
    assert found.outcome is Outcome.FAIL
    assert SIMILAR not in found.ask
    over = only(RULE, circuit(supply(protection="none", breaker_a=30), FEED, *boxes, *runs), "circuit")
    assert SIMILAR not in over.ask


@pytest.mark.parametrize(("room", "places"), [("bedroom", ["210.12(E)"]), ("garage", [])])
def test_the_clause_on_rooms_served_already_stands_where_they_count(room, places):
    """210.12(E) of 2023; the rooms, 6 ft and the ratings are its other clauses."""
    there = box("attic", room=room), load("old lamp", "attic")
    new = box("new", origin="added", room="stairway"), cable("run", "attic", "new"), load("l", "new", origin="added")
    found = only(RULE, circuit(supply(protection="none"), site(room="stairway"), FEED, *there, *new), "circuit")
    assert len([each for each in found.sources if each.place == "210.12(E)"]) == len(places)
    assert found.outcome is (Outcome.FAIL if places else Outcome.CAUTION)


@pytest.mark.parametrize(("edition", "outcome"), [("nec-2020", Outcome.FAIL), ("nec-2023", Outcome.FAIL)])
def test_a_light_that_takes_the_place_of_another_shows_that_its_room_is_served(edition, outcome):
    """210.12(D) of 2020, (E) of 2023: wiring that supplies outlets of the listed rooms; the old light was one."""
    new = box("bath", origin="added", room="bathroom"), cable("run", "attic", "bath", length_m=9)
    built = circuit(
        supply(protection="none"),
        site(room="bathroom"),
        FEED,
        box("attic", room="bedroom"),
        load("lamp", "attic", origin="added", replaces=True),
        *new,
    )
    found = only(RULE, built, "circuit", edition)
    assert found.outcome is outcome
    assert "also serves bedroom" in found.says
    assert findings(RULE, built, "nec-2017") == []


def test_whether_a_light_replaces_one_is_asked_beside_what_else_is_open():
    """If it replaces one, cable is extended in the bedroom and the protection decides: none of the two alone."""
    boxes = (box("attic", room="bathroom"), box("near", room="bathroom"))
    lamp = load("lamp", "near", origin="added", replaces=None)
    run = cable("run", "attic", "near", length_m=9)
    built = circuit(supply(protection=None), site(room="bedroom"), FEED, *boxes, run, lamp)
    found = only(RULE, built, "circuit", "nec-2017")
    assert found.outcome is Outcome.UNDETERMINED
    assert set(found.needs) == {"supply.protection", "load.lamp.replaces"}


def test_many_lights_that_may_replace_others_leave_nothing_open_where_a_box_is_added():
    """Whichever of them are outlets more: a box is added in a bedroom, with far more than 6 ft of cable."""
    lamps = [load(f"lamp {number}", "attic", origin="added", replaces=None) for number in range(12)]
    parts = (box("attic"), box("new", origin="added"), cable("run", "attic", "new", length_m=9), *lamps)
    built = circuit(supply(protection="none"), site(room="bedroom"), FEED, *parts)
    assert only(RULE, built, "circuit").outcome is Outcome.FAIL


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_basement_may_be_finished_into_a_room_like_the_listed_ones(edition):
    """210.12: similar rooms or areas; a finished basement is a family or recreation room in all but its name."""
    finished = (box("attic", room="basement"), *ADDED[1:])
    built = circuit(supply(protection="none"), site(room="basement"), FEED, *finished)
    found = only(RULE, built, "circuit", edition)
    assert (found.outcome, len(found.ask)) == (Outcome.CAUTION, 2)
    assert "basement" in found.ask[0]
    protected = circuit(supply(protection="both"), site(room="basement"), FEED, *finished)
    assert only(RULE, protected, "circuit", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("volts", "applies"), [(120, True), (150, True), (208, False), (240, False)])
def test_it_is_a_rule_for_circuits_of_120_volts(edition, volts, applies):
    """210.12(A)/(B): 120-volt branch circuits; a heater on 240 V needs no arc-fault protection in a bedroom."""
    built = circuit(supply(protection="none", voltage_v=volts), site(room="bedroom"), FEED, *ADDED)
    assert [each.outcome for each in findings(RULE, built, edition)] == ([Outcome.FAIL] if applies else [])
