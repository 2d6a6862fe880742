"""The survey: blank for the walk, or with only the unknowns of a file left open."""

import io
import re
from datetime import date
from pathlib import Path

import pypdf
import pytest

from circuitcheck.checking import check
from circuitcheck.paper import Cell
from circuitcheck.paper.writing import rendered
from circuitcheck.quantities import How
from circuitcheck.sheets import survey_outline, write_survey
from circuitcheck.tables.rulebook import load_rulebook
from tests.rules.build import CUBIC_INCH, box, cable, circuit, exact, guess, load, site, supply

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
        cable("feed", "panel", "attic", carries="feed", length_m=guess(10), ambient_c=50),
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
    assert blank == {"size", "What it does", "Length", "Hottest air"}
    (loads,) = table_of(built, "Every load").rows
    asked = [column.title for column in table_of(built, "Every load").columns]
    blank = {title for title, cell in zip(asked, loads.cells, strict=True) if cell.blank}
    assert blank == {"Label, each: W, VA or A", "Lamp in it today", "Switched by"}


def test_what_decides_an_open_answer_comes_first():
    built = circuit(box("attic"), cable("feed", "panel", "attic", size=None), load("lamp", "attic", power_w=60))
    titles = [section.title for section in outline(built).sections]
    assert titles[1].startswith("Find out first")
    assert "cable “feed”" in flat(built)
    assert "Find out first" not in text()


def test_the_pdf_is_tagged_and_says_what_it_is_on_every_page():
    reader = pypdf.PdfReader(io.BytesIO(rendered(outline(), Path("sheet.pdf"), paper="a4")))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    for page in reader.pages:
        assert "TO FIND OUT, NOT A PERMISSION TO WORK" in page.extract_text()


@pytest.mark.parametrize("built", [None, known()])
def test_no_word_that_would_be_a_promise(built):
    assert not re.search(r"\b(safe|safely|legal|legally|compliant|approved)\b", text(built), re.IGNORECASE)


def test_every_entry_has_a_place_for_how_it_is_known():
    """Circled under the blank: measured, label, guess, not known; a name or a date needs none."""
    page = flat()
    assert "circle how you know it: M measured, L read from a label, G guessed, ? not known" in page
    for title in ("Every load", "Cables", "Boxes", "Switches"):
        table = table_of(None, title)
        ways = [cell.text for cell in table.rows[0].cells]
        assert ways[0] == ""
        assert ways.count("M L G ?") >= 3, title
    panel = next(section for section in outline().sections if section.title.startswith("The breaker"))
    asked = dict(panel.blocks[0].pairs)
    assert asked["Number on its handle or face"].text == "M L G ?"
    assert asked["Slot in the panel"].text == ""


@pytest.mark.parametrize("form", FORMS)
def test_the_place_is_there_in_every_form(form):
    data = rendered(outline(), Path("sheet" + form), paper="letter")
    if form == ".pdf":
        shown = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)
        assert shown.replace(" ", "").count("MLG?") > 100
    else:
        assert data.decode("utf-8").count("M L G ?") > 100


def test_worst_cases_and_guesses_have_room_of_their_own():
    built = circuit(
        box("attic", internal_clamps=None),
        cable("feed", "panel", "attic", length_m=guess(10), ambient_c=None, place="attic"),
        load("lamp", "attic", power_w=60),
    )
    titles = [section.title for section in outline(built).sections]
    assert "Find out besides: so far the worst case is assumed" in titles
    assert "Guesses to verify" in titles
    guesses = table_of(built, "Guesses to verify")
    assert guesses.rows[0].cells[0].text == "cable “feed”: length"
    assert guesses.rows[0].cells[-1].blank
    besides = table_of(built, "Find out besides")
    assert all(row.cells[-1].blank or row.cells[-1].text.startswith("write it under") for row in besides.rows)
    assert ("Hottest air along it", ("cable “feed”",)) in [
        (row.cells[0].text, row.cells[0].more) for row in besides.rows
    ]


def test_finding_out_by_opening_says_what_comes_first():
    """Clamps can only be seen in the open box, so the way to find out carries the caution."""
    built = circuit(
        box("attic", internal_clamps=None, volume_m3=7 * CUBIC_INCH),
        cable("feed", "panel", "attic"),
        load("lamp", "attic", power_w=60),
    )
    first = table_of(built, "Find out first")
    clamps = next(row for row in first.rows if row.cells[0] == Cell("Clamps inside", more=("box “attic”",)))
    assert "breaker off, locked or tagged, and tested dead first" in clamps.cells[1].text
    assert "breaker off, locked or tagged, and tested dead first" in flat()  # in how to read each


def test_the_same_question_about_many_parts_is_one_row():
    """Ninety cables of unknown size and their boxes: a row for each question, which counts the parts it cannot name."""
    parts = [box("b0"), cable("feed", "panel", "b0", size=None)]
    for number in range(1, 90):
        parts.append(box(f"b{number}", internal_clamps=None, volume_m3=7 * CUBIC_INCH))
        parts.append(cable(f"c{number}", f"b{number - 1}", f"b{number}", origin="existing", size=None))
    built = circuit(*parts, load("lamp", "b89", power_w=5))
    first, besides = table_of(built, "Find out first"), table_of(built, "Find out besides")
    titles = [(row.cells[0].text, row.cells[1].text) for row in first.rows]
    assert len(titles) == len(set(titles)) < 20
    clamps = next(row for row in besides.rows if row.cells[0].text == "Clamps inside")
    assert clamps.cells[0].more[0].endswith("and 81 more")


def test_an_answer_has_one_place_to_write_it():
    """The size of the cable and the clamps have a blank in their tables, so that the list of questions points there."""
    built = circuit(box("attic"), cable("feed", "panel", "attic", size=None), load("lamp", "attic", power_w=60))
    size = next(row for row in table_of(built, "Find out first").rows if row.cells[0].text == "Conductor size")
    assert size.cells[-1] == Cell("write it under “Cables”")
    (cables,) = table_of(built, "Cables").rows
    assert cables.cells[4].blank


def test_a_filled_sheet_tells_how_to_read_only_what_it_asks():
    guide = {row.cells[0].text for row in table_of(None, "How to read each").rows}
    filled = {row.cells[0].text for row in table_of(known(), "How to read each").rows}
    assert "Cable: Conductor size" in guide
    assert filled < guide
    assert "Cable: Conductor size" not in filled  # it is known


def test_it_asks_what_only_the_plan_lacks():
    """What the new cable is fed from does not matter to a check that passes, but to what joins what in the box."""
    built = circuit(
        box("attic", material="nonmetallic"),
        cable("feed", "panel", "attic", origin="existing", carries=None),
        box("wall", origin="added", material="nonmetallic"),
        cable("to wall", "attic", "wall", carries=None),
        load("light", "wall", origin="added", power_w=5),
    )
    page = flat(built)
    told = {unknown.key for unknown in check(built, load_rulebook("nec-2023")).unknowns}
    assert "load.light.switched_by" not in told
    (plan,) = [one for one in outline(built).sections if one.title == "Only the plan of the work asks"]
    assert any("settles what joins what in" in line for row in plan.blocks[0].rows for line in row.cells[0].more)
    assert "Only the plan of the work asks" in page


def test_the_other_hot_is_no_question_where_the_neutral_is_not_shared():
    own = circuit(supply(shared_neutral=False, poles=1), box("a"), cable("c", "panel", "a"), load("l", "a"))
    shared = circuit(supply(shared_neutral=True, poles=1), box("a"), cable("c", "panel", "a"), load("l", "a"))
    rows = [{row.cells[0].text for row in table_of(one, "Meter readings").rows} for one in (own, shared)]
    assert len(rows[1] - rows[0]) == 1


def test_a_blank_is_as_high_as_a_pencil_needs():
    """At least 0.35 in, that is 25.2 pt, for every rectangle that is drawn to be written in."""
    reader = pypdf.PdfReader(io.BytesIO(rendered(outline(), Path("sheet.pdf"), paper="letter")))
    high = []
    for page in reader.pages[:2]:
        drawn = page.get_contents().get_data().decode("latin-1")
        for path in re.findall(r" M ([^\n]* c)\nS", drawn):  # with round corners: no line and no box to tick
            ys = [float(y) for y in re.findall(r"[\d.-]+ ([\d.-]+) [mlc]\b", path)]
            high.append(max(ys) - min(ys))
    assert len(high) > 40
    assert min(high) >= 25.1


def test_readings_have_room_for_meter_date_and_what_was_on():
    table = table_of(None, "Meter readings")
    assert [column.title for column in table.columns] == ["Reading", "Value", "Meter", "What was switched on", "Date"]
    assert len(table.rows) == 6  # five entries of the file and one of the reader's own
