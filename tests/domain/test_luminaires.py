"""Which parts are added lights, where they are, and which of them hang."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.luminaires import hangs, is_added_light, location_of, luminaires, place_key, room_of
from circuitcheck.domain.recessed import is_wiring_box, recessed_light
from circuitcheck.domain.switch_loops import switch_loops
from tests.rules.build import CUBIC_INCH, book, box, cable, circuit, control, load, low_voltage_load

PLACED = {"room": "closet", "location": "dry"}


def case_with(*parts):
    return case_of(circuit(box("b", room="bathroom", location="damp"), cable("f", "panel", "b"), *parts), book())


def one_of(*parts):
    case = case_with(*parts)
    (light,) = luminaires(case)
    return case, light


@pytest.mark.parametrize(
    ("part", "is_light"),
    [
        (load("l", "b", power_w=9, origin="added"), True),
        (load("l", "b", power_w=9), False),
        (load("l", "b", power_w=9, origin="added", kind="fan"), False),
        (low_voltage_load("l", power_w=9), True),
        (low_voltage_load("l", power_w=9, origin="existing"), False),
    ],
)
def test_an_added_light(part, is_light):
    assert is_added_light(one_of(part)[1]) is is_light


def test_a_light_is_where_its_box_is_and_a_low_voltage_light_where_it_is_itself():
    case, light = one_of(load("l", "b", power_w=9))
    assert (room_of(case, light), location_of(case, light)) == ("bathroom", "damp")
    assert str(place_key(light, "room")) == "box.b.room"
    case, light = one_of(low_voltage_load("l", power_w=9, **PLACED))
    assert (room_of(case, light), location_of(case, light)) == ("closet", "dry")
    assert str(place_key(light, "location")) == "low_voltage_load.l.location"


@pytest.mark.parametrize(
    ("part", "does"),
    [
        (load("l", "b", power_w=9, mounting="pendant"), True),
        (load("l", "b", power_w=9, mounting="wall"), False),
        (load("l", "b", power_w=9, mounting="wall", connection="cord"), True),
        (low_voltage_load("l", power_w=9, mounting="pendant"), True),
        (low_voltage_load("l", power_w=9, mounting="wall"), False),
    ],
)
def test_what_hangs(part, does):
    assert hangs(one_of(part)[1]) is does


@pytest.mark.parametrize(
    ("given", "part", "own"),
    [
        ({"trade_size": None}, {"mounting": "recessed"}, True),
        ({"trade_size": "4 x 1-1/2 octagon"}, {"mounting": "recessed"}, False),
        ({"trade_size": None, "volume_m3": 18 * CUBIC_INCH}, {"mounting": "recessed"}, False),
        ({"trade_size": None}, {"mounting": "ceiling"}, False),
        ({"trade_size": None}, {"mounting": "recessed", "kind": "fan"}, False),
    ],
)
def test_a_box_without_a_size_is_the_wiring_box_of_its_recessed_light(given, part, own):
    lamp = load("l", "can", power_w=9, **part)
    case = case_of(
        circuit(box("can", **given), cable("f", "panel", "can"), load("o", "can", mounting="wall"), lamp), book()
    )
    with case.reading.at(lambda entry: None):
        assert is_wiring_box(case, case.tree.box["can"]) is own
        light = recessed_light(case, case.tree.box["can"])
    assert (light.id if light is not None else None) == ("l" if own else None)


def test_a_loop_is_followed_up_to_where_the_feed_ends():
    case = case_of(
        circuit(
            box("a"), box("b"), box("c"), box("d"),
            cable("feed", "panel", "a", carries="feed"),
            cable("down", "a", "b", carries="switch loop"), cable("on", "b", "c", carries="switch loop"),
            cable("side", "a", "d", carries="feed"),
            control("far", "c"), control("near", "b"), control("none", "d"),
        ),
        book(),
    )  # fmt: skip
    loops = {name: [each.id for each in cables] for name, cables in switch_loops(case).items()}
    assert loops == {"far": ["down", "on"], "near": ["down"]}
