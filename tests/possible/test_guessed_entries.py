"""What a guess at an entry leaves open: itself, and what it may be mistaken for.

Who guesses 12 AWG has not read the print, and who guesses a count may have missed one: a guess is less than knowing.
"""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import FixtureWires
from circuitcheck.errors import TableError
from circuitcheck.possible.guessed import without_guessed_words
from circuitcheck.possible.reading import declared_of
from circuitcheck.possible.table import declared
from tests.rules.build import book, box, cable, circuit, load


def guessed(kind, end=(), run=(), lamp=()):
    """What the guessed entry can be; what is said of the box, the cable and the light beside the usual."""
    _, _, name = kind.partition(".")
    known = {"known_by": {name: "guess"}}
    given = {section: dict(more) | (known if kind.startswith(section) else {}) for section, more in
             (("box", end), ("cable", run), ("load", lamp))}  # fmt: skip
    built = circuit(
        box("end", **given["box"]), cable("run", "panel", "end", **given["cable"]), load("lamp", "end", **given["load"])
    )
    return next((entry.possible.options for entry in case_of(built, book()).entries if entry.kind == kind), None)


@pytest.mark.parametrize("count", [1, 2, 5])
def test_a_count_may_be_short_by_one(count):
    assert guessed("load.quantity", lamp={"quantity": count}) == (count, count + 1)
    assert guessed("cable.conductors", run={"conductors": count}) == (count, count + 1)


@pytest.mark.parametrize(
    ("size", "sizes"),
    [
        # Chapter 9, Table 8: 18, 16, 14, 12, 10, 8 AWG follow each other, of which 18 AWG is the thinnest.
        ("12 AWG", {"14 AWG", "12 AWG", "10 AWG"}),
        ("14 AWG", {"16 AWG", "14 AWG", "12 AWG"}),
        ("18 AWG", {"18 AWG", "16 AWG"}),
    ],
)
def test_a_size_may_be_the_next_one(size, sizes):
    assert set(guessed("cable.size", run={"size": size})) == sizes


def test_a_metric_size_may_be_any():
    assert {"2.5 mm^2", "14 AWG", "12 AWG", "10 AWG"} < set(guessed("cable.size", run={"size": "2.5 mm^2"}))


@pytest.mark.parametrize("ground", [True, False])
def test_a_guess_at_what_the_cables_tell_opens_no_more_than_leaving_it_out(ground):
    """Whoever does not look at the grounds of a box goes by the print of its cables, and so does who guesses."""
    assert guessed("box.ground", end={"ground": ground}) == (ground, None)


@pytest.mark.parametrize("wires", [(FixtureWires(size="18 AWG", count=1),), ()])
def test_a_list_is_what_is_written_or_what_it_is_where_nobody_says(wires):
    """A wall light brings a hot and a neutral, or none into this box: common practice, ``luminaire-leads``."""
    options = guessed("box.fixture_wires", end={"fixture_wires": wires}, lamp={"mounting": "wall"})
    assert options[0] == wires
    assert {sum(each.count for each in option) for option in options} == {sum(each.count for each in wires), 0, 2}


def test_a_list_that_can_be_nothing_else_is_what_is_written():
    """Where nothing is hardwired, nothing brings leads."""
    assert guessed("box.fixture_wires", end={"fixture_wires": ()}, lamp={"connection": "cord"}) is None


@pytest.mark.parametrize("place", ["inside", "attic", "outdoors"])
def test_a_guess_at_the_place_says_nothing_of_the_air(place):
    """It may be the hot attic, whatever is guessed."""
    kinds = {"known_by": {"place": "guess"}, "place": place}, {"place": None}
    told, unknown = (
        next(each for each in case_of(circuit(box("end"), cable("run", "panel", "end", **given)), book()).entries
             if each.kind == "cable.ambient").possible.options
        for given in kinds
    )  # fmt: skip
    assert told == unknown
    assert told[0] < told[1]


def test_beside_what_is_known_a_guess_is_forgotten():
    """Of two lights of which one is guessed to be a light, only that one is of unknown kind."""
    lamps = load("sure", "end"), load("perhaps", "end", known_by={"kind": "guess"})
    surely, others = without_guessed_words(circuit(box("end"), cable("run", "panel", "end"), *lamps))
    assert [lamp.kind for lamp in surely.loads] == ["light", None]
    assert [part.id for part in others.values()] == ["perhaps"]


@pytest.mark.parametrize(("infer", "named"), [("", "no inference"), ("stranding", "stranding")])
def test_a_row_that_leaves_it_to_an_inference_which_says_nothing_is_a_fault_of_the_table(infer, named):
    row = replace(declared()["cable.stranding"], may_be="as inferred", infer=infer)
    part = cable("run", "panel", "end", stranding=None)
    with pytest.raises(TableError, match=named):
        declared_of(row, SECTIONS["cable"].keys["stranding"], part, replace(book()))
