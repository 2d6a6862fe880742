"""An equipment ground to every added luminaire (410.42, 250.130(C)); ground-fault protection does not replace it."""

from dataclasses import replace

import pytest

from circuitcheck.circuit.change import Change
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.refs import Ref
from circuitcheck.rules.site.equipment_ground import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, driver, findings, load, only, supply


def built(feed_ground=True, run_ground=True, grounding="wire", attic_ground=None, protection="none", feed_type="NM-B"):
    return circuit(
        supply(protection=protection),
        box("attic", ground=attic_ground),
        box("new", origin="added"),
        cable("feed", "panel", "attic", origin="existing", ground=feed_ground, type=feed_type),
        cable("run", "attic", "new", ground=run_ground),
        load("lamp", "new", origin="added", grounding=grounding),
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_ground_all_the_way_passes(edition):
    assert only(RULE, built(), "lamp", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_feed_without_ground_fails(edition):
    assert only(RULE, built(feed_ground=False), "lamp", edition).outcome is Outcome.FAIL


def test_ground_fault_protection_is_no_way_out():
    found = only(RULE, built(feed_ground=False, protection="ground-fault"), "lamp")
    assert found.outcome is Outcome.FAIL
    assert "ground-fault" in found.says.lower()


def test_new_cable_without_ground_fails():
    assert only(RULE, built(run_ground=False), "lamp").outcome is Outcome.FAIL


def test_metal_clad_armor_counts_as_the_ground():
    assert only(RULE, built(feed_ground=None, feed_type="AC"), "lamp").outcome is Outcome.PASS


def test_unknown_feed_asks():
    found = only(RULE, built(feed_ground=None), "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.feed.ground",))


def test_a_ground_seen_in_the_box_settles_the_hidden_feed():
    assert only(RULE, built(feed_ground=None, attic_ground=True), "lamp").outcome is Outcome.PASS


def test_no_ground_in_the_box_fails():
    assert only(RULE, built(feed_ground=None, attic_ground=False), "lamp").outcome is Outcome.FAIL


def test_a_luminaire_without_a_ground_must_be_double_insulated():
    assert only(RULE, built(grounding="none"), "lamp").outcome is Outcome.FAIL
    assert only(RULE, built(grounding="double-insulated"), "lamp").outcome is Outcome.PASS
    to_be_bought = only(RULE, built(grounding=None), "lamp")
    assert (to_be_bought.outcome, to_be_bought.to_come) == (Outcome.CAUTION, True)


def test_a_double_insulated_light_does_not_spare_the_wiring_its_ground():
    """250.130(C) and 314.4 speak of the extension's wiring and boxes; the listed body itself need not be bonded."""
    found = only(RULE, built(feed_ground=False, grounding="double-insulated"), "lamp")
    assert found.outcome is Outcome.FAIL
    assert found.ask


def test_a_light_without_metal_needs_no_ground_of_its_own():
    parts = (box("new", origin="added"), cable("run", "panel", "new"))
    plain = circuit(*parts, load("lamp", "new", origin="added", grounding="none", metal_parts=False))
    assert only(RULE, plain, "lamp").outcome is Outcome.PASS


@pytest.mark.parametrize("kind", ["fan", "heater", "receptacle", "alarm", "other"])
def test_everything_that_is_added_needs_one(kind):
    """250.110, 250.114, 250.130(C): the equipment and the wiring of an extension, whatever hangs on it."""
    parts = (box("new", origin="added"), load("thing", "new", origin="added", kind=kind))
    assert only(RULE, circuit(cable("run", "panel", "new"), *parts), "thing").outcome is Outcome.PASS
    assert only(RULE, circuit(cable("run", "panel", "new", ground=False), *parts), "thing").outcome is Outcome.FAIL


def test_a_driver_needs_one():
    bare = circuit(box("new", origin="added"), cable("run", "panel", "new", ground=False), driver("d", "new"))
    assert only(RULE, bare, "d").outcome is Outcome.FAIL


def test_existing_lights_are_left_alone():
    assert findings(RULE, circuit(box("attic"), load("old", "attic", grounding="none"))) == []


def test_a_ground_that_arrives_beside_an_ungrounded_cable_is_doubted():
    """250.130(C): it may have been brought from one of several points; which, an electrician confirms."""
    found = only(RULE, built(feed_ground=False, attic_ground=True), "lamp")
    assert found.outcome is Outcome.CAUTION
    assert found.ask


def test_a_ground_seen_further_down_settles_all_hidden_cables_before_it():
    built_on = circuit(
        box("first"),
        box("second", ground=True),
        box("new", origin="added"),
        cable("one", "panel", "first", origin="existing", ground=None),
        cable("two", "first", "second", origin="existing", ground=None),
        cable("run", "second", "new"),
        load("lamp", "new", origin="added"),
    )
    assert only(RULE, built_on, "lamp").outcome is Outcome.PASS


def test_a_receptacle_needs_a_ground_whatever_is_plugged_into_it():
    """NFPA 70, 406.4(A) and (D): new receptacles are grounding ones; relief is for replacements."""

    def found(kind, connection):
        parts = (box("a"), box("new", origin="added"), cable("feed", "panel", "a", origin="existing"))
        run = cable("run", "a", "new", ground=False)
        return findings(RULE, circuit(*parts, run, load("it", "new", origin="added", kind=kind, connection=connection)))

    def added(kind, connection):
        return [each.outcome for each in found(kind, connection)]

    assert added("receptacle", "cord") == added("receptacle", None) == [Outcome.FAIL]
    assert added("light", "cord") == []
    assert added(None, "cord") == [Outcome.UNDETERMINED]
    # so its answer does not rest on that, and nobody is told that it was assumed; that of a light does
    rests_on = {kind: found(kind, None)[0].assumed_keys for kind in ("receptacle", "light")}
    assert "load.it.connection" not in rests_on["receptacle"]
    assert "load.it.connection" in rests_on["light"]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("protection", "given", "outcome"),
    [
        ("none", {}, Outcome.FAIL),
        ("arc-fault", {}, Outcome.FAIL),
        ("ground-fault", {}, Outcome.PASS),
        (None, {}, Outcome.UNDETERMINED),
        ("none", {"grounding": "double-insulated"}, Outcome.PASS),
        ("none", {"grounding": "none", "metal_parts": False}, Outcome.PASS),
        # A body of metal without a lead or terminal for a ground lacks what 410.46 of 2017 asks of any luminaire.
        ("ground-fault", {"grounding": "none", "metal_parts": True}, Outcome.FAIL),
    ],
)
def test_a_light_in_the_place_of_another_where_no_ground_is(edition, protection, given, outcome):
    """410.44, exceptions for replacements: no exposed conductive parts, or ground-fault protected."""
    old = (box("old"), cable("in", "panel", "old", origin="existing", ground=False))
    lamp = load("lamp", "old", origin="added", replaces=True, **given)
    assert only(RULE, circuit(supply(protection=protection), *old, lamp), "lamp", edition).outcome is outcome


def test_of_a_light_its_own_ground_is_looked_at_too():
    """410.44: a luminaire has a ground lead or is double-insulated, and so does a fan (250.110); a driver goes by its
    cable alone."""
    assert only(RULE, built(), "lamp").keys == ("load.lamp.grounding",)
    missing = only(RULE, built(feed_ground=False), "lamp")
    assert missing.keys == ("cable.feed.ground", "load.lamp.grounding")
    fan = circuit(
        box("new", origin="added"),
        cable("run", "panel", "new", ground=False),
        load("fan", "new", origin="added", kind="fan", grounding="none"),
        driver("d", "new"),
    )
    assert only(RULE, fan, "fan").keys == ("cable.run.ground", "load.fan.grounding")
    assert only(RULE, fan, "d").keys == ("cable.run.ground",)


def test_the_working_goes_along_the_way():
    there = only(RULE, built(), "lamp")
    assert list(there.working) == [
        'cable "feed": equipment ground present',
        'cable "run": equipment ground present',
    ]
    none = only(RULE, built(feed_ground=False, attic_ground=False), "lamp")
    assert list(none.working) == [
        'cable "feed": equipment ground missing',
        'box "attic": no equipment ground arrives',
        'cable "run": equipment ground present',
    ]


def test_what_has_no_ground_for_one_cause_is_told_once():
    """Pages tell findings of one cause together: a missing ground on the way is one, whatever hangs behind it."""
    assert only(RULE, built(feed_ground=False), "lamp").cause == "no equipment ground"
    assert only(RULE, built(grounding="none"), "lamp").cause == ""
    assert only(RULE, built(), "lamp").cause == ""
    assert only(RULE, built(feed_ground=False, attic_ground=True), "lamp").cause == ""
    lamp = load("lamp", "old", origin="added", replaces=True, grounding="double-insulated")
    spared = circuit(box("old"), cable("in", "panel", "old", origin="existing", ground=False), lamp)
    assert only(RULE, spared, "lamp").cause == ""


def test_the_clause_on_extensions_does_not_stand_beside_a_light_in_the_place_of_another():
    """410.42 and 410.44 speak of the light, 250.130(C) of an extension, which a replaced light is not."""
    assert [each.place for each in only(RULE, built(), "lamp").sources] == ["410.42, 410.44", "250.130(C)"]
    old = (box("old"), cable("in", "panel", "old", origin="existing", ground=False))
    lamp = load("lamp", "old", origin="added", replaces=True, metal_parts=True)
    replaced = only(RULE, circuit(supply(protection="none"), *old, lamp), "lamp")
    assert [each.place for each in replaced.sources] == ["410.42, 410.44"]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("kind", ["fan", "heater"])
@pytest.mark.parametrize(
    ("given", "outcome"),
    [
        ({"grounding": "none"}, Outcome.FAIL),
        ({"grounding": "none", "metal_parts": False}, Outcome.PASS),
        ({"grounding": "double-insulated"}, Outcome.PASS),
        ({"grounding": "wire"}, Outcome.PASS),
        ({"grounding": None}, Outcome.CAUTION),
    ],
)
def test_metal_of_a_fan_or_heater_is_joined_to_the_ground_that_its_cable_brings(edition, kind, given, outcome):
    """250.110(5): where the wiring method brings an equipment ground; its exception 3: listed double insulation."""
    parts = (box("new", origin="added"), cable("run", "panel", "new"))
    found = only(RULE, circuit(*parts, load("it", "new", origin="added", kind=kind, **given)), "it", edition)
    assert found.outcome is outcome
    assert found.to_come is (outcome is Outcome.CAUTION)
    assert found.sources[0].place == "250.110"


@pytest.mark.parametrize("kind", ["receptacle", "alarm", "other"])
def test_of_nothing_else_the_means_of_grounding_is_asked(kind):
    """Of what may be of plastic altogether, or cord-connected, the file's word on its own ground decides nothing."""
    parts = (box("new", origin="added"), cable("run", "panel", "new"))
    for grounding in ("none", "double-insulated"):
        it = load("it", "new", origin="added", kind=kind, grounding=grounding)
        found = only(RULE, circuit(*parts, it), "it")
        assert found.says == 'An equipment ground runs from the panel to "it".'


@pytest.mark.parametrize(("kind", "outcome"), [("light", Outcome.PASS), ("receptacle", Outcome.FAIL)])
def test_only_a_light_may_take_anothers_place_without_a_ground(kind, outcome):
    """410.44 is about luminaires; a receptacle goes by 406.4(D), and new wiring needs a ground."""
    it = load("x", "old", kind=kind, origin="added", replaces=True, grounding="wire", metal_parts=False)
    old = (box("old"), cable("in", "panel", "old", origin="existing", ground=False))
    assert only(RULE, circuit(*old, it), "x").outcome is outcome


@pytest.mark.parametrize("ground", [True, False, None])
@pytest.mark.parametrize("behind", [True, False, None])
def test_what_needs_no_ground_minds_no_doubt_about_it(ground, behind):
    """Nothing of it that can be touched is metal, whether a ground arrives, is missing, or is in doubt."""
    lamp = load("x", "end", origin="added", replaces=True, grounding="wire", metal_parts=False)
    built = circuit(
        box("old", ground=True),
        box("end"),
        cable("in", "panel", "old", origin="existing", ground=ground),
        cable("on", "old", "end", origin="existing", ground=behind),
        lamp,
    )
    assert only(RULE, built, "x").outcome is Outcome.PASS


@pytest.mark.parametrize(
    ("first", "feed", "outcome"),
    [
        # what feeds a box that takes the place of another stays as it was
        ({"origin": "added", "ground": False}, "existing", Outcome.FAIL),
        ({"origin": "existing", "ground": False}, "existing", Outcome.FAIL),
        # what was seen in an old box was seen before the new cable came
        ({"origin": "existing", "ground": False}, "added", Outcome.PASS),
        ({"origin": "added", "ground": False}, "added", Outcome.PASS),
        ({"origin": "existing", "ground": None}, "existing", Outcome.PASS),
    ],
)
def test_that_no_ground_arrives_in_a_box_counts_unless_its_cable_is_new(first, feed, outcome):
    """250.130(C), 250.118: the ground of the wiring method that feeds the box; new cable brings its own."""
    made = circuit(
        box("first", **first),
        box("new", origin="added"),
        cable("feed", "panel", "first", origin=feed),
        cable("run", "first", "new"),
        load("lamp", "new", origin="added"),
    )
    assert only(RULE, made, "lamp").outcome is outcome


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("feed", [True, False, None])
@pytest.mark.parametrize(
    ("kind", "given", "outcome"),
    [
        ("light", {}, Outcome.FAIL),
        ("light", {"replaces": True}, Outcome.FAIL),
        ("light", {"replaces": True, "metal_parts": False}, Outcome.PASS),
        ("fan", {}, Outcome.FAIL),
        ("receptacle", {}, Outcome.FAIL),
    ],
)
def test_no_ground_in_the_box_itself_counts_whatever_its_cable_is_said_to_have(edition, feed, kind, given, outcome):
    """250.4(A)(5), 250.130(C), 410.44: the path to the panel ends where somebody saw none arrive, as where it was cut
    off short at the sheath; exceptions of 410.44 for a light in the place of another stay."""
    made = circuit(
        supply(protection="none"),
        box("old", ground=False),
        cable("in", "panel", "old", origin="existing", ground=feed),
        load("it", "old", origin="added", kind=kind, **given),
    )
    found = only(RULE, made, "it", edition)
    assert found.outcome is outcome
    assert found.needs == ()
    if outcome is Outcome.FAIL:
        assert "box.old.ground" in found.keys


def test_no_ground_in_the_box_of_a_new_driver():
    """250.110: a driver is fixed equipment."""
    made = circuit(box("old", ground=False), cable("in", "panel", "old", origin="existing"), driver("d", "old"))
    assert only(RULE, made, "d").outcome is Outcome.FAIL


@pytest.mark.parametrize(
    ("guess", "feed", "outcome"),
    [
        (True, True, Outcome.PASS),
        (True, None, Outcome.UNDETERMINED),
        (False, True, Outcome.UNDETERMINED),
        (False, False, Outcome.FAIL),
    ],
)
def test_a_guess_at_the_ground_in_the_box_is_no_less_than_no_look(guess, feed, outcome):
    """The print of the cable tells where nobody looked into the box; a guess that a ground arrives takes none of it."""
    made = circuit(
        box("old", ground=guess, known_by={"ground": How.GUESS}),
        cable("in", "panel", "old", origin="existing", ground=feed),
        load("it", "old", origin="added", replaces=False),
    )
    assert only(RULE, made, "it").outcome is outcome


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("feed", "ground", "outcome"),
    [
        ("added", True, Outcome.PASS),
        ("added", False, Outcome.FAIL),
        ("added", None, Outcome.UNDETERMINED),
        ("existing", True, Outcome.PASS),
        ("existing", False, Outcome.CAUTION),
    ],
)
def test_a_new_switch_is_joined_to_a_ground(edition, feed, ground, outcome):
    """404.9(B): switches and dimmers; its exception is for replacements where the wiring brings none."""
    made = circuit(
        box("old", ground=True),
        box("wall", origin=feed),
        cable("in", "panel", "old", origin="existing"),
        cable("loop", "old", "wall", origin=feed, ground=ground, carries="switch loop"),
        control("new", "wall", origin="added", kind="dimmer"),
    )
    found = only(RULE, made, "new", edition)
    assert found.outcome is outcome
    assert found.sources[0].place == "404.9(B)"
    assert ("plate and screws of plastic" in found.says) is (outcome is Outcome.CAUTION)
    assert bool(found.cause) is (outcome is Outcome.FAIL)


def test_a_switch_that_was_there_is_left_alone():
    s = control("s", "w", origin="existing")
    made = circuit(box("w"), cable("in", "panel", "w", origin="existing", ground=False), s)
    assert findings(RULE, made) == []


def in_place_of_a_receptacle(protection="none", feed=None, action="replace", **new):
    old = circuit(
        supply(protection=protection),
        box("wall", ground=False),
        cable("feed", "panel", "wall", **({"origin": "existing", "ground": False, "type": "NM"} | (feed or {}))),
        load("outlet", "wall", kind="receptacle", origin="existing"),
    )
    change = Change(part=Ref("load", "outlet"), action=action, new=new)
    return as_planned(replace(old, changes=(change,)))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("protection", "own", "outcome"),
    [
        ("none", True, Outcome.PASS),
        ("ground-fault", False, Outcome.PASS),
        ("none", False, Outcome.FAIL),
        ("none", None, Outcome.CAUTION),
    ],
)
def test_a_receptacle_in_the_place_of_another_may_do_without_a_ground(edition, protection, own, outcome):
    """406.4(D)(2): of the ground-fault kind, or fed through one, and marked; else one without a ground contact."""
    found = only(RULE, in_place_of_a_receptacle(protection, ground_fault=own), "outlet", edition)
    assert (found.outcome, found.to_come) == (outcome, own is None)
    assert [each.place for each in found.sources] == ["406.4(D)(2)"]
    assert "No Equipment Ground" in found.says


def test_a_receptacle_on_new_cable_needs_a_ground():
    """406.4(D)(2) is about replacements where no ground is; what is new brings one (406.4(A), 250.130(C))."""
    new_feed = {"origin": "added", "type": "NM-B", "ground": False}
    built = in_place_of_a_receptacle(feed=new_feed, ground_fault=True)
    assert only(RULE, built, "outlet").outcome is Outcome.FAIL
    added = circuit(
        box("wall", ground=False),
        cable("feed", "panel", "wall", origin="existing", ground=False),
        load("outlet", "wall", kind="receptacle", origin="added", ground_fault=True),
    )
    assert only(RULE, added, "outlet").outcome is Outcome.FAIL
