"""Cut lengths and supports of single runs, by hand. Spacings: IRC Table E3802.1, NFPA 70-2023, 334.30 and 314.17(B)(2):
every 4-1/2 ft, within 12 in of a box, within 8 in of a single-gang plastic box that does not hold the cable.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitcheck.advice.cutting import cut_list
from circuitcheck.advice.item import bought_words, piece_words
from circuitcheck.advice.supports import Way, supports_of
from circuitcheck.quantities import Interval, in_unit
from tests.rules.build import CUBIC_INCH, FOOT, INCH, book, box, cable, circuit, device

HALF_FOOT_AND_A_QUARTER_INCH = 6.25


def run(**given):
    return circuit(
        box("one"),
        box("two", origin="added", volume_m3=20 * CUBIC_INCH),
        cable("feed", "panel", "one", origin="existing"),
        cable("run", "one", "two", **given),
    )


def only(found):
    (one,) = found
    return one


@pytest.mark.parametrize(
    ("feet", "staples"),
    [
        (1, 1),  # one is within 12 in of both boxes
        (2, 1),
        (3, 2),  # 12 in between the two: one span
        (6.5, 2),  # 54 in between: just one span
        (6.6, 3),
        (11, 3),  # 108 in: two spans
        (20, 5),  # 216 in: four spans
        (20.1, 6),
    ],
)
def test_staples_by_the_tables_own_distances(feet, staples):
    one = only(supports_of(run(length_m=feet * FOOT), book()))
    assert (one.low, one.high) == (staples, staples)


def test_a_range_of_lengths_gives_a_range_of_staples_and_an_unknown_one_an_open_end():
    one = only(supports_of(run(length_m=(11 * FOOT, 20 * FOOT)), book()))
    assert (one.low, one.high) == (3, 5)
    one = only(supports_of(run(length_m=None), book()))
    assert (one.low, one.high) == (1, None)


def test_the_files_own_closer_spacing_is_kept_and_a_wider_one_is_not():
    assert only(supports_of(run(length_m=11 * FOOT, support_spacing_m=3 * FOOT), book())).high == 4
    assert only(supports_of(run(length_m=11 * FOOT, support_spacing_m=9 * FOOT), book())).high == 3


def test_a_single_gang_plastic_box_without_clamps_wants_the_first_staple_closer():
    plain = {"origin": "added", "volume_m3": 20 * CUBIC_INCH, "material": "nonmetallic", "devices": (device(),)}
    built = circuit(
        box("one"),
        box("two", **plain, internal_clamps=False),
        cable("feed", "panel", "one", origin="existing"),
        cable("run", "one", "two", length_m=10 * FOOT),
    )
    one = only(supports_of(built, book()))
    assert [in_unit(near, "in") for near in one.near_m] == pytest.approx([12, 8])


@pytest.mark.parametrize(
    ("how", "way", "low", "high"),
    [
        ("through framing", Way.THROUGH, 2, 2),
        ("fished", Way.FISHED, 0, 0),
        ("in raceway", Way.OTHER, 0, 0),
        ("along framing", Way.STAPLED, 5, 5),
        (None, Way.STAPLED, 5, 5),
    ],
)
def test_holes_in_framing_count_as_supports_and_fished_cable_has_none(how, way, low, high):
    one = only(supports_of(run(length_m=20 * FOOT, run=how), book()))
    assert (one.way, one.low, one.high) == (way, low, high)


def test_metal_armored_cable_is_not_counted_in_staples():
    assert only(supports_of(run(type="MC"), book())).way is Way.OTHER


@given(st.floats(0.2, 200), st.floats(0.2, 200))
def test_a_longer_run_never_takes_fewer_staples(first, second):
    short, long = sorted((first, second))
    counts = [only(supports_of(run(length_m=length), book())).high for length in (short, long)]
    assert counts[0] <= counts[1]


@given(st.floats(0.2, 200))
def test_staples_are_never_farther_apart_than_the_table_allows(length):
    one = only(supports_of(run(length_m=length), book()))
    reach = 2 * 12 * INCH + (one.high - 1) * 54 * INCH
    assert reach >= length - 1e-6


def test_free_conductor_is_the_tables_where_the_file_says_less_or_nothing():
    for said in (None, 4 * INCH):
        cut = only(cut_list(run(length_m=10 * FOOT, free_length_m=said), book()).cuts)
        assert in_unit(cut.extra_m, "in") == pytest.approx(2 * HALF_FOOT_AND_A_QUARTER_INCH)
    cut = only(cut_list(run(length_m=10 * FOOT, free_length_m=9 * INCH), book()).cuts)
    assert in_unit(cut.extra_m, "in") == pytest.approx(2 * 9.25)


def test_a_run_of_unknown_length_stays_open_and_the_rest_is_a_least():
    built = circuit(
        box("one"),
        box("two", origin="added", volume_m3=20 * CUBIC_INCH),
        box("three", origin="added", volume_m3=20 * CUBIC_INCH),
        cable("feed", "panel", "one", origin="existing"),
        cable("known", "one", "two", length_m=10 * FOOT),
        cable("open", "two", "three", length_m=None),
    )
    cuts = cut_list(built, book())
    assert [cut.piece is None for cut in cuts.cuts] == [False, True]
    bought = only(cuts.bought)
    assert bought.open_runs == 1
    assert in_unit(bought.with_waste.high, "ft") == pytest.approx((10 + 12.5 / 12) * 1.1)


def test_a_range_stays_a_range():
    cuts = cut_list(run(length_m=(35 * FOOT, 60 * FOOT)), book())
    bought = only(cuts.bought)
    assert in_unit(bought.pieces.low, "ft") == pytest.approx(35 + 12.5 / 12)
    assert in_unit(bought.pieces.high, "ft") == pytest.approx(60 + 12.5 / 12)


def test_only_one_end_of_a_run_from_the_panel_is_in_a_box():
    built = circuit(box("one", origin="added"), cable("run", "panel", "one", length_m=10 * FOOT))
    cut = only(cut_list(built, book()).cuts)
    assert cut.at_panel
    assert in_unit(cut.extra_m, "in") == pytest.approx(HALF_FOOT_AND_A_QUARTER_INCH)


@pytest.mark.parametrize(
    ("inches", "words"),
    [(328.5, "27 ft 5 in"), (24, "2 ft"), (24.01, "2 ft 1 in"), (7, "7 in"), (24.0000000001, "2 ft")],
)
def test_a_piece_is_never_cut_shorter(inches, words):
    assert piece_words(inches * INCH, inches * INCH, metric=False) == words


def test_lengths_of_a_metric_file_are_metric():
    text = Interval(5.0, 5.0, text="measured 5 m")
    assert cut_list(run(length_m=text), book()).metric
    assert not cut_list(run(length_m=Interval(5.0, 5.0, text="16 ft 5 in")), book()).metric
    assert piece_words(5.341, 6.0, metric=True) == "5.35 m to 6.00 m"
    assert bought_words(5.341, 9.2, metric=True) == "6 to 10 m"


@given(st.floats(0.1, 500))
def test_rounding_up_never_goes_far(length):
    words = bought_words(length, length, metric=True)
    assert int(words.removesuffix(" m")) in (math.ceil(length), math.floor(length))
