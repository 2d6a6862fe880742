"""Values that may be slips of the pen: asked about in a caution, and the answer stays what it was."""

from pathlib import Path

import pytest

from circuitcheck.checking import check
from circuitcheck.checking.slips import slips_in
from circuitcheck.circuit.reader import read_circuit, read_file
from circuitcheck.tables.rulebook import editions, load_rulebook, vocabulary

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.circuit.toml"))
HALLWAY = Path(__file__).parents[2] / "examples" / "hallway.circuit.toml"
TEXT = HALLWAY.read_text("utf-8")
BOOK = load_rulebook("nec-2023")

LOAD = 'id = "wall light 1"\nbox = "wall 1"\norigin = "added"\nkind = "light"\npower = "label 60 W"'
SWITCH = 'id = "hall switch"\norigin = "added"\nvolume = "label 20 in^3"'


def power(written: str) -> tuple[str, str]:
    return LOAD, LOAD.replace("label 60 W", written)


@pytest.mark.parametrize(
    ("change", "asked"),
    [
        (power("600 W"), 'Light "wall light 1" takes 600 W for one light: a slip?'),
        (power("6000 W"), 'Light "wall light 1" takes 6000 W for one light: a slip?'),
        (power("20 W to 501 W"), 'Light "wall light 1" takes 20 W to 501 W for one light: a slip?'),
        ((LOAD, f"{LOAD}\nquantity = 60"), 'Light "wall light 1" stands for 60 lights: a slip?'),
        (('"measured 17 ft"', '"300 ft"'), 'Cable "to wall 1" is 300 ft long: a slip?'),
        ((SWITCH, SWITCH.replace("20", "200")), 'Box "hall switch" has 200 in^3 of room: a slip?'),
        (
            ('"measured 17 ft"', '"17 ft"\nambient = "95 degC"'),
            'Cable "to wall 1" runs through air of 95 degC: a slip?',
        ),
        (
            ("wired = 1994", "wired = 2094"),
            "The house was wired in 2094, after the date of this job, 2026-05-09: a slip?",
        ),
    ],
)
def test_an_absurd_value_is_asked_about_and_changes_no_answer(change, asked):
    assert change[0] in TEXT
    circuit = read_circuit(TEXT.replace(*change, 1), "some", vocabulary())
    assert slips_in(circuit, BOOK) == (asked,)
    report = check(circuit, BOOK)
    assert report.cautions[0] == asked
    assert not any(asked in finding.says for finding in report.findings)


@pytest.mark.parametrize("end", [60, 500])
def test_a_large_light_that_there_is_is_not_asked_about(end):
    circuit = read_circuit(TEXT.replace(LOAD, LOAD.replace("60 W", f"{end} W")), "some", vocabulary())
    assert slips_in(circuit, BOOK) == ()


@pytest.mark.parametrize("edition", editions("nec"))
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_the_examples_have_no_slip(path, edition):
    assert slips_in(read_file(path, vocabulary()), load_rulebook(edition)) == ()
