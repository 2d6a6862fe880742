"""Whatever somebody writes into a text of the circuit file shows as that text on both sheets, in every form."""

import io
import re
from functools import cache

import pypdf
import pytest

from circuitcheck.text import shown_text
from tests.note.test_injection import NASTY, Page, with_text
from tests.sheets.build import bytes_of, plan, survey, text_of

SHEETS = {"plan": plan, "survey": survey}


@pytest.fixture(scope="module", params=SHEETS)
def sheet(request):
    return cache(lambda text: SHEETS[request.param](with_text(text)))


@pytest.mark.parametrize("text", NASTY)
def test_html_has_the_same_elements_whatever_the_texts_say(sheet, text):
    page, usual = Page(text_of(sheet(text), ".html")), Page(text_of(sheet("plain"), ".html"))
    assert page.open == usual.open == []
    assert page.tags == usual.tags
    assert any(f"T {shown_text(text)}" in one for one in page.texts)


@pytest.mark.parametrize("text", NASTY)
def test_plain_text_and_markdown_have_nothing_invisible(sheet, text):
    for form in (".txt", ".md"):
        page = text_of(sheet(text), form)
        assert shown_text(page, keep_lines=True) == page


@pytest.mark.parametrize("text", NASTY)
def test_pdf_shows_the_text_itself(sheet, text):
    reader = pypdf.PdfReader(io.BytesIO(bytes_of(sheet(text), ".pdf")))
    shown = re.sub(r"\s", "", "".join(page.extract_text() for page in reader.pages))
    assert re.sub(r"\s", "", f"T {shown_text(text)}") in shown
    for page in reader.pages:
        assert "/Annots" not in page
