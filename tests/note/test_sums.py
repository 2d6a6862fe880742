"""The lines of every table of the papers add up to what the table says they come to."""

import re
from functools import cache

import pytest

from circuitcheck.advice.cutting import cut_list
from circuitcheck.advice.materials import materials_of
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.note import note_outline
from circuitcheck.note.boxes import boxes_section
from circuitcheck.paper import Abreast, RowKind, Table
from circuitcheck.sheets.plan_lists import cut_section, items_table
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.note.build import MADE, gallery, noted
from tests.oracle.circuits import random_circuit
from tests.oracle.reading import written
from tests.rules.build import CUBIC_INCH, box, cable, circuit, control, load, supply
from tests.sheets.build import example

EXAMPLES = ("bedroom", "den", "hallway", "shelf-strip")
SEEDS = range(100)
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
TIMES = re.compile(r"(\d+(?:\.\d+)?) × (\d+\.\d\d)")
ALIKE = re.compile(r"^(\d+) alike:")

#: What rounding one number to two decimals, or one up, can add.
HALF, WHOLE = 0.005 + 1e-9, 0.01 + 1e-9


@cache
def answered():
    """(name, circuit, report) of every circuit."""
    return [(name, built, check(built, load_rulebook(built.job.rulebook))) for name, built in circuits()]


def circuits():
    for name in EXAMPLES:
        yield name, example(name)
    for seed in SEEDS:
        yield seed, read_circuit(written(random_circuit(seed)), f"seed {seed}", vocabulary())
    yield "gallery", gallery(60)
    yield "another gallery", gallery(60, alike=False)


def tables(outline, title):
    return [
        block
        for section in outline.sections
        if section.title.startswith(title)
        for block in section.blocks
        if isinstance(block, Table)
    ]


def note(built, report):
    book = load_rulebook(built.job.rulebook)
    return note_outline(report, built, book, digest="ab" * 32, tool="circuitcheck 0.0", made=MADE)


@pytest.fixture(scope="module")
def notes():
    """The note of every circuit that does not stop."""
    found = [(name, note(built, report)) for name, built, report in answered()]
    return [(name, outline) for name, outline in found if not outline.banner.startswith("Stop")]


def last(text):
    """The greater end of ``2.10 to 2.74``, or the only number."""
    return float(NUMBER.findall(text)[-1])


def test_the_lines_of_a_box_add_up_to_what_it_needs(notes):
    added_up = 0
    for name, outline in notes:
        (table,) = tables(outline, "Box fill")
        for row in table.rows:
            needs, has, left = (cell.text for cell in row.cells[-4:-1])
            lines = " ".join(line for cell in row.cells[2:-4] for line in (cell.text, *cell.more))
            if not needs:
                continue
            total = sum(float(count) * float(each) for count, each in TIMES.findall(lines))
            assert 0 <= last(needs) - total + 1e-9 < WHOLE + 1e-9, (name, lines, needs)
            if left:
                assert abs(float(has) - last(needs) - float(left)) < 2 * WHOLE, (name, row)
            added_up += bool(total)
    assert added_up > 150


def test_the_lines_of_the_loads_add_up(notes):
    added_up = 0
    for name, outline in notes:
        (table,) = tables(outline, "Loads")
        (all_of,) = [row for row in table.rows if row.kind is RowKind.TOTAL]
        for column, most in ((5, 0.5), (6, HALF), (7, 0.5)):
            total, rounding = 0.0, 0.0
            for row in table.rows:
                if row.kind is RowKind.PLAIN and row.cells[column].text:
                    total += last(row.cells[column].text.replace(",", ""))
                    rounding += most + 1e-9
            slack = rounding + (1 if column == 7 else most)
            assert abs(last(all_of.cells[column].text.replace(",", "")) - total) <= slack, (name, column, total)
            added_up += total > 0
    assert added_up > 200


def test_the_shares_of_a_drop_add_up_to_what_is_lost(notes):
    added_up = 0
    for name, outline in notes:
        for table in tables(outline, "Voltage drop"):
            for row in table.rows:
                lost, where = row.cells[1].text, row.cells[5].text
                shares = [float(share) for share in re.findall(r"(\d+\.\d\d)(?=,|$)", where)]
                if lost and shares:
                    assert abs(last(lost) - sum(shares)) < HALF * len(shares) + WHOLE, (name, lost, where)
                    added_up += 1
    assert added_up > 100


def feet(text):
    """The greater end of a length to cut, in the unit that it is written in."""
    length = text.split(" to ")[-1]
    if length.endswith(" m"):
        return float(length.removesuffix(" m"))
    found = {unit: float(number) for number, unit in re.findall(r"([\d.]+) (ft|in)", length)}
    return found.get("ft", 0.0) + found.get("in", 0.0) / 12


def test_the_pieces_of_the_cut_list_are_what_is_bought():
    """A tenth more for waste, as the note under the list says, and each kind rounded up to a whole foot or meter."""
    added_up = 0
    for name, built, report in answered():
        book = load_rulebook(built.job.rulebook)
        cuts = cut_list(built, book)
        section = cut_section(cuts)
        items = materials_of(built, report, book, cuts, wiring_of(built))
        for table in section.blocks[:1] if section is not None else ():
            assert "Waste (10 %)" in table.note
            pieces = [(ALIKE.match(row.cells[0].text), row.cells[-1].text) for row in table.rows]
            if any(not piece for _, piece in pieces):
                continue
            cut = sum((int(alike[1]) if alike else 1) * feet(piece) for alike, piece in pieces)
            group, bought = "", []
            for row in items_table("", items).rows:
                if row.kind is RowKind.GROUP:
                    group = row.cells[0].text
                elif group == "Cable":
                    bought.append(feet(row.cells[0].text))
            runs = sum(int(alike[1]) if alike else 1 for alike, _ in pieces)
            assert -1.1 * runs / 12 - 1e-6 <= sum(bought) - 1.1 * cut <= len(bought) + 1e-6, name
            added_up += 1
    assert added_up > 40


def test_a_device_that_the_count_was_judged_with_stands_among_the_lines():
    """A switch without a listed device tips the box: 4 x 2.00, a ground 2.00, a yoke 4.00 make 14.00 in 13 in^3."""
    built = circuit(
        box("a", volume_m3=13 * CUBIC_INCH, internal_clamps=False),
        cable("feed", "panel", "a", origin="existing"),
        box("b"),
        cable("on", "a", "b"),
        control("hall", "a"),
        load("lamp", "b", power_w=5, switched_by="hall"),
    )
    book = load_rulebook(built.job.rulebook)
    fill = {one.subject: one for one in check(built, book).findings if one.check == "box-fill"}
    (table,) = boxes_section(built, book, fill).blocks
    cells = {column.title: cell.text for column, cell in zip(table.columns, table.rows[0].cells, strict=True)}
    lines, needs = " ".join(cells.values()), cells["Needs"]
    assert cells["Devices"] == "2 × 2.00"
    assert sum(float(count) * float(each) for count, each in TIMES.findall(lines)) == pytest.approx(14.0)
    assert last(needs) == pytest.approx(14.0)


def test_what_was_measured_beyond_the_list_is_counted_in_volt_amperes_too():
    """3 A read and a lamp of 60 W listed (0.5 A of 120 V): 2.5 A more, which are 300 VA; 60 W + 300 VA = 360 VA."""
    lamp = load("lamp", "b", power_w=60, power_factor=1.0, continuous=False, origin="existing")
    built = circuit(supply(measured_current_a=3), box("b"), cable("f", "panel", "b", origin="existing"), lamp)
    sections = noted(built).outline.sections
    table = next(one for one in sections if one.title == "Loads and their share of the breaker").blocks[0]
    cells = {row.cells[0].text: [cell.text for cell in row.cells] for row in table.rows}
    assert cells["measured, not on the list"][-3:-1] == ["300", "2.50"]
    assert cells["All"][-3:-1] == ["360", "3.00"]
    both = next(block for one in sections for block in one.blocks if isinstance(block, Abreast)).blocks[0]
    assert [[cell.text for cell in row.cells[:3]] for row in both.rows if row.cells[0].text == "existing"] == [
        ["existing", "360", "3.00"]
    ]
