"""A switch box without a neutral cannot feed new lights."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.switch_box_source import RULE
from tests.rules.build import box, cable, circuit, control, device, findings, load, only


def built(neutral=None, carries=None, conductors=2, devices=()):
    return circuit(
        box("switch box", neutral=neutral, devices=devices),
        box("new", origin="added"),
        cable("down", "panel", "switch box", origin="existing", carries=carries, conductors=conductors),
        cable("run", "switch box", "new"),
    )


@pytest.mark.parametrize("given", [{"neutral": True}, {"carries": "feed", "devices": (device(),)}])
def test_a_box_with_a_neutral_passes(given):
    assert only(RULE, built(**given), "switch box").outcome is Outcome.PASS


@pytest.mark.parametrize("given", [{"neutral": False}, {"carries": "switch loop"}])
def test_a_box_without_one_fails(given):
    assert only(RULE, built(**given), "switch box").outcome is Outcome.FAIL


def test_another_box_in_its_place_has_no_neutral_either():
    """A larger box makes room and brings no conductor: what feeds it stays as it was."""
    built = circuit(
        box("switch box", neutral=False, origin="added"),
        box("new", origin="added"),
        cable("down", "panel", "switch box", origin="existing"),
        cable("run", "switch box", "new"),
    )
    assert only(RULE, built, "switch box").outcome is Outcome.FAIL


@pytest.mark.parametrize("given", [{"devices": (device(),)}, {"carries": "switch loop", "conductors": 3}])
def test_a_switch_box_that_says_nothing_asks(given):
    found = only(RULE, built(**given), "switch box")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.switch box.neutral",))


@pytest.mark.parametrize("kind", ["dimmer", "sensor", "timer"])
def test_whatever_switches_may_stand_at_the_end_of_a_loop(kind):
    found = only(RULE, built(devices=(device(kind),)), "switch box")
    assert found.outcome is Outcome.UNDETERMINED


def test_a_light_that_works_there_shows_a_neutral_and_a_bare_junction_is_asked():
    """Its splices may be the two hots of a loop: an electrician takes the cover off before planning on it."""
    parts = (box("ceiling"), box("new", origin="added"), cable("in", "panel", "ceiling", origin="existing"))
    run = cable("run", "ceiling", "new")
    junction = only(RULE, circuit(*parts, run), "ceiling")
    assert (junction.outcome, junction.needs) == (Outcome.UNDETERMINED, ("box.ceiling.neutral",))
    assert only(RULE, circuit(*parts, run, load("old lamp", "ceiling")), "ceiling").outcome is Outcome.PASS


def test_a_switch_that_turns_up_beside_a_light_that_works_changes_nothing():
    old = (box("old"), cable("in", "panel", "old", origin="existing"), load("old lamp", "old"))
    new = (box("new", origin="added"), cable("run", "old", "new"))
    assert only(RULE, circuit(*old, *new, control("s", "old", origin="existing")), "old").outcome is Outcome.PASS


def test_boxes_that_feed_nothing_new_say_nothing():
    assert findings(RULE, circuit(box("old", neutral=False), cable("f", "panel", "old", origin="existing"))) == []


def test_a_new_box_behind_new_cable_is_not_spoken_of():
    """What it holds comes with the cable that the work brings."""
    built = circuit(
        box("old", neutral=True), box("new", origin="added"), box("on", origin="added"),
        cable("in", "panel", "old", origin="existing"), cable("run", "old", "new"), cable("out", "new", "on"),
    )  # fmt: skip
    assert [found.subject for found in findings(RULE, built)] == ["old"]
