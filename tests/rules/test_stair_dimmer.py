"""Dimmers on a stair give the full range at each place: 210.70(A)(2), as the table of values quotes it."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.stair_dimmer import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, findings, load, site


def stair(low, high, risers=13, edition="nec-2023", room="stairway", partner="high"):
    parts = (
        site(room=room, stair_risers=risers),
        box("below"),
        box("above"),
        box("new", origin="added"),
        cable("feed", "panel", "below", origin="existing", carries="feed"),
        cable("across", "below", "above", origin="existing", carries="travelers", conductors=3),
        cable("up", "below", "new", carries="switched", switched_by="low"),
        control("low", "below", origin="existing", kind=low, ways="three-way", with_id=partner),
        control("high", "above", origin="existing", kind=high, ways="three-way"),
        load("lamp", "new", origin="added", switched_by="low"),
    )
    return [(found.outcome, found.needs) for found in findings(RULE, circuit(*parts), edition)]


@pytest.mark.parametrize("edition", EDITIONS)
def test_one_place_dims_and_the_other_only_switches(edition):
    assert stair("dimmer", "switch", edition=edition) == [(Outcome.FAIL, ())]
    assert stair("switch", "dimmer", edition=edition) == [(Outcome.FAIL, ())]


def test_two_dimmers_are_to_be_looked_at():
    assert stair("dimmer", "dimmer") == [(Outcome.CAUTION, ())]


def test_plain_switches_few_risers_and_other_rooms_are_not_spoken_of():
    assert stair("switch", "switch") == []
    assert stair("dimmer", "switch", risers=5) == []  # from six risers on
    assert stair("dimmer", "switch", room="hallway") == []


def test_a_dimmer_alone_is_the_business_of_the_check_of_switches():
    assert stair("dimmer", "switch", partner=None) == []


def test_what_is_unknown_is_asked():
    assert stair("dimmer", None) == [(Outcome.UNDETERMINED, ("control.high.kind",))]
    assert stair("dimmer", "switch", risers=None) == [(Outcome.UNDETERMINED, ("site.stair_risers",))]


def test_both_are_named_the_one_that_dims_first():
    def says(low, high):
        parts = (
            site(room="stairway", stair_risers=13), box("below"), box("above"), box("new", origin="added"),
            cable("feed", "panel", "below", origin="existing", carries="feed"),
            cable("across", "below", "above", origin="existing", carries="travelers", conductors=3),
            cable("up", "below", "new", carries="switched", switched_by="low"),
            control("low", "below", origin="existing", kind=low, ways="three-way", with_id="high"),
            control("high", "above", origin="existing", kind=high, ways="three-way"),
            load("lamp", "new", origin="added", switched_by="low"),
        )  # fmt: skip
        (found,) = findings(RULE, circuit(*parts))
        return found.says

    assert says("dimmer", "switch") == '"low" dims the light "lamp" on the stair, and "high" can only switch it.'
    assert says("switch", "dimmer") == '"high" dims the light "lamp" on the stair, and "low" can only switch it.'
    assert says("dimmer", "dimmer").startswith('"low" and "high" dim the light "lamp" on the stair')
    assert says("dimmer", "sensor").startswith('"low" and "high" dim the light "lamp" on the stair')


@pytest.mark.parametrize(
    ("given", "count"), [({}, 1), ({"origin": "existing"}, 0), ({"kind": "fan"}, 0), ({"kind": "receptacle"}, 0)]
)
def test_only_lights_that_the_work_adds_are_spoken_of(given, count):
    parts = (
        site(room="stairway", stair_risers=13), box("below"), box("above"), box("new", origin="added"),
        cable("feed", "panel", "below", origin="existing", carries="feed"),
        cable("across", "below", "above", origin="existing", carries="travelers", conductors=3),
        cable("up", "below", "new", carries="switched", switched_by="low"),
        control("low", "below", origin="existing", kind="dimmer", ways="three-way", with_id="high"),
        control("high", "above", origin="existing", kind="switch", ways="three-way"),
        load("lamp", "new", **({"origin": "added", "switched_by": "low"} | given)),
    )  # fmt: skip
    assert len(findings(RULE, circuit(*parts))) == count
