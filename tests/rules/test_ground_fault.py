"""Ground-fault protection: crawl-space lights, receptacles by room and edition, lights outdoors let off (210.8)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.ground_fault import RULE
from tests.rules.build import EDITIONS, book, box, cable, circuit, driver, findings, load, only, site, supply


def built(room, protection="none", kind="light", dwelling=True, **given):
    return circuit(
        supply(protection=protection),
        site(room=room, dwelling=dwelling),
        box("new", origin="added"),
        cable("f", "panel", "new"),
        load("thing", "new", kind=kind, **({"origin": "added"} | given)),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("protection", "outcome"),
    [
        ("ground-fault", Outcome.PASS),
        ("both", Outcome.PASS),
        ("arc-fault", Outcome.FAIL),
        ("none", Outcome.FAIL),
        (None, Outcome.UNDETERMINED),
    ],
)
def test_lights_in_a_crawl_space(edition, protection, outcome):
    found = only(RULE, built("crawl space", protection), "thing", edition)
    assert found.outcome is outcome
    assert (found.needs == ("supply.protection",)) == (outcome is Outcome.UNDETERMINED)


def test_the_clause_on_crawl_spaces_moved_in_2020():
    places = [only(RULE, built("crawl space"), "thing", edition).sources[0].place for edition in EDITIONS]
    assert places == ["210.8(E)", "210.8(C)", "210.8(C)"]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("room", ["outdoors", "bathroom"])
def test_other_lights_are_only_asked_about(edition, room):
    found = only(RULE, built(room, over_bath=False), "thing", edition)
    assert found.outcome is Outcome.PASS
    assert "label" in found.ask[0]


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_bathroom_light_that_may_be_over_the_bath_is_a_caution(edition):
    """Unknown is not "no": the label of a light over the bath may require it."""
    assert only(RULE, built("bathroom"), "thing", edition).outcome is Outcome.CAUTION


def test_over_a_bath_the_label_decides():
    assert only(RULE, built("bathroom", over_bath=True), "thing").outcome is Outcome.CAUTION
    assert only(RULE, built("bathroom", "both", over_bath=True), "thing").outcome is Outcome.PASS


@pytest.mark.parametrize(
    ("room", "in_full"),
    [
        ("bathroom", EDITIONS),
        ("garage", EDITIONS),
        ("basement", ("nec-2020", "nec-2023")),
        ("kitchen", ("nec-2023",)),
    ],
)
@pytest.mark.parametrize("edition", EDITIONS)
def test_receptacles_by_room_and_edition(edition, room, in_full):
    """210.8(A): unfinished basements, kitchen countertops in 2017; all basements in 2020; whole kitchens in 2023."""
    found = only(RULE, built(room, kind="receptacle"), "thing", edition)
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, edition in in_full)
    assert (not found.ask) == (edition in in_full)
    without = only(RULE, built(room, kind="receptacle", ground_fault=False), "thing", edition)
    assert without.outcome is (Outcome.FAIL if edition in in_full else Outcome.CAUTION)
    assert only(RULE, built(room, kind="receptacle", ground_fault=True), "thing", edition).outcome is Outcome.PASS
    assert only(RULE, built(room, "ground-fault", kind="receptacle"), "thing", edition).outcome is Outcome.PASS


def test_an_unknown_room_may_be_a_crawl_space():
    found = only(RULE, built(None), "thing")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.new.room",))
    assert only(RULE, built(None, kind="receptacle"), "thing").outcome is Outcome.CAUTION
    assert only(RULE, built("crawl space", kind=None), "thing").outcome is Outcome.UNDETERMINED


def test_names_may_hold_braces():
    parts = (box("{b}", origin="added", room="crawl space"), load("{x}", "{b}", origin="added"))
    found = only(RULE, circuit(supply(protection="none"), *parts, cable("f", "panel", "{b}")), "{x}")
    assert '"{x}"' in found.says


def test_it_says_nothing_where_it_does_not_apply():
    assert findings(RULE, built("hallway")) == []
    assert findings(RULE, built("bedroom", kind="receptacle")) == []
    assert findings(RULE, built("crawl space", origin="existing")) == []


def test_the_sentence_and_the_question_follow_what_decides():
    """210.8(A): receptacles of some rooms; a light is let off but in a crawl space, unless its label asks for it."""

    def told(room, protection="none", **given):
        return only(RULE, built(room, protection, **given), "thing")

    need = told("garage", kind="receptacle", ground_fault=False)
    assert need.says == '"thing" (garage) needs ground-fault protection, and has none.'
    assert (need.outcome, need.ask) == (Outcome.FAIL, ())
    assert need.keys == ("supply.protection", "box.new.room")
    own = told("garage", kind="receptacle", ground_fault=True)
    assert own.says == '"thing" has ground-fault protection of its own, which a garage requires.'
    whole = told("garage", "both", kind="receptacle", ground_fault=False)
    assert whole.says == 'The circuit of "thing" has ground-fault protection, which a garage requires.'
    bath = told("bathroom", over_bath=True)
    assert "its label may require" in bath.says
    assert bath.keys == ("supply.protection", "load.thing.over_bath")
    assert not told("bathroom", "both", over_bath=True).ask
    assert "requires no ground-fault protection" in told("outdoors").says
    assert findings(RULE, built("hallway", kind="receptacle", ground_fault=False)) == []
    assert findings(RULE, built("office", kind="receptacle", ground_fault=False, dwelling=False)) == []


def test_where_only_some_receptacles_of_a_room_need_it_that_is_asked():
    """In 2017 and 2020 a kitchen's receptacles need it only at the counter and near the sink: 210.8(A)(6), (7)."""
    edition, room = next(
        (edition, items[0])
        for edition in EDITIONS
        if (items := book(edition).value("ground-fault-receptacle-rooms-in-part").items)
    )

    def told(room, protection="none"):
        found = only(RULE, built(room, protection, kind="receptacle", ground_fault=False), "thing", edition)
        return found.outcome, bool(found.ask)

    assert told(room) == (Outcome.CAUTION, True)
    assert told(room, "both") == (Outcome.PASS, False)
    assert told("garage") == (Outcome.FAIL, False)


@pytest.mark.parametrize(
    ("edition", "room", "note", "clauses"),
    [
        # 210.8(A)(5) and (6) of 2017: unfinished basements, kitchen countertops; in 2020 only (6) is in part
        ("nec-2017", "kitchen", "those at kitchen countertops", ["210.8(A)", "210.8(A)(5), (6)"]),
        ("nec-2017", "basement", "in unfinished basements do.", ["210.8(A)", "210.8(A)(5), (6)"]),
        ("nec-2020", "kitchen", "kitchen countertops", ["210.8(A)", "210.8(A)(6)"]),
    ],
)
def test_which_receptacles_of_such_a_room_need_it_is_said(edition, room, note, clauses):
    found = only(RULE, built(room, kind="receptacle", ground_fault=False), "thing", edition)
    assert found.says.startswith(f'"thing" ({room}) may need ground-fault protection: ')
    assert note in found.says
    assert [source.place for source in found.sources] == clauses
    in_full = only(RULE, built("garage", kind="receptacle", ground_fault=False), "thing", edition)
    assert [source.place for source in in_full.sources] == ["210.8(A)"]


@pytest.mark.parametrize("location", ["damp", "wet"])
@pytest.mark.parametrize(
    ("edition", "room", "outcome"),
    [
        ("nec-2017", "hallway", None),
        ("nec-2020", "hallway", Outcome.FAIL),
        ("nec-2023", "hallway", Outcome.FAIL),
        ("nec-2017", "kitchen", Outcome.CAUTION),
        ("nec-2020", "kitchen", Outcome.FAIL),
        ("nec-2023", "kitchen", Outcome.FAIL),
    ],
)
def test_receptacles_in_damp_places_indoors(edition, room, location, outcome):
    """210.8(A) of 2020 and 2023 lists indoor damp and wet locations, 2017 does not."""

    def told(protection="none", **given):
        return findings(
            RULE,
            circuit(
                supply(protection=protection),
                site(room=room),
                box("new", origin="added", location=location),
                cable("f", "panel", "new"),
                load("thing", "new", kind="receptacle", origin="added", **given),
            ),
            edition,
        )

    assert [each.outcome for each in told(ground_fault=False)] == ([] if outcome is None else [outcome])
    if outcome is Outcome.FAIL:
        (found,) = told(ground_fault=False)
        by_place = (edition, room) != ("nec-2023", "kitchen")  # whose list holds all of a kitchen
        assert (f"{location} place" in found.says) is by_place
        assert ("box.new.location" in found.keys) is by_place
        assert [each.to_come for each in told()] == [True]
    assert all(each.outcome is Outcome.PASS for each in (*told(ground_fault=True), *told("both")))


def test_a_dry_place_indoors_needs_none():
    parts = (box("new", origin="added", room="hallway", location="dry"), cable("f", "panel", "new"))
    assert findings(RULE, circuit(*parts, load("thing", "new", kind="receptacle", origin="added"))) == []


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("room", "listed_in"),
    [
        ("bathroom", EDITIONS),
        ("kitchen", EDITIONS),
        ("outdoors", EDITIONS),
        ("garage", EDITIONS),
        ("laundry", ("nec-2020", "nec-2023")),
        ("office", ()),
        ("hallway", ()),
    ],
)
def test_receptacles_outside_of_dwellings(edition, room, listed_in):
    """210.8(B): bathrooms, kitchens, outdoors and garages in all three editions, laundry areas since 2020."""

    def told(**given):
        return [
            each.outcome for each in findings(RULE, built(room, kind="receptacle", dwelling=False, **given), edition)
        ]

    listed = edition in listed_in
    assert told(ground_fault=False) == ([Outcome.FAIL] if listed else [])
    assert told() == ([Outcome.CAUTION] if listed else [])
    assert told(ground_fault=True) == told(protection="both") == ([Outcome.PASS] if listed else [])


@pytest.mark.parametrize("dwelling", [False, None])
def test_a_receptacle_in_a_room_of_which_nothing_is_known(dwelling):
    """The two lists name different rooms: in one or the other it needs protection."""
    found = only(RULE, built(None, kind="receptacle", dwelling=dwelling, ground_fault=False), "thing", "nec-2020")
    assert found.outcome is Outcome.UNDETERMINED
    assert "box.new.room" in found.needs
    kitchen = only(RULE, built("kitchen", kind="receptacle", dwelling=None, ground_fault=False), "thing", "nec-2020")
    assert (kitchen.outcome, kitchen.needs) == (Outcome.UNDETERMINED, ("site.dwelling",))


@pytest.mark.parametrize("edition", EDITIONS)
def test_outside_of_dwellings_some_receptacles_of_basements_need_it(edition):
    """210.8(B): unfinished areas of basements; a finished one is not on the list. Nothing was asked of either."""

    def told(location="dry", **given):
        parts = (box("new", origin="added", location=location), cable("f", "panel", "new"))
        thing = load("thing", "new", kind="receptacle", origin="added", **given)
        shop = circuit(supply(protection="none"), site(room="basement", dwelling=False), *parts, thing)
        return only(RULE, shop, "thing", edition)

    found = told(ground_fault=False)
    assert (found.outcome, len(found.ask)) == (Outcome.CAUTION, 1)
    perhaps_damp = Outcome.CAUTION if edition == "nec-2017" else Outcome.UNDETERMINED
    assert told(None, ground_fault=False).outcome is perhaps_damp
    assert "unfinished" in found.says
    assert told(ground_fault=True).outcome is Outcome.PASS


@pytest.mark.parametrize(
    ("edition", "location", "outcome"),
    [
        ("nec-2017", "damp", None),
        ("nec-2017", "wet", Outcome.FAIL),
        ("nec-2020", "damp", Outcome.FAIL),
        ("nec-2023", "wet", Outcome.FAIL),
    ],
)
def test_wet_places_outside_of_dwellings(edition, location, outcome):
    """210.8(B)(6) of 2017: indoor wet locations; from 2020 on indoor damp and wet ones."""
    parts = (box("new", origin="added", location=location), cable("f", "panel", "new"))
    thing = load("thing", "new", kind="receptacle", origin="added", ground_fault=False)
    shop = circuit(supply(protection="none"), site(room="hallway", dwelling=False), *parts, thing)
    assert [each.outcome for each in findings(RULE, shop, edition)] == ([] if outcome is None else [outcome])


@pytest.mark.parametrize("kind", ["fan", "heater", "other"])
@pytest.mark.parametrize("room", ["outdoors", "porch"])
def test_equipment_wired_in_outdoors_needs_it_since_2020(room, kind):
    """210.8(F): all outlets outdoors at dwellings, but lighting outlets; 2017 has no such section."""

    def told(edition, protection="none", **given):
        return findings(RULE, built(room, protection, kind=kind, **given), edition)

    assert told("nec-2017") == []
    for edition in ("nec-2020", "nec-2023"):
        (found,) = told(edition)
        assert (found.outcome, found.sources[0].place) == (Outcome.FAIL, "210.8(F)")
        assert found.keys == ("supply.protection", "box.new.room")
        assert [each.outcome for each in told(edition, "ground-fault")] == [Outcome.PASS]
        assert [each.outcome for each in told(edition, None)] == [Outcome.UNDETERMINED]
        assert told(edition, connection="cord") == []  # it plugs into a receptacle, which is asked for itself
        assert told(edition, dwelling=False) == []
        assert told(edition, origin="existing") == []


def test_equipment_mounted_outdoors_needs_it_whatever_the_room_of_its_box():
    (found,) = findings(RULE, built("hallway", kind="heater", mounting="outdoors"), "nec-2020")
    assert (found.outcome, found.keys[1]) == (Outcome.FAIL, "load.thing.mounting")
    assert findings(RULE, built("hallway", kind="heater", mounting="wall"), "nec-2020") == []


def test_equipment_wired_in_in_a_garage_is_asked_about_in_2023():
    """210.8(F) of 2023 names garages beside its outlets outdoors, and it is argued whether those in them are meant."""
    assert findings(RULE, built("garage", kind="heater"), "nec-2020") == []
    (found,) = findings(RULE, built("garage", kind="heater"), "nec-2023")
    assert (found.outcome, len(found.ask)) == (Outcome.CAUTION, 1)
    (found,) = findings(RULE, built("garage", "ground-fault", kind="heater"), "nec-2023")
    assert (found.outcome, found.ask) == (Outcome.PASS, ())


def test_what_is_not_known_of_equipment_is_no_kinder_than_what_it_can_be():
    open_room = only(RULE, built(None, kind="heater", connection="hardwired", mounting="wall"), "thing", "nec-2020")
    assert (open_room.outcome, open_room.needs) == (Outcome.UNDETERMINED, ("box.new.room",))
    open_kind = only(RULE, built("outdoors", kind=None), "thing", "nec-2020")
    assert (open_kind.outcome, open_kind.needs) == (Outcome.UNDETERMINED, ("load.thing.kind",))


def test_a_driver_in_a_crawl_space_is_asked_about():
    """210.8(E)/(C): lighting outlets in crawl spaces; whether a driver's outlet is one is not said."""
    parts = (site(room="crawl space"), box("new", origin="added"), cable("f", "panel", "new"))

    def told(protection, **given):
        return only(RULE, circuit(supply(protection=protection), *parts, driver("d", "new", **given)), "d")

    found = told("none", origin="added")
    assert (found.outcome, len(found.ask), found.sources[0].place) == (Outcome.CAUTION, 1, "210.8(C)")
    assert told("ground-fault", origin="added").outcome is Outcome.PASS
    assert findings(RULE, circuit(supply(protection="none"), *parts, driver("d", "new", origin="existing"))) == []
