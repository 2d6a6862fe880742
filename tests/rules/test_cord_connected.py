"""Cord-connected and converted lights (110.3(B), UL 153 scope, 400.12)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cord_connected import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only


def built(**given):
    return circuit(
        box("new", origin="added"), cable("run", "panel", "new"), load("lamp", "new", origin="added", **given)
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_hardwired_light_passes(edition):
    assert only(RULE, built(), "lamp", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_lamp_with_its_plug_cut_off_fails(edition):
    assert only(RULE, built(converted=True), "lamp", edition).outcome is Outcome.FAIL


def test_a_lamp_on_its_cord_is_a_caution():
    assert only(RULE, built(connection="cord"), "lamp").outcome is Outcome.CAUTION


def test_unknown_connection_asks():
    found = only(RULE, built(connection=None), "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.lamp.connection",))


def test_flexible_cord_is_no_branch_cable():
    bad = circuit(box("new", origin="added"), cable("run", "panel", "new", type="flexible cord"))
    assert only(RULE, bad, "run").outcome is Outcome.FAIL


def test_existing_lights_say_nothing():
    assert findings(RULE, circuit(box("old"), load("old lamp", "old", connection="cord"))) == []


def test_a_light_of_which_nobody_said_that_it_plugged_in_is_not_called_made_for_hardwiring():
    def lamp(converted):
        return only(RULE, built(connection="hardwired", converted=converted), "lamp")

    assert lamp(False).says == "lamp is made for hardwiring."
    assert lamp(None).assumed_keys == ("load.lamp.converted",)
    assert "made for hardwiring" not in lamp(None).says
