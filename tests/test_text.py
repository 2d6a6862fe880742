"""Text from people can neither hide nor reorder what is shown, and reaches outputs that know few characters."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitcheck.text import plain_text, shown_number, shown_text


@pytest.mark.parametrize(
    ("given_text", "shown"),
    [
        ("attic", "attic"),
        ("[red]attic[/]", "[red]attic[/]"),
        ("a\x1b[31mb", "a\\x1b[31mb"),
        ("a\u202eb", "a\\u202eb"),
        ("a\u2066b\u2069", "a\\u2066b\\u2069"),
        ("a\nb", "a\\x0ab"),
        ("a\u2028b", "a\\u2028b"),
        ("a\ufeffb", "a\\ufeffb"),
        ("a\ud800b", "a\\ud800b"),
        ("a\U000e0041b", "a\\U000e0041b"),
        ("a\x9b2Jb", "a\\x9b2Jb"),
        ("מסדרון", "מסדרון"),
        ("走廊", "走廊"),
        ("👩\u200d🔧", "👩\u200d🔧"),
        ("1\ufe0f\u20e3", "1\ufe0f\u20e3"),
        ("🏳\ufe0f\u200d🌈", "🏳\ufe0f\u200d🌈"),
        ("می\u200cخواهم", "می\u200cخواهم"),
        ("a\u200db", "a\\u200db"),
        ("a\ufe0f", "a\\ufe0f"),
        ("\u200d", "\\u200d"),
        ("a\u3164b", "a\\u3164b"),
        ("a\u115fb", "a\\u115fb"),
        ("a\u1160b", "a\\u1160b"),
        ("a\uffa0b", "a\\uffa0b"),
        ("a\u2800b", "a\\u2800b"),
        ("a\u034fb", "a\\u034fb"),
    ],
)
def test_invisible_characters_are_spelled_out(given_text: str, shown: str) -> None:
    assert shown_text(given_text) == shown


def test_line_ends_stay_where_asked() -> None:
    assert shown_text("a\r\nb\x07\nc", keep_lines=True) == "a\nb\\x07\nc"


@given(st.text())
def test_nothing_that_is_shown_moves_the_cursor(text: str) -> None:
    shown = shown_text(text)
    assert shown_text(shown) == shown
    assert not any(ord(character) < 32 or 0x7F <= ord(character) < 0xA0 for character in shown)


@given(st.text())
def test_every_text_reaches_an_ascii_output(text: str) -> None:
    assert plain_text(text, "ascii").isascii()


def test_plain_spelling_is_readable() -> None:
    assert plain_text("✗ 6 × 2.00 ≥ 12.00 in³ … 60 °C", "ascii") == "X 6 x 2.00 >= 12.00 in^3 ... 60 degC"
    assert plain_text("✗ 6 × 2.00", "utf-8") == "✗ 6 × 2.00"


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (0.0, "0"),
        (16.0, "16"),
        (15.5, "15.5"),
        (12.345, "12.3"),
        (1234.5, "1234"),
        (0.09674, "0.0967"),
        (-3.14159, "-3.14"),
    ],
)
def test_numbers_are_short(value: float, shown: str) -> None:
    assert shown_number(value) == shown


@given(st.floats(min_value=1e-6, max_value=1e9))
def test_a_shown_number_is_within_half_a_digit(value: float) -> None:
    assert math.isclose(float(shown_number(value)), value, rel_tol=0.00501)
