"""What the wiring tells of a neutral: a loop of two conductors is two hots (trade practice, 404.2(C))."""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.possible.entry import Later
from circuitcheck.quantities import How
from tests.rules.build import book, box, cable, circuit, control, device, load, site, supply


def neutral(*things, carries=None, conductors=2, **given):
    """What ``box.neutral`` can be: the options, or the settled value."""
    built = circuit(
        box("b", **given),
        cable("c", "panel", "b", origin="existing", carries=carries, conductors=conductors),
        *things,
    )
    case = case_of(built, book())
    return next(
        (entry.possible for entry in case.entries if entry.kind == "box.neutral"), case.boxes[0].__dict__.get("neutral")
    )


def test_a_loop_of_two_conductors_has_none():
    assert neutral(carries="switch loop") is False


def test_a_loop_of_three_may_have_one():
    assert neutral(carries="switch loop", conductors=3).options == (False, True)


@pytest.mark.parametrize("carries", ["feed", "feed and switched"])
def test_a_feed_brings_one(carries):
    assert neutral(carries=carries, devices=(device(),)) is True


@pytest.mark.parametrize("thing", [{"devices": (device(),)}, {"devices": (device("timer"),)}])
def test_a_switch_box_may_have_none(thing):
    assert neutral(**thing).options == (False, True)
    assert neutral(control("s", "b")).options == (False, True)


def test_a_light_that_works_there_shows_one_and_a_bare_box_does_not():
    """Current needs a way back: whatever works between a hot wire and a neutral has both in its box."""
    assert neutral(load("old", "b")).options == (True,)
    assert neutral(load("old", "b"), devices=(device(),)).options == (True,)
    assert neutral(load("old", "b"), control("s", "b")).options == (True,)
    assert neutral().options == (False, True)
    assert neutral().later is None


def test_what_hung_on_an_old_cable_before_the_work_shows_a_neutral():
    """A light that takes the place of one, and a box that is put in the place of one, are fed as the old ones were."""
    assert neutral(load("new", "b", origin="added", replaces=True)).options == (True,)
    assert neutral(load("new", "b", origin="added", replaces=False)).options == (False, True)
    assert neutral(load("old", "b"), origin="added").options == (True,)
    built = circuit(box("b", origin="added"), cable("c", "panel", "b", carries=None), load("old", "b"))
    entries = {entry.kind: entry.possible for entry in case_of(built, book()).entries}
    assert entries["box.neutral"].later is Later.WORK_TO_COME, "nothing is known of a new cable"
    assert set(entries["box.neutral"].options) == {True, False}


@pytest.mark.parametrize(
    ("carries", "conductors", "origin", "options"),
    [
        ("feed", 2, "added", (True,)),
        ("feed and switched", 3, "added", (True,)),
        ("switch loop", 2, "added", False),
        ("switch loop", 3, "added", (True, False)),
        (None, 3, "added", (True, False)),
        ("feed", 2, "existing", False),
    ],
)
def test_a_new_cable_brings_a_neutral_to_a_box_in_which_none_was_seen(carries, conductors, origin, options):
    """A loop of two is pulled out and 14/3 put in, as trade practice is where a smart switch needs a neutral."""
    built = circuit(
        supply(shared_neutral=False),
        box("b", neutral=False),
        cable("c", "panel", "b", origin=origin, carries=carries, conductors=conductors),
    )
    case = case_of(built, book())
    open_entry = next((each.possible for each in case.entries if each.kind == "box.neutral"), None)
    assert (open_entry.options if open_entry else case.boxes[0].neutral) == options


@pytest.mark.parametrize("guessed", ["the cable", "the box", "both"])
@pytest.mark.parametrize("origin", ["added", "existing"])
def test_a_cable_or_a_box_that_is_guessed_to_be_new_or_old_may_have_a_neutral(origin, guessed):
    of_cable, of_box = ({"origin": How.GUESS} if guessed in (part, "both") else {} for part in ("the cable", "the box"))
    feed = cable("c", "panel", "b", origin=origin if of_cable else "added", carries="feed", known_by=of_cable)
    at = box("b", neutral=False, origin=origin if of_box else "existing", known_by=of_box)
    case = case_of(circuit(at, feed), book())
    assert [each.possible.options for each in case.entries if each.kind == "box.neutral"] == [(True, False)]


def test_what_was_seen_of_a_new_box_or_of_a_neutral_stays():
    feed = cable("c", "panel", "b", carries="feed")
    for given in ({"neutral": True}, {"neutral": False, "origin": "added"}):
        case = case_of(circuit(box("b", **given), feed), book())
        assert case.boxes[0].neutral is given["neutral"]


@pytest.mark.parametrize(
    ("carries", "lamp", "continuous"),
    [
        ("feed", {"own_switch": False}, True),
        ("feed", {"own_switch": True}, False),
        ("feed", {"own_switch": False, "known_by": {"own_switch": "guess"}}, False),
        ("feed", {"own_switch": False, "switched_by": "s"}, False),
        ("switched", {"own_switch": False}, False),
        (None, {"own_switch": False}, False),
        ("feed", {"own_switch": False, "kind": "fan"}, False),
    ],
)
def test_a_light_that_nothing_turns_off_is_continuous_whatever_is_said(carries, lamp, continuous):
    """Article 100, continuous load: the maximum current is expected for 3 hours or more."""
    built = circuit(
        box("b"),
        cable("c", "panel", "b", origin="existing", carries=carries),
        control("s", "b", kind="switch"),
        load("lamp", "b", power_w=60, continuous=False, **lamp),
    )
    assert case_of(built, book()).loads[0].continuous is continuous


@pytest.mark.parametrize(
    ("kind", "origin", "open_"),
    [
        ("dimmer", "added", False),
        ("smart switch", "added", True),
        ("smart switch", "existing", False),
        (None, "added", True),
    ],
)
def test_whose_electronics_may_need_a_neutral(kind, origin, open_):
    built = circuit(box("b"), cable("c", "panel", "b"), control("s", "b", kind=kind, origin=origin))
    assert ("control.needs_neutral" in {entry.kind for entry in case_of(built, book()).entries}) is open_


def test_a_white_wire_that_is_not_marked_yet_is_work_to_come():
    built = circuit(box("b"), cable("c", "panel", "b", origin="existing", carries="switch loop"))
    entries = {entry.kind: entry.possible for entry in case_of(built, book()).entries}
    assert entries["cable.white_remarked"].later is Later.WORK_TO_COME


def shared(cables, **given):
    built = circuit(supply(**given), box("a"), box("b"), *cables)
    case = case_of(built, book())
    return {(entry.kind, entry.ref.id): entry.possible.options for entry in case.entries}, case.supply


def from_panel(to, conductors, **given):
    return cable(f"to {to}", "panel", to, conductors=conductors, origin="existing", **given)


def test_what_a_third_wire_is_for_tells_whether_the_neutral_is_shared():
    known = "feed and switched"
    entries, told = shared([from_panel("a", 3, carries=known), from_panel("b", 2)], poles=1)
    assert entries["supply.shared_neutral", ""] == (False,)
    assert told.volts_between_hots_v is None
    entries, told = shared([from_panel("a", 3, carries="two circuits")], poles=1)
    assert told.shared_neutral is True
    entries, told = shared([from_panel("a", 3)], poles=1)
    assert told.shared_neutral is None
    assert entries["cable.carries", "to a"] == ("feed and switched", "two circuits")


@pytest.mark.parametrize("wires", [{"conductors": None}, {"conductors": 2, "known_by": {"conductors": "guess"}}])
def test_a_cable_from_the_panel_of_which_nobody_counted_the_wires_may_have_a_third_one(wires):
    """Once three are counted it is no plain feed: whoever doubts what it carries must not have counted it as one."""
    feed = cable("feed", "panel", "a", origin="existing", **wires)
    at = [circuit(supply(shared_neutral=shared), box("a"), feed) for shared in (None, False)]
    possible, settled = ({each.kind: each.possible for each in case_of(built, book()).entries} for built in at)
    assert possible["cable.carries"].options == ("feed", "feed and switched", "two circuits")
    assert possible["cable.carries"].presumed
    assert "cable.carries" not in settled


def test_a_third_wire_that_is_guessed_or_a_plain_feed_tells_nothing():
    for run in (
        from_panel("a", 3, carries="feed"),
        from_panel("a", 2),
        from_panel("a", None),
    ):
        entries, _ = shared([run])
        assert entries["supply.shared_neutral", ""] == (False, True)
    # a guess is asked for itself
    guessed = from_panel("a", 3, carries="feed and switched", known_by={"carries": "guess"})
    entries, told = shared([guessed])
    assert told.shared_neutral is None
    assert "two circuits" in entries["cable.carries", "to a"]
    # where another cable has an unknown number of wires it may be the shared one
    entries, _ = shared([from_panel("a", 3, carries="feed and switched"), from_panel("b", None)])
    assert entries["supply.shared_neutral", ""] == (False, True)


def test_a_third_wire_of_one_cable_tells_nothing_of_that_of_another():
    """Beside a cable to a light that a switch turns off, one with red wire that is a plain feed: whose is the red?"""
    entries, _ = shared([from_panel("a", 3, carries="feed and switched"), from_panel("b", 3, carries="feed")])
    assert entries["supply.shared_neutral", ""] == (False, True)


def test_the_legs_are_open_only_where_the_neutral_may_be_shared_and_no_two_poles_tell_them():
    ends = ("supply.volts_between_hots", "")
    assert shared([], shared_neutral=True, poles=1)[0][ends] == (0.0, 240.0)
    assert shared([], shared_neutral=None)[0][ends] == (0.0, 240.0)
    assert shared([], shared_neutral=True, poles=2, known_by={"poles": "guess"})[0][ends] == (0.0, 240.0)
    for given in ({"shared_neutral": False}, {"shared_neutral": True, "poles": 2}):
        entries, told = shared([], **given)
        assert ends not in entries
        assert told.volts_between_hots_v is None


def carried(cable_id, *cables):
    """What ``cable.carries`` can be: the options, or the settled word."""
    case = case_of(circuit(box("a"), box("b"), *cables), book())
    (part,) = (each for each in case.cables if each.id == cable_id)
    return next(
        (entry.possible.options for entry in case.entries if entry.kind == "cable.carries" and entry.part is part),
        part.__dict__.get("carries"),
    )


def test_what_a_switch_turns_off_is_switched():
    """Two wires to what a switch turns off: the hot is the switched one; a third wire may bring a constant hot too."""
    assert carried("up", cable("up", "panel", "a", carries=None, switched_by="s")) == "switched"
    three = cable("up", "panel", "a", origin="existing", carries=None, switched_by="s", conductors=3)
    in_wall = cable("in", "panel", "b", carries="feed")
    assert set(carried("up", in_wall, replace(three, from_id="b"))) == {"switched", "feed and switched"}


def test_a_new_cable_is_a_feed_unless_both_stand_before_it():
    new = cable("new", "a", "b", carries=None)
    assert carried("new", cable("up", "panel", "a", carries="feed", origin="existing"), new) == "feed"
    both = cable("up", "panel", "a", carries="feed and switched", origin="existing", conductors=3)
    assert carried("new", both, new) == ("feed", "switched")


def test_an_old_cable_is_presumed_to_be_a_feed():
    old = cable("up", "a", "b", carries=None, origin="existing")
    assert carried("up", cable("in", "panel", "a"), old) == ("feed", "switched", "switch loop")


def test_no_switch_stands_between_the_panel_and_the_first_box():
    assert carried("up", cable("up", "panel", "a", carries=None, origin="existing")) == "feed"


def test_what_is_only_guessed_shows_no_neutral():
    """A guess settles nothing: neither what the feed brings, nor that a load was there before the work."""
    guessed = load("old", "b", origin="existing", known_by={"origin": "guess"})
    assert neutral(guessed).options == (False, True)
    built = circuit(
        box("b", devices=(device(),)),
        cable("c", "panel", "b", origin="existing", carries="feed", known_by={"carries": "guess"}),
    )
    entries = {entry.kind: entry.possible for entry in case_of(built, book()).entries}
    assert set(entries["box.neutral"].options) == {True, False}


@pytest.mark.parametrize(("dwelling", "given", "later"), [
    (True, {}, Later.USE),
    (None, {}, None),
    (True, {"known_by": {"dwelling": "guess"}}, None),
    (False, {"known_by": {"dwelling": "guess"}}, None),
])  # fmt: skip
def test_what_is_plugged_in_may_wait_only_in_a_dwelling(dwelling, given, later):
    """220.14(I) counts 180 VA a receptacle; 220.14(J) lets those of a dwelling be part of the general lighting load."""
    built = circuit(
        site(dwelling=dwelling, **given),
        box("b"),
        cable("c", "panel", "b", origin="existing"),
        load("outlet", "b", kind="receptacle"),
    )
    entries = {entry.kind: entry.possible for entry in case_of(built, book()).entries}
    assert entries["load.power"].later is later


def behind_one_from_the_panel(before, **given):
    """What a new cable can carry behind one from the panel; the word itself where it is settled."""
    run = cable("run", "a", "b", origin="added", carries=None)
    built = circuit(supply(**given), box("a"), box("b"), before, run, control("s", "a"))
    case = case_of(built, book())
    return next(
        (entry.possible.options for entry in case.entries if str(entry.ref) == "cable.run.carries"),
        case.cables[1].__dict__.get("carries"),
    )


@pytest.mark.parametrize("brings", ["feed and switched", "switch loop", "travelers"])
def test_a_new_cable_where_a_switched_conductor_ends_may_go_on_with_it(brings):
    """A loop and a cable that brings both end with a constant and a switched hot, travelers with switched ones."""
    assert behind_one_from_the_panel(from_panel("a", 3, carries=brings)) == ("feed", "switched")
    for word in ("feed", "two circuits"):
        assert behind_one_from_the_panel(from_panel("a", 3, carries=word)) == "feed"


def test_a_new_cable_may_be_switched_where_the_one_before_it_may_bring_both():
    assert behind_one_from_the_panel(from_panel("a", 3, carries=None)) == (
        "feed",
        "switched",
    )  # what is its third wire for?
    assert behind_one_from_the_panel(from_panel("a", None, carries=None, switched_by="s")) == ("feed", "switched")
    assert behind_one_from_the_panel(from_panel("a", 2, carries=None)) == "feed"
