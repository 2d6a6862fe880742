"""Holes and notches: R602.6 for studs, R502.8.1 for joists, by hand from a 3-1/2 in stud and a 7-1/4 in joist."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.framing_cut import RULE, largest_bit_m
from tests.rules.build import EDITIONS, INCH, circuit, findings, framing, only


def hole(inches, member="stud", depth=3.5, **given):
    plain = {"edge_distance_m": 2.5 * INCH, "doubled": False}
    cut = framing("cut", member=member, cut="hole", depth_m=depth * INCH, diameter_m=inches * INCH, **(plain | given))
    return circuit(cut)


def notch(inches, member="stud", depth=3.5, **given):
    plain = {"notch_length_m": 1 * INCH, "doubled": False}
    sizes = {"depth_m": depth * INCH, "notch_depth_m": inches * INCH}
    cut = framing("cut", member=member, cut="notch", **sizes, **(plain | given))
    return circuit(cut)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("inches", "bearing", "outcome"),
    [
        (1.4, True, Outcome.PASS),  # 40 % of 3-1/2 in
        (1.5, True, Outcome.FAIL),
        (2.1, False, Outcome.PASS),  # 60 % of 3-1/2 in
        (2.2, False, Outcome.FAIL),
        (1.5, None, Outcome.UNDETERMINED),
    ],
)
def test_a_hole_in_a_stud(edition, inches, bearing, outcome):
    assert only(RULE, hole(inches, bearing=bearing), "cut", edition).outcome is outcome


@pytest.mark.parametrize(
    ("inches", "bearing", "outcome"),
    [
        (0.875, True, Outcome.PASS),
        (0.9, True, Outcome.FAIL),
        (1.4, False, Outcome.PASS),
        (1.5, False, Outcome.FAIL),
    ],
)
def test_a_notch_in_a_stud(inches, bearing, outcome):
    assert only(RULE, notch(inches, bearing=bearing), "cut").outcome is outcome


@pytest.mark.parametrize("member", ["joist", "rafter"])
@pytest.mark.parametrize(
    ("cut", "outcome"),
    [
        (hole, {2.4: Outcome.PASS, 2.5: Outcome.FAIL}),  # a third of 7-1/4 in = 2.417 in
        (notch, {1.2: Outcome.PASS, 1.3: Outcome.FAIL}),  # a sixth of 7-1/4 in = 1.208 in
    ],
)
def test_a_joist(member, cut, outcome):
    for inches, expected in outcome.items():
        built = cut(inches, member, 7.25, in_middle_third=False)
        assert only(RULE, built, "cut").outcome is expected


def test_no_notch_in_the_middle_third_of_a_joist():
    assert only(RULE, notch(0.5, "joist", 7.25, in_middle_third=True), "cut").outcome is Outcome.FAIL


def test_an_unknown_place_along_the_joist_asks():
    found = only(RULE, notch(0.5, "joist", 7.25), "cut")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("framing.cut.in_middle_third",))


def test_a_notch_in_a_joist_is_at_most_a_third_of_its_depth_long():
    # a third of 7-1/4 in is 2.417 in
    for inches, outcome in ((2.4, Outcome.PASS), (2.5, Outcome.FAIL)):
        built = notch(0.5, "joist", 7.25, in_middle_third=False, notch_length_m=inches * INCH)
        assert only(RULE, built, "cut").outcome is outcome


def test_an_edge_distance_known_in_part_asks():
    found = only(RULE, hole(1.0, "joist", 7.25, edge_distance_m=(1.5 * INCH, 2.5 * INCH)), "cut")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("framing.cut.edge_distance",))


def test_a_doubled_bearing_stud_takes_sixty_percent():
    assert only(RULE, hole(2.1, bearing=True, doubled=True), "cut").outcome is Outcome.PASS


def test_a_truss_is_never_cut():
    assert only(RULE, circuit(framing("cut", member="truss")), "cut").outcome is Outcome.FAIL


def test_the_edge_of_a_hole_in_a_joist():
    assert only(RULE, hole(1.0, "joist", 7.25, edge_distance_m=1.5 * INCH), "cut").outcome is Outcome.FAIL
    assert only(RULE, hole(1.0, "joist", 7.25, edge_distance_m=2.0 * INCH), "cut").outcome is Outcome.PASS


def test_the_largest_bit_is_the_tighter_of_both_limits():
    # 3-1/2 in stud: 40 % = 1.4 in; 1-1/4 in on both sides leaves 1.0 in, so the electrical limit is the tighter one.
    assert largest_bit_m(3.5 * INCH, 0.40, 1.25 * INCH) == pytest.approx(1.0 * INCH)
    assert largest_bit_m(3.5 * INCH, 0.40, 0.625 * INCH) == pytest.approx(1.4 * INCH)
    assert "1 in (keeps 1.25 in" in " ".join(only(RULE, hole(1.0, bearing=True), "cut").working)


def test_what_is_missing_is_asked():
    found = only(RULE, circuit(framing("cut", member="stud", cut="hole")), "cut")
    assert found.outcome is Outcome.UNDETERMINED
    assert set(found.needs) >= {"framing.cut.depth", "framing.cut.diameter"}


def test_existing_holes_say_nothing():
    assert findings(RULE, circuit(framing("old", origin="existing", member="truss"))) == []


def test_the_middle_third_counts_for_a_joist_and_not_for_a_stud():
    """R502.8.1: no notch in the middle third of a span; a stud stands on its end and has no such place."""
    line = "in the middle third of the span no notch is allowed"
    assert line in only(RULE, notch(0.5, "joist", 7.25, in_middle_third=True), "cut").working
    assert line not in only(RULE, notch(0.5, "joist", 7.25, in_middle_third=False), "cut").working
    assert line not in only(RULE, notch(0.5, "stud", bearing=True, in_middle_third=True), "cut").working
    assert only(RULE, notch(0.5, "stud", bearing=True, in_middle_third=True), "cut").outcome is Outcome.PASS
    assert only(RULE, hole(1.0, "joist", 7.25, in_middle_third=True), "cut").outcome is Outcome.PASS


def test_the_numbers_are_those_of_the_cut_and_its_limit():
    """R602.6: a hole in a bearing stud 40 %, a notch 25 % of 3-1/2 in; a hole in a 7-1/4 in joist a third."""
    for built, value, limit in (
        (hole(1.0, bearing=True), 1.0, 1.4),
        (notch(0.5, bearing=True), 0.5, 0.875),
        (hole(2.0, "joist", 7.25), 2.0, 7.25 / 3),
        (notch(0.5, "joist", 7.25, in_middle_third=True), 0.5, 0.0),
    ):
        found = only(RULE, built, "cut")
        assert (found.value, found.limit, found.unit) == (pytest.approx(value), pytest.approx(limit, abs=2e-3), "in")


def test_the_entries_that_decide_are_named():
    assert only(RULE, hole(1.0, bearing=True), "cut").keys == ("framing.cut.diameter", "framing.cut.depth")
    assert only(RULE, notch(0.5, bearing=True), "cut").keys == ("framing.cut.notch_depth", "framing.cut.depth")


def test_what_is_over_is_said_with_its_own_numbers():
    found = only(RULE, hole(1.0, "joist", 7.25, edge_distance_m=1.5 * INCH), "cut")
    assert "1.5 in from the edge" in found.says
    assert "at least 2 in" in found.says
    long = only(RULE, notch(0.5, "joist", 7.25, in_middle_third=False, notch_length_m=2.5 * INCH), "cut")
    assert "2.5 in long" in long.says


def test_the_largest_bit_for_a_plate_leaves_no_wood_but_what_the_cable_needs():
    # R602.6.1 limits a hole in a bearing plate by its width alone, 50 % of 3.5 in; 1-1/4 in on both sides leaves 1 in
    lines = only(RULE, hole(1, member="plate", bearing=True), "cut").working
    assert lines[-1] == (bit("1 in", "1.75 in"))


def bit(plain, plated):
    return (
        f"largest bit in the middle, without plates: {plain} (keeps 1.25 in on both sides); with steel plates: {plated}"
    )


@pytest.mark.parametrize(
    ("built", "lines"),
    [
        (
            # 40 % of 3-1/2 in = 1.4 in; R602.6: 5/8 in to the edge: 3.5 - 2 x 0.625 = 2.25 in; 300.4: 3.5 - 2.5 = 1 in
            hole(1.0, bearing=True),
            [
                "bearing stud: at most 0.4 of 3.5 in = 1.4 in",
                bit("1 in", "1.4 in"),
            ],
        ),
        (
            # 60 % of 2-1/2 in = 1.5 in, but 5/8 in on both sides leave 1.25 in; 1-1/4 in leave nothing
            hole(1.0, depth=2.5, bearing=False),
            [
                "non-bearing stud: at most 0.6 of 2.5 in = 1.5 in",
                bit("0 in", "1.25 in"),
            ],
        ),
        (
            # R602.6.1: half of a plate, and no distance to its edge: 1.75 in
            hole(1.0, "plate", bearing=True),
            [
                "bearing plate: at most 0.5 of 3.5 in = 1.75 in",
                bit("1 in", "1.75 in"),
            ],
        ),
        (notch(0.5, bearing=True), ["bearing stud: at most 0.25 of 3.5 in = 0.875 in"]),
    ],
)
def test_the_working_shows_the_share_and_the_largest_bit(built, lines):
    assert list(only(RULE, built, "cut").working) == lines


def test_a_limit_is_shown_so_that_what_is_shown_as_enough_is_enough():
    """A third of 7-1/4 in is 2.41667 in: at most 2.41 in. The next to the edge is 1.9949 in, of 2 in."""
    over = only(RULE, hole(2.5, "joist", 7.25), "cut")
    assert "at most 2.41 in" in over.says
    near = only(RULE, hole(1.0, "joist", 7.25, edge_distance_m=1.996 * INCH), "cut")
    assert "is 1.99 in from the edge" in near.says
    large = only(RULE, hole(2.4171, "joist", 7.25), "cut")
    assert "A 2.42 in hole" in large.says
