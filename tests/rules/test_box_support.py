"""Boxes and weight: 50 lb for a luminaire box, 6 lb on a wall's device box, 35 lb for an unmarked fan box (314.27)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.box_support import RULE
from tests.rules.build import EDITIONS, POUND, between, box, cable, circuit, findings, load, only


def built(pounds, kind="light", quantity=1, hung="wall", fan="paddle", room="hallway", **given):
    return circuit(
        box("new", **({"origin": "added", "room": room, "mounting": "framing"} | given)),
        cable("f", "panel", "new"),
        load(
            "lamp",
            "new",
            origin="added",
            kind=kind,
            mounting=hung,
            fan=fan if kind == "fan" else None,
            quantity=quantity,
            weight_kg=None if pounds is None else pounds * POUND,
        ),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("pounds", "made_for", "outcome"),
    [
        (50, "luminaire", Outcome.PASS),
        (50.1, "luminaire", Outcome.FAIL),
        (6, "device", Outcome.PASS),
        (6.1, "device", Outcome.FAIL),
    ],
)
def test_the_two_limits(edition, pounds, made_for, outcome):
    found = only(RULE, built(pounds, made_for=made_for), "new", edition)
    assert found.outcome is outcome
    assert found.value == pytest.approx(pounds)


@pytest.mark.parametrize(
    ("pounds", "made_for", "outcome"),
    [
        (35, "fan", Outcome.PASS),
        (36, "fan", Outcome.FAIL),
        (20, "luminaire", Outcome.FAIL),
        (20, None, Outcome.UNDETERMINED),
    ],
)
def test_fans(pounds, made_for, outcome):
    assert only(RULE, built(pounds, kind="fan", hung="ceiling", made_for=made_for), "new").outcome is outcome


@pytest.mark.parametrize(("pounds", "outcome"), [(5, Outcome.PASS), (20, Outcome.UNDETERMINED), (60, Outcome.FAIL)])
def test_a_box_of_unknown_kind_decides_between_6_and_50_lb(pounds, outcome):
    assert only(RULE, built(pounds), "new").outcome is outcome


@pytest.mark.parametrize(("pounds", "outcome"), [(5, Outcome.PASS), (20, Outcome.UNDETERMINED)])
def test_a_retrofit_box_may_be_listed_for_6_lb_only(pounds, outcome):
    found = only(RULE, built(pounds, made_for="luminaire", mounting="retrofit"), "new")
    assert found.outcome is outcome


@pytest.mark.parametrize(("pounds", "outcome"), [(5, Outcome.PASS), (20, Outcome.UNDETERMINED)])
def test_a_box_of_which_nobody_knows_how_it_is_held_may_be_a_retrofit_box(pounds, outcome):
    """Box listings: a box held by the wall finish may be made for 6 lb, so the mark is read before more hangs on it."""
    found = only(RULE, built(pounds, made_for="luminaire", mounting=None), "new")
    assert found.outcome is outcome
    assert not found.needs or "box.new.support_limit" in found.needs


def test_a_marked_limit_goes_before_the_book():
    assert only(RULE, built(20, made_for="luminaire", support_limit_kg=15 * POUND), "new").outcome is Outcome.FAIL


def test_a_device_box_that_is_marked_for_less_holds_no_more_than_its_mark():
    """314.27(A)(1) lets it hold 6 lb without a mark; what is stamped on a box counts for each kind."""
    marked = {"made_for": "device", "support_limit_kg": 4 * POUND}
    assert only(RULE, built(4, **marked), "new").outcome is Outcome.PASS
    assert only(RULE, built(4.5, **marked), "new").outcome is Outcome.FAIL
    assert only(RULE, built(6.1, **(marked | {"support_limit_kg": 50 * POUND})), "new").outcome is Outcome.FAIL


@pytest.mark.parametrize("hung", ["cabinet", "recessed"])
def test_a_light_that_is_fastened_elsewhere_asks_nothing_of_its_box(hung):
    """314.27(A) is about boxes at which a luminaire is held; a cabinet holds its own (410.36)."""
    assert findings(RULE, built(12, made_for=None, hung=hung)) == []
    found = only(RULE, built(12, made_for="device", hung=None), "new")
    assert (found.outcome, "load.lamp.mounting" in found.needs) == (Outcome.UNDETERMINED, True)


def test_weights_add_up():
    assert only(RULE, built(4, made_for="device", quantity=2), "new").outcome is Outcome.FAIL


def test_unknown_weight_asks():
    found = only(RULE, built(None, made_for="luminaire"), "new")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.lamp.weight",))


def test_existing_lights_say_nothing():
    assert findings(RULE, circuit(box("old"), load("old lamp", "old"))) == []


def test_a_range_across_the_limit_names_what_is_ranged():
    heavy = circuit(
        box("new", origin="added", made_for="luminaire", mounting="framing"),
        cable("f", "panel", "new"),
        load("lamp", "new", origin="added", kind="light", mounting="wall", weight_kg=between(40 * POUND, 60 * POUND)),
    )
    found = only(RULE, heavy, "new")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.lamp.weight",))
    marked = only(RULE, built(30, made_for="luminaire", support_limit_kg=between(20 * POUND, 40 * POUND)), "new")
    assert (marked.outcome, marked.needs) == (Outcome.UNDETERMINED, ("box.new.support_limit",))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("mounting", ["ceiling", "pendant"])
def test_a_device_box_holds_no_light_overhead(edition, mounting):
    """314.27(A)(1) exception: on a wall; (A)(2): ceiling boxes are made for luminaires."""
    assert only(RULE, built(2, made_for="device", hung=mounting), "new", edition).outcome is Outcome.FAIL


@pytest.mark.parametrize(
    ("pounds", "made_for", "outcome"),
    [
        (5, "device", Outcome.UNDETERMINED),  # on a wall up to 6 lb, on the ceiling of a porch nothing
        (5, "junction", Outcome.UNDETERMINED),
        (7, "device", Outcome.FAIL),
        (7, "luminaire", Outcome.PASS),
    ],
)
def test_a_light_outdoors_may_be_on_a_wall_or_overhead(pounds, made_for, outcome):
    """314.27(A)(1) exception: on a wall; (A)(2): ceiling boxes are made for luminaires."""
    found = only(RULE, built(pounds, made_for=made_for, hung="outdoors", room="outdoors"), "new")
    assert found.outcome is outcome
    assert bool(found.ask) is (outcome is Outcome.UNDETERMINED)


def test_where_the_light_of_a_device_box_hangs_is_asked():
    found = only(RULE, built(2, made_for="device", hung=None), "new")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.lamp.mounting",))


@pytest.mark.parametrize(
    ("marked", "made_for", "outcome"),
    [
        (50, "fan", Outcome.PASS),
        (100, "fan", Outcome.FAIL),
        (50, "luminaire", Outcome.FAIL),
        (50, None, Outcome.UNDETERMINED),
    ],
)
def test_a_fan_box_by_its_mark(marked, made_for, outcome):
    """314.27(C): marked for fans, and for the weight over 35 lb; 70 lb is the most for any."""
    pounds = 75 if marked == 100 else 45
    limit = {"support_limit_kg": marked * POUND}
    found = only(RULE, built(pounds, kind="fan", hung="ceiling", made_for=made_for, **limit), "new")
    assert found.outcome is outcome


@pytest.mark.parametrize(
    ("pounds", "hung", "outcome"), [(6, "wall", "pass"), (6.1, "wall", "fail"), (2, "ceiling", "fail")]
)
def test_another_box_holds_a_small_light_on_a_wall(pounds, hung, outcome):
    """314.27(A)(1) exception: on a vertical surface up to 6 lb on other boxes, by two No. 6 screws or larger."""
    assert (
        only(RULE, built(pounds, made_for="junction", hung=hung, support_limit_kg=50 * POUND), "new").outcome == outcome
    )


def test_an_unknown_box_under_a_ceiling_light_is_asked_about():
    """The exception for 6 lb is for walls."""
    found = only(RULE, built(4, hung="ceiling"), "new")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.new.made_for",))


def test_an_exhaust_fan_needs_no_fan_box():
    """314.27(C) is about paddle fans; (D) holds other equipment as a light of its weight."""
    given = {"kind": "fan", "hung": "ceiling", "made_for": "luminaire"}
    assert only(RULE, built(9, fan="exhaust", **given), "new").outcome is Outcome.PASS
    assert only(RULE, built(9, fan=None, **given), "new").needs == ("load.lamp.fan",)
    given["made_for"] = "junction"
    assert [only(RULE, built(lb, fan="exhaust", **given), "new").outcome for lb in (6, 7)] == [
        Outcome.PASS,
        Outcome.FAIL,
    ]


class TestCeilingBoxesForFans:
    """314.27(C): from 2020 a ceiling box in a habitable room of a dwelling where a paddle fan could hang is listed for
    one, or gives access to framing; in 2017 only where a spare, separately switched hot is brought.
    """

    def found(self, edition="nec-2020", **given):
        given = {"hung": "ceiling", "made_for": "luminaire", "room": "bedroom", "mounting": "retrofit"} | given
        return only(RULE, built(2, support_limit_kg=50 * POUND, **given), "new", edition)

    @pytest.mark.parametrize(("edition", "outcome"), [("nec-2017", "pass"), ("nec-2020", "fail"), ("nec-2023", "fail")])
    def test_where_a_fan_could_hang(self, edition, outcome):
        assert self.found(edition, fan_could_hang=True).outcome == outcome

    def test_asked_where_nobody_says(self):
        assert self.found().needs == ("box.new.fan_could_hang",)

    @pytest.mark.parametrize(
        "given", [{"fan_could_hang": False}, {"made_for": "fan"}, {"room": "hallway"}, {"hung": "wall"}]
    )
    def test_not_elsewhere(self, given):
        assert self.found(**{"fan_could_hang": True} | given).outcome is Outcome.PASS

    def test_framing_within_reach_is_a_question(self):
        found = self.found(mounting="framing", fan_could_hang=True)
        assert found.outcome is Outcome.UNDETERMINED
        assert found.ask


def test_beside_a_light_that_was_there_an_added_one_counts_with_it():
    """314.27(A)(1): the box holds all of it. 4 lb and 3 lb on a wall's device box of 6 lb."""
    there = load("old lamp", "new", mounting="wall", weight_kg=3 * POUND)
    parts = [*built(4, made_for="device").loads, there]
    both = circuit(box("new", room="hallway", made_for="device"), cable("f", "panel", "new"), *parts)
    found = only(RULE, both, "new")
    assert (found.outcome, found.value) == (Outcome.FAIL, pytest.approx(7))


@pytest.mark.parametrize(
    ("made", "says"),
    [
        ({"pounds": 20, "made_for": "luminaire"}, 'Box "new" holds "lamp": 20 lb of 50 lb.'),
        ({"pounds": 51, "made_for": "luminaire"}, 'Box "new" may hold 50 lb, and "lamp" weighs 51 lb.'),
        (
            {"pounds": 20, "made_for": "luminaire", "kind": "fan", "hung": "ceiling"},
            'Box "new" is made for a luminaire, and a paddle fan needs a box marked for fans ("lamp").',
        ),
        (
            {"pounds": 4, "made_for": "device", "hung": "ceiling"},
            'Box "new" is made for a device, which may hold a light on a wall only ("lamp").',
        ),
    ],
)
def test_why_it_does_or_does_not_do(made, says):
    found = only(RULE, built(**made), "new")
    assert found.says == says
    assert found.keys == ("box.new.made_for",)


def test_the_working_names_what_hangs_there_and_how_the_box_is_held():
    found = only(RULE, built(20, made_for="luminaire", mounting="bar hanger"), "new")
    assert list(found.working) == [
        "on box new: lamp",
        "weight: 20 lb",
        "box made for: luminaire; held by: bar hanger; may hold 50 lb",
    ]


def test_what_hangs_on_no_box_is_not_weighed():
    """314.27: a recessed light rests on the ceiling, and what has a cord stands or hangs elsewhere."""
    assert findings(RULE, built(90, made_for="device", hung="recessed")) == []
    parts = box("new", origin="added"), cable("f", "panel", "new")
    assert findings(RULE, circuit(*parts, load("l", "new", origin="added", connection="cord", weight_kg=90))) == []
    assert findings(RULE, circuit(*parts, load("l", "new", origin="added", kind="receptacle", weight_kg=90))) == []


def hung(*loads, cables=(2,), edition="nec-2023", **given):
    """A box in a dwelling with what hangs on it, fed by cables of so many conductors."""
    runs = [cable(f"c{place}", "panel", "new", conductors=count) for place, count in enumerate(cables[:1])]
    ends = [cable(f"d{place}", "new", f"end {place}", conductors=count) for place, count in enumerate(cables[1:])]
    boxes = [box(each.to_id) for each in ends]
    made = {"origin": "added", "room": "bedroom", "mounting": "framing"} | given
    return only(RULE, circuit(box("new", **made), *boxes, *runs, *ends, *loads), "new", edition)


def lamp(name="lamp", **given):
    plain = {"origin": "added", "kind": "light", "mounting": "wall", "weight_kg": 2 * POUND}
    return load(name, "new", **(plain | given))


FAN = {"kind": "fan", "fan": "paddle", "mounting": "ceiling"}


def test_a_fan_beside_a_light_is_held_as_a_fan():
    """314.27(C): the box of a paddle fan is marked for one, whatever else hangs there."""
    found = hung(lamp(), lamp("fan", **FAN), made_for="luminaire")
    assert (found.outcome, found.limit) == (Outcome.FAIL, 0)
    assert "needs a box marked for fans" in found.says
    assert hung(lamp(), lamp("fan", **FAN), made_for="fan").limit == pytest.approx(35)


def test_one_light_overhead_is_enough_to_ask_for_a_luminaire_box():
    """314.27(A)(2): ceiling boxes are made for luminaires; a device box holds none overhead: 0 lb."""
    found = hung(lamp(), lamp("above", mounting="ceiling"), made_for="device", fan_could_hang=False)
    assert (found.outcome, found.limit) == (Outcome.FAIL, 0)


def test_one_added_light_overhead_makes_it_a_box_for_a_fan_to_come():
    """314.27(C) of 2020: it is the place in the ceiling that counts; what hangs beside on a wall changes nothing."""
    found = hung(
        lamp("there", origin="existing"),
        lamp("above", mounting="ceiling"),
        made_for="luminaire",
        mounting="retrofit",
        support_limit_kg=50 * POUND,
        fan_could_hang=True,
    )
    assert found.outcome is Outcome.FAIL
    assert found.keys == ("box.new.made_for", "box.new.fan_could_hang")


@pytest.mark.parametrize(
    ("cables", "asks"), [((2,), False), ((3,), True), ((2, 3), True), ((3, 2), True), ((2, 2), False), ((4,), True)]
)
def test_a_spare_hot_at_the_box_is_asked_about_in_2017(cables, asks):
    """314.27(C) of 2017: where spare, separately switched, ungrounded conductors are provided: a third conductor."""
    found = hung(lamp(mounting="ceiling"), cables=cables, edition="nec-2017", made_for="luminaire", fan_could_hang=True)
    assert found.outcome is (Outcome.UNDETERMINED if asks else Outcome.PASS)
    assert any("spare" in question for question in found.ask) is asks
    no_fan = hung(
        lamp(mounting="ceiling"), cables=cables, edition="nec-2017", made_for="luminaire", fan_could_hang=False
    )
    assert no_fan.outcome is Outcome.PASS


def test_what_says_so_and_what_to_do():
    """314.27(A) for the light; (C) for a fan that may come; of a new box the carton is read, of an old one its mark."""
    plain = hung(lamp(weight_kg=60 * POUND), made_for="luminaire")
    assert not any("314.27(C)" in source.place for source in plain.sources)
    assert plain.to_do[0].startswith("Read on the carton of the new box")
    old = hung(lamp(weight_kg=60 * POUND), made_for="luminaire", origin="existing")
    assert old.to_do[0].startswith("Read the marking in the box")
    to_come = hung(lamp(mounting="ceiling"), made_for="luminaire", mounting="retrofit", fan_could_hang=True,
                   support_limit_kg=50 * POUND)  # fmt: skip
    assert any("314.27(C)" in source.place for source in to_come.sources)


@pytest.mark.parametrize("edition", EDITIONS)
def test_an_exhaust_fan_that_may_turn_out_to_be_a_light_is_judged_as_the_light(edition):
    """314.27(A)(2): overhead a light of 5 lb wants a luminaire box; (D): other equipment may hang on a device box."""
    new = box("new", origin="added", room="bathroom", mounting="framing", made_for="device")
    hung = {"origin": "added", "mounting": "ceiling", "fan": "exhaust", "weight_kg": 5 * POUND}
    outcomes = []
    for kind in ("light", "fan", None):
        made = circuit(new, cable("f", "panel", "new"), load("lamp", "new", kind=kind, **hung))
        found = only(RULE, made, "new", edition)
        outcomes.append(found.outcome)
    assert outcomes == [Outcome.FAIL, Outcome.PASS, Outcome.UNDETERMINED]
    assert found.needs == ("load.lamp.kind",)
