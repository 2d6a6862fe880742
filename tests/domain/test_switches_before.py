"""Which switches stand before a box, a light or another switch: chains of cables, read as an electrician would."""

from itertools import pairwise

import pytest

from circuitcheck.case import EACH
from circuitcheck.case.making import case_of
from circuitcheck.domain.switches_before import (
    FEWER_SWITCHES,
    MORE_SWITCHES,
    Way,
    apart,
    before_control,
    before_light,
    pairs,
    way_to,
)
from tests.rules.build import book, box, cable, circuit, control, load

SOME = ("a switch",)


def chained(*cables, parts=()):
    """Boxes b1, b2 and so on one behind the other; each cable: what it carries, and the switch that turns it off."""
    names = ["panel", *(f"b{number}" for number in range(1, len(cables) + 1))]
    made = [box(name) for name in names[1:]]
    for (start, end), (carries, switch) in zip(pairwise(names), cables, strict=True):
        made.append(cable(f"to {end}", start, end, carries=carries, switched_by=switch))
    return case_of(circuit(*made, *parts), book())


def way_behind(*cables):
    case = chained(*cables)
    with case.reading.at(lambda entry: None):
        return way_to(case, f"b{len(cables)}")


FED = ("feed", None)


@pytest.mark.parametrize(
    ("cables", "hot", "lights"),
    [
        ([FED], (), ()),
        ([FED, FED], (), ()),
        ([("switched", None)], SOME, SOME),
        ([("switched", "k")], ("k",), ("k",)),
        ([("feed and switched", "k")], (), ("k",)),
        ([("feed and switched", None)], (), ()),
        # the constant hot out of such a cable is the one that no switch turns off
        ([("feed and switched", "k"), FED], (), ()),
        ([("switched", "k"), FED], ("k",), ("k",)),
        # a switched conductor goes on: it is that of the switch named before it
        ([("feed and switched", "k"), ("switched", None)], ("k",), ("k",)),
        ([("feed and switched", "k"), ("switched", "k")], ("k",), ("k",)),
        ([("feed and switched", "k"), ("switched", "m")], ("m",), ("m",)),
        ([("switched", "k"), ("switched", "m")], ("k", "m"), ("k", "m")),
        ([("switched", "k"), ("switched", None)], ("k",), ("k",)),
        ([("switched", "k"), ("switched", "k")], ("k",), ("k",)),
        ([("switched", "k"), ("feed and switched", "m")], ("k",), ("k", "m")),
        # k turns off both conductors of that box: the one with more switches before it counts
        ([("switched", "k"), ("feed and switched", "m"), ("switched", "k")], ("k", "m"), ("k", "m")),
        # a loop brings down what is hot where it begins; what comes back is behind its switch
        ([FED, ("switch loop", "k")], (), ("k",)),
        ([("switched", "m"), ("switch loop", "k")], ("m",), ("m", "k")),
        ([FED, ("switch loop", None)], (), SOME),
        ([FED, ("travelers", None)], (), SOME),
        # the switch at the far end of travelers and the one at their near end are partners: one switch
        ([FED, ("travelers", None), ("switched", "k")], ("k",), ("k",)),
        ([("switched", None), ("travelers", None), ("switched", "k")], ("k",), ("k",)),
        ([("switched", None), FED, ("switched", "k")], (*SOME, "k"), (*SOME, "k")),
        ([FED, ("travelers", "m"), ("switched", None)], ("m",), ("m",)),
        # what turns it off turns it off whatever it carries
        ([("two circuits", "k")], ("k",), ("k",)),
        ([("two circuits", None)], (), ()),
        ([("switched", "k"), ("two circuits", None)], ("k",), ("k",)),
    ],
)
def test_what_stands_before_the_last_box(cables, hot, lights):
    assert way_behind(*cables) == Way(hot, lights)


def test_the_panel_and_a_box_that_no_cable_reaches_have_none():
    case = chained(("switched", "k"), parts=(box("alone"),))
    assert way_to(case, "panel") == way_to(case, "alone") == Way()
    assert way_to(case, "b1") == Way(("k",), ("k",))


def test_of_very_many_in_a_row_the_last_eight_count():
    way = way_behind(*(("switched", f"k{number}") for number in range(10)))
    assert way.hot == way.lights == tuple(f"k{number}" for number in range(2, 10))


def test_it_is_the_same_where_it_is_open_what_another_cable_carries():
    case = chained(("switched", "k"), ("feed and switched", "m"), (None, None))
    with case.reading.at(lambda entry: "switched" if entry.kind == "cable.carries" else None):
        assert way_to(case, "b1") == Way(("k",), ("k",))
        assert way_to(case, "b2") == Way(("k",), ("k", "m"))
        assert way_to(case, "b3") == Way(("k", "m"), ("k", "m"))


def test_a_light_hangs_on_the_conductor_that_its_own_switch_turns_off():
    lights = (
        load("plain", "b2", power_w=9),
        load("same", "b2", power_w=9, switched_by="m"),
        load("own", "b2", power_w=9, switched_by="n"),
    )
    case = chained(("switched", "k"), ("feed and switched", "m"), parts=lights)
    with case.reading.at(lambda entry: None):
        found = [before_light(case, light) for light in case.loads]
    assert found == [("k", "m"), ("k", "m"), ("k", "n")]
    unnamed = chained(("switched", None), ("feed and switched", "m"), parts=lights)
    with unnamed.reading.at(lambda entry: None):
        assert before_light(unnamed, unnamed.loads[2]) == ("n",)  # the one that nobody named may be its own


def controls(*partners, at="b1"):
    return tuple(control(name, at, with_id=other) for name, other in partners)


def test_partners_are_one_switch():
    three = controls(("k", "m"), ("m", None), ("n", "m"), ("alone", None), ("lost", "nobody"))
    case = chained(FED, parts=three)
    names = pairs(case)
    assert names["k"] == names["m"] == names["n"]
    assert names["alone"] == "alone"
    assert names["lost"] == "lost"
    assert apart(case, ("m", "alone", "k", "a switch", "n")) == ("m", "alone", "a switch")


def test_before_a_switch_stand_the_others_without_its_partners():
    both = (*controls(("k", "m"), at="b3"), *controls(("m", None), ("x", None)))
    case = chained(("switched", "x"), ("switched", "m"), ("switched", "x"), parts=both)
    with case.reading.at(lambda entry: None):
        assert before_control(case, case.control["k"]) == ("x",)
        assert before_control(case, case.control["m"]) == ("x",)
        assert before_control(case, case.control["x"]) == ()


ROLES = ("feed", "feed and switched", "two circuits", "switch loop", "travelers", "switched")


def test_the_more_switches_a_role_tells_of_the_later_it_stands():
    case = chained(FED, FED)
    part = case.cables[0]
    assert [MORE_SWITCHES(role, part, case) for role in ROLES] == list(range(6))
    assert [FEWER_SWITCHES(role, part, case) for role in ROLES] == list(range(5, -1, -1))


def test_no_way_is_worse_from_where_a_switch_turns_off_what_leads_to_it():
    def each(*parts, switch="k"):
        case = chained(FED, ("feed and switched", switch), FED, parts=parts)
        return [MORE_SWITCHES("feed", part, case) is EACH for part in case.cables]

    assert each(control("k", "b3")) == [False, True, True]
    assert each(control("k", "b2")) == [False, True, False]
    assert each(control("k", "b1")) == [False, False, False]
    assert each(control("m", "b3", with_id="k"), control("k", "b1")) == [False, True, True]
    assert each(control("m", "b3"), control("k", "b1")) == [False, False, False]
    assert each(control("k", "b3"), switch=None) == [False, False, False]
