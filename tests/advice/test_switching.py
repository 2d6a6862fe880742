"""Switch loops and three-way sets. How each is wired is common knowledge of the trade: a three-way set has a common at
each end and two travelers between; a four-way switch crosses the travelers; a switch loop takes the hot down and back.
"""

import pytest

from tests.advice.build import boxes, joined, splices, straight, whys
from tests.rules.build import CUBIC_INCH, box, cable, circuit, control, device, load, supply

SET = "S1 and S2"


def new_box(name, **given):
    plain = {"origin": "added", "volume_m3": 20 * CUBIC_INCH, "material": "nonmetallic", "internal_clamps": True}
    return box(name, **(plain | given))


def three_way(name, where, partner, **given):
    return control(
        name, where, **({"origin": "added", "kind": "switch", "ways": "three-way", "with_id": partner} | given)
    )


def light(where="lamp", **given):
    return load("light", where, origin="added", power_w=10, **({"switched_by": "S1"} | given))


FEED = cable("feed", "panel", "hall", origin="existing", carries="feed")


def feed_then_both_switches_then_lamp():
    """Panel, first switch, second switch, lamp."""
    return circuit(
        box("hall", material="nonmetallic"),
        new_box("b1", devices=(device(),)),
        new_box("b2", devices=(device(),)),
        new_box("lamp"),
        FEED,
        cable("to b1", "hall", "b1", carries="feed"),
        cable("t", "b1", "b2", conductors=3, carries="travelers"),
        cable("out", "b2", "lamp", carries="switched", switched_by="S2"),
        three_way("S1", "b1", "S2"),
        three_way("S2", "b2", "S1"),
        light(),
    )


def test_feed_at_one_switch_lamp_at_the_other():
    wiring = boxes(feed_then_both_switches_then_lamp())
    assert straight(wiring["b1"]) == {
        "always hot": ("to b1", "switch S1, common"),
        f"traveler 1 of {SET}": ("t", "switch S1, traveler"),
        f"traveler 2 of {SET}": ("t", "switch S1, traveler"),
    }
    assert straight(wiring["b2"]) == {
        f"switched hot from {SET}": ("out", "switch S2, common"),
        f"traveler 1 of {SET}": ("t", "switch S2, traveler"),
        f"traveler 2 of {SET}": ("t", "switch S2, traveler"),
    }
    assert splices(wiring["b1"])["neutral"] == splices(wiring["b2"])["neutral"] == {"14 AWG": 2}
    assert [one.hot_whites for one in wiring.values()] == [()] * 4


def test_lamp_between_the_switches():
    """Panel, first switch, lamp, second switch: the third conductor behind the lamp brings its switched hot back."""
    wiring = boxes(
        circuit(
            box("hall", material="nonmetallic"),
            new_box("b1", devices=(device(),)),
            new_box("lamp"),
            new_box("b2", devices=(device(),)),
            FEED,
            cable("to b1", "hall", "b1", carries="feed"),
            cable("t1", "b1", "lamp", conductors=3, carries="travelers"),
            cable("t2", "lamp", "b2", conductors=3, carries="travelers"),
            three_way("S1", "b1", "S2"),
            three_way("S2", "b2", "S1"),
            light(),
        )
    )
    lamp = {net: parts for net, (_, parts) in joined(wiring["lamp"]).items()}
    assert lamp == {
        f"switched hot from {SET}": ["light", "t2"],
        f"traveler 1 of {SET}": ["t1", "t2"],
        f"traveler 2 of {SET}": ["t1", "t2"],
        "neutral": ["light", "t1"],
        "equipment ground": ["light", "t1", "t2"],
    }
    assert straight(wiring["b2"])[f"switched hot from {SET}"] == ("t2", "switch S2, common")
    assert [cable.id for cable in wiring["lamp"].hot_whites] == ["t2"]
    assert [text.split(":")[0] for text in wiring["lamp"].chosen] == ["t2"]


def test_lamp_fed_first_and_both_switches_behind_it():
    """Panel, lamp, switch loop to the first switch, travelers to the second."""
    wiring = boxes(
        circuit(
            new_box("lamp"),
            new_box("b1", devices=(device(),)),
            new_box("b2", devices=(device(),)),
            cable("feed", "panel", "lamp", carries="feed"),
            cable("loop", "lamp", "b1", carries="switch loop", switched_by="S1"),
            cable("t", "b1", "b2", conductors=3, carries="travelers"),
            three_way("S1", "b1", "S2"),
            three_way("S2", "b2", "S1"),
            light(),
        )
    )
    assert straight(wiring["b1"])["always hot"] == ("loop", "switch S1, common")
    first = {net: parts for net, (_, parts) in joined(wiring["b1"]).items()}
    assert first[f"switched hot from {SET}"] == ["loop", "t"]
    lamp = {net: parts for net, (_, parts) in joined(wiring["lamp"]).items()}
    assert lamp["always hot"] == ["feed", "loop"]
    assert lamp[f"switched hot from {SET}"] == ["light", "loop"]
    assert [one.id for one in wiring["b1"].hot_whites] == ["loop", "t"]


def test_a_four_way_switch_stands_between_two_pairs_of_travelers():
    built = circuit(
        box("hall", material="nonmetallic"),
        *(new_box(name, devices=(device(),)) for name in ("b1", "b2", "b3")),
        new_box("lamp"),
        FEED,
        cable("to b1", "hall", "b1", carries="feed"),
        cable("t1", "b1", "b2", conductors=3, carries="travelers"),
        cable("t2", "b2", "b3", conductors=3, carries="travelers"),
        cable("out", "b3", "lamp", carries="switched", switched_by="S3"),
        three_way("S1", "b1", "S3"),
        three_way("S2", "b2", "S1", ways="four-way"),
        three_way("S3", "b3", "S1"),
        light(),
    )
    name = "S1 and S2 and S3"
    assert straight(boxes(built)["b2"]) == {
        f"traveler 1 of {name}": ("t1", "switch S2, one pair"),
        f"traveler 2 of {name}": ("t1", "switch S2, one pair"),
        f"traveler 3 of {name}": ("t2", "switch S2, other pair"),
        f"traveler 4 of {name}": ("t2", "switch S2, other pair"),
    }


@pytest.mark.parametrize(
    "changed",
    [
        cable("t", "b1", "b2", conductors=2, carries="travelers"),
        cable("t", "b1", "b2", conductors=None, carries="travelers"),
        cable("t", "b1", "b2", conductors=3),
    ],
    ids=["two conductors", "unknown number", "not said"],
)
def test_a_three_way_set_without_its_travelers_cannot_be_told(changed):
    built = feed_then_both_switches_then_lamp()
    parts = [changed if one.id == "t" else one for one in built.cables]
    wiring = boxes(circuit(*built.boxes, *parts, *built.controls, *built.loads))
    assert not [net for net in joined(wiring["b1"]) if "traveler" in net]
    assert len([one for one in wiring["b1"].joints.untold if one.end.part.startswith("switch S1")]) == 3


def test_a_three_way_switch_alone_cannot_be_told():
    built = feed_then_both_switches_then_lamp()
    alone = [three_way("S1", "b1", None)]
    wiring = boxes(circuit(*built.boxes, *built.cables, *alone, *built.loads))
    assert any("two three-way switches that name each other" in why for why in whys(wiring["b1"]))


def loop(**given):
    """A ceiling box with a lamp and a two-conductor loop down to an existing or new switch."""
    return circuit(
        box("ceiling", material="metal"),
        new_box("wall", devices=(device(),)),
        cable("feed", "panel", "ceiling", origin="existing", carries="feed"),
        cable("loop", "ceiling", "wall", **({"carries": "switch loop"} | given)),
        control("S1", "wall", origin="added", kind="switch", ways="single-pole"),
        load("light", "ceiling", power_w=10, switched_by="S1"),
    )


def test_a_switch_loop_takes_the_hot_down_and_brings_it_back_switched():
    wiring = boxes(loop())
    assert straight(wiring["wall"]) == {
        "always hot": ("loop", "switch S1, supply side"),
        "switched hot from S1": ("loop", "switch S1, switched side"),
        "equipment ground": ("loop", "switch S1"),
    }
    ceiling = {net: parts for net, (_, parts) in joined(wiring["ceiling"]).items()}
    assert ceiling["always hot"] == ["feed", "loop"]
    assert ceiling["switched hot from S1"] == ["light", "loop"]
    assert ceiling["neutral"] == ["feed", "light"]
    assert [one.id for one in wiring["wall"].hot_whites] == ["loop"]


def test_a_cable_to_a_switch_that_may_be_a_loop_is_not_guessed():
    wiring = boxes(loop(carries=None))
    assert any("may be a switch loop" in why for why in whys(wiring["wall"]))
    assert "always hot" not in joined(wiring["wall"])


def test_a_light_in_a_box_with_two_hots_is_not_guessed():
    """Always hot and switched are both there, and the file does not say which the light follows."""
    built = loop()
    built = circuit(*built.boxes, *built.cables, *built.controls, load("light", "ceiling", power_w=10))
    assert any("which switch turns it off" in why for why in whys(boxes(built)["ceiling"]))


def test_a_light_named_to_a_switch_that_does_not_reach_it_is_not_joined():
    """The cable to the light leaves the box before the switch, so nothing brings it the switched hot."""
    built = circuit(
        box("hall", material="nonmetallic"),
        new_box("switch box", devices=(device(),)),
        new_box("lamp"),
        FEED,
        cable("to switch", "hall", "switch box", carries="feed"),
        cable("to lamp", "hall", "lamp", carries="switched", switched_by="S1"),
        control("S1", "switch box", origin="added", kind="switch", ways="single-pole"),
        light(),
    )
    assert any("no cable of the file brings the switched hot from S1" in why for why in whys(boxes(built)["lamp"]))


def test_a_third_conductor_with_a_shared_neutral_is_named_and_not_joined():
    built = circuit(
        supply(shared_neutral=True),
        box("hall", material="nonmetallic"),
        new_box("lamp"),
        cable("feed", "panel", "hall", origin="existing", carries="feed", conductors=3),
        cable("on", "hall", "lamp", carries="feed"),
        control("other", "hall", kind="switch"),
        light(switched_by=None),
    )
    assert any("hot conductor of the other circuit" in why for why in whys(boxes(built)["hall"]))


def test_conductors_that_run_through_uncut_are_not_joined():
    """14/2 in and 14/2 out, all four ends uncut: two run through, and only the grounds are joined."""
    from tests.rules.build import unbroken

    built = circuit(
        new_box("mid", unbroken=(unbroken("14 AWG", 2),)),
        new_box("end"),
        cable("one", "panel", "mid", carries="feed"),
        cable("two", "mid", "end", carries="feed"),
        load("light", "end", origin="added", power_w=5),
        control("S", "end", kind="switch"),
    )
    kinds = {net: kind.name for net, (kind, _) in joined(boxes(built)["mid"]).items()}
    assert kinds == {"always hot": "THROUGH", "neutral": "THROUGH", "equipment ground": "SPLICE"}
