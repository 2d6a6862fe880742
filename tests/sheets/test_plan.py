"""The plan: what stands on it, what it leaves out, and that it is the same in all four forms."""

import io
import re
from dataclasses import replace
from functools import cache

import pypdf
import pytest

from circuitcheck.checking import check
from circuitcheck.sheets import write_plan
from circuitcheck.tables.rulebook import load_rulebook
from tests.note.build import gallery
from tests.rules.build import (
    CUBIC_INCH,
    box,
    cable,
    circuit,
    driver,
    fixture_wires,
    load,
    low_voltage_load,
    supply,
)
from tests.sheets.build import FORMS, MADE, bytes_of, example, flat, passed_plan, plan, text_of

PROMISE = re.compile(r"\b(safe|safely|legal|legally|compliant|approved)\b", re.IGNORECASE)
NAMES = ("bedroom", "den", "hallway", "old-house")

BANNERS = {
    "bedroom": "NOT A PERMIT: CODE AND ELECTRICIAN DECIDE",
    "hallway": "NOT READY: DO NOT WORK BY THIS YET",
    "old-house": "STOP: NOTHING TO BE DONE YET",
}

#: What a plan leaves out when a finding says stop.
JOINING = (
    "Order of work",
    "Splices and terminations",
    "Cut list",
    "Materials",
    "splice of",
    "connector listed",
    "pigtail",
    "Run the new cable",
)


@pytest.mark.parametrize("name", NAMES)
def test_it_says_first_who_decides(name):
    page = flat(plan(example(name)))
    decides = "STOP" if name == "old-house" else "The local code, the permit office and a licensed electrician decide"
    assert page.index(decides) < 400


@pytest.mark.parametrize(
    ("name", "state"),
    [
        ("bedroom", "On paper every check passes. Still needed: the inspection, where there is a permit."),
        ("hallway", "NOT READY: do not work by this plan yet. 2 problems."),
        ("den", "NOT READY: do not work by this plan yet."),
        ("old-house", "STOP: loose pebble insulation, knob and tube, brittle insulation seen. Call a licensed"),
    ],
)
def test_it_says_how_far_it_is(name, state):
    assert state in flat(plan(example(name)))


def test_with_a_finding_that_says_stop_every_joining_step_is_left_out():
    for form in (".txt", ".md", ".html"):
        page = flat(plan(example("old-house")), form)
        for words in JOINING:
            assert words not in page, (form, words)
        assert "Left out on purpose" in page
        assert "Call a licensed electrician" in page
    assert all(words in flat(passed_plan(example("hallway"))) for words in JOINING)


def test_a_stop_alone_is_enough():
    """The bedroom passes everything; one finding that says stop turns its plan into a sheet that shows no joint."""
    built = example("bedroom")
    report = check(built, load_rulebook(built.job.rulebook))
    stopped = tuple(replace(one, stop=one is report.findings[0]) for one in report.findings)
    page = flat(plan(built, findings=stopped))
    assert "STOP:" in page
    assert not [words for words in JOINING if words in page]


def test_shutting_off_comes_before_the_work():
    page = flat(passed_plan(example("hallway")))
    order = [
        page.index(words)
        for words in ("What this is", "Shut off, and prove it dead", "Order of work", "Splices and terminations")
    ]
    assert order == sorted(order)


def test_a_box_that_cannot_be_told_says_who_tells_it_and_which_entry_settles_it():
    page = flat(plan(example("den")))
    assert 'In boxes "bookcase", "ceiling" it cannot all be told' in page
    assert "told by whoever opens the box dead and tests it" in page
    assert "cable “feed”: what it carries" in page


def test_lengths_that_nobody_knows_stay_open():
    built = circuit(
        box("a", material="nonmetallic"),
        box("b", origin="added", volume_m3=20 * CUBIC_INCH, material="nonmetallic"),
        cable("feed", "panel", "a", origin="existing", carries="feed"),
        cable("new", "a", "b", length_m=None, carries="feed"),
        load("light", "b", origin="added", power_w=10),
    )
    page = flat(passed_plan(built))
    assert "Where the run is not known, measure it" in page
    assert "length not known" in page
    assert "1 without a length yet" in page
    assert "**at least 1** | staple or strap" in page


def test_a_shared_neutral_takes_both_breakers():
    feed = cable("feed", "panel", "a", origin="existing", carries="feed")
    built = circuit(supply(shared_neutral=True), box("a", material="nonmetallic"), feed, load("l", "a", power_w=5))
    assert "BOTH breakers" in flat(passed_plan(built))


def test_behind_a_driver_plus_joins_plus():
    built = circuit(
        box("a", material="nonmetallic"),
        cable("feed", "panel", "a", origin="existing", carries="feed"),
        driver("shelf driver", "a"),
        low_voltage_load("left", power_w=5),
        low_voltage_load("right", power_w=5),
        cable("to left", "shelf driver", "left", size="18 AWG", ground=None, type="class 2 cable"),
        cable("to right", "shelf driver", "right", size="18 AWG", ground=None, type="class 2 cable"),
    )
    page = flat(passed_plan(built))
    assert "output plus of shelf driver" in page
    assert "splice of 3 x 18 AWG" in page  # two cables and a pigtail to the output
    assert "Splices behind the drivers" in page


def test_nothing_added_is_a_plan_of_nothing():
    built = circuit(box("a"), cable("feed", "panel", "a", origin="existing"), load("l", "a", power_w=5))
    page = flat(passed_plan(built))
    assert "The work opens no box of this circuit" in page
    assert "The file adds nothing to this circuit" in page


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("form", FORMS[:3])
def test_no_word_that_would_be_a_promise(name, form):
    text = text_of(plan(example(name)), form).replace("Content-Security-Policy", "")
    assert not PROMISE.search(text)


def told_gallery(count):
    """A chain of boxes with a light in each, all on an always-hot feed that the file names."""
    parts = [
        box("start", material="nonmetallic"),
        cable("feed", "panel", "start", origin="existing", carries="feed"),
    ]
    before = "start"
    for number in range(1, count + 1):
        name = f"gallery {number}"
        wires = (fixture_wires("18 AWG", 2),)
        parts.append(box(name, origin="added", volume_m3=16 * CUBIC_INCH, material="nonmetallic", fixture_wires=wires))
        parts.append(cable(f"to {number}", before, name, length_m=2.5, carries="feed"))
        parts.append(load(f"light {number}", name, power_w=2, origin="added"))
        before = name
    return circuit(*parts)


@cache
def two_hundred(make):
    """Such a chain of 200 lights, the same one for every form and test."""
    return make(200)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("make", [gallery, told_gallery], ids=["nothing told", "told"])
@pytest.mark.parametrize("planned", [plan, passed_plan])
def test_two_hundred_loads(make, planned, form):
    data = bytes_of(planned(two_hundred(make)), form)
    assert len(data) < 400_000
    if form == ".md":
        text = data.decode()
        if make is told_gallery and planned is passed_plan:
            assert "wired alike" in text
            assert "199 alike" in text or "200 alike" in text
        assert len(text.splitlines()) < 250
    if form == ".pdf":
        assert len(pypdf.PdfReader(io.BytesIO(data)).pages) <= 6


def test_every_joint_of_two_hundred_boxes_is_counted_in_the_materials():
    """199 boxes on the way join two cables and a light: hot and neutral with an 18 AWG wire, and the grounds."""
    page = flat(passed_plan(two_hundred(told_gallery)))
    assert "**398** | connector listed for 2 x 14 AWG + 1 x 18 AWG, copper" in page
    assert "**199** | connector listed for 2 x 14 AWG + 1 of unknown size, copper" in page  # the light's ground wire
    assert "**2** | connector listed for 1 x 14 AWG + 1 x 18 AWG, copper" in page


@pytest.mark.parametrize("name", BANNERS)
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_pdf_is_tagged_and_says_on_every_page_what_it_is_not(name, paper):
    reader = pypdf.PdfReader(io.BytesIO(bytes_of(plan(example(name)), ".pdf", paper)))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    banner = BANNERS[name]
    for number, page in enumerate(reader.pages, 1):
        words = " ".join(page.extract_text().split())
        assert banner in words
        assert f"page {number} of {len(reader.pages)}" in words


def test_all_forms_say_the_same_joints():
    outline = passed_plan(example("hallway"))
    pdf = pypdf.PdfReader(io.BytesIO(bytes_of(outline, ".pdf")))
    shown = re.sub(r"\s", "", "".join(page.extract_text() for page in pdf.pages))
    for words in (
        "splice of 2 x 14 AWG + 1 x 18 AWG, copper",
        "black of “to wall 1” → switch hall, switched side",
        "27 ft 5 in",
    ):
        assert re.sub(r"\s", "", words) in shown
        assert words in flat(outline, ".html")
        assert words in flat(outline, ".md").replace("\\", "")


def test_writing_is_whole_or_not_at_all(tmp_path):
    built = example("bedroom")
    book = load_rulebook(built.job.rulebook)
    report = check(built, book)
    out = tmp_path / "plan.html"
    write_plan(report, built, book, b"data", out, replace=False, made=MADE)
    assert [path.name for path in tmp_path.iterdir()] == ["plan.html"]
    first = out.read_bytes()
    write_plan(report, built, book, b"data", out, replace=True, made=MADE)
    assert out.read_bytes() == first


def test_an_open_answer_names_what_to_find_out_once():
    """The sentence says what is still unknown; a line that says so again is only more to read."""
    page = flat(plan(example("den")))
    row = page.partition("needs 13.5 to 17 in³; still unknown: ")[2].partition("To do:")[0]
    assert row
    assert "Find out:" not in row
