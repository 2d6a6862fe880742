"""404.2(C): a new lighting switch in a habitable room, bathroom, hallway or stairway has a neutral in its box."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.neutral_at_switch import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, findings, only, site


def built(neutral, room="hallway", box_origin="added", **given):
    return circuit(
        site(room=room),
        box("wall", origin=box_origin, neutral=neutral),
        cable("f", "panel", "wall"),
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
