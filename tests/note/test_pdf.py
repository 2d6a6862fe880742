"""The PDF, read back by another library."""

import io
import re
from dataclasses import replace

import pypdf
import pytest

from circuitcheck.paper import pdf_form
from tests.note.build import example, fresh, gallery, noted, small

LETTER, A4 = (612.0, 792.0), (595.28, 841.89)


def read(data):
    return pypdf.PdfReader(io.BytesIO(data))


def words(page):
    return " ".join(page.extract_text().split())


def fonts_in(reader):
    for page in reader.pages:
        for reference in page["/Resources"]["/Font"].values():
            font = reference.get_object()
            for descendant in font.get("/DescendantFonts", [font]):
                yield descendant.get_object()["/FontDescriptor"].get_object()


@pytest.mark.parametrize("name", ["bedroom", "den", "hallway"])
def test_it_is_tagged_titled_and_says_its_language(name):
    root = read(example(name).bytes(".pdf")).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-US"
    assert root["/StructTreeRoot"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]


def test_its_tags_are_headings_tables_and_lists():
    found = set()
    waiting = [read(example("den").bytes(".pdf")).trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        node = waiting.pop().get_object() if hasattr(waiting[-1], "get_object") else waiting.pop()
        if isinstance(node, dict):
            if "/S" in node:
                found.add(node["/S"])
            kids = node.get("/K", [])
            waiting.extend(kids if isinstance(kids, list) else [kids])
    assert {"/H1", "/H2", "/Table", "/TR", "/TH", "/TD", "/L", "/LI", "/P"} <= found


def test_every_font_is_embedded():
    fonts = list(fonts_in(read(example("hallway").bytes(".pdf"))))
    assert fonts
    for font in fonts:
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(font)


@pytest.mark.parametrize(("paper", "size"), [("letter", LETTER), ("a4", A4)])
def test_paper(paper, size):
    for page in read(example("den").bytes(".pdf", paper)).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.5)


@pytest.mark.parametrize("name", ["bedroom", "den", "hallway"])
def test_every_page_says_what_it_is_and_its_number(name):
    pages = read(example(name).bytes(".pdf")).pages
    for number, page in enumerate(pages, 1):
        assert "FOR REVIEW, NOT A CERTIFICATE" in words(page)
        assert f"page {number} of {len(pages)}" in words(page)
        assert "SHA-256 " + "ab" * 6 in words(page)
    assert "ab" * 32 in words(pages[-1])


@pytest.mark.parametrize(("name", "verdict"), [("bedroom", "FITS ON PAPER"), ("hallway", "DOES NOT FIT")])
def test_the_first_page_has_scope_answer_and_diagram(name, verdict):
    first = words(read(example(name).bytes(".pdf")).pages[0])
    for part in (
        "What you are asked",
        verdict,
        "One-line diagram",
        "NEW",
        "Remarks by the reviewer",
        "License or office",
    ):
        assert part in first


def test_a_usual_job_takes_few_pages():
    assert len(read(example("bedroom").bytes(".pdf")).pages) <= 3
    assert len(read(example("hallway").bytes(".pdf")).pages) <= 5


@pytest.mark.parametrize("count", [70, pytest.param(120, marks=pytest.mark.long)])
def test_a_long_table_repeats_its_header(count):
    pages = read(noted(gallery(count, alike=False)).bytes(".pdf")).pages
    with_rows = [words(page) for page in pages if re.search(r"light \d+ light \d\.\d+ W no", words(page))]
    assert len(with_rows) > 1
    for text in with_rows:
        assert "Rated, each" in text


def test_two_hundred_alike_stay_short():
    reader = read(noted(gallery(200)).bytes(".pdf"))
    assert len(reader.pages) <= 5
    assert "198 more alike" in " ".join(words(page) for page in reader.pages)


@pytest.mark.parametrize("count", [70, pytest.param(200, marks=pytest.mark.long)])
def test_many_unlike_lose_nothing(count):
    """Every second cable is of another type, so that no two neighbors are alike."""
    built = gallery(count, alike=False)
    cables = tuple(replace(one, type="UF-B") if number % 2 else one for number, one in enumerate(built.cables))
    pages = read(noted(replace(built, cables=cables)).bytes(".pdf")).pages
    text = " ".join(words(page) for page in pages)
    for number in range(1, count + 1):
        assert f"gallery {number} " in text
        assert f"light {number} " in text


def test_the_same_input_gives_the_same_bytes():
    assert fresh("den").bytes(".pdf") == fresh("den").bytes(".pdf")


def test_its_date_is_the_one_that_was_given():
    assert read(noted(small()).bytes(".pdf")).metadata["/CreationDate"].startswith("D:20261125")


def test_names_in_other_scripts_are_set():
    text = words(read(noted(small(), title="Свет над лестницей, φως, Ærø Łódź").bytes(".pdf")).pages[0])
    assert "Свет над лестницей, φως, Ærø Łódź" in text


def test_a_character_that_no_typeface_has_is_named():
    private = chr(0xE8F3) + chr(0x10FFFD)
    text = words(read(noted(small(), title=f"Odd {private} light").bytes(".pdf")).pages[0])
    assert "Odd [U+E8F3][U+10FFFD] light" in text
    assert "[U+E8F3] is" in text
    assert "[U+10FFFD] is" in text


@pytest.mark.parametrize(
    ("name", "spelled"),
    [
        ("👍\U0001f3fd lamp", "[U+1F44D U+1F3FD] lamp"),
        ("1\ufe0f\u20e3 lamp", "1[U+FE0F U+20E3] lamp"),
        ("👨\u200d👩\u200d👧 lamp", "[U+1F468 U+200D U+1F469 U+200D U+1F467] lamp"),
        ("a\U0001f3fd lamp", "a[U+1F3FD] lamp"),
        ("🇺🇸 lamp", "[U+1F1FA][U+1F1F8] lamp"),
    ],
)
def test_an_emoji_of_several_characters_is_taken_out_whole(name, spelled, monkeypatch):
    # A machine without emoji: only the typefaces inside typst, whatever is installed here.
    compiled = pdf_form._compiled
    rounds = 0

    def without_system_fonts(*arguments, alone):
        nonlocal rounds
        rounds += 1
        assert rounds < 40, "it never ends"
        return compiled(*arguments, alone=True)

    monkeypatch.setattr(pdf_form, "_compiled", without_system_fonts)
    text = words(read(noted(small(), title=f"Odd {name}").bytes(".pdf")).pages[0])
    assert f"Odd {spelled}" in text
    assert f"{spelled.removesuffix(' lamp').split('][')[0].removesuffix(']')}] is" in text


def test_a_complaint_that_names_nothing_in_the_text_ends_too(monkeypatch):
    # Whatever the typesetter complains about, the number of attempts is bounded.
    import typst

    attempts = 0

    def complains(*_, **__):
        nonlocal attempts
        attempts += 1
        raise typst.TypstError('the text `"q"` could not be displayed with font')

    monkeypatch.setattr(pdf_form, "_compiled", complains)
    with pytest.raises(typst.TypstError):
        noted(small(), title="Odd é lamp").bytes(".pdf")
    assert attempts < 2 * pdf_form.MOST_ROUNDS + 3
