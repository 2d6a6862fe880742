"""Cord-connected and converted lights (110.3(B), UL 153 scope, 400.12)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cord_connected import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, device, findings, load, only


def built(devices=(), **given):
    return circuit(
        box("new", origin="added", devices=devices),
        cable("run", "panel", "new"),
        load("lamp", "new", origin="added", **({"mounting": "wall"} | given)),
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_hardwired_light_passes(edition):
    assert only(RULE, built(converted=False), "lamp", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_lamp_with_its_plug_cut_off_fails_unless_its_instructions_allow_it(edition):
    """110.3(B): used as its listing and its instructions say."""

    def cut(allowed):
        return only(RULE, built(converted=True, hardwire_in_instructions=allowed), "lamp", edition)

    assert (cut(False).outcome, cut(True).outcome) == (Outcome.FAIL, Outcome.PASS)
    assert (cut(None).outcome, cut(None).needs) == (Outcome.UNDETERMINED, ("load.lamp.hardwire_in_instructions",))


def test_whether_it_was_made_to_plug_in_is_asked():
    found = only(RULE, built(), "lamp")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("load.lamp.converted",)


@pytest.mark.parametrize("mounting", ["recessed", "ceiling"])
def test_lights_in_and_on_a_ceiling_are_not_sold_with_a_plug(mounting):
    """UL 153 is about portable luminaires: table, floor, wall-hung, cabinet and swag lights."""
    assert only(RULE, built(mounting=mounting), "lamp").outcome is Outcome.PASS


def test_a_lamp_on_its_cord_is_a_caution_where_a_receptacle_is():
    assert only(RULE, built((device("receptacle"),), connection="cord"), "lamp").outcome is Outcome.CAUTION
    there = circuit(
        box("new", origin="added"),
        cable("run", "panel", "new"),
        load("lamp", "new", origin="added", connection="cord"),
        load("outlet", "new", kind="receptacle"),
    )
    assert only(RULE, there, "lamp").outcome is Outcome.CAUTION


def test_a_plug_without_a_receptacle_is_no_fixed_wiring():
    """400.12: cord is no substitute for fixed wiring."""
    assert only(RULE, built((device("switch"),), connection="cord"), "lamp").outcome is Outcome.FAIL


def test_unknown_connection_asks():
    found = only(RULE, built(connection=None), "lamp")
    assert found.outcome is Outcome.UNDETERMINED
    assert "load.lamp.connection" in found.needs


def test_a_cut_plug_beside_a_receptacle_is_asked_about_where_nobody_knows_how_the_light_is_connected():
    """Plugged in it is a caution. Wired in it is used as listed only where its instructions allow that (110.3(B))."""
    found = only(RULE, built((device("receptacle"),), connection=None, converted=True), "lamp")
    assert found.outcome is Outcome.UNDETERMINED
    assert "load.lamp.hardwire_in_instructions" in found.needs


def test_flexible_cord_is_no_branch_cable():
    bad = circuit(box("new", origin="added"), cable("run", "panel", "new", type="flexible cord"))
    assert only(RULE, bad, "run").outcome is Outcome.FAIL


def test_an_unknown_type_of_new_cable_asks():
    unknown = circuit(box("new", origin="added"), cable("run", "panel", "new", type=None))
    assert only(RULE, unknown, "run").needs == ("cable.run.type",)


def test_existing_lights_say_nothing():
    assert findings(RULE, circuit(box("old"), load("old lamp", "old", connection="cord"))) == []


def test_the_first_entries_to_look_at_are_those_that_decide():
    """A plug asks for a receptacle in its box; a light to be wired in asks whether it was made for that."""
    plug = only(RULE, built((device("switch"),), connection="cord"), "lamp")
    assert plug.keys == ("load.lamp.connection", "box.new.devices")
    assert not plug.ask
    cut = only(RULE, built(converted=True, hardwire_in_instructions=False), "lamp")
    assert cut.keys == ("load.lamp.connection", "load.lamp.converted")
    assert "instructions" in cut.ask[0]
    assert not only(RULE, built(converted=False), "lamp").ask


def test_of_a_light_whose_cord_is_open_the_sentence_fits_what_it_may_be():
    assert "receptacle to plug into" in only(RULE, built(None, connection="cord"), "lamp").says
    assert "made for hardwiring" in only(RULE, built(), "lamp").says
