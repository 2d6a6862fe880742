"""How a wrong file is told: line, mark under the place, long lines, wide letters, colors, and JSON by its schema."""

import json

import pytest

from circuitcheck.api.report_shape import ProblemsEntry
from circuitcheck.cli.lines import PageStyle
from circuitcheck.cli.problems import problem_lines
from circuitcheck.errors import Problem


def told(style: PageStyle = PageStyle(), **fields) -> list[str]:  # noqa: B008
    entries = {"file": "a.circuit.toml", "line": 7, "key": "cable.feed.length", "says": "wrong"} | fields
    return list(problem_lines([Problem(**entries)], style))


def test_the_mark_stands_under_the_place():
    lines = told(source='length = "12 W"   # what', column=10, width=6)
    assert lines == [
        "a.circuit.toml:7: cable.feed.length: wrong",
        '     7 | length = "12 W"   # what',
        "       |          ^^^^^^",
        "1 problem in a.circuit.toml; nothing was checked.",
    ]


@pytest.mark.parametrize("column", [1, 40, 130, 196])
@pytest.mark.parametrize("width", [1, 5, 300])
@pytest.mark.parametrize("page", [40, 80])
def test_a_long_line_is_cut_around_the_place(column, width, page):
    source = "".join(chr(97 + place % 26) for place in range(200))
    lines = told(PageStyle(width=page), source=source, column=column, width=width)
    shown, mark = next((line, lines[place + 1]) for place, line in enumerate(lines) if line.startswith("     7 | "))
    assert len(shown) <= page
    assert len(mark) <= page
    start = mark.index("^")
    assert shown[start] == source[column - 1]
    assert mark.count("^") == min(width, 200 - column + 1, page - start)


def test_wide_letters_and_control_characters_do_not_shift_the_mark():
    lines = told(source='id = "\u5ba2\u5385\x1b" x', column=12, width=1)
    shown, mark = lines[-3], lines[-2]
    assert "\x1b" not in shown
    # Six letters of ASCII before the text, two wide letters of two cells each, and the escape spelled out.
    cells = sum(2 if ord(letter) > 0x2E80 else 1 for letter in shown[: shown.rindex("x")])
    assert mark.index("^") == cells


def test_colors_only_where_the_page_has_them():
    entries = {"source": 'length = "12 W"', "column": 10, "width": 6, "nearest": "12 ft"}
    assert "\x1b" not in "".join(told(**entries))
    colored = told(PageStyle(color=True), **entries)
    assert sum("\x1b[" in line for line in colored) == 3


def test_the_document_of_a_wrong_file_has_its_shape(run, circuit_file):
    path = circuit_file(('breaker = "15 A"', "breaker = 15 A"), ('volume = "20 in^3"', 'volume = "20 W"'))
    ran = run("check", "--json", path)
    document = ProblemsEntry.model_validate(json.loads(ran.out))
    assert ran.status == 2
    assert [problem.nearest for problem in document.problems] == ['breaker = "15 A"', None]
