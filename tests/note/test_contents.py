"""What stands on the note and in which order."""

import re

import pytest

from circuitcheck.findings import Verdict
from circuitcheck.outcomes import VERDICT_WORD
from circuitcheck.paper import Table
from circuitcheck.quantities import How
from circuitcheck.safety import ONE_LINE
from tests.note.build import FORMS, example, gallery, noted, small
from tests.rules.build import box, cable, circuit, driver, exact, guess, load, low_voltage_load, site, supply

TITLES = [
    "What you are asked",
    "Problems and cautions, one row a cause",
    "One-line diagram",
    "Remarks by the reviewer",
    "Job and panel",
    "Loads and their share of the breaker",
    "Box fill worksheet",
    "Conductors: ampacity with each factor",
    "Voltage drop",
    "Fixture schedule",
    "Method",
    "Unknowns, and the cheapest way to find out",
    "Guesses and assumptions",
    "Sketch",
    "Photos to bring",
    "Other questions",
    "Sources by section, National Electrical Code, 2020",
    "Before anything is opened",
]


def flat(text):
    return " ".join(text.split())


def test_the_parts_stand_in_the_order_in_which_they_are_read():
    assert [section.title for section in example("den").outline.sections if section.title] == TITLES


@pytest.mark.parametrize("form", [".txt", ".md", ".html"])
def test_every_form_has_every_part_in_that_order(form):
    text = example("den").text(form)
    places = [text.index(title, text.index("<main>") if form == ".html" else 0) for title in TITLES]
    assert places == sorted(places)


@pytest.mark.parametrize("form", [".txt", ".md", ".html"])
def test_cautions_stand_first_and_last(form):
    text = flat(example("hallway").text(form))
    assert text.index(ONE_LINE.split(";")[0]) < text.index("Room of the new lights")  # on the first page
    last = text.rindex("stop and call a licensed electrician")
    assert last > text.rindex("Remarks by the reviewer")


@pytest.mark.parametrize("name", ["bedroom", "den", "hallway"])
@pytest.mark.parametrize("form", [".txt", ".md", ".html"])
def test_no_word_that_would_be_a_promise(name, form):
    assert not re.search(r"\b(safe|safely|legal|legally|compliant|approved)\b", example(name).text(form), re.IGNORECASE)


@pytest.mark.parametrize("form", [".txt", ".md", ".html"])
def test_it_says_what_it_is_at_the_top_and_at_the_bottom(form):
    text = example("hallway").text(form).lower()
    assert text.count("for review, not a certificate") >= 2


@pytest.mark.parametrize(
    ("name", "verdict"),
    [("bedroom", Verdict.FITS), ("den", Verdict.UNDETERMINED), ("hallway", Verdict.DOES_NOT_FIT)],
)
def test_the_answer_is_the_verdict_in_words(name, verdict):
    assert f"=> {VERDICT_WORD[verdict]}" in example(name).text(".txt")


def test_file_and_note_can_be_matched():
    digest = "0123456789abcdef" * 4
    for form in (".txt", ".md", ".html"):
        assert digest in noted(small(), digest=digest).text(form)
        assert "circuitcheck 0.0" in noted(small(), digest=digest).text(form)
        assert "2026-11-25" in noted(small(), digest=digest).text(form)


def test_how_a_value_is_known_stands_beside_it_as_mark_and_word():
    built = circuit(
        box("attic"),
        cable("feed", "panel", "attic", length_m=guess(15)),
        load("a", "attic", power_w=exact(60, How.LABEL)),
        load("b", "attic"),
        supply(measured_voltage_v=exact(118.4, How.MEASURED)),
    )
    text = flat(noted(built).text(".txt"))
    assert "118.4 V (● measured)" in text
    assert "60 W (◆ label)" in text
    assert "about 15 (≈ guess)" in text
    assert "watts ? not known" in text


def test_who_owns_who_works_and_the_permit_are_questions():
    text = noted(circuit(box("a"), cable("c", "panel", "a"), load("l", "a", power_w=9), site(work_by="owner"))).text(
        ".txt"
    )
    assert re.search(r"Does the owner live there\?: +\?\s+not known", text)
    assert re.search(r"Who does the work\?: +owner", text)
    assert re.search(r"Permit\?: +\?\s+not known", text)


def test_the_load_table_adds_up():
    # 60 W and 2 × 40 W at 120 V and power factor 1: 0.50 A and 0.67 A, together 1.17 A of 15 A (Ohm's law by hand).
    built = circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        load("old", "attic", power_w=60),
        load("new", "attic", power_w=40, quantity=2, origin="added"),
    )
    text = noted(built).text(".txt")
    assert re.search(r"old +light .* 60 +0\.50 +3 %", text)
    assert re.search(r"new +light .* 80 +0\.67 +4 %", text)
    assert re.search(r"All +140 +1\.17 +8 %", text)


def test_the_box_count_stands_line_by_line():
    # Two 14-2 cables with ground, clamps: 4 wires, clamps 1, grounds 1, each 2.00 in^3 = 12.00 (NFPA 70 314.16(B)).
    built = circuit(
        box("attic", internal_clamps=True),
        box("hall"),
        cable("feed", "panel", "attic"),
        cable("on", "attic", "hall"),
        load("lamp", "attic", power_w=60),
    )
    text = flat(noted(built).text(".md"))
    assert "| 4 × 2.00 | 1 × 2.00 | 1 × 2.00 | 12.00 | 15.50 | 3.50 |" in text


def test_conductors_show_each_factor():
    # 14 AWG copper, 90 degC column 25 A, attic at 60 degC 0.71, two conductors 1.00, held to 15 A (NFPA 70 310.16).
    built = circuit(box("attic"), cable("feed", "panel", "attic", place="attic"), load("lamp", "attic", power_w=60))
    text = flat(noted(built).text(".md"))
    factors = "25<br>90 °C | 0.71<br>140 °F (60 °C) | 1.00<br>2 conductors | 15<br>60 °C | **15.0** | 0.50 | 15 |"
    assert factors in text


def test_lights_behind_a_driver_have_a_part_of_their_own():
    built = circuit(
        box("hall"),
        cable("feed", "panel", "hall"),
        driver("shelf driver", "hall"),
        low_voltage_load("strip", power_w=5),
        cable("lead", "shelf driver", "strip", size="18 AWG", ground=False),
    )
    text = noted(built).text(".txt")
    assert "Drivers and low-voltage lights" in text
    assert "strip" in text


def test_nothing_added_is_said():
    assert "nothing is added" in noted(small()).text(".txt")


def test_an_empty_circuit_still_makes_a_note():
    for form in FORMS:
        assert noted(circuit()).bytes(form)


def test_very_many_alike_are_told_by_the_first():
    tables = [block for section in noted(gallery(120)).outline.sections for block in section.blocks]
    assert max(len(table.rows) for table in tables if isinstance(table, Table)) < 30
