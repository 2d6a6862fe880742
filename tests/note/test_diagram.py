"""The one-line diagram: every part once, what is added told apart, long circuits told short."""

import re
from collections import Counter
from dataclasses import replace

import pytest

from circuitcheck.note.one_line import Rail, RowKind, one_line_rows
from circuitcheck.note.one_line_drawing import one_line_drawing
from circuitcheck.note.one_line_short import LONG, shortened
from circuitcheck.note.one_line_words import one_line_words
from circuitcheck.paper.drawing import Ring, Stroke, Words, text_width
from circuitcheck.paper.svg import svg_text
from tests.note.build import gallery
from tests.rules.build import box, cable, circuit, control, driver, load, low_voltage_load, supply


def branched():
    return circuit(
        supply(panel="garage panel"),
        box("attic"),
        box("left"),
        box("right", origin="added"),
        box("far", origin="added"),
        cable("feed", "panel", "attic", origin="existing"),
        cable("to left", "attic", "left", origin="existing"),
        cable("to right", "attic", "right", conductors=3),
        cable("to far", "right", "far"),
        load("left lamp", "left", power_w=60),
        load("fan", "left", power_w=30, kind="fan"),
        load("far lamp", "far", power_w=9, origin="added"),
        control("switch", "right", kind="switch", ways="three-way", origin="added"),
        driver("shelf", "far"),
        low_voltage_load("strip", power_w=5),
        low_voltage_load("puck", power_w=2),
        cable("lead", "shelf", "strip"),
        cable("chain", "strip", "puck"),
    )


def test_every_part_stands_once():
    rows = one_line_rows(branched(), {})
    assert Counter(row.kind for row in rows) == {
        RowKind.PANEL: 1, RowKind.DEVICE: 1, RowKind.RUN: 4, RowKind.BOX: 4, RowKind.LOAD: 3, RowKind.CONTROL: 1,
        RowKind.DRIVER: 1, RowKind.LOW_RUN: 2, RowKind.LOW_LOAD: 2,
    }  # fmt: skip


def test_the_heaviest_run_keeps_its_column():
    depth = {row.name: row.depth for row in one_line_rows(branched(), {})}
    assert depth["to right"] == depth["feed"] == depth["far"] == 0
    assert depth["to left"] == depth["left"] == 1


def test_a_run_follows_what_feeds_it():
    names = [row.name for row in one_line_rows(branched(), {})]
    assert names.index("attic") < names.index("to right") < names.index("right") < names.index("to far")
    assert names.index("far") < names.index("shelf") < names.index("lead") < names.index("strip") < names.index("chain")


def test_what_is_added_is_drawn_heavy_and_dashed_and_said():
    rows = one_line_rows(branched(), {})
    added = {row.name: row.added for row in rows}
    assert added["to right"]
    assert not added["to left"]
    by_name = {row.name: row for row in rows}
    assert by_name["to right"].below is Rail.ADDED
    assert by_name["feed"].below is Rail.EXISTING
    words = "\n".join(one_line_words(rows))
    assert "run to right: NEW" in words
    assert "run to left: existing" in words
    drawn = one_line_drawing(rows, 526, 8, 1)
    strokes = [shape for strip in drawn.strips for shape in strip.shapes if isinstance(shape, Stroke)]
    thin = {stroke.weight for stroke in strokes if not stroke.dashed}
    heavy = {stroke.weight for stroke in strokes if stroke.dashed}
    assert min(heavy) > max(weight for weight in thin if weight < 0.9)


def test_what_no_cable_reaches_stands_at_the_end():
    built = circuit(
        box("hall"),
        box("lost"),
        cable("feed", "panel", "hall"),
        load("lost lamp", "lost", power_w=9),
        low_voltage_load("lost strip", power_w=5),
    )
    rows = one_line_rows(built, {})
    assert [row.name for row in rows][-3:] == ["lost", "lost lamp", "lost strip"]
    assert "NO CABLE IN THE FILE REACHES IT" in rows[-3].does
    assert "NO CABLE IN THE FILE REACHES IT" in rows[-1].does


def test_several_legs_leave_the_panel():
    built = circuit(
        box("left"),
        box("right"),
        box("far"),
        cable("a", "panel", "left", origin="existing"),
        cable("b", "panel", "right"),
        cable("c", "right", "far"),
    )
    rows = one_line_rows(built, {})
    assert [(row.name, row.depth) for row in rows[2:]] == [
        ("a", 1), ("left", 1), ("b", 0), ("right", 0), ("c", 0), ("far", 0),
    ]  # fmt: skip
    assert rows[1].below is Rail.ADDED
    assert rows[2].rails == (Rail.ADDED,)


def test_a_run_has_a_stroke_for_each_conductor():
    row = next(row for row in one_line_rows(branched(), {}) if row.name == "to right")
    assert row.strokes == 3


def test_volts_stand_beside_their_part():
    rows = one_line_rows(branched(), {"far lamp": "117.2 V", "panel": "120 V"})
    assert {row.name: row.volts for row in rows if row.volts} == {"panel": "120 V", "far lamp": "117.2 V"}


@pytest.mark.parametrize(("width", "size"), [(526, 8), (510, 8), (720, 14), (328, 13.5)])
@pytest.mark.parametrize("built", [branched(), gallery(30)])
def test_nothing_leaves_the_drawing(width, size, built):
    drawing = one_line_drawing(one_line_rows(built, {"start": "119.9 V"}), width, size, 1)
    for strip in drawing.strips:
        for shape in strip.shapes:
            if isinstance(shape, Words):
                long = text_width(shape.text, shape.size)
                left = shape.x - {"start": 0, "middle": long / 2, "end": long}[shape.anchor]
                assert left >= -1
                assert left + long <= width + 0.12 * long + 1
                assert 0 < shape.y <= strip.height
            elif isinstance(shape, Ring):
                assert shape.radius <= shape.x <= width - shape.radius
            else:
                assert all(-1 <= x <= width + 1 for x, _ in shape.points)


def test_two_hundred_alike_are_told_once():
    rows = shortened(one_line_rows(gallery(200), {}))
    assert len(rows) <= 16
    alike = next(row for row in rows if row.kind is RowKind.ALIKE)
    assert alike.name == "198 more alike"
    assert "light 2 to light 199" in alike.does
    assert {"light 1", "light 200"} <= {row.name for row in rows}


def test_two_hundred_that_differ_in_length_and_watts_are_told_once_with_both_ends():
    """Light 2 has 2.02 W and light 199 has 3.99 W; the first and the last of the chain stand by themselves."""
    rows = shortened(one_line_rows(gallery(200, alike=False), {}))
    alike = next(row for row in rows if row.kind is RowKind.ALIKE)
    assert alike.name == "198 more alike"
    assert "2.02 to 3.99 W" in alike.does
    assert "16 in³" in alike.does


def test_two_hundred_unlike_all_stand():
    """Every second cable is of another type."""
    built = gallery(200, alike=False)
    cables = tuple(replace(one, type="UF-B") if number % 2 else one for number, one in enumerate(built.cables))
    rows = shortened(one_line_rows(replace(built, cables=cables), {}))
    assert len(rows) > LONG
    assert sum(row.kind is RowKind.LOAD for row in rows) == 200


def test_many_alike_in_one_box_are_told_once():
    built = circuit(
        box("hall"),
        cable("feed", "panel", "hall"),
        *(load(f"lamp {number}", "hall", power_w=5) for number in range(100)),
    )
    rows = shortened(one_line_rows(built, {}))
    assert len(rows) < 10
    assert any(row.name == "98 more alike" for row in rows)


def test_ten_thousand_boxes_do_not_recurse():
    assert len(shortened(one_line_rows(gallery(10_000), {}))) < 20


def test_the_svg_speaks_for_itself():
    svg = svg_text(one_line_drawing(one_line_rows(branched(), {}), 328, 13.5, 1), "A <title>", 'B & "c"', "part")
    assert svg.startswith("<svg ")
    assert 'role="img"' in svg
    assert '<title id="part-title">A &lt;title&gt;</title>' in svg
    assert '<desc id="part-desc">B &amp; "c"</desc>' in svg
    assert not re.search(r"<(script|image|use|foreignObject|a|style)\b", svg)
