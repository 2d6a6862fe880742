"""Text in drawings is broken before it leaves them."""

from hypothesis import given
from hypothesis import strategies as st

from circuitcheck.paper.drawing import Drawing, Strip, text_width, wrapped


@given(st.text(max_size=80), st.floats(20, 400))
def test_lines_fit_and_nothing_is_lost(text, width):
    lines = wrapped(text, 10, width)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    for line in lines:
        assert text_width(line, 10) <= width or len(line) == 1


def test_wide_characters_count_wide():
    assert text_width("漢", 10) > text_width("m", 10) > text_width("i", 10)


def test_a_drawing_is_as_tall_as_its_strips():
    assert Drawing(10, (Strip(3, ()), Strip(4.5, ()))).height == 7.5


def test_strips_are_as_high_together_in_every_version_of_python():
    """Ten times 0.1 is 1; added one after the other the floats come to a little less before Python 3.12."""
    assert Drawing(100.0, (Strip(0.1, ()),) * 10).height == 1.0
