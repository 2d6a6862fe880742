"""What a rule says of its entries: which way is worse, and which words are alike to it."""

import pytest

from circuitcheck.case import order, words_apart
from circuitcheck.case.rule import LESS, MORE


def test_of_values_in_order_the_last_is_the_worst_and_any_other_is_as_good_as_the_first():
    place = order("dry", "damp", "wet")
    values = ["wet", "dry", "buried", "damp"]
    assert sorted(values, key=lambda value: place(value, None, None)) == ["dry", "buried", "damp", "wet"]
    assert place("buried", None, None) == place("dry", None, None)


@pytest.mark.parametrize("word", ["fan", "heater"])
def test_words_that_a_rule_asks_for_are_told_apart_from_all_others(word):
    alike = words_apart("fan", "heater")
    assert alike(word, None) == word
    assert alike("light", None) == alike("smoke alarm", None)
    assert alike("light", None) not in ("fan", "heater")


def test_more_is_worse_or_less_of_numbers_of_yes_and_no_and_of_lists():
    assert sorted([2.0, 3.0, 1.0], key=lambda value: MORE(value, None, None)) == [1.0, 2.0, 3.0]
    assert sorted([2.0, 3.0, 1.0], key=lambda value: LESS(value, None, None)) == [3.0, 2.0, 1.0]
    assert sorted([False, True], key=lambda value: LESS(value, None, None)) == [True, False]
    assert sorted([(1.0,), (1.0, 2.0)], key=lambda value: LESS(value, None, None)) == [(1.0, 2.0), (1.0,)]
