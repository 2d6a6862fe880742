"""Switch loops: the hot white wire is re-marked (200.7(C)); a three-way pair needs three insulated conductors."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.switch_loop import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, findings, only


def loop(marked):
    return circuit(
        box("ceiling"),
        box("switch box"),
        cable("feed", "panel", "ceiling", origin="existing"),
        cable("loop", "ceiling", "switch box", origin="existing", carries="switch loop", white_remarked=marked),
    )


@pytest.mark.parametrize(("marked", "outcome"), [(True, Outcome.PASS), (False, Outcome.FAIL), (None, Outcome.CAUTION)])
def test_the_white_wire(marked, outcome):
    assert only(RULE, loop(marked), "loop").outcome is outcome


def pair(conductors, partner="down"):
    return circuit(
        box("top"),
        box("bottom"),
        cable("feed", "panel", "top", origin="existing"),
        cable("between", "top", "bottom", origin="existing", conductors=conductors, carries="feed"),
        control("up", "top", kind="switch", ways="three-way", with_id=partner),
        control("down", "bottom", kind="switch", ways="single-pole"),
    )


@pytest.mark.parametrize(
    ("conductors", "outcome"), [(3, Outcome.PASS), (2, Outcome.FAIL), (None, Outcome.UNDETERMINED)]
)
def test_travelers(conductors, outcome):
    assert only(RULE, pair(conductors), "up").outcome is outcome


def test_plain_feeds_say_nothing():
    assert findings(RULE, circuit(box("a"), cable("feed", "panel", "a", carries="feed"))) == []


def test_a_white_wire_that_is_the_neutral_of_a_loop_needs_no_mark():
    built = circuit(
        box("ceiling"),
        box("switch box", neutral=True),
        cable("feed", "panel", "ceiling", origin="existing"),
        cable("loop", "ceiling", "switch box", origin="existing", carries="switch loop", conductors=3),
    )
    assert findings(RULE, built) == []


def test_the_cables_between_two_switches_go_through_the_box_where_their_ways_part():
    built = circuit(
        box("ceiling"),
        box("top"),
        box("mid"),
        box("bottom"),
        cable("feed", "panel", "ceiling", origin="existing"),
        cable("a", "ceiling", "top", origin="existing", conductors=3),
        cable("b", "ceiling", "mid", origin="existing", conductors=3),
        cable("c", "mid", "bottom", origin="existing", conductors=2),
        control("up", "top", kind="switch", ways="three-way", with_id="down"),
        control("down", "bottom", kind="switch", ways="single-pole"),
    )
    found = only(RULE, built, "up")
    assert found.outcome is Outcome.FAIL
    assert sorted(line.split(":")[0] for line in found.working) == ["a", "b", "c"]


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_edition_says_so(edition):
    assert only(RULE, loop(False), "loop", edition).outcome is Outcome.FAIL


def test_a_three_way_switch_without_its_partner_asks():
    built = circuit(box("top"), cable("feed", "panel", "top", carries="feed"), control("up", "top", ways="three-way"))
    asked = [found.needs for found in findings(RULE, built) if found.outcome is Outcome.UNDETERMINED]
    assert asked == [("control.up.with",)]


@pytest.mark.parametrize(("conductors", "neutral", "asked"), [(3, False, True), (2, True, True), (3, True, False)])
def test_only_a_third_conductor_that_is_the_neutral_frees_the_white_wire(conductors, neutral, asked):
    """200.7(C): a white wire that is used as a neutral is no hot white wire; two wires of a loop are both hot."""
    built = circuit(
        box("ceiling"),
        box("switch box", neutral=neutral),
        cable("feed", "panel", "ceiling", origin="existing"),
        cable("loop", "ceiling", "switch box", origin="existing", carries="switch loop", conductors=conductors),
    )
    assert bool(findings(RULE, built)) is asked


def test_the_cable_with_too_few_conductors_is_named_and_what_to_do():
    found = only(RULE, pair(2), "up")
    assert 'cable "between" has fewer than 3' in found.says
    assert "three insulated conductors" in found.to_do[0]
    assert "count the insulated conductors" in only(RULE, pair(None), "up").to_do[0]
    assert not only(RULE, pair(3), "up").to_do


def test_the_sentence_about_the_white_wire():
    assert only(RULE, loop(True), "loop").says.endswith("which is hot, is marked.")
    assert only(RULE, loop(False), "loop").says.endswith("is hot and carries no mark that says so.")


def test_the_whole_sentence_about_the_white_wire():
    assert only(RULE, loop(True), "loop").says == 'The white wire of cable "loop", which is hot, is marked.'
    assert only(RULE, loop(False), "loop").says == (
        'The white wire of cable "loop" is hot and carries no mark that says so.'
    )


def test_a_partner_is_known_where_one_of_the_two_names_the_other():
    """Of a pair one entry is enough; a third switch has nothing to do with it."""
    built = circuit(
        box("top"),
        box("bottom"),
        cable("feed", "panel", "top", origin="existing", carries="feed"),
        cable("between", "top", "bottom", origin="existing", conductors=3, carries="travelers"),
        control("up", "top", kind="switch", ways="three-way", with_id="down"),
        control("down", "bottom", kind="switch", ways="three-way"),
        control("other", "top", kind="switch", ways="single-pole"),
    )
    spoken_of = [found.subject for found in findings(RULE, built) if found.keys[0].endswith(".with")]
    assert spoken_of == ["up"]
