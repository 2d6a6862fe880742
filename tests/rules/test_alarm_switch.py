"""A smoke alarm is fed before any switch (WAC 212-10-030: no disconnecting switch but for overcurrent)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.alarm_switch import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, findings, load, only

PASS, CAUTION, OPEN, FAIL = Outcome.PASS, Outcome.CAUTION, Outcome.UNDETERMINED, Outcome.FAIL


def hall(carries="feed", switch="existing", switched_by=None, **alarm):
    return circuit(
        box("door"),
        box("ceiling"),
        cable("feed", "panel", "door", origin="existing", carries="feed"),
        cable("up", "door", "ceiling", origin="existing", carries=carries, switched_by=switched_by),
        control("wall switch", "door", kind="switch", origin=switch, ways="single-pole"),
        load("smoke", "ceiling", **({"kind": "alarm", "power_w": 5, "origin": "added"} | alarm)),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("built", "outcome"),
    [
        (hall(), PASS),
        (hall("switched", switched_by="wall switch"), FAIL),
        (hall(switched_by="wall switch"), PASS),  # called a feed: the always-hot conductor is brought on
        (hall("feed and switched"), PASS),
        (hall("switched"), FAIL),  # a switch that nobody named
        (hall(own_switch=True), PASS),
    ],
)
def test_a_new_alarm(built, outcome, edition):
    assert only(RULE, built, "smoke", edition).outcome is outcome


def test_a_new_alarm_that_is_said_to_hang_on_a_switch():
    built = circuit(
        box("door"),
        cable("feed", "panel", "door", carries="feed"),
        control("wall switch", "door", kind="switch", ways="single-pole"),
        load("smoke", "door", kind="alarm", power_w=5, origin="added", switched_by="wall switch"),
    )
    found = only(RULE, built, "smoke")
    assert (found.outcome, found.to_do) == (
        FAIL,
        ("Feed the alarm from a conductor that is always hot, before any switch.",),
    )
    assert found.says == 'The alarm "smoke" goes off with "wall switch": nothing may switch off a smoke alarm.'


def test_a_cable_of_which_nobody_knows_what_it_carries_is_asked_about():
    found = only(RULE, hall(None), "smoke")
    assert (found.outcome, found.needs) == (OPEN, ("cable.up.carries",))


def test_an_old_alarm_behind_an_old_switch_is_a_caution_and_behind_a_new_one_a_failure():
    old = {"origin": "existing"}
    assert only(RULE, hall("switched", switched_by="wall switch", **old), "smoke").outcome is CAUTION
    assert only(RULE, hall("switched", "added", "wall switch", **old), "smoke").outcome is FAIL
    # of an old one no more is asked than what the file says
    for carries in (None, "switched", "feed"):
        assert findings(RULE, hall(carries, **old)) == []


def test_what_may_be_an_alarm_is_asked_about_where_it_matters():
    found = only(RULE, hall("switched", switched_by="wall switch", kind=None), "smoke")
    assert (found.outcome, found.needs) == (OPEN, ("load.smoke.kind",))
    assert findings(RULE, hall(kind=None)) == []
    assert findings(RULE, hall("switched", switched_by="wall switch", kind="light")) == []
