"""Colors only where they can be shown and never the only sign; lengths in cells of a terminal."""

import io
import re
import unicodedata

import pytest

from circuitcheck.cli.colors import Color, has_colors, painted
from circuitcheck.cli.lines import PageStyle, cells, ruled, wrapped

CODE = re.compile(r"\x1b\[[0-9;]*m")


class Terminal(io.StringIO):
    """An output that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture(autouse=True)
def plain_environment(monkeypatch) -> None:
    for name in ("NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")


@pytest.mark.parametrize(
    ("terminal", "settings", "expected"),
    [
        (True, {}, True),
        (False, {}, False),
        (True, {"TERM": "dumb"}, False),
        (True, {"NO_COLOR": "1"}, False),
        (True, {"NO_COLOR": ""}, True),  # no-color.org: set and not empty
        (False, {"FORCE_COLOR": "1"}, True),
        (False, {"FORCE_COLOR": "0"}, False),
        (True, {"FORCE_COLOR": "0"}, False),
        (False, {"FORCE_COLOR": ""}, False),
        (True, {"NO_COLOR": "1", "FORCE_COLOR": "1"}, False),
        (False, {"FORCE_COLOR": "1", "TERM": "dumb"}, True),
    ],
)
def test_when_there_are_colors(terminal, settings, expected, monkeypatch) -> None:
    for name, value in settings.items():
        monkeypatch.setenv(name, value)
    assert has_colors(Terminal() if terminal else io.StringIO()) is expected
    assert has_colors(None) is False


def test_colors_add_nothing_that_is_not_said(run, monkeypatch, circuit_file) -> None:
    broken = circuit_file(('breaker = "15 A"', 'breaker = "30 A"'))
    for options in ([], ["--working"], ["--brief"]):
        plain = run("check", broken, *options).out
        assert "\x1b" not in plain
        monkeypatch.setenv("FORCE_COLOR", "1")
        colored = run("check", broken, *options).out
        monkeypatch.delenv("FORCE_COLOR")
        assert CODE.sub("", colored) == plain
        assert painted("✗ FAIL", Color.FAIL) in colored
        assert painted("DOES NOT FIT", Color.FAIL) in colored


def test_json_is_never_colored(run, monkeypatch, circuit_file) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    assert "\x1b" not in run("check", "--json", circuit_file()).out


def test_what_a_user_typed_cannot_color(run, monkeypatch, circuit_file) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    named = circuit_file(('title = "Porch light"', 'title = "\\u001b[31m Porch"'))
    assert "\x1b[31m Porch" not in run("check", named).out
    assert "\\x1b[31m Porch" in run("check", named).out


# Widths by Unicode's East Asian Width (UAX 11): W and F take two cells, marks over a letter none.
@pytest.mark.parametrize(
    ("text", "expected"), [("abc", 3), ("é", 1), ("漢字", 4), ("ｗ", 2), ("e\u0301", 1), ("한글", 4), ("✗ FAIL", 6)]
)
def test_cells(text, expected) -> None:
    assert cells(text) == expected


def test_a_line_of_wide_letters_is_no_wider_than_the_page() -> None:
    text = "上の階の廊下に新しい照明を三つ " * 8
    assert all(unicodedata.east_asian_width(letter) == "W" for letter in text if letter != " ")
    for line in wrapped(text, PageStyle(width=40), indent="    ", bullet="✗ FAIL  "):
        assert 2 * sum(letter > "\u2fff" for letter in line) + sum(letter <= "\u2fff" for letter in line) <= 40
    rule = list(ruled("漢字の題" * 3, PageStyle()))[-1]
    assert rule == "-" * 24


def test_only_the_mark_is_painted_and_the_rest_hangs_as_before() -> None:
    text = "box-fill: " + "a long name of a box " * 6
    plain = wrapped(text, PageStyle(width=60), bullet="✗ FAIL  ")
    colored = wrapped(text, PageStyle(width=60, color=True), bullet="✗ FAIL  ", color=Color.FAIL)
    assert colored[0] == plain[0].replace("✗ FAIL", "\x1b[1;31m✗ FAIL\x1b[0m")
    assert colored[1:] == plain[1:]
