"""Which switch kills which lights, and new lights on a switched conductor."""

from dataclasses import replace

import pytest

from circuitcheck.case import EACH
from circuitcheck.case.making import case_of
from circuitcheck.domain.switching import switched
from circuitcheck.findings import Outcome
from circuitcheck.rules.site.switched_feed import RULE
from tests.rules.build import book, box, cable, circuit, control, driver, findings, load, only


def loads_killed_by(built):
    return {control: list(names) for control, names in switched(case_of(built, book())).items()}


def built(carries="feed", switched_by=None, lamp_switched_by=None, **lamp):
    return circuit(
        box("switch box"),
        box("ceiling"),
        box("new", origin="added"),
        cable("feed", "panel", "switch box", origin="existing", carries="feed"),
        cable("up", "switch box", "ceiling", origin="existing", carries=carries, switched_by=switched_by),
        cable("run", "ceiling", "new", carries=None if carries is None else "feed"),
        control("wall switch", "switch box", kind="switch"),
        load("old lamp", "ceiling"),
        load("lamp", "new", origin="added", switched_by=lamp_switched_by, **lamp),
    )


def test_a_light_that_no_switch_turns_off_is_spoken_of_unless_it_has_its_own():
    assert only(RULE, built(), "lamp").outcome is Outcome.CAUTION
    assert "No switch" in only(RULE, built(own_switch=False), "lamp").says
    assert only(RULE, built(own_switch=True), "lamp").outcome is Outcome.PASS


def test_a_light_behind_a_switched_cable_is_said_plainly():
    found = only(RULE, built("switched", "wall switch"), "lamp")
    assert found.outcome is Outcome.CAUTION
    assert 'goes off with "wall switch"' in found.says


def test_a_light_that_is_meant_to_follow_its_switch_passes():
    found = only(RULE, built("switched", "wall switch", "wall switch"), "lamp")
    assert found.outcome is Outcome.PASS
    assert 'goes off with "wall switch"' in found.says


def test_an_unknown_conductor_is_said_and_asked_for():
    for has_own in (None, True, False):
        found = only(RULE, built(None, own_switch=has_own), "lamp")
        assert (found.outcome, found.needs) == (Outcome.CAUTION, ("cable.up.carries",))
        assert "unknown" in found.says


def test_a_light_with_its_own_switch_does_not_pass_before_the_wires_of_the_feed_are_counted():
    """Three wires are counted later, and what the third is for is open then: that must not contradict a pass."""

    def told(conductors):
        return only(
            RULE,
            circuit(
                box("ceiling"),
                box("new", origin="added"),
                cable("feed", "panel", "ceiling", origin="existing", conductors=conductors),
                cable("run", "ceiling", "new"),
                load("lamp", "new", origin="added", own_switch=True),
            ),
            "lamp",
        )

    assert (told(3).outcome, told(None).outcome, told(2).outcome) == (Outcome.CAUTION, Outcome.CAUTION, Outcome.PASS)
    assert set(told(None).needs) == {"cable.feed.carries", "cable.run.carries"}


def test_what_a_switch_is_said_to_turn_off_is_switched_whatever_it_carries():
    found = only(RULE, built(None, "wall switch"), "lamp")
    assert 'goes off with "wall switch"' in found.says


def test_a_switch_behind_what_is_only_switched_is_behind_that_switch():
    """Of a cable that brings both, the one after it takes the switched conductor on."""
    parts = (
        box("a"),
        box("b"),
        box("c"),
        cable("one", "panel", "a", origin="existing", carries="feed and switched", switched_by="first", conductors=3),
        cable("two", "a", "b", carries="switched"),
        cable("three", "b", "c", carries="switched", switched_by="second"),
        control("first", "a", origin="existing"),
        control("second", "b", origin="added"),
    )
    assert only(RULE, circuit(*parts), "second").outcome is Outcome.CAUTION


def test_the_lights_that_a_switch_kills_are_listed():
    assert loads_killed_by(built("switched", "wall switch")) == {"wall switch": ["old lamp", "lamp"]}
    assert loads_killed_by(built(lamp_switched_by="wall switch")) == {"wall switch": ["lamp"]}
    assert "no load" in only(RULE, built(), "wall switch").says


def test_a_driver_and_both_switches_of_a_pair_are_told():
    built = circuit(
        box("switch box"),
        box("far box"),
        box("ceiling"),
        cable("feed", "panel", "switch box", origin="existing", carries="feed"),
        cable("across", "switch box", "far box", origin="existing", carries="travelers", conductors=3),
        cable("up", "switch box", "ceiling", origin="existing", carries="switched", switched_by="near"),
        control("near", "switch box", ways="three-way", with_id="far"),
        control("far", "far box", ways="three-way"),
        load("lamp", "ceiling"),
        driver("strip driver", "ceiling"),
    )
    assert loads_killed_by(built) == {"near": ["lamp", "strip driver"], "far": ["lamp", "strip driver"]}


def test_a_switch_before_another_switch_kills_too():
    built = circuit(
        box("a"),
        box("b"),
        cable("one", "panel", "a", origin="existing", switched_by="master"),
        cable("two", "a", "b", origin="existing", switched_by="own"),
        control("master", "a"),
        control("own", "a"),
        load("lamp", "b"),
    )
    assert loads_killed_by(built) == {"master": ["lamp"], "own": ["lamp"]}


def second_switch(carries="switched", before="door", onward=None):
    """A new switch fed from the ceiling box of the light that the door switch works."""
    return circuit(
        box("door box"),
        box("ceiling"),
        box("new switch", origin="added"),
        box("wall", origin="added"),
        cable("feed", "panel", "door box", origin="existing", carries="feed"),
        cable("up", "door box", "ceiling", origin="existing", carries=carries, switched_by=before),
        cable("to switch", "ceiling", "new switch", carries=onward),
        cable("on", "new switch", "wall", carries="switched", switched_by="second"),
        control("door", "door box", kind="switch", ways="single-pole", origin="existing"),
        control("second", "new switch", kind="switch", ways="single-pole", origin="added"),
        load("lamp", "wall", origin="added", switched_by="second"),
    )


def test_a_light_behind_two_switches_is_spoken_of():
    """Trade practice: a switched hot feeds no second switch, which would work only while the first is on."""
    found = only(RULE, second_switch(), "lamp")
    assert found.outcome is Outcome.CAUTION
    assert '"door", "second"' in found.says
    assert only(RULE, second_switch(), "second").outcome is Outcome.CAUTION


def test_a_new_switch_on_a_cable_of_unknown_role_asks_for_the_role():
    """A switch that is known to stand behind another one is a caution, so an unknown one is no more."""
    found = only(RULE, second_switch(carries=None, before=None), "second")
    assert (found.outcome, found.needs) == (Outcome.CAUTION, ("cable.up.carries",))
    assert "unknown whether the new switch" in found.says
    assert only(RULE, second_switch(carries="feed", before=None), "second").outcome is Outcome.PASS


def test_a_feed_out_of_a_cable_that_brings_both_is_not_switched():
    built = second_switch(carries="feed and switched", onward="feed")
    assert only(RULE, built, "second").outcome is Outcome.PASS
    assert only(RULE, built, "lamp").outcome is Outcome.PASS


def test_a_switch_at_the_end_of_a_loop_is_behind_no_switch():
    """A loop brings the constant hot down to its switch, as 200.7(C) has it; no switch stands before that one."""
    for before in ("feed", "switched"):
        parts = circuit(
            box("switch box"),
            box("ceiling"),
            box("wall", origin="added"),
            cable("feed", "panel", "switch box", origin="existing", carries="feed"),
            cable("up", "switch box", "ceiling", origin="existing", carries=before, switched_by="wall switch"),
            cable("down", "ceiling", "wall", carries="switch loop"),
            control("wall switch", "switch box", kind="switch"),
            control("new switch", "wall", kind="switch", origin="added"),
        )
        found = only(RULE, parts, "new switch")
        assert ("behind" in found.says) == (before == "switched")


def three_way(with_id="near", switched_by="far", onward="switched", across="travelers", **near):
    """A new pair with travelers between the two, and the light behind the far one."""
    return circuit(
        box("switch box"),
        box("far box", origin="added"),
        box("ceiling", origin="added"),
        cable("feed", "panel", "switch box", origin="existing", carries="feed"),
        cable("across", "switch box", "far box", carries=across, conductors=3),
        cable("up", "far box", "ceiling", carries=onward, switched_by=switched_by),
        control("near", "switch box", ways="three-way", origin="added", **near),
        control("far", "far box", ways="three-way", origin="added", with_id=with_id),
        load("lamp", "ceiling", origin="added", switched_by="far"),
    )


def test_three_way_partners_are_not_one_behind_the_other():
    """Each of two three-way switches changes what the other left: they are one switch with two handles.

    So it is where the file does not say which one is its partner: travelers lead to no other.
    """
    for with_id in ("near", None):
        for switched_by in ("far", None):
            built = three_way(with_id, switched_by)
            assert {only(RULE, built, each).outcome for each in ("near", "far", "lamp")} == {Outcome.PASS}


def test_a_new_cable_at_the_end_of_travelers_may_be_the_switched_one():
    found = only(RULE, three_way(onward=None, switched_by=None), "lamp")
    assert found.outcome is Outcome.PASS  # it is said to go off with the far switch, and does so either way
    built = three_way(onward=None, switched_by=None)
    lamp = load("lamp", "ceiling", origin="added", own_switch=True)
    found = only(RULE, replace(built, loads=(lamp,)), "lamp")
    assert (found.outcome, found.needs) == (Outcome.CAUTION, ("cable.up.carries",))


def test_no_way_is_always_worse_behind_a_cable_that_the_switch_itself_turns_off():
    """Switched, it names this switch, which is no other; a feed, it leaves who is before the second one unnamed."""
    parts = (
        box("a"),
        box("b", origin="added"),
        cable("first", "panel", "a", origin="existing", carries="feed", known_by={"carries": "guess"}, switched_by="s"),
        cable("second", "a", "b", carries="switched"),
        control("s", "b", origin="added"),
    )
    case = case_of(circuit(*parts), book())
    assert RULE.worse["cable.carries"]("feed", case.cables[0], case) is EACH
    assert only(RULE, circuit(*parts), "s").outcome is Outcome.CAUTION


@pytest.mark.parametrize(("count", "more"), [(12, ""), (13, " and 1 more"), (15, " and 3 more")])
def test_of_many_loads_the_first_twelve_are_named(count, more):
    lamps = [load(f"lamp {number}", "a", switched_by="switch") for number in range(count)]
    says = only(RULE, circuit(box("a"), control("switch", "a", kind="switch"), *lamps), "switch").says
    assert says.endswith(f'"lamp 11"{more}.')
    assert says.count('"lamp') == 12


def test_a_light_with_a_switch_of_its_own_or_a_plug_needs_no_wall_switch():
    assert only(RULE, built(own_switch=True, connection="hardwired"), "lamp").outcome is Outcome.PASS
    assert only(RULE, built(own_switch=False, connection="cord"), "lamp").outcome is Outcome.PASS
    assert only(RULE, built(own_switch=False, connection="hardwired"), "lamp").outcome is Outcome.CAUTION


def test_the_entry_that_decides_is_the_feed_of_the_box_or_the_missing_switch():
    assert only(RULE, built("switched", "wall switch"), "lamp").keys == ("cable.run.carries",)
    assert only(RULE, built(own_switch=True), "lamp").keys == ("cable.run.carries",)
    assert only(RULE, built(own_switch=False), "lamp").keys == ("load.lamp.switched_by",)


def test_only_lights_that_the_work_adds_are_spoken_of_and_named_by_what_they_are():
    there = built("switched", "wall switch")
    assert not [found for found in findings(RULE, there) if found.subject == "old lamp"]
    fan = replace(there, loads=(replace(there.loads[1], kind="fan"),))
    assert not [found for found in findings(RULE, fan) if found.subject == "lamp"]
    strip = replace(there, loads=(), drivers=(driver("d", "new"),))
    assert only(RULE, strip, "d").says.startswith('The driver "d" is fed from a switched conductor')
    assert only(RULE, there, "lamp").says.startswith('The light "lamp" is fed from a switched conductor')


def test_behind_a_switch_with_a_name_one_decides_and_behind_one_without_one_looks():
    named = only(RULE, second_switch(), "second")
    assert named.to_do[0].startswith("Decide whether the light should follow that switch.")
    unnamed = only(RULE, second_switch(before=None), "second")
    assert unnamed.outcome is Outcome.CAUTION
    assert unnamed.to_do == ("Work the switches and watch what goes off.",)
