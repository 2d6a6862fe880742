"""The largest breaker for a conductor: 240.4(B) and (D), 240.6(A), Table 210.24, by hand."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.overcurrent import greatest_breaker, may_round_up, most_for, receptacles_on
from tests.rules.build import EDITIONS, book, box, circuit, device, load

BOOK = book()


@pytest.mark.parametrize(
    ("ampacity", "rounded", "plain"),
    [
        (30, 30, 30),
        (30.1, 35, 30.1),  # 240.6(A): 15, 20, 25, 30, 35, 40 …
        (12.5, 15, 12.5),
        (0, 0, 0),
        (0.5, 1, 0.5),
        (5.5, 6, 5.5),  # 240.6(A) lists fuses of 1, 3, 6 and 10 A besides
        (800, 800, 800),
        (810, 810, 810),  # 240.4(B) ends at 800 A
    ],
)
def test_the_next_rating_only_where_it_may_be_used(ampacity, rounded, plain):
    assert greatest_breaker(BOOK, ampacity, may_round_up=True)[0] == rounded
    assert greatest_breaker(BOOK, ampacity, may_round_up=False)[0] == plain


@pytest.mark.parametrize(
    ("size", "metal", "ampacity", "amperes", "word"),
    [
        ("14 AWG", "copper", 25, 15, "small conductors"),
        ("12 AWG", "copper", 5, 20, "small conductors"),
        ("10 AWG", "copper", 40, 30, "small conductors"),
        ("12 AWG", "aluminum", 25, 15, "small conductors"),
        ("10 AWG", "aluminum", 35, 25, "small conductors"),
        ("14 AWG", "aluminum", 0, 0, "not allowed at all"),
        ("16 AWG", "copper", 18, 0, "thinner than 14 AWG"),
        ("2.5 mm^2", "copper", 25, 15, "small conductors"),
        ("8 AWG", "copper", 40, 40, "ampacity 40 A, so at most 40 A"),
        ("8 AWG", "copper", 41, 45, "ampacity 41 A, so at most 45 A"),
    ],
)
def test_the_largest_breaker(size, metal, ampacity, amperes, word):
    for edition in EDITIONS:
        most, why, sources = most_for(book(edition), size, metal, ampacity, round_up=True)
        assert most == amperes
        assert word in str(why)
        assert sources


def on(*parts):
    """How many receptacles are on a circuit, and whether the next rating may be used."""
    case = case_of(circuit(*parts), BOOK)
    with case.reading.at(lambda entry: ()):  # a box of which nobody says what is in it holds nothing
        return receptacles_on(case), may_round_up(case)


def test_a_duplex_device_is_two_receptacles_and_one_alone_may_round_up():
    """240.4(B)(1): not where the circuit supplies more than one receptacle; article 100: a duplex one is two."""
    assert on(box("b"), load("lamp", "b", power_w=60, quantity=5)) == (0, True)
    assert on(box("b"), load("outlets", "b", kind="receptacle", quantity=3)) == (6, False)
    seen = box("b", devices=(device("receptacle"), device("switch"))), box("c", devices=(device("receptacle"),))
    assert on(*seen) == (4, False)
    # the same one, named and seen
    assert on(box("b", devices=(device("receptacle"),)), load("outlet", "b", kind="receptacle")) == (2, False)
