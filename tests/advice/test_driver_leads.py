"""The leads of a driver are luminaire wires of its box: entered or left out, the plan counts each of them once."""

from dataclasses import replace

import pytest

from circuitcheck.advice.joints import EndKind
from circuitcheck.advice.nets import NetKind
from circuitcheck.advice.readiness import State, readiness_of
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.checking import check
from tests.advice.build import boxes, example, splices
from tests.rules.build import book, box, cable, circuit, driver, fixture_wires, load


def with_driver(*more, wires=(), ground=None):
    """A driver in a new box at the end of an always-hot feed."""
    return circuit(
        box("start", material="nonmetallic"),
        cable("feed", "panel", "start", origin="existing", carries="feed"),
        box("shelf", origin="added", material="nonmetallic", fixture_wires=wires, fixture_ground=ground),
        cable("to shelf", "start", "shelf", carries="feed"),
        driver("strip driver", "shelf"),
        *more,
    )


def test_leads_that_are_entered_leave_nothing_untold():
    built = with_driver(wires=(fixture_wires("18 AWG", 2),), ground="18 AWG")
    shelf = boxes(built)["shelf"]
    assert shelf.joints.untold == ()
    # Hot to hot, neutral to neutral, ground to ground: one 14 AWG and one 18 AWG in each.
    assert splices(shelf) == {words: {"14 AWG": 1, "18 AWG": 1} for words in splices(shelf)}
    assert len(splices(shelf)) == 3


@pytest.mark.parametrize("wires", [(), (fixture_wires("18 AWG", 2),)], ids=["left out", "entered"])
def test_left_out_or_entered_the_same_number_is_joined(wires):
    shelf = boxes(with_driver(wires=wires))["shelf"]
    leads = [end for joint in shelf.joints.joints for end in joint.ends if end.kind is EndKind.LEAD]
    assert sorted(end.net.kind for end in leads) == sorted((NetKind.HOT, NetKind.NEUTRAL, NetKind.GROUND))
    assert {end.part for end in leads} == {"strip driver"}


def test_a_light_and_a_driver_in_one_box_share_four_wires():
    lamp = load("lamp", "shelf", origin="added", power_w=5, grounding="none")
    shelf = boxes(with_driver(lamp, wires=(fixture_wires("18 AWG", 4),)))["shelf"]
    assert shelf.joints.untold == ()
    assert {"14 AWG": 1, "18 AWG": 2} in splices(shelf).values()


def test_two_wires_beside_a_light_are_the_lights_and_the_drivers_come_on_top():
    lamp = load("lamp", "shelf", origin="added", power_w=5, grounding="none")
    shelf = boxes(with_driver(lamp, wires=(fixture_wires("18 AWG", 2),)))["shelf"]
    assert shelf.joints.untold == ()
    assert {"14 AWG": 1, "18 AWG": 1, None: 1} in splices(shelf).values()


def test_leads_that_do_not_come_out_even_are_told_once():
    """A dimming driver with four leads: which two are for dimming, its leaflet says."""
    shelf = boxes(with_driver(wires=(fixture_wires("18 AWG", 4),)))["shelf"]
    insulated = [one.end for one in shelf.joints.untold if one.end.kind is EndKind.LEAD]
    assert len(insulated) == 4
    assert all("luminaire and driver" in one.why for one in shelf.joints.untold if one.end in insulated)


def test_the_shelf_example_is_ready_once_its_feed_is_told():
    """Its hall light hangs on a switch that the file does not name; with an always-hot feed nothing is left to tell."""
    built, report, _ = example("shelf-strip")
    told = {"feed", "to driver"}
    cables = tuple(replace(one, carries="feed") if one.id in told else one for one in built.cables)
    ready = readiness_of(report, wiring_of(replace(built, cables=cables)))
    assert ready.untold == ()
    assert ready.state is State.NOTHING_OPEN


def test_its_box_count_holds_the_leads_that_are_entered():
    """By hand, 314.16(B): two 14 AWG at 2.00, one ground at 2.00, two leads 18 AWG at 1.50: 9.00 in^3."""
    built = with_driver(wires=(fixture_wires("18 AWG", 2),))
    fill = {one.subject: one for one in check(built, book()).findings if one.check == "box-fill"}["shelf"]
    assert fill.low == pytest.approx(9.0)
