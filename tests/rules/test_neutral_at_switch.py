"""404.2(C): a new lighting switch in a habitable room, bathroom, hallway or stairway has a neutral in its box."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.neutral_at_switch import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, findings, load, only, site


def built(neutral, room="hallway", box_origin="added", **given):
    return circuit(
        site(room=room),
        box("wall", origin=box_origin, neutral=neutral),
        cable("f", "panel", "wall", origin=box_origin),
        control("new switch", "wall", **({"kind": "switch", "origin": box_origin} | given)),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("neutral", "outcome"), [(True, Outcome.PASS), (False, Outcome.FAIL), (None, Outcome.CAUTION)])
def test_a_new_switch(edition, neutral, outcome):
    assert only(RULE, built(neutral), "new switch", edition).outcome is outcome


def test_a_garage_is_not_on_the_list():
    assert findings(RULE, built(False, room="garage")) == []


def test_existing_switches_are_left_alone():
    assert findings(RULE, built(False, box_origin="existing")) == []


@pytest.mark.parametrize(
    ("neutral", "outcome"),
    [
        (True, Outcome.PASS),
        (False, Outcome.FAIL),
        (None, Outcome.UNDETERMINED),
    ],
)
def test_a_control_that_needs_a_neutral(neutral, outcome):
    assert only(RULE, built(neutral, box_origin="existing", needs_neutral=True), "new switch").outcome is outcome


def test_an_exception_went_in_2023():
    """404.2(C)(2) of 2017 and 2020: a box that another cable can reach without opening a finish."""
    asked = {edition: only(RULE, built(False), "new switch", edition).ask[0] for edition in EDITIONS}
    assert ["without opening a finish" in asked[edition] for edition in EDITIONS] == [True, True, False]


def test_a_raceway_and_a_partner_with_a_neutral_are_noticed():
    raceway = circuit(
        box("wall", origin="added", neutral=False),
        cable("f", "panel", "wall", type="THHN in raceway"),
        control("new switch", "wall", kind="switch", origin="added"),
    )
    assert only(RULE, raceway, "new switch").outcome is Outcome.CAUTION
    pair = circuit(
        box("wall", origin="added", neutral=False),
        box("far", neutral=True),
        cable("g", "panel", "far", origin="existing"),
        cable("f", "far", "wall", conductors=3),
        control("new switch", "wall", kind="switch", origin="added", ways="three-way", with_id="far switch"),
        control("far switch", "far", kind="switch", origin="existing", ways="three-way"),
    )
    found = only(RULE, pair, "new switch")
    assert found.outcome is Outcome.CAUTION
    assert "far switch" in found.says


def electronic(neutral, origin="added", box_origin="existing", room="garage", **given):
    return circuit(
        site(room=room),
        box("wall", origin=box_origin, neutral=neutral),
        cable("f", "panel", "wall", origin="existing", carries="switch loop"),
        control("smart", "wall", **({"kind": "smart switch", "origin": origin} | given)),
    )


def test_an_electronic_switch_is_asked_about_in_every_room_and_in_old_boxes():
    """404.22 and 404.2(C): electronics that need a neutral have one, and no current flows in the equipment ground."""
    found = only(RULE, electronic(False), "smart")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("control.smart.needs_neutral",))
    assert only(RULE, electronic(False, needs_neutral=True), "smart").outcome is Outcome.FAIL
    assert findings(RULE, electronic(False, needs_neutral=False)) == []
    assert findings(RULE, electronic(True)) == []


@pytest.mark.parametrize("kind", ["dimmer", "timer", "switch"])
def test_two_wire_dimmers_and_timers_are_not_asked(kind):
    assert findings(RULE, electronic(False, kind=kind)) == []


def test_more_than_five_electronic_switches_without_a_neutral_do_not_do():
    """404.2(C) exception: at most five on one branch circuit, listed and marked for it."""

    def many(count):
        parts = [box("wall", neutral=False), cable("f", "panel", "wall", origin="existing")]
        parts += [
            control(f"s{number}", "wall", kind="sensor", origin="added", needs_neutral=False) for number in range(count)
        ]
        return [found.outcome for found in findings(RULE, circuit(site(room="garage"), *parts))]

    assert many(5) == []
    assert many(6) == [Outcome.FAIL] * 6


def test_what_the_circuit_serves_decides_and_the_switchs_own_room_only_softens():
    """404.2(C): the list belongs to what the circuit of the lights serves."""

    def served(lamp_room, switch_room):
        return circuit(
            box("ceiling", room=lamp_room),
            box("wall", origin="added", room=switch_room, neutral=False),
            cable("f", "panel", "ceiling", origin="existing", carries="feed"),
            cable("l", "ceiling", "wall", carries="switch loop"),
            control("new switch", "wall", kind="switch", origin="added"),
            load("lamp", "ceiling", origin="added", switched_by="new switch"),
        )

    assert only(RULE, served("living room", "living room"), "new switch").outcome is Outcome.FAIL
    assert only(RULE, served("living room", "garage"), "new switch").outcome is Outcome.CAUTION
    assert findings(RULE, served("garage", "garage")) == []


def test_whether_the_box_has_one_is_said():
    there = only(RULE, built(True, box_origin="existing", needs_neutral=True), "new switch")
    assert there.says == '"new switch" needs a neutral to work, and box "wall" has one.'
    missing = only(RULE, built(False, box_origin="existing", needs_neutral=True), "new switch")
    assert missing.says == '"new switch" needs a neutral to work, and box "wall" has none.'


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"kind": "sensor"}, True),
        ({"kind": "dimmer"}, False),  # takes its current through the lamps
        ({"kind": "sensor", "needs_neutral": True}, False),  # is told for itself
        ({"kind": "sensor", "box": "with"}, False),  # has one
        ({"kind": "sensor", "origin": "existing"}, True),  # counts as one of them, and is not spoken of
    ],
)
def test_which_switches_count_among_the_five(given, said):
    """404.2(C) exception: five sensors and one thing more."""
    given = {"origin": "added", "needs_neutral": False, "box": "wall"} | given
    parts = [box("wall", neutral=False), box("with", neutral=True)]
    parts += [cable("f", "panel", "wall", origin="existing"), cable("g", "wall", "with", origin="existing")]
    parts += [control(f"s{count}", "wall", kind="sensor", origin="added", needs_neutral=False) for count in range(5)]
    found = findings(RULE, circuit(site(room="garage"), *parts, control("more", given.pop("box"), **given)))
    named = [each.subject for each in found if "electronic switches on this circuit" in each.says]
    more = ["more"] if said and given["origin"] == "added" else []
    assert named == ([f"s{count}" for count in range(5)] + more if said else [])
