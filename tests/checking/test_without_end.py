"""What a finding says of a number that goes on with an entry without a bound: the end that stays, and the way it goes.

A length stands at 0.1 ft, which is 0.0305 m, and goes to 609.6 m. Expected numbers are read off each rule by hand.
"""

import pytest

from circuitcheck.case import LESS, MORE, Amount, Answer, said
from circuitcheck.findings import Part
from tests.checking.trial_rules import CAUTION, FAIL, OPEN, PASS, about, amperes, meters, rule
from tests.rules.build import box, cable, circuit, load

WORSE = {"cable.length": MORE, "load.current": MORE}
x = meters("x")


def built(length=None, current=1):
    return circuit(box("b"), cable("x", "panel", "b", length_m=length), load("a", "b", current_a=current))


def telling(value_of, limit, template="It has {value}.", **more):
    """Fails over a limit; the value is told, and what is left of 1000."""

    def answer(part, case, book):
        value = value_of(case)
        things = {"value": Amount(value, "A"), "left": Amount(1000 - value, "A")}
        return Answer(
            part=part,
            outcome=FAIL if value > limit else PASS,
            says=said(template, **things),
            value=value,
            limit=limit,
            rows=(Part("all", value),),
            **more,
        )

    return rule(answer, worse=WORSE)


def on_top(case):
    return x(case) + amperes(None, case)


def test_what_fails_already_is_told_as_at_least():
    # 12 to 15 A of 10, and a length in m on top of either: 12 + 0.0305 at the least.
    found = about(telling(on_top, 10), built(current=(12, 15)))
    assert (found.outcome, found.says) == (FAIL, "It has at least 12 A.")
    assert (found.value, found.high) == (pytest.approx(12.0305, abs=1e-4), None)
    assert sum(part.value for part in found.parts) == found.value


def test_what_gets_less_is_told_as_at_most_and_a_sentence_begins_with_a_capital():
    # 1000 - 12.03 = 987.97 is left at the best.
    found = about(telling(on_top, 10, "{left} is left of it. {value} is used, only {left} is left."), built(current=12))
    assert found.says == "At most 988 A is left of it. At least 12 A is used, only 988 A is left."


def test_what_is_said_to_be_at_least_so_much_is_so_once():
    found = about(telling(on_top, 10, "It has at least {value}."), built(current=12))
    assert found.says == "It has at least 12 A."


def test_an_amount_that_does_not_go_on_stays_a_span():
    found = about(telling(lambda case: amperes(None, case) + 0 * x(case), 10), built(current=(12, 15)))
    assert (found.outcome, found.says) == (FAIL, "It has 12 to 15 A.")


def test_where_another_sentence_holds_far_off_a_nearer_case_tells_which_way_it_goes():
    """Past 300 m the rule has no number any more."""

    def answer(part, case, book):
        if x(case) > 300:
            return Answer(part=part, outcome=FAIL, says=said("It has no number."), limit=10.0)
        value = on_top(case)
        return Answer(part=part, outcome=FAIL, says=said("It has {value}.", value=Amount(value, "A")), value=value)

    found = about(rule(answer, worse=WORSE), built(current=(12, 15)))
    assert (found.outcome, found.says) == (FAIL, "It has at least 12 A.")


def test_of_two_sentences_the_one_of_the_number_is_told():
    """Over 14 A another sentence holds: 12 A is the number that is told, and what is said of it."""

    def answer(part, case, book):
        value = on_top(case)
        template = "It has {value}, far too much." if value > 14 else "It has {value}."
        return Answer(
            part=part, outcome=FAIL, says=said(template, value=Amount(value, "A")), value=value, limit=10.0 + value / 10
        )

    found = about(rule(answer, worse=WORSE), built(current=(12, 15)))
    assert (found.outcome, found.says) == (FAIL, "At best: It has at least 12 A.")
    assert (found.value, found.limit) == (pytest.approx(12.03, abs=1e-2), pytest.approx(11.203, abs=1e-3))


def test_an_open_answer_says_so_too():
    found = about(
        telling(on_top, 100, open_says=said("Cannot tell yet about {value}.", value=Amount(1.0))), built(current=1)
    )
    assert (found.outcome, found.says) == (OPEN, 'Cannot tell yet about 1; still unknown: cable "x": length.')

    def answer(part, case, book):
        says = said("It has {value}.", value=Amount(on_top(case), "A"))
        return Answer(part=part, outcome=FAIL if on_top(case) > 100 else PASS, says=says, open_says=says, limit=100.0)

    found = about(rule(answer, worse=WORSE), built(current=(4, 8)))
    assert (found.outcome, found.says) == (OPEN, 'It has at least 4.03 A; still unknown: cable "x": length.')


@pytest.mark.parametrize("outcome", [PASS, CAUTION])
def test_what_changes_no_outcome_is_told_with_the_number_that_it_has_far_off(outcome):
    """609.6 m and 1 A: 610.6. The rows and the working are of that case, and so is the sentence."""

    def answer(part, case, book):
        value = on_top(case)
        return Answer(
            part=part,
            outcome=outcome,
            says=said("It has {value}.", value=Amount(value, "A")),
            value=value,
            limit=10_000.0,
            rows=(Part("all", value),),
            working=lambda: (said("all: {value}", value=Amount(value, "A")),),
        )

    found = about(rule(answer, worse=WORSE), built())
    assert (found.outcome, found.says, tuple(found.working)) == (
        outcome,
        "It has 1.03 to 611 A.",
        ("all: 1.03 to 611 A",),
    )
    assert found.value == found.high == pytest.approx(610.6)
    assert sum(part.value for part in found.parts) == found.value


def test_a_caution_at_worst_tells_the_worst_case_far_off():
    """Over 5 A of what is lent by a long cable: 609.6 / 100 + 1 = 7.096 A, at worst."""

    def answer(part, case, book):
        value = x(case) / 100 + amperes(None, case)
        over = amperes(None, case) > 0.5
        template = "Much: {value}." if over else "It has {value}."
        return Answer(
            part=part,
            outcome=CAUTION if over else PASS,
            says=said(template, value=Amount(value, "A")),
            value=value,
            limit=5.0,
        )

    found = about(rule(answer, worse=WORSE), built(current=(0.1, 1)))
    assert (found.outcome, found.says) == (CAUTION, "At worst: Much: 7.1 A.")
    assert found.value == pytest.approx(7.096)


def test_of_a_caution_that_holds_at_best_only_its_own_number_is_told():
    """What is better for the number brings the caution: 1 A has it, 2 A has not."""

    def answer(part, case, book):
        value = amperes(None, case)
        says = said("It has {value}.", value=Amount(value, "A"))
        return Answer(part=part, outcome=CAUTION if value < 1.5 else PASS, says=says, value=value, limit=5.0)

    found = about(rule(answer, worse=WORSE), built(length=3.0, current=(1, 2)))
    assert (found.outcome, found.value) == (CAUTION, 1)


def test_less_is_worse_goes_the_other_way():
    """At least 10 V: none that a cable leaves over of 9.03 V at best."""

    def answer(part, case, book):
        value = 9 + x(case) / 609.6
        return Answer(
            part=part,
            outcome=FAIL,
            says=said("It gets {value}.", value=Amount(value, "V")),
            value=value,
            limit=20.0,
            at_least=True,
        )

    found = about(rule(answer, worse=WORSE | {"cable.length": LESS}), built())
    # 609.6 m stand at the best: 10 V, and fewer the shorter it is
    assert (found.outcome, found.says, found.low, found.high) == (FAIL, "It gets at most 10 V.", None, 10.0)
