"""The first page: one row a cause, the diagram from left to right, what is asked; and how many pages a job takes."""

import io

import pypdf
import pytest

from circuitcheck.findings import Finding, Outcome
from circuitcheck.note.across import MOST_BOXES, across
from circuitcheck.note.across_drawing import across_drawing
from circuitcheck.note.asked import MOST
from circuitcheck.note.causes import grouped
from circuitcheck.note.sheet import _rest
from circuitcheck.paper import Abreast, Listing
from circuitcheck.paper.drawing import Stroke, Words
from tests.note.build import example, gallery, noted
from tests.note.test_diagram import branched
from tests.rules.build import box, cable, circuit, load, supply


def finding(check, subject, outcome=Outcome.FAIL, **more):
    return Finding(check=check, subject=subject, outcome=outcome, says=f"{check} {subject}.", **more)


def subjects(causes):
    return [[(one.check, one.subject) for one in cause.findings] for cause in causes]


def test_a_breaker_on_thin_wire_is_one_row_whichever_checks_see_it():
    built = circuit(
        supply(breaker_a=20),
        box("a"),
        cable("feed", "panel", "a", origin="existing"),
        cable("on", "a", "b"),
        box("b", origin="added"),
        load("lamp", "b", power_w=9, origin="added"),
    )
    page = next(one for one in noted(built).outline.sections if one.title.startswith("Problems"))
    about = [row.cells[1].text for row in page.blocks[0].rows]
    assert sum("breaker vs wire" in text or "ampacity" in text or "wire size" in text for text in about) == 1
    assert "Seen too by" in " ".join(page.blocks[0].rows[0].cells[2].more)


def test_findings_with_nothing_in_common_stay_apart():
    told = [finding("a", "x", keys=("box.x.size",)), finding("b", "y", keys=("box.y.size",))]
    assert subjects(grouped(told)) == [[("a", "x")], [("b", "y")]]


def test_one_open_entry_keeps_its_findings_together_but_not_those_of_another_outcome():
    needs = ("cable.feed.size",)
    told = [
        finding("a", "x", Outcome.UNDETERMINED, needs=needs),
        finding("b", "y", Outcome.UNDETERMINED, needs=(*needs, "box.y.volume")),
        finding("c", "z", Outcome.CAUTION, needs=needs),
    ]
    assert subjects(grouped(told)) == [[("a", "x"), ("b", "y")], [("c", "z")]]


def test_every_finding_is_in_one_cause():
    told = [finding("a", str(number), to_do=("do",) if number % 2 else ()) for number in range(30)]
    found = [pair for cause in subjects(grouped(told)) for pair in cause]
    assert sorted(found) == sorted((one.check, one.subject) for one in told)


def test_a_box_of_unknown_size_or_need_is_asked_about_as_that():
    """A box to buy is no larger one yet, and what another needs is told as far as it is known."""
    metal = box("metal", trade_size="4 x 1-1/2 octagon", internal_clamps=None, material="metal", origin="existing")
    bought = box("bought", origin="added", trade_size=None, volume_m3=None, internal_clamps=True)
    ways = cable("a", "panel", "metal"), cable("b", "metal", "bought"), cable("c", "metal", "end"), box("end")
    safe = supply(protection="arc-fault")
    built = circuit(safe, metal, bought, *ways, load("lamp", "bought", power_w=60, origin="added", kind="heater"))
    asked = next(one for one in noted(built).outline.sections if one.title == "What you are asked")
    first, second, *_, last = asked.blocks[0].items
    # 2 x 2.00, clamps 2.00 and grounds 2.00 (314.16(B)); what else a heater may bring is open
    assert first.startswith("Boxes of unknown size need at least: “bought” ")
    assert "in³" in first
    # 6 x 2.00 and grounds 2.00, and 2.00 more where it has clamps inside, of the 15.5 in³ of its table
    assert second.startswith("Box “metal” (needs 14.00 to 16.00, has 15.50 in³)")
    assert "price 1 load" in last


@pytest.mark.parametrize(("kind", "called"), [("light", "price 2 lights"), ("heater", "price 2 loads")])
def test_lights_are_called_so(kind, called):
    lamp = load("lamp", "b", power_w=60, origin="added", kind=kind, quantity=2)
    built = circuit(box("b"), cable("feed", "panel", "b", origin="existing"), lamp)
    asked = next(one for one in noted(built).outline.sections if one.title == "What you are asked")
    assert called in asked.blocks[0].items[-1]


def test_cautions_on_the_next_sheet_are_counted_in_words():
    told = [finding("a", str(number), Outcome.CAUTION) for number in range(2)]
    assert _rest(grouped(told)) == "2 more on the next sheet: 2 cautions."
    assert _rest(grouped(told[:1])) == "1 more on the next sheet: 1 caution."
    assert _rest(grouped([finding("a", "x", Outcome.UNDETERMINED)])) == "1 more on the next sheet: 1 cannot tell."


@pytest.mark.parametrize("name", ["bedroom", "den", "hallway", "shelf-strip"])
def test_at_most_four_things_are_asked(name):
    asked = next(one for one in example(name).outline.sections if one.title == "What you are asked")
    (listing,) = asked.blocks
    assert isinstance(listing, Listing)
    assert 2 <= len(listing.items) <= MOST
    assert any("quote" in item for item in listing.items)


def test_the_diagram_names_every_part_and_labels_what_is_new():
    built = branched()
    drawing = across_drawing(across(built, "1.0 A of load"), 526, 8, 0.9)
    said = " ".join(shape.text for strip in drawing.strips for shape in strip.shapes if isinstance(shape, Words))
    for part in (*built.boxes, *built.loads, *built.drivers, *built.low_voltage_loads, *built.controls):
        assert part.id.split()[0] in said, part.id
    assert "NEW right" in said
    assert "NEW left" not in said
    assert "1.0 A of load" in said


def test_what_is_new_is_heavier_than_what_is_there():
    drawing = across_drawing(across(branched(), ""), 526, 8, 0.9)
    strokes = [shape for strip in drawing.strips for shape in strip.shapes if isinstance(shape, Stroke)]
    assert min(one.weight for one in strokes if one.dashed) > max(one.weight for one in strokes if not one.dashed)


@pytest.mark.parametrize("width", [526, 510, 800])
def test_nothing_leaves_the_drawing(width):
    drawing = across_drawing(across(branched(), "12.2 A of load"), width, 8, 1)
    for strip in drawing.strips:
        for shape in strip.shapes:
            if isinstance(shape, Stroke):
                assert all(-1 <= x <= width + 1 and -1 <= y <= strip.height + 1 for x, y in shape.points)
            elif isinstance(shape, Words):
                assert 0 < shape.y <= strip.height


def test_side_runs_have_lines_of_their_own():
    places = {(node.depth, node.line) for node in across(branched(), "").nodes}
    assert len(places) == len(across(branched(), "").nodes)


def test_a_long_circuit_is_a_list():
    assert across(gallery(MOST_BOXES), "") is None
    assert across(circuit(box("lost"), box("a"), cable("feed", "panel", "a")), "") is None


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize(("name", "most"), [("bedroom", 3), ("den", 3), ("shelf-strip", 3), ("hallway", 4)])
def test_pages(name, most, paper):
    pages = pypdf.PdfReader(io.BytesIO(example(name).bytes(".pdf", paper))).pages
    assert len(pages) <= most
    assert "Remarks by the reviewer" in pages[0].extract_text()


@pytest.mark.parametrize("alike", [True, False])
def test_sixty_loads_take_six_pages_at_most(alike):
    """Also where each of them has another length of cable and other watts."""
    assert len(pypdf.PdfReader(io.BytesIO(noted(gallery(60, alike=alike)).bytes(".pdf"))).pages) <= 6


def loads_table(built):
    """The rows of the small table of loads, by name."""
    found = [
        table
        for section in noted(built).outline.sections
        for block in section.blocks
        if isinstance(block, Abreast)
        for table in block.blocks
        if table.columns[0].title == "Loads"
    ]
    return {row.cells[0].text: [cell.text for cell in row.cells[1:]] for row in found[0].rows}


def test_what_is_unknown_is_not_shown_as_nothing():
    parts = (box("a"), box("b", origin="added"), cable("feed", "panel", "a", origin="existing"), cable("on", "a", "b"))
    old, new = load("old", "a"), load("new", "b", origin="added")
    table = loads_table(circuit(*parts, old, new))
    assert table == {name: ["unknown"] * 3 for name in ("existing", "added", "total")}
    known = load("known", "a", power_w=120, power_factor=1.0)  # 1.00 A of 120 V, 7 % of a 15 A breaker
    table = loads_table(circuit(*parts, known, new))
    assert table["existing"] == ["120", "1.00", "7 %"]
    assert table["added"] == ["unknown"] * 3
    assert table["total"] == ["120 + ?", "1.00 + ?", "7 % + ?"]
