"""Changes to what is there on the sheets and the screen: a row each, as found and as planned, and what they take."""

from datetime import date
from pathlib import Path

import pytest

from circuitcheck.checking import check
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.toml_text import parsed
from circuitcheck.circuit.written.block import blocks_of
from circuitcheck.findings import Verdict
from circuitcheck.note import note_outline
from circuitcheck.note.across import across
from circuitcheck.note.across_drawing import across_drawing
from circuitcheck.note.one_line import one_line_rows
from circuitcheck.note.one_line_words import one_line_words
from circuitcheck.paper.drawing import Stroke, Words
from circuitcheck.paper.markdown_form import markdown_text
from circuitcheck.sheets import plan_outline, survey_outline
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from circuitcheck.ui.examining import examine

HALLWAY = (Path(__file__).parents[2] / "examples" / "hallway.circuit.toml").read_text("utf-8")
MADE = date(2026, 5, 9)

# The attic box holds 8 conductors of 14 AWG (four 14/2 would be 8; three are there: 6), one clamp and one ground.
# 3 x 2 + 1 + 1 = 8 of 2.00 in^3 = 16.0 in 15.5 in^3 (NFPA 70, 314.16): it fits once no clamp is inside.
CHANGES = """
[[change]]
part = "box.attic"
action = "alter"
new = { internal_clamps = false }

[[change]]
part = "supply"
action = "alter"
new = { protection = "arc-fault" }
"""


@pytest.fixture(scope="module")
def changed():
    circuit = read_circuit(HALLWAY + CHANGES, "hallway.circuit.toml", vocabulary())
    book = load_rulebook(circuit.job.rulebook)
    return check(circuit, book), circuit, book


def test_both_changes_together_make_the_hallway_fit(changed):
    assert changed[0].verdict is Verdict.FITS


def test_the_note_shows_before_and_after_in_a_row(changed):
    text = markdown_text(note_outline(*changed, digest="", tool="", made=MADE))
    assert "Changes to what is there" in text
    rows = [line for line in text.splitlines() if line.startswith(('| box "attic"', "| supply"))]
    assert any("clamps inside: yes" in row and "clamps inside: no" in row for row in rows)
    assert any("protection: none" in row and "protection: arc-fault" in row for row in rows)


def test_what_is_removed_is_crossed_out_in_the_diagram_and_named_in_words():
    gone = '\n[[change]]\npart = "load.attic lamp"\naction = "remove"\n'
    circuit = as_planned(read_circuit(HALLWAY + CHANGES + gone, "hallway.circuit.toml", vocabulary()))
    drawn = across_drawing(across(circuit, ""), 526, 8, 0.9)
    shapes = [shape for strip in drawn.strips for shape in strip.shapes]
    (word,) = [shape for shape in shapes if isinstance(shape, Words) and shape.text == "attic lamp"]
    lines = [shape.points for shape in shapes if isinstance(shape, Stroke) and len(shape.points) == 2]
    struck = [  # a level line through the middle of the word, from its first letter on
        ((x, y), (end, last))
        for (x, y), (end, last) in lines
        if x == pytest.approx(word.x) and y == last and word.y - word.size < y < word.y and end > x + 20
    ]
    assert len(struck) == 1
    assert "attic lamp: existing, REMOVED" in " ".join(one_line_words(one_line_rows(circuit, {})))


def test_the_order_of_work_takes_down_what_goes_after_the_dead_test_and_before_the_joining():
    gone = '\n[[change]]\npart = "load.attic lamp"\naction = "remove"\n'
    circuit = read_circuit(HALLWAY + CHANGES + gone, "hallway.circuit.toml", vocabulary())
    plan = plan_outline(
        check(circuit, load_rulebook("nec-2023")), circuit, load_rulebook("nec-2023"), digest="", tool="", made=MADE
    )
    order = next(section for section in plan.sections if section.title == "Order of work")
    steps = [row.cells[1].text for row in order.blocks[0].rows if len(row.cells) > 1]

    def place(words):
        return next(number for number, step in enumerate(steps) if words in step)

    last_test = place("Go through the whole dead test before anything is taken out")
    down, altered = place("off its box: somebody holds it"), place("Take the clamps out of box")
    assert "attic lamp" in steps[down]
    assert last_test < down < altered < place("Join grounds first")
    assert "A licensed electrician makes the change at the panel" in " ".join(steps)


def test_the_plan_shows_them_and_lists_what_they_take(changed):
    text = markdown_text(plan_outline(*changed, digest="", tool="", made=MADE))
    assert "clamps inside: yes" in text
    assert "cable connector that stays outside the box" in text
    assert "arc-fault protection, of a kind made for this panel, for the same rating" in text


def test_the_survey_and_the_screen_take_such_a_file(changed):
    report, circuit, _ = changed
    assert survey_outline(report, circuit, tool="", made=MADE).sections
    text = HALLWAY + CHANGES
    seen = examine(blocks_of(text, parsed(text, "")), "hallway.circuit.toml")
    assert seen.report is not None
    assert seen.report.verdict is Verdict.FITS


def test_a_removed_part_and_what_goes_with_it_have_a_row():
    text = HALLWAY + '\n[[change]]\npart = "cable.to landing outlet"\naction = "remove"\n'
    circuit = read_circuit(text, "hallway.circuit.toml", vocabulary())
    book = load_rulebook(circuit.job.rulebook)
    note = markdown_text(note_outline(check(circuit, book), circuit, book, digest="", tool="", made=MADE))
    rows = [line for line in note.splitlines() if "removed" in line and "gone" in line]
    assert len(rows) == 3  # the cable, its box and what was plugged in there
    assert any("vacuum cleaner" in row for row in rows)
