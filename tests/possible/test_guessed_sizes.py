"""A guessed size can be what an unknown one can be: on a branch circuit the sizes of Table 310.16 that houses have."""

from circuitcheck.case.making import case_of
from tests.rules.build import book, box, cable, circuit


def sizes(built):
    (entry,) = [entry for entry in case_of(built, book()).entries if entry.kind == "cable.size"]
    return entry.possible.options


def test_a_guessed_size_is_open_to_the_sizes_of_an_unknown_one():
    unknown = sizes(circuit(box("a"), cable("feed", "panel", "a", size=None)))
    guessed = sizes(circuit(box("a"), cable("feed", "panel", "a", size="12 AWG", known_by={"size": "guess"})))
    assert guessed[0] == "12 AWG"
    assert set(guessed) == {*unknown, "12 AWG"}
    assert "500 kcmil" not in guessed


def test_a_guess_outside_of_them_stays_possible():
    guessed = sizes(circuit(box("a"), cable("feed", "panel", "a", size="8 AWG", known_by={"size": "guess"})))
    assert guessed[0] == "8 AWG"
    assert "14 AWG" in guessed
