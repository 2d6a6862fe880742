"""406.9(C), 410.10(D)(1) and 422.18(B): no receptacle and no paddle fan in the zone over and beside a tub or shower."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.bath_zone import RULE
from tests.rules.build import EDITIONS, FOOT, box, cable, circuit, findings, load, only, site


def built(kind, room="bathroom", **given):
    plain = {"origin": "added", "kind": kind, "connection": "hardwired", "over_bath": True, "mounting": "ceiling"}
    parts = (box("b", origin="added"), cable("f", "panel", "b"), load("thing", "b", **(plain | given)))
    return circuit(site(room=room), *parts)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("feet", "outcome"), [(7.9, Outcome.FAIL), (8, Outcome.PASS), (None, Outcome.UNDETERMINED)])
def test_paddle_fans_keep_out_of_the_zone(edition, feet, outcome):
    """410.10(D): 3 ft beyond the rim and 8 ft above it; 2023: fans with a light, and metal of fans by 422.18(B)."""
    height = None if feet is None else feet * FOOT
    found = only(RULE, built("fan", fan="paddle", height_over_bath_m=height), "thing", edition)
    assert found.outcome is outcome
    assert found.sources[0].place.startswith("410.10(D)")
    assert any(source.place == "422.18(B)" for source in found.sources) is (edition == "nec-2023")
    if feet is None:
        assert found.needs == ("load.thing.height_over_bath",)


@pytest.mark.parametrize(
    ("edition", "feet", "outcome"),
    [
        ("nec-2017", 2, Outcome.CAUTION),  # within or directly over: the file knows only that it is over or beside
        ("nec-2017", 9, Outcome.CAUTION),
        ("nec-2020", 2, Outcome.FAIL),
        ("nec-2020", 8, Outcome.PASS),
        ("nec-2023", 7.9, Outcome.FAIL),
    ],
)
def test_receptacles_keep_out_of_the_zone(edition, feet, outcome):
    """406.9(C): 2017 within or directly over a tub or shower; from 2020 on the zone of 3 ft and 8 ft."""
    found = only(RULE, built("receptacle", height_over_bath_m=feet * FOOT), "thing", edition)
    assert (found.outcome, found.sources[0].place) == (outcome, "406.9(C)")
    assert bool(found.ask) is (outcome is not Outcome.PASS)


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_receptacle_of_unknown_height_is_asked_about(edition):
    expected = (
        (Outcome.CAUTION, ()) if edition == "nec-2017" else (Outcome.UNDETERMINED, ("load.thing.height_over_bath",))
    )
    found = only(RULE, built("receptacle", height_over_bath_m=None), "thing", edition)
    assert (found.outcome, found.needs) == expected


def test_what_is_unknown_is_no_kinder_than_what_it_can_be():
    low = {"height_over_bath_m": FOOT}
    where = only(RULE, built("receptacle", over_bath=None, **low), "thing")
    assert (where.outcome, where.needs) == (Outcome.UNDETERMINED, ("load.thing.over_bath",))
    which = only(RULE, built("fan", fan=None, **low), "thing")
    assert (which.outcome, which.needs) == (Outcome.UNDETERMINED, ("load.thing.fan",))
    what = only(RULE, built(None, fan=None, **low), "thing")
    assert what.outcome is Outcome.UNDETERMINED


def test_it_says_nothing_where_it_does_not_apply():
    low = {"height_over_bath_m": FOOT}
    assert findings(RULE, built("fan", fan="exhaust", **low)) == []
    assert findings(RULE, built("light", **low)) == []  # clearance and location ask of lights
    assert findings(RULE, built("receptacle", over_bath=False)) == []
    assert findings(RULE, built("receptacle", room="hallway", over_bath=None)) == []
    assert findings(RULE, built("receptacle", origin="existing", **low)) == []
