"""Cable by place: NM-B stays dry (334.12(B)), UF-B may be wet and buried (340.10), AC stays dry (320.12)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cable_place import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, findings, load, low_voltage_load, only, site


def built(kind, place, location=None, **given):
    return circuit(
        box("new", origin="added", location=location, room=place if place in ("outdoors", "crawl space") else None),
        cable("run", "panel", "new", type=kind, place=place, **given),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("kind", "place", "outcome"),
    [
        ("NM-B", "outdoors", Outcome.FAIL),
        ("NM-B", "underground", Outcome.FAIL),
        ("NM-B", "crawl space", Outcome.CAUTION),
        ("UF-B", "outdoors", Outcome.PASS),
        ("UF-B", "underground", Outcome.PASS),
        ("UF-B", "crawl space", Outcome.PASS),
        ("AC", "outdoors", Outcome.FAIL),
        ("MC", "outdoors", Outcome.CAUTION),
        ("THHN in raceway", "outdoors", Outcome.UNDETERMINED),
        ("THHN in raceway", "underground", Outcome.FAIL),
        ("THWN-2 in raceway", "underground", Outcome.PASS),
        (None, "outdoors", Outcome.UNDETERMINED),
    ],
)
def test_kinds_and_places(edition, kind, place, outcome):
    assert only(RULE, built(kind, place), "run", edition).outcome is outcome


@pytest.mark.parametrize(("location", "outcome"), [("damp", Outcome.PASS), ("wet", Outcome.FAIL)])
def test_how_wet_it_is_outdoors_settles_it(location, outcome):
    assert only(RULE, built("THHN in raceway", "outdoors", location), "run").outcome is outcome
    assert only(RULE, built("THHN in raceway", "outdoors"), "run").needs == ("box.new.location",)


def test_where_it_runs_is_asked_for():
    found = only(RULE, built("NM-B", None), "run")
    assert found.outcome is Outcome.UNDETERMINED
    assert "cable.run.place" in found.needs


def test_it_says_nothing_indoors_and_about_what_is_there():
    assert findings(RULE, built("NM-B", "inside", "wet", run="through framing")) == []
    assert findings(RULE, built("NM-B", "attic")) == []
    assert findings(RULE, built("NM-B", "outdoors", origin="existing")) == []


@pytest.mark.parametrize(
    ("place", "marked", "outcome"),
    [
        ("underground", None, Outcome.UNDETERMINED),
        ("underground", False, Outcome.FAIL),
        ("underground", True, Outcome.PASS),
        ("outdoors", False, Outcome.FAIL),
        ("crawl space", False, Outcome.PASS),
    ],
)
def test_class_2_cable_in_wet_places_needs_a_mark(place, marked, outcome):
    # electrician2.com/articles/loc.htm: class 2 cable in wet places is listed for it; plain CL2 is not.
    given = {"type": "class 2 cable", "size": "16 AWG", "run": "through framing", "place": place, "wet_marked": marked}
    light = low_voltage_load("strip", power_w=10, location="wet")
    lead = cable("lead", "driver", "strip", **given)
    made = circuit(box("attic"), cable("feed", "panel", "attic"), driver("driver", "attic"), lead, light)
    found = only(RULE, made, "lead")
    assert found.outcome is outcome
    if marked is None:
        assert found.needs == ("cable.lead.wet_marked",)


@pytest.mark.parametrize("place", ["inside", "crawl space", "underground"])
def test_what_is_buried_is_in_the_ground(place):
    """300.5(B): underground is a wet place; 334.12(B): NM-B may not be there."""
    built = circuit(box("new", origin="added"), cable("run", "panel", "new", place=place, run="buried"))
    assert only(RULE, built, "run").outcome is Outcome.FAIL


@pytest.mark.parametrize(
    ("kind", "place", "location", "words"),
    [
        ("MC", "outdoors", "wet", "depends on its marking"),  # jacketed and marked for it, or not: 330.10(A)(11)
        ("NM-B", "crawl space", None, "only where it is normally dry"),
    ],
)
def test_why_it_is_a_caution_is_said(kind, place, location, words):
    assert words in only(RULE, built(kind, place, location), "run").says


def test_who_knows_is_asked_only_where_the_print_decides():
    assert "jacketed" in only(RULE, built("MC", "outdoors", "wet"), "run").ask[0]
    assert not only(RULE, built("NM-B", "outdoors", "wet"), "run").ask
    assert not only(RULE, built("UF-B", "underground"), "run").ask


def test_where_it_runs_is_said_in_words():
    assert "may not run outdoors" in only(RULE, built("NM-B", "outdoors", "wet"), "run").says
    assert "may not run underground" in only(RULE, built("NM-B", "underground"), "run").says
    assert "may run in a crawl space" in only(RULE, built("UF-B", "crawl space"), "run").says
    assert "place: underground; type: NM-B" in only(RULE, built("NM-B", "inside", run="buried"), "run").working


def test_class_2_cable_without_the_mark_outdoors_of_which_nobody_says_how_wet():
    """Where no water reaches it plain class 2 cable may do; where it is wet only marked cable: a caution."""
    lead = cable("lead", "driver", "strip", type="class 2 cable", size="16 AWG", place="outdoors", wet_marked=False)
    light = low_voltage_load("strip", power_w=10, location="dry")
    made = circuit(box("attic"), cable("feed", "panel", "attic"), driver("driver", "attic"), lead, light)
    found = only(RULE, made, "lead")
    assert found.outcome is Outcome.CAUTION
    assert "only where no water reaches it" in found.says


OPEN = {"run": "on a surface", "concealed": False}


def in_a_basement(kind, location, room="basement", **given):
    return circuit(
        site(room=room),
        box("new", origin="added", location=location),
        cable("run", "panel", "new", type=kind, place="inside", **(OPEN | given)),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("kind", "location", "outcome"),
    [
        ("NM-B", "dry", None),
        ("NM-B", "damp", Outcome.CAUTION),  # normally dry places, no excessive dampness: the inspector's word
        ("NM-B", "wet", Outcome.FAIL),
        ("AC", "damp", Outcome.FAIL),  # 320.12: no damp or wet locations
        ("AC", "wet", Outcome.FAIL),
        ("UF-B", "wet", Outcome.PASS),
        ("THHN in raceway", "damp", Outcome.PASS),
        ("THHN in raceway", "wet", Outcome.FAIL),  # 310.10(C)
        ("NM-B", None, Outcome.CAUTION),
        ("AC", None, Outcome.UNDETERMINED),
    ],
)
def test_open_cable_in_a_damp_or_wet_room(edition, kind, location, outcome):
    """334.10(A) and 334.12(B)(4), 320.12(2): indoors too."""
    run = {"run": "in raceway"} if "raceway" in kind else {}
    found = findings(RULE, in_a_basement(kind, location, **run), edition)
    assert [each.outcome for each in found] == ([] if outcome is None else [outcome])
    if (kind, location) == ("AC", None):
        assert found[0].needs == ("box.new.location",)


@pytest.mark.parametrize("given", [{"concealed": True}, {"run": "through framing"}])
def test_what_is_inside_walls_is_not_asked_about(given):
    assert findings(RULE, in_a_basement("NM-B", "wet", **given)) == []


def test_whether_it_runs_open_is_asked_where_it_is_wet():
    found = only(RULE, in_a_basement("NM-B", "wet", run=None), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.run",))


def test_a_cable_through_the_wall_to_a_light_outdoors_counts_as_inside():
    assert findings(RULE, in_a_basement("NM-B", "wet", room="outdoors")) == []
    outside = circuit(
        site(room="hallway"),
        box("new", origin="added", location="wet"),
        cable("run", "panel", "new", place="inside", **OPEN),
        load("lamp", "new", origin="added", mounting="outdoors"),
    )
    assert findings(RULE, outside) == []


def test_the_end_where_a_cable_starts_counts_too():
    """310.10(C), 300.9: THHN is for dry and damp places; in conduit outdoors it is as wet as where it starts."""
    parts = (box("yard", room="outdoors", location="wet"), cable("feed", "panel", "yard", origin="existing"))
    porch = box("porch", origin="added", room="porch", location="damp")
    run = cable("run", "yard", "porch", type="THHN in raceway", place="outdoors", run="in raceway")
    assert only(RULE, circuit(*parts, porch, run), "run").outcome is Outcome.FAIL


@pytest.mark.parametrize(
    ("kind", "location", "outcome"),
    [
        ("NM-B", "dry", Outcome.PASS),
        ("NM-B", "damp", Outcome.CAUTION),
        ("NM-B", "wet", Outcome.FAIL),
        ("AC", "damp", Outcome.FAIL),
        ("UF-B", "wet", Outcome.PASS),
    ],
)
def test_what_is_known_of_a_crawl_space_settles_it(kind, location, outcome):
    assert only(RULE, built(kind, "crawl space", location), "run").outcome is outcome
