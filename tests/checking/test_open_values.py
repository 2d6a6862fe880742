"""What an entry may turn out to be: the words of its key, the ratings of breakers, the ends of a number.

The words, least and greatest values are those of docs/circuit-file.md.
"""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking.open_values import open_values, ref_of
from tests.rules.build import (
    CUBIC_INCH,
    FOOT,
    INCH,
    between,
    book,
    box,
    cable,
    circuit,
    control,
    driver,
    exact,
    guess,
    load,
    supply,
)


def values_of(path, *parts):
    return open_values(path, case_of(circuit(*(parts or (box("b"), cable("feed", "panel", "b")))), book()))


def test_an_id_may_hold_dots():
    assert ref_of("cable.up.to.length") == ("cable", "up.to", "length")
    assert ref_of("supply.voltage") == ("supply", "", "voltage")
    assert ref_of("cable.up.to.nothing") is None
    assert ref_of("box.b.devices.#1.size") is None  # within a list of tables: no entry of its own
    assert values_of("box.b.devices.#1.size") is None
    assert values_of("nothing") is None
    assert values_of("cable.feed.known_by") is None


def test_a_range_is_tried_between_its_ends():
    values = values_of("cable.feed.length", box("b"), cable("feed", "panel", "b", length_m=(3, 5)))
    assert (values.span, values.words, values.bounded) == ((3, 5), (), True)


@pytest.mark.parametrize("length_m", [None, 10.0])  # left out, and settled
def test_a_number_that_nothing_bounds_may_be_all_that_the_file_allows(length_m):
    values = values_of("cable.feed.length", box("b"), cable("feed", "panel", "b", length_m=length_m))
    assert values.span == pytest.approx((0.1 * FOOT, 2000 * FOOT))
    assert not values.bounded


def test_a_volume_that_may_not_be_printed_at_all_may_be_any():
    values = values_of("box.b.volume", box("b", trade_size=None, volume_m3=None, origin="added"))
    assert values.span[0] < 4 * CUBIC_INCH < 100 * CUBIC_INCH < values.span[1]
    assert not values.bounded


def test_of_two_cables_the_one_that_is_meant():
    cables = cable("feed", "panel", "b", length_m=(3, 5)), cable("on", "b", "c", length_m=(6, 7))
    assert values_of("cable.on.length", box("b"), box("c"), *cables).span == (6, 7)
    assert values_of("cable.feed.length", box("b"), box("c"), *cables).span == (3, 5)


def test_between_two_ratings_of_a_breaker_there_is_none():
    # 240.6(A): 15, 20, 25, 30, 35, 40 A
    assert values_of("supply.breaker", supply(breaker_a=(15, 20)), box("b")).words == (15, 20)
    assert values_of("supply.breaker", supply(breaker_a=(25, 40)), box("b")).words == (25, 30, 35, 40)
    assert values_of("supply.breaker", supply(breaker_a=(25, 40)), box("b")).span is None


def test_what_is_taken_for_granted_is_not_tried():
    assert values_of("cable.feed.ambient", box("b"), cable("feed", "panel", "b", ambient_c=None)) is None


def test_words_and_yes_or_no():
    assert values_of("supply.poles", supply(poles=None), box("b")).words == (1, 2)
    assert values_of("box.b.covered").words == (False, True)
    assert values_of("box.b.material").words == ("metal", "nonmetallic")
    assert values_of("cable.feed.size", box("b"), cable("feed", "panel", "b", size=None)).words[0] != "none"
    parts = box("b"), control("k", "b")
    assert values_of("control.k.kind", *parts).words == ("switch", "dimmer", "sensor", "timer", "smart switch")
    assert values_of("control.k.ways", *parts).words == ("single-pole", "three-way", "four-way")


def test_a_count_between_two_ends_is_tried_at_each():
    assert values_of("site.stair_risers").words == tuple(range(41))
    parts = box("b"), load("l", "b", through_wiring_count=None)
    assert values_of("load.l.through_wiring_count", *parts).words == tuple(range(41))


def test_an_entry_that_is_settled_may_be_any_word_of_its_key():
    parts = box("b"), cable("feed", "panel", "b"), load("l", "b", enclosed=True), driver("d", "b")
    assert values_of("load.l.enclosed", *parts).words == (False, True)
    assert values_of("load.l.quantity", *parts).words == tuple(range(1, 14))  # its least, and twelve more
    assert values_of("cable.feed.conductors", *parts).words == tuple(range(1, 14))
    assert "MC" in values_of("cable.feed.type", *parts).words
    assert "10 AWG" in values_of("cable.feed.size", *parts).words
    assert values_of("cable.feed.carries", *parts).words[:2] == ("feed", "switched")
    assert values_of("site.signs", *parts).words[:2] == ((), ("loose pebble insulation",))
    assert values_of("load.l.box", *parts) is None  # nobody tries ids


def test_a_size_that_may_be_absent_is_none_or_one_of_the_sizes():
    words = values_of("box.b.fixture_ground", box("b", fixture_ground=None), load("l", "b")).words
    assert words[0] == "none"
    assert "18 AWG" in words
    assert None not in words


def test_of_a_list_of_ranges_both_ends_are_tried_as_a_whole():
    words = values_of("box.b.extensions", box("b", extensions_m3=(between(1e-4, 2e-4), exact(5e-5)))).words
    assert words == ((1e-4, 5e-5), (2e-4, 5e-5))


def test_a_guess_of_a_number_is_a_quarter_either_way():
    values = values_of("cable.feed.length", box("b"), cable("feed", "panel", "b", length_m=guess(8)))
    assert values.span == pytest.approx((6, 10))
    depth = values_of("box.b.depth", box("b", depth_m=(1 * INCH, 2 * INCH)))
    assert depth.span == pytest.approx((0.0254, 0.0508))
