"""Wires between switches and lights: hot, switched hot, each traveler and the neutral take one each (300.3(B))."""

from dataclasses import replace

import pytest

from circuitcheck.circuit.change import Change
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.rules.site.switch_wires import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, findings, load, only, supply

PASS, CAUTION, OPEN, FAIL = Outcome.PASS, Outcome.CAUTION, Outcome.UNDETERMINED, Outcome.FAIL


def pair(light="a", conductors=3, neutral=True, *more, **lamp):
    """The feed comes to the first switch, ``a``; between it and the second, ``b``, run the travelers."""
    return circuit(
        box("a", neutral=True),
        box("b", neutral=neutral),
        box("l", origin="added"),
        cable("feed", "panel", "a", origin="existing", carries="feed"),
        cable("between", "a", "b", origin="existing", carries="travelers", conductors=conductors),
        cable("run", light, "l", carries="switched", switched_by="one"),
        control("one", "a", origin="existing", kind="switch", ways="three-way", with_id="two"),
        control("two", "b", origin="existing", kind="switch", ways="three-way", with_id="one"),
        load("lamp", "l", **({"origin": "added", "power_w": 20, "replaces": False} | lamp)),
        *more,
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("conductors", "neutral", "outcome"),
    [
        (3, True, FAIL),  # two travelers and the neutral: nothing brings the switched hot back to the first box
        (4, True, PASS),
        (3, False, PASS),  # the third wire brings it back, or takes the hot to the far switch
        (2, False, FAIL),
        (3, None, OPEN),
        (4, None, PASS),
    ],
)
def test_a_light_fed_from_the_first_box_of_a_three_way_pair(conductors, neutral, outcome, edition):
    assert only(RULE, pair("a", conductors, neutral), "between", edition).outcome is outcome


def test_what_the_third_wire_is_for_is_asked_and_what_is_needed_is_told():
    assert only(RULE, pair(neutral=None), "between").needs == ("box.b.neutral",)
    says = only(RULE, pair(), "between").says
    assert says == (
        'Cable "between" has 3 insulated wires and needs 4: two travelers of "one" and "two", the switched hot back '
        'to "lamp", and the neutral.'
    )


def test_from_the_last_box_three_wires_do():
    """Two travelers and the neutral; the second switch sends the switched hot on."""
    assert [each.outcome for each in findings(RULE, pair("b"))] == [PASS, PASS]


@pytest.mark.parametrize("neutral", [True, None])
def test_where_an_old_light_hangs_there_already_the_wire_is_there(neutral):
    old = load("old", "a", switched_by="two")
    assert [each.subject for each in findings(RULE, pair("a", 3, neutral, old))] == ["run"]
    # A new light behind the travelers needs a neutral beside that wire.
    assert only(RULE, pair("b", 3, neutral, old), "between").outcome is FAIL
    assert only(RULE, pair("b", 4, neutral, old), "between").outcome is PASS


def test_a_light_in_the_place_of_an_old_one_asks_for_no_wire_that_was_not_there():
    in_place = pair(light="a", origin="added", replaces=True)
    assert [each.subject for each in findings(RULE, in_place)] == ["run"]
    assert findings(RULE, single(2, "feed", load={"origin": "added", "switched_by": "one", "replaces": True})) == []
    unknown = single(2, "feed", load={"origin": "added", "switched_by": "one", "replaces": None})
    assert only(RULE, unknown, "down").needs == ("load.lamp.replaces",)


def single(conductors, carries, neutral=None, **parts):
    """The light hangs in the first box, and its switch at the end of a cable from there."""
    old = {"origin": "existing"}
    return circuit(
        box("c", neutral=True),
        box("s", neutral=neutral, **parts.get("box", {})),
        cable("feed", "panel", "c", origin="existing", carries="feed"),
        cable("down", "c", "s", conductors=conductors, carries=carries, **parts.get("cable", old)),
        control("one", "s", kind="switch", ways="single-pole", **parts.get("control", old)),
        load("lamp", "c", **({"origin": "added", "replaces": False, "switched_by": "one"} | parts.get("load", {}))),
    )


@pytest.mark.parametrize(
    ("conductors", "carries", "neutral", "outcome"),
    [
        (2, "switch loop", None, PASS),  # the hot down and the switched hot back: a loop of two has no neutral
        (2, "feed", None, FAIL),  # a feed brings a neutral: then nothing comes back
        (2, "feed and switched", None, FAIL),
        (3, "feed and switched", None, PASS),
        (3, "switch loop", True, PASS),
        (2, None, None, OPEN),
        (2, None, True, FAIL),
        (2, None, False, PASS),
        (None, "feed", None, OPEN),
    ],
)
def test_a_light_before_its_switch_needs_the_switched_hot_back(conductors, carries, neutral, outcome):
    assert only(RULE, single(conductors, carries, neutral), "down").outcome is outcome


def test_a_neutral_that_is_still_to_be_planned_is_a_thing_to_see_to():
    """404.2(C) asks for one at many new switches: with it a cable of two is one wire short."""
    new = {"origin": "added"}
    planned = only(RULE, single(2, None, None, box=new, cable=new, control=new), "down")
    assert planned.outcome is CAUTION
    assert planned.to_come
    assert planned.says == (
        'Cable "down" needs an insulated wire for each: the hot, the switched hot of "one" back to "lamp", and the '
        "neutral if it has one."
    )


def test_what_was_there_before_is_not_judged():
    assert findings(RULE, single(2, "feed", load={"origin": "existing", "switched_by": "one"})) == []
    assert (
        only(
            RULE,
            single(2, "feed", control={"origin": "added"}, load={"origin": "existing", "switched_by": "one"}),
            "down",
        ).outcome
        is FAIL
    )
    assert (
        only(
            RULE,
            single(2, "feed", cable={"origin": "added"}, load={"origin": "existing", "switched_by": "one"}),
            "down",
        ).outcome
        is FAIL
    )


def test_a_switch_changed_for_a_dimmer_asks_for_no_wire():
    old = single(2, "feed", load={"origin": "existing", "switched_by": "one"})
    change = Change(part=Ref("control", "one", ""), action="replace", new={"kind": "dimmer"})
    assert findings(RULE, as_planned(replace(old, changes=(change,)))) == []


def test_switches_one_behind_the_other_send_one_switched_hot():
    built = circuit(
        box("s", neutral=True),
        box("t", neutral=True),
        box("l", neutral=True),
        cable("feed", "panel", "s", origin="existing", carries="feed"),
        cable("on", "s", "t", carries="switched", switched_by="first"),
        cable("last", "t", "l", carries="switched", switched_by="second"),
        control("first", "s", kind="switch", ways="single-pole"),
        control("second", "t", kind="switch", ways="single-pole"),
        load("lamp", "l", origin="added", switched_by="second"),
    )
    assert [each.outcome for each in findings(RULE, built)] == [PASS]


def test_two_switched_hots_take_two_wires():
    def built(conductors):
        return circuit(
            box("s", neutral=True),
            box("l", origin="added"),
            cable("feed", "panel", "s", origin="existing", carries="feed"),
            cable("on", "s", "l", conductors=conductors, carries="switched"),
            *(control(name, "s", kind="switch", ways="single-pole") for name in ("one", "other")),
            *(load(f"by {name}", "l", origin="added", switched_by=name) for name in ("one", "other")),
        )

    assert only(RULE, built(2), "on").outcome is FAIL
    assert only(RULE, built(3), "on").outcome is PASS


def test_three_way_switches_of_which_the_partner_is_unknown_are_left_to_the_check_of_pairs():
    one = control("one", "s", kind="switch", ways="three-way")
    built = single(2, "feed")
    assert findings(RULE, replace(built, controls=(one,))) == []
    unknown = replace(built, controls=(replace(one, ways=None),))
    assert only(RULE, unknown, "down").needs == ("control.one.ways",)


def test_partners_of_which_one_is_no_three_way_switch_are_left_out():
    built = pair()
    controls = (built.controls[0], replace(built.controls[1], ways="single-pole"))
    assert findings(RULE, replace(built, controls=controls)) == []
    # of what is unknown the worst counts
    unknown = replace(built, controls=(built.controls[0], replace(built.controls[1], ways=None)))
    assert only(RULE, unknown, "between").needs == ("control.two.ways",)


def test_of_240_v_nothing_is_said():
    built = single(2, "feed")
    assert findings(RULE, replace(built, supply=supply(voltage_v=240))) == []
