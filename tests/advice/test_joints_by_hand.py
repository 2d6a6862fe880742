"""The joints of whole examples, worked by hand from the drawing at the top of each file.

How a box is joined is trade practice: one neutral splice, one splice of everything that is always hot, one of what a
switch lets through, all grounds together (NFPA 70-2023, 250.148(A)), one conductor a terminal (110.14(A)).
"""

import pytest

from circuitcheck.advice.joints import JointKind
from tests.advice.build import boxes, example, joined, splices, straight

HOT, NEUTRAL, GROUND = "always hot", "neutral", "equipment ground"


@pytest.fixture(scope="module")
def hallway():
    return boxes(example("hallway")[0])


def test_only_boxes_that_the_work_touches_are_opened_the_existing_one_last(hallway):
    """Landing switch, light and outlet are not touched: nothing new ends in them."""
    assert list(hallway) == ["wall 3", "wall 2", "wall 1", "hall switch", "attic"]
    assert [one.is_existing for one in hallway.values()] == [False, False, False, False, True]


def test_the_last_wall_light(hallway):
    """One 14/2 comes in; the light has two 18 AWG wires and an 18 AWG ground: three splices of one and one."""
    one_and_one = {"14 AWG": 1, "18 AWG": 1}
    switched = "switched hot from hall"
    assert splices(hallway["wall 3"]) == {switched: one_and_one, NEUTRAL: one_and_one, GROUND: one_and_one}


@pytest.mark.parametrize("name", ["wall 1", "wall 2"])
def test_the_wall_lights_on_the_way(hallway, name):
    """14/2 in, 14/2 on, and the light: three splices of two thick and one thin."""
    two_and_one = {"14 AWG": 2, "18 AWG": 1}
    switched = "switched hot from hall"
    assert splices(hallway[name]) == {switched: two_and_one, NEUTRAL: two_and_one, GROUND: two_and_one}


def test_the_new_switch(hallway):
    """One hot in and one out, each under its own screw; two neutrals; two grounds and a pigtail to the yoke."""
    box = hallway["hall switch"]
    assert straight(box) == {
        HOT: ("to hall switch", "switch hall, supply side"),
        "switched hot from hall": ("to wall 1", "switch hall, switched side"),
    }
    assert splices(box) == {NEUTRAL: {"14 AWG": 2}, GROUND: {"14 AWG": 3}}


def test_the_attic_box(hallway):
    """Feed, to landing and to hall switch, and a pigtail to each screw of the lampholder: four and four.

    Grounds: three cables and a pigtail to the metal box; whether the lampholder has a ground is not in the file.
    """
    box = hallway["attic"]
    assert splices(box) == {HOT: {"14 AWG": 4}, NEUTRAL: {"14 AWG": 4}, GROUND: {"14 AWG": 4}}
    (ground,) = [joint for joint in box.joints.joints if joint.net.words == GROUND]
    assert [end.part for end in ground.ends if end.perhaps] == ["attic lamp"]
    assert [text.split(":")[0] for text in box.taken] == ["to landing"]


def test_nothing_of_the_hallway_is_untold(hallway):
    assert [one.box.id for one in hallway.values() if one.joints.untold] == []


def test_the_bedroom_follows_its_door_switch():
    """Everything behind the door switch is on one switched hot: the ceiling box joins two cables and its lamp."""
    box = boxes(example("bedroom")[0])["ceiling"]
    assert joined(box) == {
        "switched hot from door": (JointKind.SPLICE, ["ceiling lamp", "to ceiling", "to left"]),
        NEUTRAL: (JointKind.SPLICE, ["ceiling lamp", "to ceiling", "to left"]),
        GROUND: (JointKind.SPLICE, ["ceiling lamp", "the metal box", "to ceiling", "to left"]),
    }


def test_the_den_names_no_switch_so_nothing_but_the_ground_is_told():
    wiring = boxes(example("den")[0])
    assert {name: list(joined(one)) for name, one in wiring.items()} == {"bookcase": [GROUND], "ceiling": [GROUND]}
    keys = {one.end.key for one in wiring["ceiling"].joints.untold}
    assert {"cable.feed.carries", "cable.to hall.carries", "cable.to bookcase.carries"} <= keys
