"""The locator finds the line of every key that tomllib reads, however it is written."""

import json
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.circuit.locator import Locator

TRICKY = (
    '''# first line
"quoted key" = 1
'literal key' = "a # b"   # comment
dotted.inner."deep \\u0041" = true
text = """
a = 1
[not.a.table]
"""
literal = \'\'\'
b = "2"
\'\'\'
quotes = """x\\"""y""""
list = [ # comment ]
  1, 2,
  [3,
   { a = 4 }], "]",
]
inline = { x = 1, y = { z = [ "a", "b" ] } }
   indented=  2026-03-14

[table] # comment
key = 'it'''
    + "s"
    + """\'
[[many]]
a = 1
[many.sub]
b = 2
[[many.more]]
c = 3
[[many.more]]
c = 4
[[many]]
[many."sub"]
b = 5
[ spaced . header ]
d = 1
"""
)

EXPECTED = {
    ("quoted key",): 2,
    ("literal key",): 3,
    ("dotted",): 4,
    ("dotted", "inner", "deep A"): 4,
    ("text",): 5,
    ("literal",): 9,
    ("quotes",): 12,
    ("list",): 13,
    ("list", 1): 14,
    ("list", 2): 15,
    ("list", 2, 1, "a"): 16,
    ("list", 3): 16,
    ("inline", "y", "z", 1): 18,
    ("indented",): 19,
    ("table",): 21,
    ("table", "key"): 22,
    ("many", 0): 23,
    ("many", 0, "sub", "b"): 26,
    ("many", 0, "more", 1, "c"): 30,
    ("many", 1): 31,
    ("many", 1, "sub", "b"): 33,
    ("spaced", "header", "d"): 35,
    ("absent",): None,
    ("many", 2): None,
}


def test_the_tricky_text_is_toml():
    assert tomllib.loads(TRICKY)["quotes"] == 'x"""y"'


@pytest.mark.parametrize(("path", "line"), EXPECTED.items(), ids=str)
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["unix", "windows"])
def test_lines(path, line, end):
    assert Locator(TRICKY.replace("\n", end)).line_of(path) == line


def paths(value, path=()):
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, child in inside:
        yield (*path, step)
        yield from paths(child, (*path, step))


def test_every_key_of_a_whole_file_is_found_on_a_line_that_holds_its_name():
    text = Path(__file__).with_name("described.circuit.toml").read_text(encoding="utf-8")
    locator, lines = Locator(text), text.splitlines()
    for path in paths(tomllib.loads(text)):
        name = next(step for step in reversed(path) if isinstance(step, str))
        if len(path) == 1 and isinstance(tomllib.loads(text)[name], list):
            continue  # a list of tables as a whole stands nowhere
        line = locator.line_of(path)
        assert line is not None
        assert name in lines[line - 1]


STRINGS = st.text(st.characters(exclude_categories=["Cs"]), max_size=8)
VALUES = st.recursive(
    st.one_of(st.integers(-9, 9), st.booleans(), STRINGS),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(STRINGS, inner, max_size=3)),
    max_leaves=6,
)


def written(value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value).replace("\x7f", "\\u007f")
    if isinstance(value, list):
        return "[\n " + ",\n ".join(map(written, value)) + "\n]" if value else "[ ]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {written(inner)}" for key, inner in value.items()) + "}"
    return str(value)


@given(st.dictionaries(STRINGS, VALUES, max_size=5))
@settings(max_examples=200, deadline=None)
def test_every_path_of_any_document_is_found_where_it_was_written(document):
    text, starts = "", {}
    for key, value in document.items():
        starts[key] = text.count("\n") + 1
        text += f"{json.dumps(key)} = {written(value)} # {key!a}\n"
    try:
        parsed = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return  # json escapes a pair of surrogates in a way that TOML does not take
    locator = Locator(text)
    assert {key: locator.line_of((key,)) for key in parsed} == starts
    assert all(locator.line_of(path) is not None for path in paths(parsed))
