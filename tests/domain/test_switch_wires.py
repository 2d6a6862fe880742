"""Through which cables a switch and its lights are joined, and on which side of each they hang."""

from circuitcheck.case.making import case_of
from circuitcheck.domain.switch_wires import Side, crossings
from tests.rules.build import book, box, cable, circuit, control, driver, load


def seen(*parts):
    """By each cable: the switches, the side on which they stand, and what hangs before and behind it."""
    found = crossings(case_of(circuit(*parts), book()))
    return {
        name: [
            (
                tuple(each.id for each in crossing.controls),
                crossing.side,
                tuple(each.id for each in crossing.before),
                tuple(each.id for each in crossing.behind),
            )
            for crossing in each
        ]
        for name, each in found.items()
    }


def chain(*names, **given):
    """Boxes one behind the other, each fed by the cable of its name."""
    ways = zip(("panel", *names), names, strict=False)
    return [box(name) for name in names] + [cable(f"to {to}", start, to, **given) for start, to in ways]


def test_a_switch_before_its_light_sends_it_the_switched_hot():
    parts = *chain("s", "middle", "l"), control("one", "s"), load("lamp", "l", switched_by="one")
    expected = [(("one",), Side.BEFORE, (), ("lamp",))]
    assert seen(*parts) == {"to middle": expected, "to l": expected}


def test_a_switch_behind_its_light_sends_it_back():
    parts = *chain("l", "s"), control("one", "s"), load("lamp", "l", switched_by="one")
    assert seen(*parts) == {"to s": [(("one",), Side.BEHIND, ("lamp",), ())]}


def test_in_one_box_no_cable_is_between_them():
    assert seen(*chain("s", "on"), control("one", "s"), load("lamp", "s", switched_by="one")) == {}


def test_between_the_legs_of_a_box_the_way_goes_through_it():
    parts = [box("top"), box("s"), box("l"), cable("feed", "panel", "top"), cable("down", "top", "s")]
    parts += [cable("up", "top", "l"), control("one", "s"), load("lamp", "l", switched_by="one")]
    assert seen(*parts) == {
        "down": [(("one",), Side.BEHIND, ("lamp",), ())],
        "up": [(("one",), Side.BEFORE, (), ("lamp",))],
    }


def test_three_way_partners_are_one_set_with_lights_on_either_side():
    parts = [*chain("a", "b", "far"), control("one", "a", with_id="two"), control("two", "b")]
    parts += [load("near", "a", switched_by="one"), driver("driver", "far", switched_by="two")]
    assert seen(*parts) == {
        "to b": [(("one", "two"), Side.BOTH, ("near",), ("driver",))],
        "to far": [(("one", "two"), Side.BEFORE, ("near",), ("driver",))],
    }


def test_of_switches_one_behind_the_other_a_light_hangs_on_the_last():
    parts = [box(name) for name in ("s", "t", "l")]
    parts += [cable("feed", "panel", "s"), cable("on", "s", "t", switched_by="first")]
    parts += [cable("last", "t", "l", switched_by="second"), control("first", "s"), control("second", "t")]
    for own in (None, "first", "second"):
        told = seen(*parts, load("lamp", "l", switched_by=own))
        assert told == {"last": [(("second",), Side.BEFORE, (), ("lamp",))]}


def test_what_hangs_on_a_box_that_no_cable_reaches_tells_nothing():
    parts = *chain("s"), box("alone"), control("one", "s"), load("lamp", "alone", switched_by="one")
    assert seen(*parts) == {}
    assert seen(*chain("l"), box("alone"), control("one", "alone"), load("lamp", "l", switched_by="one")) == {}


def test_a_switch_that_turns_off_nothing_is_left_out():
    assert seen(*chain("s", "l"), control("one", "s"), load("lamp", "l")) == {}
