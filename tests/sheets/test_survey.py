"""The survey: blank for the walk, or with only the unknowns of a file left open."""

import io
import re
from datetime import date
from pathlib import Path

import pypdf
import pytest

from circuitcheck.checking import check
from circuitcheck.paper.writing import rendered
from circuitcheck.quantities import How
from circuitcheck.sheets import survey_outline, write_survey
from circuitcheck.tables.rulebook import load_rulebook
from tests.rules.build import box, cable, circuit, exact, guess, load, site, supply

MADE = date(2026, 11, 25)
FORMS = (".txt", ".md", ".html", ".pdf")


def outline(built=None):
    report = check(built, load_rulebook("nec-2023")) if built is not None else None
    return survey_outline(report, built, tool="circuitcheck 0.0", made=MADE)


def text(built=None, form=".txt"):
    return rendered(outline(built), Path("sheet" + form), paper="letter").decode("utf-8")


def flat(built=None):
    return " ".join(text(built).split())


def table_of(built, title):
    section = next(section for section in outline(built).sections if section.title.startswith(title))
    return section.blocks[-1]


@pytest.mark.parametrize("form", FORMS)
def test_a_blank_sheet_in_every_form(tmp_path, form):
    write_survey(None, None, tmp_path / f"sheet{form}", replace=False, made=MADE)
    assert (tmp_path / f"sheet{form}").stat().st_size > 1000


def test_a_blank_sheet_asks_for_what_goes_dark_room_by_room():
    page = text()
    for room in ("hallway", "bathroom", "garage", "attic", "outdoors"):
        assert re.search(rf"^{room} +____", page, re.MULTILINE)
    assert "walk every room" in flat()


def test_a_blank_sheet_has_room_for_panel_cables_boxes_and_readings():
    page = flat()
    for part in (
        "Number on its handle",
        "Cables, as far as they can be seen",
        "Boxes (what is inside",
        "Meter readings",
    ):
        assert part in page


def test_it_says_how_to_read_each_without_opening_anything_first():
    page = flat()
    assert "Nothing on this sheet asks you to open anything first" in page
    assert "The cover of the panel stays on" in page
    assert "Read the print on the sheath" in page


def test_signs_to_stop_can_be_ticked():
    assert "[ ] burning smell" in text()
    assert "none seen" in flat(circuit(box("a"), cable("c", "panel", "a"), site(signs=())))


def known():
    return circuit(
        supply(breaker_a=exact(15, How.LABEL), protection="none", shared_neutral=False),
        box("attic", material="metal", ground=True, neutral=True, location="dry", reachable=True, covered=True),
        cable("feed", "panel", "attic", length_m=guess(10), ambient_c=50),
        load("lamp", "attic", power_w=60, fitted_w=8, switched_by="none yet"),
    )


def test_what_the_file_knows_stands_and_how_it_is_known():
    page = flat(known())
    assert "15 A (◆ label)" in page
    assert "about 10 (≈ guess)" in page


def test_only_the_unknown_is_left_blank():
    for title in ("Every load", "Cables", "Boxes"):
        (row,) = table_of(known(), title).rows
        assert [cell.text for cell in row.cells if cell.blank] == []
    built = circuit(box("attic"), cable("feed", "panel", "attic", size=None, length_m=None), load("lamp", "attic"))
    (cables,) = table_of(built, "Cables").rows
    asked = [column.title for column in table_of(built, "Cables").columns]
    blank = {title for title, cell in zip(asked, cables.cells, strict=True) if cell.blank}
    assert blank == {"size", "Length", "Hottest air"}
    (loads,) = table_of(built, "Every load").rows
    asked = [column.title for column in table_of(built, "Every load").columns]
    blank = {title for title, cell in zip(asked, loads.cells, strict=True) if cell.blank}
    assert blank == {"Label, each: W, VA or A", "Lamp in it today", "Switched by"}


def test_what_decides_an_open_answer_comes_first():
    built = circuit(box("attic"), cable("feed", "panel", "attic", size=None), load("lamp", "attic", power_w=60))
    titles = [section.title for section in outline(built).sections]
    assert titles[1].startswith("Find out first")
    assert "cable.feed.size" in flat(built)
    assert "Find out first" not in text()


def test_the_pdf_is_tagged_and_says_what_it_is_on_every_page():
    reader = pypdf.PdfReader(io.BytesIO(rendered(outline(), Path("sheet.pdf"), paper="a4")))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    for page in reader.pages:
        assert "TO FIND OUT, NOT A PERMISSION TO WORK" in page.extract_text()


@pytest.mark.parametrize("built", [None, known()])
def test_no_word_that_would_be_a_promise(built):
    assert not re.search(r"\b(safe|safely|legal|legally|compliant|approved)\b", text(built), re.IGNORECASE)
