"""A switch at each floor level of a stair: 210.70(A)(2)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.stair_switch import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, driver, findings, load, site


def stair(risers, edition="nec-2023", dwelling=True, up="one", **switch):
    parts = (
        site(room="stairway", stair_risers=risers, dwelling=dwelling),
        box("low"),
        box("new", origin="added"),
        cable("feed", "panel", "low", origin="existing", carries="feed"),
        cable("up", "low", "new", carries="switched", switched_by=up),
        control("one", "low", origin="existing", **({"kind": "switch", "ways": "single-pole"} | switch)),
        load("lamp", "new", origin="added", switched_by=up),
    )
    return [(found.outcome, found.needs) for found in findings(RULE, circuit(*parts), edition)]


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_stair_of_six_risers_has_a_switch_at_each_floor_level(edition):
    """210.70(A)(2): six risers or more between floor levels; remote, central or automatic control is allowed."""
    assert stair(6, edition) == [(Outcome.FAIL, ())]
    assert stair(5, edition) == []
    assert stair(None, edition) == [(Outcome.UNDETERMINED, ("site.stair_risers",))]
    assert stair(13, edition, ways="three-way", with_id="two") == [(Outcome.PASS, ())]
    assert stair(13, edition, kind="sensor") == [(Outcome.PASS, ())]
    assert stair(13, edition, ways=None) == [(Outcome.UNDETERMINED, ("control.one.ways",))]


def test_it_is_asked_of_dwellings():
    """210.70(A) is headed "dwelling units"."""
    assert stair(13, dwelling=False) == []
    assert stair(13, dwelling=None) == [(Outcome.UNDETERMINED, ("site.dwelling",))]


def test_a_switch_that_nobody_names_may_be_one_of_two():
    assert stair(13, up=None) == [(Outcome.UNDETERMINED, ("load.lamp.switched_by",))]


def test_a_light_that_no_switch_turns_off_has_none_at_each_level():
    parts = (
        site(room="stairway", stair_risers=13),
        box("new", origin="added"),
        cable("feed", "panel", "new", carries="feed"),
        load("lamp", "new", origin="added"),
    )
    (found,) = findings(RULE, circuit(*parts))
    assert found.outcome is Outcome.FAIL


def test_where_the_light_names_its_switch_the_cable_that_names_none_is_asked():
    """A switched cable before the box of the light's own switch tells of another one, which may be its partner."""
    parts = (
        site(room="stairway", stair_risers=13, dwelling=True),
        box("low"),
        box("high"),
        box("new", origin="added"),
        cable("feed", "panel", "low", origin="existing", carries="feed"),
        cable("up", "low", "high", origin="existing", carries="switched"),
        cable("on", "high", "new", carries="switched", switched_by="one"),
        control("one", "high", origin="existing", kind="switch", ways="single-pole"),
        load("lamp", "new", origin="added", switched_by="one"),
    )
    (found,) = findings(RULE, circuit(*parts))
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.up.switched_by",))


def lit(*things, **switch):
    return circuit(
        site(room="stairway", stair_risers=13),
        box("low"),
        box("new", origin="added"),
        cable("feed", "panel", "low", origin="existing", carries="feed"),
        cable("up", "low", "new", carries="switched", switched_by="one"),
        control("one", "low", origin="existing", **({"kind": "switch", "ways": "single-pole"} | switch)),
        *things,
    )


def test_only_lights_that_the_work_adds_are_spoken_of_and_named():
    """210.70(A)(2) asks for lighting outlets; what was there before is left alone."""
    light = load("lamp", "new", origin="added", switched_by="one")
    (found,) = findings(RULE, lit(light))
    assert found.says.startswith('The stair has 13 risers, and the light "lamp" has no switch at each floor level.')
    (found,) = findings(RULE, lit(driver("d", "new", switched_by="one")))
    assert found.says.startswith('The stair has 13 risers, and the driver "d" has no switch at each floor level.')
    (found,) = findings(RULE, lit(light, ways="three-way"))
    assert found.says == 'On a stair of 13 risers, the light "lamp" can be switched at each floor level.'
    assert findings(RULE, lit(load("lamp", "new", origin="existing", switched_by="one"))) == []
    assert findings(RULE, lit(load("fan", "new", origin="added", kind="fan", switched_by="one"))) == []
