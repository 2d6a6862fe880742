"""Fixes by a book that has not got what only advice asks for: that advice is left out, and told; the rest is tried."""

from dataclasses import replace

import pytest

from circuitcheck.advice.fixes import fixes_for, fixes_of
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.errors import NotInBookError
from circuitcheck.tables.rulebook import Rulebook, load_rulebook, vocabulary
from tests.advice.known_circuits import bedroom, changed
from tests.advice.test_fix_kinds import CASES

FULL = load_rulebook("nec-2023")
#: A new box with no room for three conductors of 14 AWG, 2.00 in^3 each (Table 314.16(B)(1)).
SMALL = changed(bedroom(), ('"label 20 in^3"', '"label 4 in^3"'), after='id = "wall"\n')
#: What is left out -> the circuit in which it is asked for, the check and its subject, and words of the steps with it.
ASKED_FOR = {
    "driver-ratings": (CASES["a larger driver"], "Choose a driver of"),
    "dimmer-ratings": (CASES["a dimmer for more"], "a dimmer rated for"),
    "light-marks": (CASES["fewer lights"], "marked for at most"),
    "replacement-light": (CASES["a listed light for a label of 60 W"], "by a listed LED light"),
    "largest-marked-box": ((SMALL, "box-fill", "wall", ""), "marked at least"),
}


def without(name: str, *, says_so: bool) -> Rulebook:
    values = {each: value for each, value in FULL.values.items() if each != name}
    return Rulebook("hill-1", "Hill rules, 1st edition", FULL.tables, values, frozenset({name} if says_so else ()))


@pytest.mark.parametrize("says_so", [True, False])
@pytest.mark.parametrize("name", ASKED_FOR)
def test_what_the_book_has_no_number_for_is_left_out_and_told(name, says_so):
    (text, complains, subject, _), words = ASKED_FOR[name]
    circuit, book = read_circuit(text, "a", vocabulary()), without(name, says_so=says_so)
    with pytest.raises(NotInBookError):
        book.value(name)
    report = check(circuit, book)
    assert (report.not_judged, report.faults) == ((), ())
    finding = next(each for each in report.findings if (each.check, each.subject) == (complains, subject))
    begins = "Not every change was tried, because Hill rules, 1st edition has no number for it: "
    for fixes, full in (
        (fixes_of(circuit, book, report), fixes_of(circuit, FULL)),
        (fixes_for(circuit, book, report, finding), fixes_for(circuit, FULL, report, finding)),
    ):
        (told,) = (way for way in fixes.other_ways if way.startswith(begins))
        assert complains.replace("-", " ") in told
        assert not any("Not every change" in way for way in full.other_ways)
        assert not any(words in step.says for fix in fixes.fixes for step in fix.steps)
    assert any(words in step.says for fix in full.fixes for step in fix.steps)


@pytest.mark.parametrize("says_so", [True, False])
def test_a_change_after_which_nothing_can_be_judged_clears_nothing(says_so):
    """What makes a source class 2 is asked of class 2 cable alone, and not of the lamp cord that is planned."""
    text, complains, subject, words = CASES["class 2 cable"]
    circuit, book = read_circuit(text, "a", vocabulary()), without("class-2-source", says_so=says_so)
    report = check(circuit, book)
    finding = next(each for each in report.findings if (each.check, each.subject) == (complains, subject))
    for fixes in (fixes_of(circuit, book, report), fixes_for(circuit, book, report, finding)):
        assert not any(words in step.says for fix in fixes.fixes for step in fix.steps)
    full = fixes_of(circuit, FULL)
    assert any(words in step.says for fix in full.fixes for step in fix.steps)


@pytest.mark.parametrize(("lacks", "volume"), [("", 13), ("10 AWG", 15)])
def test_clamps_in_a_box_still_to_be_bought_take_room_by_any_book(lacks, volume):
    """Table 314.16(B)(1): in the old box four 14 AWG and the grounds, 5 x 2.00; as much as one of 10 AWG is 2.50.

    A book without 10 AWG: as much as its largest, 6 AWG, 5.00.
    """
    small = changed(bedroom(), ('"label 20 in^3"', '"label 8 in^3"'), after='id = "ceiling"\n')
    table = FULL.table("conductor-volume")
    rows = tuple(row for row in table.rows if row.key != (lacks,))
    tables = {**FULL.tables, "conductor-volume": replace(table, rows=rows)}
    book = Rulebook("hill-1", "Hill rules, 1st edition", tables, FULL.values)
    texts = [step.says for fix in fixes_of(read_circuit(small, "a", vocabulary()), book).fixes for step in fix.steps]
    assert any(f"marked at least {volume} in³" in text for text in texts), texts
