"""The colors of the plan, against a second reading: the conductors joined by color, and the current followed through.

What the plan says at each box is taken as the only truth: (cable, color) pairs, joined as its rows join them. Nets and
roles are not looked at. Then each switch is worked in turn, and the current must find the lights, or not, as it should.
"""

from collections import defaultdict

import pytest

from circuitcheck.advice.colors import WHITE, colors_of
from circuitcheck.advice.joints import EndKind
from circuitcheck.advice.nets import HOT, NEUTRAL, Net, NetKind, switched, untold
from circuitcheck.advice.wiring import wiring_of
from tests.rules.build import box, cable, circuit, control, load


def travelers(first=1):
    return Net(NetKind.TRAVELER, "a and b", str(first)), Net(NetKind.TRAVELER, "a and b", str(first + 1))


def named(*nets):
    return [(color.name, color.reidentified) for color in colors_of(nets)]


def test_a_feed_is_black_and_white():
    assert named(HOT, NEUTRAL) == [("black", False), ("white", False)]


def test_in_a_switch_loop_white_is_the_supply_and_never_the_return():
    # NFPA 70, 200.7(C): re-identified, for the supply to the switch, not for the return to the outlet.
    assert named(HOT, switched("s")) == [("white", True), ("black", False)]
    assert named(switched("s"), HOT) == [("black", False), ("white", True)]


def test_the_two_hots_of_a_14_3_are_told_apart():
    assert named(HOT, switched("s"), NEUTRAL) == [("black", False), ("red", False), ("white", False)]


def test_both_travelers_have_a_color_of_their_own():
    assert named(*travelers(), NEUTRAL) == [("black", False), ("red", False), ("white", False)]
    assert named(*travelers(), HOT) == [("black", False), ("red", False), ("white", True)]
    assert named(*travelers(), switched("a and b")) == [("red", False), ("white", True), ("black", False)]


def test_what_cannot_be_told_has_no_color():
    assert named(HOT, untold("why")) == [("", False), ("", False)]
    assert named(switched("s"), switched("t")) == [("", False), ("", False)]


def added(name, start, end, **more):
    return cable(name, start, end, origin="added", ground=True, type="NM-B", **more)


def new_box(name):
    return box(name, origin="added", material="nonmetallic")


def light(name="lamp", at="light", by="s"):
    return load(name, at, power_w=9, origin="added", connection="hardwired", switched_by=by, grounding="wire")


def loop():
    return circuit(
        new_box("light"),
        new_box("switch"),
        added("feed", "panel", "light", carries="feed"),
        added("loop", "light", "switch", carries="switch loop"),
        control("s", "switch", kind="switch", ways="single-pole", origin="added"),
        light(),
    )


def feed_and_switched():
    return circuit(
        new_box("switch"),
        new_box("light"),
        new_box("far"),
        added("feed", "panel", "switch", carries="feed"),
        added("on", "switch", "light", conductors=3, carries="feed and switched"),
        added("further", "light", "far", carries="feed"),
        control("s", "switch", kind="switch", ways="single-pole", origin="added"),
        light(),
        load("fan", "far", kind="fan", power_w=30, origin="added", connection="hardwired", grounding="wire"),
    )


def three_way(*, light_last=True):
    last = (added("out", "second", "light", carries="switched", switched_by="a"),) if light_last else ()
    return circuit(
        new_box("first"),
        new_box("second"),
        new_box("light"),
        added("feed", "panel", "first", carries="feed"),
        added("between", "first", "second", conductors=3, carries="travelers"),
        *last,
        control("a", "first", kind="switch", ways="three-way", with_id="b", origin="added"),
        control("b", "second", kind="switch", ways="three-way", with_id="a", origin="added"),
        light(by="a"),
    )


def four_way():
    return circuit(
        new_box("first"),
        new_box("middle"),
        new_box("second"),
        new_box("light"),
        added("feed", "panel", "first", carries="feed"),
        added("one", "first", "middle", conductors=3, carries="travelers"),
        added("two", "middle", "second", conductors=3, carries="travelers"),
        added("out", "second", "light", carries="switched", switched_by="a"),
        control("a", "first", kind="switch", ways="three-way", with_id="b", origin="added"),
        control("m", "middle", kind="switch", ways="four-way", with_id="a", origin="added"),
        control("b", "second", kind="switch", ways="three-way", with_id="a", origin="added"),
        light(by="a"),
    )


def three_way_from_the_light():
    """The feed comes to the light; both switches hang on one cable of three and one more between them."""
    return circuit(
        new_box("light"),
        new_box("first"),
        new_box("second"),
        added("feed", "panel", "light", carries="feed"),
        added("down", "light", "first", conductors=3, carries="travelers"),
        added("over", "light", "second", conductors=3, carries="travelers"),
        control("a", "first", kind="switch", ways="three-way", with_id="b", origin="added"),
        control("b", "second", kind="switch", ways="three-way", with_id="a", origin="added"),
        light(by="a"),
    )


class Joined:
    """Everything that the plan joins, by cable and color; devices by terminal."""

    def __init__(self, built):
        self.links = defaultdict(set)
        self.terminals = defaultdict(list)
        for one in wiring_of(built):
            assert not one.joints.untold, [(untold.end.part, untold.why) for untold in one.joints.untold]
            for joint in one.joints.joints:
                ends = [self.point(one.box.id, end) for end in joint.ends]
                for end in ends[1:]:
                    self.link(ends[0], end)
        for wire in built.cables:
            ends = [self.colors(built, wire, node) for node in (wire.from_id, wire.to_id) if node != "panel"]
            assert all(colors == ends[0] for colors in ends), (wire.id, ends)
            assert len(ends[0]) == wire.conductors

    def colors(self, built, wire, node):
        """The colors of a cable at one of its boxes; one color twice in a cable would be a wire too few."""
        for one in wiring_of(built):
            if one.box.id == node:
                ends = [end for joint in one.joints.joints for end in joint.ends]
                return {end.color.name for end in ends if end.cable == wire.id and end.net.kind is not NetKind.GROUND}
        return set()

    def link(self, one, other):
        self.links[one].add(other)
        self.links[other].add(one)

    def point(self, box_id, end):
        if end.kind is EndKind.CABLE:
            return end.cable, end.color.name
        if end.device:
            self.terminals[end.device].append((end.part.rpartition(", ")[2], (box_id, end.part, len(self.links))))
            return self.terminals[end.device][-1][1]
        return "load", end.part, "neutral" if end.net.kind is NetKind.NEUTRAL else end.net.kind.name

    def reached(self, start, closed):
        """Everything that is one piece of metal with ``start``; ``closed``: pairs that switches join."""
        links = {point: set(others) for point, others in self.links.items()}
        for one, other in closed:
            links.setdefault(one, set()).add(other)
            links.setdefault(other, set()).add(one)
        seen, waiting = {start}, [start]
        while waiting:
            for other in links.get(waiting.pop(), ()):
                if other not in seen:
                    seen.add(other)
                    waiting.append(other)
        return seen

    def sides(self, device, word):
        return [point for side, point in self.terminals[device] if side == word]


def burns(joined, feed, closed):
    """Whether the lamp's hot lead is live and its neutral lead is one with the panel's white; never both with one."""
    live, neutral = joined.reached((feed, "black"), closed), joined.reached((feed, WHITE), closed)
    assert not live & neutral, "a short"
    assert ("load", "lamp", "neutral") in neutral
    return ("load", "lamp", "SWITCHED") in live


@pytest.mark.parametrize("built", [loop(), feed_and_switched()], ids=["loop", "14-3"])
def test_a_single_pole_switch_turns_the_light_on_and_off(built):
    joined = Joined(built)
    (supply,), (out,) = joined.sides("s", "supply side"), joined.sides("s", "switched side")
    assert burns(joined, "feed", [(supply, out)])
    assert not burns(joined, "feed", [])


def test_what_is_always_hot_stays_so():
    joined = Joined(feed_and_switched())
    live = joined.reached(("feed", "black"), [])
    assert ("load", "fan", "HOT") in live
    assert ("load", "lamp", "SWITCHED") not in live


@pytest.mark.parametrize("built", [three_way(), three_way_from_the_light()], ids=["in a row", "from the light"])
def test_either_three_way_switch_turns_the_light_over(built):
    joined = Joined(built)
    states = {
        (first, second): burns(joined, "feed", [throw(joined, "a", first), throw(joined, "b", second)])
        for first in (0, 1)
        for second in (0, 1)
    }
    assert sum(states.values()) == 2
    assert states[0, 0] != states[0, 1]
    assert states[0, 0] != states[1, 0]


def test_each_of_three_switches_turns_the_light_over():
    joined = Joined(four_way())
    one, other = joined.sides("m", "one pair"), joined.sides("m", "other pair")

    def lit(first, crossed, second):
        straight = list(zip(one, reversed(other) if crossed else other, strict=True))
        return burns(joined, "feed", [throw(joined, "a", first), throw(joined, "b", second), *straight])

    for first in (0, 1):
        for second in (0, 1):
            assert lit(first, False, second) != lit(first, True, second)
            assert lit(first, False, second) != lit(1 - first, False, second)


def throw(joined, device, way):
    (common,) = joined.sides(device, "common")
    return common, joined.sides(device, "traveler")[way]


@pytest.mark.parametrize(
    "built", [loop(), feed_and_switched(), three_way(), four_way(), three_way_from_the_light()], ids=range(5)
)
def test_white_is_the_neutral_or_is_marked_and_brings_nothing_back_from_a_switch(built):
    whites = 0
    for one in wiring_of(built):
        for joint in one.joints.joints:
            for end in joint.ends:
                if end.color.name == WHITE:
                    whites += 1
                    assert end.color.reidentified is (end.net.kind is not NetKind.NEUTRAL)
                    assert end.net.kind is not NetKind.SWITCHED
    assert whites
