"""Closets (410.16), insulation (410.116), combustible surfaces, the zone over a bath (410.10(D))."""

from itertools import combinations, product

import pytest

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.findings import Outcome
from circuitcheck.rules.site.clearance import RULE
from circuitcheck.tables.rulebook import load_rulebook
from tests.rules.build import EDITIONS, INCH, between, box, cable, circuit, findings, load, low_voltage_load, site


def told(room="hallway", **given):
    built = circuit(
        site(room=room),
        box("new", origin="added"),
        cable("f", "panel", "new"),
        load("lamp", "new", origin="added", **({"mounting": "wall"} | given)),
    )
    return findings(RULE, built)


def outcomes(room="hallway", **given):
    return [finding.outcome for finding in told(room, **given)]


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"lamp": "LED", "enclosed": True, "closet_distance_m": 12 * INCH}, [Outcome.PASS]),
        ({"lamp": "LED", "enclosed": True, "closet_distance_m": 11 * INCH}, [Outcome.FAIL]),
        # whether the lamp is enclosed decides whether the kind is allowed at all; the distance counts only then
        ({"lamp": "LED", "closet_distance_m": 12 * INCH}, [Outcome.UNDETERMINED]),
        ({"lamp": "LED", "enclosed": False, "closet_distance_m": 12 * INCH}, [Outcome.FAIL]),
        ({"lamp": "LED", "enclosed": False, "closet_marked": True, "mounting": "ceiling"}, [Outcome.PASS]),
        ({"lamp": "fluorescent", "closet_distance_m": 6 * INCH}, [Outcome.PASS]),
        ({"lamp": "fluorescent", "closet_distance_m": 5 * INCH}, [Outcome.FAIL]),
        (
            {
                "lamp": "LED",
                "enclosed": True,
                "mounting": "recessed",
                "closet_distance_m": 6 * INCH,
                "insulation_contact": True,
            },
            [Outcome.PASS, Outcome.PASS],
        ),
        ({"lamp": "incandescent", "enclosed": False}, [Outcome.FAIL]),
        ({"lamp": "LED", "enclosed": True, "mounting": "pendant"}, [Outcome.FAIL]),
        (
            {"lamp": "incandescent", "enclosed": None, "closet_distance_m": 12 * INCH},
            [Outcome.UNDETERMINED],
        ),
        ({"lamp": "LED", "enclosed": True, "closet_distance_m": (10 * INCH, 14 * INCH)}, [Outcome.UNDETERMINED]),
        ({"lamp": "LED", "enclosed": True}, [Outcome.CAUTION]),
    ],
)
def test_closets(given, expected):
    assert outcomes("closet", **given) == expected


@pytest.mark.parametrize(
    ("given", "outcome"),
    [
        ({"insulation_contact": True}, Outcome.PASS),
        ({"in_insulation": False}, Outcome.PASS),
        ({}, Outcome.UNDETERMINED),
    ],
)
def test_recessed_lights_and_insulation(given, outcome):
    assert outcomes(mounting="recessed", **given)[0] is outcome


def test_a_recessed_light_not_marked_for_insulation_keeps_off_it():
    given = {"mounting": "recessed", "insulation_contact": False, "combustible_distance_m": INCH}
    assert outcomes(in_insulation=False, **given) == [Outcome.PASS, Outcome.PASS]
    assert outcomes(in_insulation=True, **given) == [Outcome.FAIL, Outcome.PASS]


@pytest.mark.parametrize(
    ("contact", "inches", "expected"),
    [
        (False, 0.5, [Outcome.PASS]),
        (False, 0.4, [Outcome.FAIL]),
        (False, None, [Outcome.CAUTION]),
        (True, 0.0, []),
        (None, 0.4, [Outcome.UNDETERMINED]),
        (None, None, [Outcome.CAUTION]),
    ],
)
def test_half_an_inch_from_wood_unless_marked_for_contact(contact, inches, expected):
    """410.116(A): recessed parts of a light that is no type IC."""
    distance = None if inches is None else inches * INCH
    found = outcomes(
        mounting="recessed", in_insulation=False, insulation_contact=contact, combustible_distance_m=distance
    )
    assert found[1:] == expected


@pytest.mark.parametrize(("has", "outcome"), [(3, Outcome.PASS), (2, Outcome.FAIL), (None, Outcome.CAUTION)])
def test_what_burns(has, outcome):
    distance = None if has is None else has * INCH
    assert outcomes(combustible_clearance_m=3 * INCH, combustible_distance_m=distance) == [outcome]


@pytest.mark.parametrize(("inches", "outcome"), [(96, Outcome.PASS), (90, Outcome.FAIL), (None, Outcome.UNDETERMINED)])
def test_hanging_lights_over_a_bath(inches, outcome):
    height = None if inches is None else inches * INCH
    assert outcomes("bathroom", over_bath=True, mounting="pendant", height_over_bath_m=height) == [outcome]


def test_a_hanging_light_in_a_bathroom_is_asked_about_the_zone():
    assert outcomes("bathroom", mounting="pendant") == [Outcome.UNDETERMINED]
    assert outcomes("bathroom", mounting="pendant", over_bath=False) == []
    assert outcomes("bathroom", connection="cord", over_bath=True, height_over_bath_m=60 * INCH) == [Outcome.FAIL]


def test_a_plain_wall_light_says_nothing():
    assert outcomes(mounting="wall") == []


def test_the_clauses_on_closets_moved_in_2023():
    built = circuit(
        site(room="closet"),
        box("new", origin="added"),
        cable("f", "panel", "new"),
        load("lamp", "new", origin="added", mounting="wall", lamp="LED", enclosed=True, closet_distance_m=11 * INCH),
    )
    found = {edition: findings(RULE, built, edition)[0] for edition in EDITIONS}
    assert [one.outcome for one in found.values()] == [Outcome.FAIL] * len(EDITIONS)
    assert [one.sources[0].place for one in found.values()] == ["410.16(C)", "410.16(C)", "410.16(D)"]


def test_a_label_that_is_a_range_fails_only_where_all_of_it_does():
    # A guessed clearance of 4 in stands for 3 to 5 in: 3.5 in may be enough, 2.5 in is not.
    def judged(inches):
        lamp = load("l", "b", origin="added", mounting="wall", combustible_clearance_m=between(3 * INCH, 5 * INCH),
                    combustible_distance_m=inches * INCH)  # fmt: skip
        return findings(RULE, circuit(box("b", room="hallway"), cable("c", "panel", "b"), lamp))[0]

    assert judged(2.5).outcome is Outcome.FAIL
    assert (judged(3.5).outcome, judged(3.5).needs) == (Outcome.UNDETERMINED, ("load.l.combustible_clearance",))
    assert judged(5).outcome is Outcome.PASS


def strip(room, **given):
    light = {"power_per_length_w_per_m": 10.0, "length_m": 2.0, "room": room, "kind": "resistor"} | given
    return [finding.outcome for finding in findings(RULE, circuit(site(room=room), low_voltage_load("strip", **light)))]


def test_low_voltage_lights_meet_the_rules_of_closets_and_baths():
    """410.16 and 410.10(D) speak of luminaires, whatever their voltage (Article 100, luminaire)."""
    assert strip("closet", enclosed=False, closet_marked=False, mounting="cabinet") == [Outcome.FAIL]
    assert strip("closet", enclosed=False, closet_marked=True, mounting="cabinet") == [Outcome.PASS]
    assert strip("closet", enclosed=True, closet_distance_m=12 * INCH, closet_marked=False) == [Outcome.PASS]
    assert strip("closet", enclosed=True, closet_distance_m=11 * INCH, closet_marked=False) == [Outcome.FAIL]
    bath = {"over_bath": True, "height_over_bath_m": 90 * INCH}
    assert strip("bathroom", mounting="pendant", **bath) == [Outcome.FAIL]
    assert strip("bathroom", **bath) == []  # a strip is fixed along something
    assert strip("hallway", mounting="wall") == []


def test_where_it_is_mounted_is_asked_before_what_only_recessed_lights_have():
    built = circuit(box("new", origin="added"), cable("f", "panel", "new"), load("lamp", "new", origin="added"))
    needs = {key for finding in findings(RULE, built) for key in finding.needs}
    assert needs == {"load.lamp.mounting"}


def test_what_is_unknown_in_a_closet_is_asked():
    found = [
        finding.needs
        for finding in findings(
            RULE,
            circuit(
                site(room="closet"),
                box("new", origin="added"),
                cable("f", "panel", "new"),
                load("lamp", "new", origin="added", mounting="ceiling", lamp="LED", closet_distance_m=12 * INCH),
            ),
        )
    ]
    assert found == [("load.lamp.enclosed",)]


def test_of_a_distance_between_two_ends_the_shorter_one_is_the_worse():
    """A clearance is the least that must be kept; so is the end that is told."""
    (found,) = told(combustible_clearance_m=6 * INCH, combustible_distance_m=(4 * INCH, 8 * INCH))
    assert found.outcome is Outcome.UNDETERMINED
    assert (found.value, found.low, found.high) == pytest.approx((4, 4, 8))
    (unread,) = told(combustible_clearance_m=6 * INCH, combustible_distance_m=None)
    assert unread.low is None


@pytest.mark.parametrize(("lamp", "words"), [("LED", "an open LED lamp"), ("halogen", "an open hot lamp")])
def test_the_open_lamp_is_called_by_its_kind(lamp, words):
    (found,) = told("closet", lamp=lamp, enclosed=False)
    assert words in found.says


def test_what_decides_about_a_light_in_a_closet_is_named():
    (open_lamp,) = told("closet", lamp="LED", enclosed=False)
    assert open_lamp.keys == ("load.lamp.lamp", "load.lamp.enclosed", "load.lamp.closet_marked")
    (hung,) = told("closet", lamp="LED", enclosed=True, mounting="pendant")
    assert hung.keys == ("load.lamp.mounting",)
    (near,) = told("closet", lamp="LED", enclosed=True, closet_distance_m=11 * INCH)
    assert (near.keys, near.limit) == (("load.lamp.closet_distance",), pytest.approx(12))
    (recessed,) = told("closet", lamp="fluorescent", closet_distance_m=5 * INCH)
    assert recessed.limit == pytest.approx(6)


# 410.16 tells pendants and recessed lights from all others, LED and fluorescent lamps from all others; 410.116 is about
# recessed lights, 410.10(D) about those that hang.
@pytest.mark.parametrize("key", ["mounting", "lamp"])
def test_of_words_that_are_alike_the_answer_is_the_same(key):
    words, alike = SECTIONS["load"].keys[key].words, RULE.alike[f"load.{key}"]
    apart = {alike(word, load_rulebook("nec-2023")) for word in words}
    assert len(apart) == 3
    other = {"lamp": ("LED", "fluorescent", "halogen"), "mounting": ("wall", "recessed", "pendant")}
    other.pop(key)
    ((name, values),) = other.items()
    for value, enclosed, marked, over_bath, contact in product(values, *[(False, True)] * 4):
        given = {
            name: value,
            "enclosed": enclosed,
            "closet_marked": marked,
            "closet_distance_m": 8 * INCH,
            "over_bath": over_bath,
            "height_over_bath_m": 90 * INCH,
            "insulation_contact": contact,
            "in_insulation": True,
            "combustible_distance_m": 1 * INCH,
        }
        said = {
            word: [(each.outcome, each.value, each.limit) for each in told("closet", **given, **{key: word})]
            for word in words
        }
        for one, another in combinations(words, 2):
            if alike(one, load_rulebook("nec-2023")) == alike(another, load_rulebook("nec-2023")):
                assert said[one] == said[another], (one, another, given)


def test_of_many_lights_of_which_nothing_is_known_the_same_is_asked_of_the_last():
    lights = range(30)
    built = circuit(
        site(room=None),
        *(box(f"b{number}", origin="added", room=None) for number in lights),
        *(cable(f"c{number}", "panel", f"b{number}") for number in lights),
        *(load(f"l{number}", f"b{number}", origin="added", mounting=None, lamp=None) for number in lights),
    )
    named = {each.subject: each.needs for each in findings(RULE, built) if "of a kind" in each.says}
    assert named["l0"] == ("box.b0.room",)
    assert named["l29"] == ("box.b29.room",)
