"""A text that is no TOML: every slip is told at once, with its line, and what else is wrong beside them."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.toml_slips import mended
from circuitcheck.errors import CircuitFileError

#: Each slip with the line that was meant, typed by hand; None: the writer has to say what was meant.
SLIPS = [
    ("rulebook = nec-2023", 'rulebook = "nec-2023"'),
    ("voltage = 120 V   # nominal", 'voltage = "120 V"   # nominal'),
    ("title = “Two lights”", 'title = "Two lights"'),
    ("title = ‘Two lights’", "title = 'Two lights'"),
    ('breaker: "15 A"', 'breaker = "15 A"'),
    ('serves "general lighting"', 'serves = "general lighting"'),
    ('device = "breaker', 'device = "breaker"'),
    ("device = 'breaker", 'device = "breaker"'),
    ('room = bedroom"', 'room = "bedroom"'),
    ("shared_neutral = no", "shared_neutral = false"),
    ("shared_neutral = True", "shared_neutral = true"),
    ('depth = 1-1/2"', 'depth = "1-1/2\\""'),
    ('length = "5\' 6""', 'length = "5\' 6\\""'),
    ('x = "C:\\loft"', 'x = "C:\\\\loft"'),
    ('fittings = ["stud"', 'fittings = ["stud"]'),
    ('devices = [{ kind = "switch" }', 'devices = [{ kind = "switch" }]'),
    ("[supply", "[supply]"),
    ("[[box]", "[[box]]"),
    ("[[box", "[[box]]"),
    ('power = "9 W" 8', None),
    ("date = 2026-02-30", None),
    ("Reading lights in the loft", None),
    ("=", None),
    ("]]", None),
]


@pytest.mark.parametrize(("line", "meant"), SLIPS, ids=[line for line, _ in SLIPS])
def test_one_slip(line, meant):
    text = f'format = 1\n[job]\nplace = "here"\n{line}\nprepared_by = "somebody"\n'
    rest = mended(text)
    assert [(slip.line, slip.meant) for slip in rest.slips] == [(4, meant)]
    assert rest.document is not None
    assert rest.document["format"] == 1
    if meant is not None:
        assert rest.text == text.replace(line, meant)


def test_a_list_over_several_lines_is_closed_where_it_ends():
    text = '[[box]]\nextensions = [\n  "4 in^3",\n  "5 in^3"\nid = "a"\n[[cable]]\nid = "b"\n'
    rest = mended(text)
    assert [(slip.line, slip.meant) for slip in rest.slips] == [(4, '"5 in^3"]')]
    assert rest.document == {"box": [{"extensions": ["4 in^3", "5 in^3"], "id": "a"}], "cable": [{"id": "b"}]}


ALL = """format = 1
[job]
title = “Two lights”
rulebook = nec-2023
[supply
voltage = 120 V
breaker = "15 W"
shared_neutral = no
poles = 1
poles = 2
[[box]]
id = "a"
trade_size = "4 octagon"
[[cable]]
id = "feed
from = "panel"
to = "a"
"""


def test_all_slips_are_told_at_once_and_whatever_else_is_wrong(vocabulary):
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(ALL, "some.circuit.toml", vocabulary)
    told = [(problem.line, problem.nearest) for problem in caught.value.problems]
    assert told == [
        (3, 'title = "Two lights"'),
        (4, 'rulebook = "nec-2023"'),
        (5, "[supply]"),
        (6, 'voltage = "120 V"'),
        (7, None),
        (8, "shared_neutral = false"),
        (10, None),
        (13, None),
        (15, 'id = "feed"'),
    ]
    lines = ALL.split("\n")
    assert all(problem.source == lines[problem.line - 1] for problem in caught.value.problems)


def test_an_entry_that_was_left_out_is_not_called_missing(vocabulary):
    """The rulebook stands in the file, only not as TOML; nobody has to hear that it is missing."""
    text = (
        ALL.replace("nec-2023", '"nec-2023" 8')
        .replace('"15 W"', '"15 A"')
        .replace('"4 octagon"', '"4 x 1-1/2 octagon"')
    )
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(text, "some.circuit.toml", vocabulary)
    assert not any("is missing" in problem.says for problem in caught.value.problems if problem.line == 2)


PIECES = st.sampled_from(
    [
        "[",
        "]",
        "{",
        "}",
        '"',
        "'",
        "=",
        ",",
        "#",
        "\n",
        "a",
        "[[box]]",
        "id",
        " ",
        "1",
        "true",
        '"""',
        "“",
        "\\",
        ".",
        ":",
    ]
)


@given(st.lists(PIECES, max_size=40).map("".join))
@settings(max_examples=300, deadline=None)
def test_whatever_is_written_the_mended_text_is_toml_or_given_up(text):
    try:
        tomllib.loads(text)
        return
    except tomllib.TOMLDecodeError:
        rest = mended(text)
    assert rest.slips
    assert all(1 <= slip.line <= text.count("\n") + 1 for slip in rest.slips)
    assert rest.document is None or tomllib.loads(rest.text) == rest.document
