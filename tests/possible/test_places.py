"""What a light's room tells: Article 100 (damp and wet locations by example), 410.10(D) (the zone of a bath)."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.possible.entry import Later
from tests.rules.build import book, box, cable, circuit, load, low_voltage_load, site


def possible(kind, room, light=None, **given):
    """What the entry can be, None where it is settled."""
    lamp = load("lamp", "new", **({"origin": "added"} | (light or {})))
    built = circuit(site(room=room), box("new", **({"origin": "added"} | given)), cable("c", "panel", "new"), lamp)
    return next((entry.possible for entry in case_of(built, book()).entries if entry.kind == kind), None)


@pytest.mark.parametrize(
    ("room", "words"),
    [
        ("bathroom", ("dry", "damp")),
        ("basement", ("dry", "damp")),
        ("porch", ("damp", "wet")),
        ("outdoors", ("damp", "wet")),
        ("other", ("dry", "damp", "wet")),
        (None, ("dry", "damp", "wet")),
    ],
)
def test_how_wet_a_place_can_be(room, words):
    """Article 100: damp under roofs and in some basements, wet in the weather; a bathroom is neither by itself."""
    assert possible("box.location", room).options == words


def test_a_hallway_is_dry_and_what_is_said_counts():
    assert possible("box.location", "hallway") is None
    assert possible("box.location", "outdoors", location="wet") is None


@pytest.mark.parametrize(("room", "options"), [(None, ("dry", "damp", "wet")), ("hallway", ("dry",))])
def test_a_box_that_is_there_already_may_be_in_another_room_than_the_job(room, options):
    """Nobody said that an old box is in the room of the job; the attic over it is met as often."""
    built = circuit(site(room="hallway"), box("old", room=room), cable("c", "panel", "old"), load("lamp", "old"))
    case = case_of(built, book())
    opened = next((entry for entry in case.entries if entry.kind == "box.location"), None)
    assert (opened.possible.options if opened else (case.boxes[0].location,)) == options
    assert opened is None or opened.ref.key == "room"


def test_a_light_out_of_doors_makes_its_box_damp_at_least():
    assert possible("box.location", "hallway", {"mounting": "outdoors"}).options == ("damp", "wet")


def test_a_guess_that_it_hangs_out_of_doors_may_be_right_or_wrong():
    """A hallway is dry; where the light does hang outdoors, its place is damp or wet. A guess says neither."""
    guess = {"mounting": "outdoors", "known_by": {"mounting": "guess"}}
    assert set(possible("box.location", "hallway", guess).options) == {"dry", "damp", "wet"}


def test_a_box_that_is_guessed_to_be_there_already_may_be_in_any_room():
    """A new box is in the room of the job; an old one may be anywhere, and a guess says neither."""
    assert possible("box.room", "laundry") is None
    words = possible("box.room", "laundry", origin="existing", known_by={"origin": "guess"}).options
    assert {"laundry", "attic", "bedroom"} < set(words)


def test_a_guess_leaves_out_what_the_room_rules_out():
    """What hangs in a hallway does not hang outdoors, whatever else than a pendant it turns out to be."""
    words = possible("load.mounting", "hallway", {"mounting": "pendant", "known_by": {"mounting": "guess"}}).options
    assert words[0] == "pendant"
    assert "outdoors" not in words
    assert {"wall", "ceiling", "recessed"} < set(words)


def test_over_a_bath_is_open_in_a_bathroom_and_in_an_unknown_room():
    assert possible("load.over_bath", "bathroom").options == (False, True)
    assert possible("load.over_bath", None).options == (False, True)
    assert possible("load.over_bath", "hallway") is None


def test_a_mark_is_work_to_come_only_where_the_room_is_perhaps_damp():
    assert possible("load.location_marked", "basement").later is Later.WORK_TO_COME
    assert possible("load.location_marked", "bathroom", {"over_bath": False}).later is Later.WORK_TO_COME
    assert possible("load.location_marked", "bathroom").later is None
    assert possible("load.location_marked", "outdoors").later is None
    assert possible("load.location_marked", "basement", location="damp").later is None
    assert possible("load.location_marked", "basement", {"origin": "existing"}).later is None


def test_the_height_of_a_hanging_light_is_open_and_of_another_in_the_zone():
    assert possible("load.height_over_bath", "bathroom", {"mounting": "wall"}).options == (0.0,)
    low, high = possible("load.height_over_bath", "bathroom", {"mounting": "pendant"}).options
    assert low < 96 * 0.0254 < high  # 410.10(D): the zone is 8 ft high
    for unsaid in (
        {"mounting": None},
        {"mounting": "wall", "connection": None},
    ):  # it may hang, and from a high ceiling
        assert possible("load.height_over_bath", "bathroom", unsaid).options == (low, high)


def test_what_is_in_a_room_inside_the_house_is_not_mounted_outdoors():
    """A box of which nothing says how wet its place is stands dry in a hallway: a light on it is in the hallway too."""
    assert "outdoors" not in possible("load.mounting", "hallway", {"mounting": None}).options
    assert "outdoors" in possible("load.mounting", "porch", {"mounting": None}).options
    assert "outdoors" in possible("load.mounting", None, {"mounting": None}).options
    for room, may in (("hallway", False), ("porch", True), (None, True)):
        strip = low_voltage_load("strip", power_per_length_w_per_m=5.0, mounting=None)
        (words,) = (
            entry.possible.options
            for entry in case_of(circuit(site(room=room), strip), book()).entries
            if entry.attribute == "mounting"
        )
        assert ("outdoors" in words, "pendant" in words) == (may, False)


def test_a_low_voltage_light_is_in_the_room_of_the_job():
    built = circuit(
        site(room="bathroom"), low_voltage_load("strip", power_w=5.0), low_voltage_load("far", room="porch")
    )
    case = case_of(built, book())
    assert [light.room for light in case.low_voltage_loads] == ["bathroom", "porch"]
    places = {entry.part.id: entry.possible.options for entry in case.entries if entry.attribute == "location"}
    assert places == {"strip": ("dry", "damp"), "far": ("damp", "wet")}


@pytest.mark.parametrize(
    "given", [{"known_by": {"origin": "guess"}}, {"room": "hallway", "known_by": {"room": "guess"}}]
)
def test_a_guess_at_the_room_or_at_what_is_new_tells_nothing_of_the_place(given):
    """A box that was there already, or in another room than guessed, may stand where it is damp."""
    lamp = load("lamp", "new", origin="added")
    built = circuit(site(room="hallway"), box("new", **{"origin": "added"} | given), cable("c", "panel", "new"), lamp)
    options = {entry.kind: entry.possible.options for entry in case_of(built, book()).entries}
    assert "bathroom" in options["box.room"]
    assert options["box.location"] == ("dry", "damp", "wet")
    assert options["load.over_bath"] == (False, True)


@pytest.mark.parametrize("room", ["hallway", "bathroom", "porch", "other"])
def test_a_guess_at_the_mounting_says_as_much_of_the_place_as_an_unknown_one(room):
    """Inside the house nothing is mounted outdoors, whatever is guessed; elsewhere the room tells the place."""
    guessed = {"mounting": "wall", "known_by": {"mounting": "guess"}}
    assert possible("box.location", room, guessed) == possible("box.location", room, {"mounting": None})
    words = possible("load.mounting", room, guessed).options
    assert ("outdoors" in words) == (room in ("porch", "other"))


def test_a_low_voltage_light_whose_room_is_a_guess_may_be_anywhere():
    lights = (
        low_voltage_load("strip", power_w=5.0, room="bedroom", known_by={"room": "guess"}),
        low_voltage_load("spot", power_w=5.0, mounting="wall", known_by={"mounting": "guess"}),
    )
    case = case_of(circuit(site(room="bathroom"), *lights), book())
    places = {entry.part.id: entry.possible.options for entry in case.entries if entry.attribute == "location"}
    assert places == {"strip": ("dry", "damp", "wet"), "spot": ("dry", "damp")}
    rooms = {entry.part.id: entry.possible.options for entry in case.entries if entry.attribute == "room"}
    assert {"bedroom", "bathroom", "porch"} < set(rooms["strip"])
    assert "spot" not in rooms
