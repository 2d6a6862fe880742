"""Both cases of a finding as one sentence, and lists of names."""

from circuitcheck.case import Amount, said
from circuitcheck.checking.in_words import MOST_NAMED_IN_WORDS, in_both, listed


def test_amounts_that_differ_are_a_span_the_lower_one_first():
    def says(amperes):
        return said("{load} carries {amperes}.", load="l", amperes=Amount(amperes, "A"))

    assert in_both(says(5.6), says(4.1)) == "l carries 4.1 to 5.6 A."
    assert in_both(says(4.1), says(5.6)) == "l carries 4.1 to 5.6 A."
    assert in_both(says(4.1), says(4.1)) == "l carries 4.1 A."
    assert in_both(says(4.1001), says(4.1002)) == "l carries 4.1 A."


def test_words_that_differ_are_named_both():
    def says(size):
        return said("It is {size}.", size=size)

    assert in_both(says("14 AWG"), says("12 AWG")) == "It is 12 AWG or 14 AWG."
    assert in_both(says("14 AWG"), says("14 AWG")) == "It is 14 AWG."
    assert in_both(says(Amount(3, "A")), says("unknown")) == "It is unknown or 3 A."


def test_another_sentence_is_that_of_the_worst_case():
    assert in_both(said("Bad {a}.", a="x"), said("Good {a}.", a="y")) == "Bad x."
    assert in_both(said("Both {a}.", a="x"), said("Both {a}.")) == "Both x."


def test_the_first_few_names():
    assert listed(["a", "b", "a"]) == "a; b"
    names = [str(number) for number in range(MOST_NAMED_IN_WORDS + 1)]
    assert listed(names) == "0; 1; 2; 3; 4; 5 and more"
    assert listed(names[:-1]) == "0; 1; 2; 3; 4; 5"


def test_an_amount_that_goes_on_is_told_by_the_end_that_stays():
    def says(load, left):
        return said("{load} of it, {left} is left.", load=Amount(load, "A"), left=Amount(left, "A"))

    near = says(5, 10), says(4, 11)
    assert in_both(*near, says(70, 0)) == "At least 4 A of it, at most 11 A is left."
    assert in_both(*near, says(70, 10)) == "At least 4 A of it, 10 to 11 A is left."
    assert in_both(*near, says(4.5, 10.5)) == "4 to 5 A of it, 10 to 11 A is left."
    assert in_both(*near, said("No more.")) == "4 to 5 A of it, 10 to 11 A is left."
    assert in_both(near[0], near[0], says(70, 0)) == "At least 5 A of it, at most 10 A is left."


def test_at_least_is_said_once():
    def says(template, amperes):
        return said(template, load=Amount(amperes, "A"))

    assert in_both(*[says("it has at least {load}", 4)] * 2, says("it has at least {load}", 5)) == "it has at least 4 A"
    assert in_both(*[says("it may be at most {load}", 4)] * 2, says("it may be at most {load}", 3)) == (
        "it may be at most 4 A"
    )
    assert in_both(*[says("it draws only {load}", 4)] * 2, says("it draws only {load}", 3)) == "it draws only 4 A"


def test_a_name_with_braces_stays_as_it_is():
    def says(load):
        return said('"{part}" has {load}.', part="a {load} {x}", load=Amount(load, "A"))

    assert in_both(says(4), says(4), says(5)) == '"a {load} {x}" has at least 4 A.'
