"""What is needed is rounded up and what is there is rounded down, so that no number shown as enough is too small."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitcheck.quantities import (
    beside_limit,
    down_to,
    need_and_room,
    rounded_down,
    rounded_up,
    safe_limit,
    up_to,
)

POSITIVE = st.floats(1e-4, 1e5)
DIGITS = st.integers(1, 6)


# Worked by hand: the next number up or down with so many significant digits, never fewer than the whole part.
@pytest.mark.parametrize(
    ("value", "digits", "up", "down"),
    [
        (32.625, 3, "32.7", "32.6"),
        (32.625, 4, "32.63", "32.62"),
        (32.6, 3, "32.6", "32.6"),
        (2.001, 3, "2.01", "2"),
        (1234.5, 3, "1235", "1234"),
        (0.04321, 2, "0.044", "0.043"),
        (0.0, 3, "0", "0"),
        (-0.125, 2, "-0.12", "-0.13"),
        (9.999, 3, "10", "9.99"),
    ],
)
def test_by_hand(value, digits, up, down):
    assert rounded_up(value, digits) == up
    assert rounded_down(value, digits) == down


def test_float_noise_is_no_digit():
    assert rounded_up(0.1 + 0.2, 3) == "0.3"
    assert rounded_down(0.3 - 1e-17, 3) == "0.3"
    assert rounded_down(3 * 1.1 - 0.3, 3) == "3"
    assert up_to(15.000000000000002, 2) == "15.00"
    assert down_to(14.999999999999998, 2) == "15.00"
    assert down_to(-0.0, 2) == "0.00"


@given(POSITIVE, DIGITS)
def test_up_is_never_less_and_down_never_more(value, digits):
    up, down = float(rounded_up(value, digits)), float(rounded_down(value, digits))
    assert up >= value * (1 - 2e-9)
    assert down <= value * (1 + 2e-9)
    step = 10 ** (math.floor(math.log10(value)) + 1 - digits)
    assert up - down <= min(1, step) * (1 + 1e-6) + 1e-12 or up - down <= 1


@given(POSITIVE, POSITIVE)
def test_need_and_room_keep_their_order(need, room):
    shown_need, shown_room = map(float, need_and_room(need, room))
    if need > room * (1 + 1e-8):
        assert shown_need > shown_room
    elif need < room * (1 - 1e-8):
        assert shown_need <= shown_room


def test_a_hair_over_is_shown_over():
    assert need_and_room(32.625, 32.6) == ("32.7", "32.6")
    assert need_and_room(32.625, 32.65, 4) == ("32.63", "32.65")
    assert need_and_room(32.625, 32.626) == ("32.625", "32.626")
    assert need_and_room(15.0, 15.0) == ("15", "15")


# By hand: with 3 digits a most is cut and a least is raised; where that puts the number on the wrong side, more digits.
@pytest.mark.parametrize(
    ("value", "limit", "at_least", "shown"),
    [
        (10.0, 8.8786, False, ("10", "8.87")),
        (16.0, 15.5, False, ("16", "15.5")),
        (15.004, 15.0, False, ("15.004", "15")),
        (8.8759, 8.8786, False, ("8.876", "8.878")),
        (15.0, 15.0, False, ("15", "15")),
        (15.0 + 1e-12, 15.0, False, ("15", "15")),
        (0.0, 0.0, False, ("0", "0")),
        (5.0, 0.0, False, ("5", "0")),
        (22.4, 22.801, True, ("22.4", "22.9")),
        (22.8, 22.8, True, ("22.8", "22.8")),
        (22.7996, 22.8, True, ("22.7996", "22.8")),
        (22.81, 22.801, True, ("22.81", "22.81")),
    ],
)
def test_a_number_beside_its_limit(value, limit, at_least, shown):
    assert beside_limit(value, limit, at_least=at_least) == shown


@pytest.mark.parametrize(("at_least", "shown"), [(False, "8.87"), (True, "8.88")])
def test_a_limit_alone(at_least, shown):
    assert safe_limit(8.8786, at_least=at_least) == shown


@given(POSITIVE, POSITIVE, st.booleans())
def test_a_number_beside_its_limit_keeps_its_side(value, limit, at_least):
    over = limit - value if at_least else value - limit
    first, last = map(float, beside_limit(value, limit, at_least=at_least))
    if abs(over) > 1e-8 * max(value, limit):
        assert (over > 0) is (first < last if at_least else first > last)
    assert last >= limit * (1 - 2e-8) if at_least else last <= limit * (1 + 2e-8)
