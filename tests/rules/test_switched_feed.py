"""Which switch kills which lights, and new lights on a switched conductor."""

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.switched_feed import RULE, loads_killed_by
from tests.rules.build import box, cable, circuit, control, driver, load, only


def built(carries="feed", switched_by=None, lamp_switched_by=None):
    return circuit(
        box("switch box"),
        box("ceiling"),
        box("new", origin="added"),
        cable("feed", "panel", "switch box", origin="existing", carries="feed"),
        cable("up", "switch box", "ceiling", origin="existing", carries=carries, switched_by=switched_by),
        cable("run", "ceiling", "new", carries=None if carries is None else "feed"),
        control("wall switch", "switch box", kind="switch"),
        load("old lamp", "ceiling"),
        load("lamp", "new", origin="added", switched_by=lamp_switched_by),
    )


def test_a_light_on_an_always_hot_conductor_passes():
    assert only(RULE, built(), "lamp").outcome is Outcome.PASS


def test_a_light_behind_a_switched_cable_is_said_plainly():
    found = only(RULE, built("switched", "wall switch"), "lamp")
    assert found.outcome is Outcome.CAUTION
    assert "goes off with wall switch" in found.says


def test_a_light_that_is_meant_to_follow_its_switch_passes():
    found = only(RULE, built("switched", "wall switch", "wall switch"), "lamp")
    assert found.outcome is Outcome.PASS
    assert "goes off with wall switch" in found.says


def test_an_unknown_conductor_is_said():
    found = only(RULE, built(None), "lamp")
    assert found.outcome is Outcome.CAUTION
    assert "does not say" in found.says


def test_the_lights_that_a_switch_kills_are_listed():
    assert loads_killed_by(built("switched", "wall switch")) == {"wall switch": ["old lamp", "lamp"]}
    assert loads_killed_by(built(lamp_switched_by="wall switch")) == {"wall switch": ["lamp"]}
    assert "no load" in only(RULE, built(), "wall switch").says


def test_a_driver_and_both_switches_of_a_pair_are_told():
    built = circuit(
        box("switch box"),
        box("far box"),
        box("ceiling"),
        cable("feed", "panel", "switch box", origin="existing", carries="feed"),
        cable("across", "switch box", "far box", origin="existing", carries="travelers", conductors=3),
        cable("up", "switch box", "ceiling", origin="existing", carries="switched", switched_by="near"),
        control("near", "switch box", ways="three-way", with_id="far"),
        control("far", "far box", ways="three-way"),
        load("lamp", "ceiling"),
        driver("strip driver", "ceiling"),
    )
    assert loads_killed_by(built) == {"near": ["lamp", "strip driver"], "far": ["lamp", "strip driver"]}


def test_a_switch_before_another_switch_kills_too():
    built = circuit(
        box("a"),
        box("b"),
        cable("one", "panel", "a", origin="existing", switched_by="master"),
        cable("two", "a", "b", origin="existing", switched_by="own"),
        control("master", "a"),
        control("own", "a"),
        load("lamp", "b"),
    )
    assert loads_killed_by(built) == {"master": ["lamp"], "own": ["lamp"]}
