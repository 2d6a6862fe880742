"""With a finding that stops, no paper asks anyone to open, measure, enter or buy anything."""

import io
import re
from dataclasses import replace

import pypdf
import pytest

from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.note import note_outline
from circuitcheck.paper import Blank, Listing, Paragraph, Table
from circuitcheck.sheets import plan_outline, survey_outline
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.oracle.circuits import random_circuit
from tests.oracle.reading import written
from tests.rules.build import box, cable, circuit, load, site
from tests.sheets.build import MADE, bytes_of, example

PAPERS = ("note", "plan", "survey")

#: What a page that stops may not ask of anyone, and what makes a sentence no request to the reader.
REQUEST = re.compile(
    r"\b(open|measure|enter|buy|read|run|join|cut|splice|fit|fix|replace|switch on|find out|go into|look into|look at "
    r"a|unscrew|pull|test|count)\b",
    re.IGNORECASE,
)
NO_REQUEST = re.compile(
    r"\b(nobody|not|whoever is called|leave|left out|before anyone|whether|should look at|would)\b", re.IGNORECASE
)
SIGNS = ("brittle insulation", "loose pebble insulation", "burning smell", "knob and tube", "flicker")


def paper(kind, built):
    book = load_rulebook(built.job.rulebook)
    report = check(built, book)
    if kind == "survey":
        return survey_outline(report, built, tool="circuitcheck 0.0", made=MADE)
    outline = note_outline if kind == "note" else plan_outline
    return outline(report, built, book, digest="ab" * 32, tool="circuitcheck 0.0", made=MADE)


def texts(outline):
    """Every text that a page holds, but for the facts of the job."""
    for section in outline.sections:
        yield section.title
        for block in section.blocks:
            if isinstance(block, Paragraph):
                yield block.text
            elif isinstance(block, Listing):
                yield from block.items
            elif isinstance(block, Table):
                yield from (column.title for column in block.columns)
                yield from (line for row in block.rows for cell in row.cells for line in (cell.text, *cell.more))
                yield block.note
            elif isinstance(block, Blank):
                yield from block.labels


def requests(outline):
    sentences = [one for text in texts(outline) for one in re.split(r"(?<=[.;])\s", text)]
    return [one for one in sentences if REQUEST.search(one) and not NO_REQUEST.search(one)]


def stopped(seed):
    """A random circuit in whose house a sign to stop was seen."""
    sections = random_circuit(seed) | {"site": {"signs": [SIGNS[seed % len(SIGNS)]]}}
    return read_circuit(written(sections), f"seed {seed}", vocabulary())


def long_old_house(count):
    """So many cables that each stop for themselves."""
    parts = [box("b0"), cable("c0", "panel", "b0", origin="existing", type="knob and tube")]
    for number in range(1, count):
        parts.append(box(f"b{number}"))
        parts.append(cable(f"c{number}", f"b{number - 1}", f"b{number}", origin="existing", type="knob and tube"))
    return circuit(*parts, box("new", origin="added"), cable("to new", "b0", "new"), load("l", "new", origin="added"))


@pytest.mark.parametrize("kind", PAPERS)
def test_the_old_house_asks_nothing_of_anyone(kind):
    outline = paper(kind, example("old-house"))
    assert outline.banner == "Stop: nothing to be done yet"
    assert requests(outline) == []


def test_the_search_for_requests_finds_them():
    """The same search finds many on the sheets of a circuit that does not stop, so that it can fail."""
    for kind in PAPERS:
        assert len(requests(paper(kind, example("den")))) > 4, kind


@pytest.mark.parametrize("seeds", [range(20), pytest.param(range(20, 80), marks=pytest.mark.long)], ids=["few", "more"])
@pytest.mark.parametrize("kind", PAPERS)
def test_random_circuits_that_stop(kind, seeds):
    assert len(seeds) >= len(SIGNS)
    for seed in seeds:
        outline = paper(kind, stopped(seed))
        assert outline.banner == "Stop: nothing to be done yet"
        assert requests(outline) == [], seed
        answer = outline.sections[0].blocks[0].text
        assert answer.startswith("STOP:")
        assert SIGNS[seed % len(SIGNS)] in answer
        assert "licensed electrician" in answer


@pytest.mark.parametrize("letter", ["letter", "a4"])
@pytest.mark.parametrize("kind", PAPERS)
def test_it_is_one_page(kind, letter):
    all_signs = circuit(box("a"), cable("c", "panel", "a", origin="existing"), load("l", "a"), site(signs=SIGNS))
    for built in (example("old-house"), long_old_house(60), all_signs, stopped(3)):
        assert len(pypdf.PdfReader(io.BytesIO(bytes_of(paper(kind, built), ".pdf", letter))).pages) == 1


@pytest.mark.parametrize("kind", PAPERS)
def test_one_stop_among_passes_is_enough(kind):
    """The bedroom passes; with one sign seen, its papers stop."""
    built = example("bedroom")
    built = replace(built, site=replace(built.site, signs=("scorch marks",)))
    outline = paper(kind, built)
    assert outline.sections[0].blocks[0].text.startswith("STOP: scorch marks seen.")
    assert requests(outline) == []


def test_the_survey_asks_only_who_was_called_and_what_they_found():
    outline = paper("survey", example("old-house"))
    asked = [
        column.title
        for section in outline.sections
        for block in section.blocks
        if isinstance(block, Table)
        for index, column in enumerate(block.columns)
        if all(row.cells[index].blank for row in block.rows)
    ]
    assert asked == ["Name and phone", "License or office", "Called on", "Came on", "What they found", "Settled?"]
    who = next(section for section in outline.sections if section.title == "Who was called").blocks[0]
    assert [row.cells[0].text for row in who.rows] == ["people trained for asbestos", "licensed electrician"]
