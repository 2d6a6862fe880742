"""Whatever somebody writes into a text of the circuit file shows as that text in every form."""

import html.parser
import io
import re
from dataclasses import fields, replace
from functools import cache

import pypdf
import pytest
from markdown_it import MarkdownIt

from circuitcheck.circuit.model import Circuit
from circuitcheck.note import sheet
from circuitcheck.text import shown_text
from tests.note.build import noted
from tests.rules.build import box, cable, circuit, control, driver, framing, load, low_voltage_load, site, supply

NASTY = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "</title></style></svg>",
    "{{ 7*7 }} {% raw %} {# x #}",
    '#let x = 1; $x^2$ #image("x") *b* _i_ `c` @ref <label>',
    "a | b | `c|d` \\| **bold** [x](http://x.example) ![i](y)",
    "- list\n\n# heading\n```\nfence\n```",
    "1. one",
    "~~~ --- ===",
    "&amp; &lt; &#60;",
    "\x1b[31mred\x07\x00end",
    "left \u202etfel\u2066 right \u200b zero",
    "http://x.example/?a=1&b=2",
    "\\u{41} \\n \\",
)

#: Words of the file that the reader takes from a list; everything else that is text is the user's own.
WORDS = {"rulebook", "known_by", "file"}


def everything():
    return circuit(
        supply(panel="P", slot="S"),
        site(),
        box("b1", internal_clamps=True),
        box("b2", origin="added"),
        cable("c1", "panel", "b1", origin="existing"),
        cable("c2", "b1", "b2"),
        load("l1", "b1", power_w=60),
        load("l2", "b2", power_w=9, origin="added", switched_by="s1"),
        control("s1", "b2", kind="switch"),
        driver("d1", "b2"),
        low_voltage_load("v1", power_w=5),
        cable("c3", "d1", "v1", size="18 AWG"),
        framing("f1", cable="c2", member="stud", depth_m=0.09, cut="hole", diameter_m=0.05),
    )


IDS = ("b1", "b2", "c1", "c2", "c3", "l1", "l2", "s1", "d1", "v1", "f1")


@cache
def with_text(text):
    """The circuit with every id and every free text made of ``text``."""
    names = {name: f"{name} {text}" for name in IDS}
    built = everything()
    changed = {}
    for field in fields(Circuit):
        value = getattr(built, field.name)
        if isinstance(value, tuple):
            changed[field.name] = tuple(renamed(part, names) for part in value)
    changed["supply"] = replace(built.supply, panel=f"P {text}", slot=f"S {text}")
    changed["job"] = replace(built.job, title=f"T {text}", place=f"L {text}", prepared_by=f"B {text}", date=f"D {text}")
    changed["file"] = f"F {text}"
    return replace(built, **changed)


def renamed(part, names):
    return replace(
        part,
        **{
            field.name: names[getattr(part, field.name)]
            for field in fields(part)
            if isinstance(getattr(part, field.name), str) and getattr(part, field.name) in names
        },
    )


class Page(html.parser.HTMLParser):
    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.tags, self.texts, self.open = [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, tuple(sorted(name for name, _ in attrs))))
        if tag not in {"meta", "col", "br"}:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, tuple(sorted(name for name, _ in attrs))))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] != "style":
            self.texts.append(data)


@pytest.fixture(scope="module", autouse=True)
def first_page_holds_all():
    """How many rows fit on the first page goes by how long the texts are: here it takes them all."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(sheet, "LEAST_LINES", 10_000)
        yield


@pytest.fixture(scope="module")
def plain(first_page_holds_all):
    return note_with("plain")


@cache
def note_with(text):
    """The note of such a circuit, made once for all its forms, when the first page holds all."""
    return noted(with_text(text))


@pytest.mark.parametrize("text", NASTY)
def test_html_has_the_same_elements_whatever_the_texts_say(text, plain):
    page, usual = Page(note_with(text).text(".html")), Page(plain.text(".html"))
    assert page.open == usual.open == []

    def without_drawing(tags):  # longer texts take more lines in the drawing, nothing else
        return [tag for tag in tags if tag[0] != "text"]

    assert without_drawing(page.tags) == without_drawing(usual.tags)
    assert f"T {shown_text(text)}" in page.texts
    for name in ("b1", "c1", "l2"):
        assert any(f"{name} {shown_text(text)}" in one for one in page.texts)


@pytest.mark.parametrize("text", NASTY)
def test_markdown_has_the_same_blocks_whatever_the_texts_say(text, plain):
    parser = MarkdownIt("commonmark").enable("table").enable("strikethrough")

    def shape(source):
        tokens = parser.parse(source)
        blocks = [(token.type, token.tag) for token in tokens]
        inline = [child.type for token in tokens for child in token.children or []]
        return blocks, inline

    blocks, inline = shape(note_with(text).text(".md"))
    usual_blocks, usual_inline = shape(plain.text(".md"))
    assert blocks == usual_blocks
    assert set(inline) == set(usual_inline)
    assert not {"link_open", "image", "code_inline", "s_open", "em_open"} & set(inline)
    assert inline.count("html_inline") == usual_inline.count("html_inline")  # our own line breaks in cells


@pytest.mark.parametrize("text", NASTY)
def test_plain_text_has_nothing_invisible(text):
    page = note_with(text).text(".txt")
    assert shown_text(page, keep_lines=True) == page
    heading = page.split("\n")[1:3]
    assert "".join(heading).replace(" ", "").startswith(f"T {shown_text(text)}".replace(" ", "")[:60])


@pytest.mark.parametrize("text", NASTY)
def test_pdf_shows_the_text_itself(text):
    reader = pypdf.PdfReader(io.BytesIO(note_with(text).bytes(".pdf")))
    shown = re.sub(r"\s", "", "".join(page.extract_text() for page in reader.pages))
    assert re.sub(r"\s", "", f"T {shown_text(text)}") in shown
    for page in reader.pages:
        assert "/Annots" not in page
    assert "/Names" not in reader.trailer["/Root"]
