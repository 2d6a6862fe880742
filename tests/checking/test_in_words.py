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
