"""Escapes of Markdown, held against a CommonMark parser."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from circuitcheck.paper.markdown_form import escaped
from circuitcheck.text import shown_text

PARSER = MarkdownIt("commonmark").enable("table").enable("strikethrough")


def shown(source):
    """What a reader sees of a line of Markdown: its text, where it is a paragraph of nothing but text."""
    tokens = PARSER.parse(source)
    assert [token.type for token in tokens] == ["paragraph_open", "inline", "paragraph_close"], source
    children = tokens[1].children
    assert {child.type for child in children} <= {"text", "text_special"}, source
    return "".join(child.content for child in children)


@pytest.mark.parametrize(
    "text",
    ["12.00", "12. item", "- item", "+ item", "# head", "=", "===", "---", "* * *", "> quote", "`code`", "a|b", "_i_",
     "snake_case_key", "__b__", "[x](y)", "![x](y)", "<b>", "&amp;", "http://x.example", "~~s~~", "\\", "a\\*b", "1)",
     "    indented", "\ttab", "[^1]", ":smile:", "$x$", "```", "~~~", "a_", "_", "-", "+", "1.", "-1", "+5 V"],
)  # fmt: skip
def test_it_shows_as_it_is(text):
    assert shown(escaped(text)) == " ".join(shown_text(text).split())


@given(st.text(alphabet=st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=40))
def test_any_text_shows_as_it_is(text):
    plain = " ".join(shown_text(text).split())
    if plain:
        assert shown(escaped(text)) == plain


@given(st.text(alphabet="ab_*`[]()<>|~#-+=.1!&\\ :/", min_size=1, max_size=20))
def test_any_mix_of_markup_shows_as_it_is(text):
    plain = " ".join(text.split())
    if plain:
        assert shown(escaped(text)) == plain
