"""A room that loses its switched light: 210.70(A)(1), (2), text of 2017 read in a public copy."""

from dataclasses import replace

import pytest

from circuitcheck.circuit.change import Change
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.rules.site.switched_lighting import RULE
from tests.rules.build import box, cable, circuit, findings, load, site

IN = cable("in", "panel", "a", origin="existing")


def left(*parts, room="bedroom", dwelling=True, action="remove", **given):
    """What is said once the old light is gone."""
    old = load("old", "a", power_w=60, **given)
    made = circuit(site(dwelling=dwelling), box("a", room=room), IN, old, *parts)
    return findings(RULE, as_planned(replace(made, changes=(Change(part=Ref("load", "old", ""), action=action),))))


@pytest.mark.parametrize("room", ["bedroom", "kitchen", "bathroom", "hallway", "stairway", "garage"])
def test_the_only_light_of_a_room_goes(room):
    (found,) = left(room=room)
    assert (found.outcome, found.subject) == (Outcome.CAUTION, "old")
    assert "wall switch" in found.ask[0]


@pytest.mark.parametrize(
    "given", [{"room": "closet"}, {"dwelling": False}, {"kind": "receptacle"}, {"connection": "cord"}]
)
def test_it_says_nothing_where_it_does_not_apply(given):
    assert left(**given) == []


def test_another_fixed_light_in_the_room_will_do():
    other = (box("b", room="bedroom"), cable("on", "a", "b"))
    assert left(*other, load("new", "b", origin="added")) == []
    assert len(left(*other, load("new", "b", origin="added", connection="cord"))) == 1
    assert len(left(box("b", room="hallway"), cable("on", "a", "b"), load("new", "b"))) == 1


def test_nothing_goes():
    assert findings(RULE, circuit(site(dwelling=True), box("a", room="bedroom"), load("old", "a"))) == []


def test_names_may_hold_braces():
    made = circuit(site(dwelling=True), box("a", room="bedroom"), IN, load("{x}", "a"))
    made = replace(made, changes=(Change(part=Ref("load", "{x}", ""), action="remove"),))
    assert '"{x}"' in findings(RULE, as_planned(made))[0].says
