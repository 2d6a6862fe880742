"""Lines that are made at the first look, and only once."""

from circuitcheck.checking.lines import Lines


def test_they_are_made_once_and_read_like_a_tuple():
    made = []

    def make():
        made.append(1)
        return ["a", "b"]

    lines = Lines(make)
    assert made == []
    assert list(lines) == ["a", "b"]
    assert (lines[0], lines[1:], len(lines), repr(lines)) == ("a", ("b",), 2, "('a', 'b')")
    assert hash(lines) == hash(("a", "b"))
    assert made == [1]


def test_they_are_equal_to_the_same_lines_and_to_no_others():
    lines = Lines(lambda: ("a", "b"))
    assert lines == ["a", "b"]
    assert lines == ("a", "b")
    assert lines == Lines(lambda: ["a", "b"])
    assert lines != ["a"]
    assert lines != ["b", "a"]
    assert lines != 7
