"""Asking a rule about one case: which value each open entry has in it, which values are tried, what is kept."""

import pytest

from circuitcheck.case import EACH, LESS, MORE, Answer, once, order, said, waiting, words_apart
from circuitcheck.case.making import case_of
from circuitcheck.checking import asking
from circuitcheck.checking.asking import Asker, UndeclaredError, badness, other_values, subjects_of, worse_value
from tests.checking.trial_rules import (
    CAUTION,
    FAIL,
    OPEN,
    PASS,
    about,
    amperes,
    asker_of,
    at_most,
    judged,
    rule,
    saying,
)
from tests.rules.build import book as rulebook
from tests.rules.build import box, cable, circuit, driver, load, supply

MOUNTINGS = ("wall", "ceiling", "recessed", "pendant", "cabinet", "outdoors")


def light(**given):
    return circuit(box("b"), load("a", "b", **given))


def entry_of(asker, kind):
    return next(each for each in asker.case.entries if each.kind == kind)


class TestValues:
    @pytest.mark.parametrize(
        ("direction", "values"),
        [
            (MORE, (4, 9)),
            (LESS, (9, 4)),
            (EACH, (4, 9)),
            (lambda value, part, case: -value, (9, 4)),
            (lambda value, part, case: EACH, (4, 9)),
            (lambda value, part, case: EACH if value > 5 else 10 - value, (4, 9)),
        ],
    )
    def test_the_best_first(self, direction, values):
        asker, _ = asker_of(rule(at_most(10, amperes), worse={"load.current": direction}), light(current_a=(4, 9)))
        assert asker.values(entry_of(asker, "load.current")) == values

    def test_words_in_their_order(self):
        worse = {"load.mounting": order("recessed", "wall", "ceiling", "pendant", "cabinet", "outdoors")}
        asker, _ = asker_of(rule(at_most(10, amperes), worse=worse), light(mounting=None))
        entry = entry_of(asker, "load.mounting")
        assert asker.values(entry) == ("recessed", "wall", "ceiling", "pendant", "cabinet", "outdoors")
        assert worse_value(asker, entry) == "outdoors"
        assert other_values(asker, entry, worst=True)[0] == "recessed"
        assert other_values(asker, entry, worst=False)[-1] == "outdoors"
        assert "outdoors" not in other_values(asker, entry, worst=True)

    def test_all_the_others_where_no_way_is_worse(self):
        asker, _ = asker_of(rule(at_most(10, amperes), worse={"load.mounting": EACH}), light(mounting=None))
        entry = entry_of(asker, "load.mounting")
        assert other_values(asker, entry, worst=True) == other_values(asker, entry, worst=False) == MOUNTINGS
        assert {asker.words_like(entry, word) for word in MOUNTINGS} == {1}  # none stands for another

    def test_points_lie_between(self):
        made = rule(
            at_most(10, amperes),
            worse={"load.current": MORE},
            points={"load.current": lambda low, high, part, case: ((low + high) / 2,)},
        )
        asker, _ = asker_of(made, light(current_a=(4, 8)))
        entry = entry_of(asker, "load.current")
        assert asker.values(entry) == (4, 6, 8)
        assert other_values(asker, entry, worst=True) == (4, 6, 8)

    def test_of_words_that_are_alike_for_the_rule_one_stands_for_all(self):
        apart = {"load.mounting": words_apart("recessed", "outdoors")}
        asker, _ = asker_of(
            rule(at_most(10, amperes), worse={"load.mounting": EACH}, alike=apart), light(mounting=None)
        )
        mounting = entry_of(asker, "load.mounting")
        assert asker.values(mounting) == ("wall", "recessed", "outdoors")
        words = {value: asker._order.words_like(mounting, value) for value in asker.values(mounting)}
        assert words == {"wall": 4, "recessed": 1, "outdoors": 1}  # wall, ceiling, pendant, cabinet are alike

    @pytest.mark.parametrize(("way", "near"), [(MORE, False), (EACH, True)])
    def test_what_lies_between_without_a_bound_is_tried_near_where_no_way_is_worse(self, way, near):
        made = rule(
            at_most(10, lambda part, case: case.drivers[0].output_voltage_v),
            worse={"driver.output_voltage": way},
            points={"driver.output_voltage": lambda low, high, part, case: (6.0,)},
        )
        asker, subject = asker_of(made, circuit(box("b"), driver("d", "b", output_voltage_v=None)))
        assert (6.0 in asker.ask(subject, worst=True).values) is near

    def test_of_one_value_there_is_nothing_between(self):
        def points(low, high, part, case):
            raise AssertionError

        made = rule(lambda part, case, book: None, points={"supply.terminals": points})
        asker, _ = asker_of(made, circuit(box("b")))
        assert asker.values(entry_of(asker, "supply.terminals")) == (60.0,)

    def test_what_lies_between_is_tried_although_more_is_worse(self):
        """Where the rule names points it says that it may turn there."""

        def hump(part, case):
            return 12.0 if 5 < amperes(part, case) < 7 else 1.0

        made = rule(
            at_most(10, hump),
            worse={"load.current": MORE},
            points={"load.current": lambda low, high, part, case: (6.0,)},
        )
        assert about(made, light(current_a=(4, 8))).outcome is OPEN

    @pytest.mark.parametrize("seen", MOUNTINGS)
    def test_what_lies_between_may_hang_on_another_entry(self, seen):
        """The point that fails is another one in every case, and stands in the cases with it alone."""

        def points(low, high, part, case):
            return (6.0 if case.loads[0].mounting == seen else 5.0,)

        def hump(part, case):
            return 12.0 if (case.loads[0].mounting, amperes(part, case)) == (seen, 6.0) else 1.0

        made = rule(
            at_most(10, hump), worse={"load.current": MORE, "load.mounting": EACH}, points={"load.current": points}
        )
        found = about(made, light(current_a=(4, 8), mounting=None))
        assert (found.outcome, found.high) == (OPEN, 12.0)

    def test_one_value_with_a_direction_of_its_own(self):
        """60 °C at the terminals is assumed, and nothing else."""
        made = rule(
            saying(lambda part, case: FAIL if case.supply.terminals_c > 70 else PASS),
            worse={"supply.terminals": lambda value, part, case: -value},
        )
        found = about(made, circuit(box("b")))
        assert (found.outcome, found.assumed_keys) == (PASS, ("supply.terminals",))

    def test_one_value_need_not_be_declared(self):
        made = rule(saying(lambda part, case: PASS if case.supply.terminals_c else FAIL))
        assert about(made, circuit(box("b"))).outcome is PASS
        asker, subject = asker_of(made, circuit(box("b")))
        assert asker.ask(subject, worst=True).complete
        assert asker.tries == 1


class TestDirections:
    @pytest.mark.parametrize("inside", [True, False])
    def test_one_that_looks_at_another_open_entry(self, inside):
        """A guess at what a load is: of a fan more is worse, of anything else less. Outside a case it is a fan."""

        def way(value, part, case):
            return value if part.fan == "paddle" else -value

        made = rule(at_most(10, amperes), worse={"load.current": way, "load.fan": order("exhaust", "paddle")})
        asker, _ = asker_of(made, light(kind="fan", fan=None, current_a=(4, 9)))
        entry, fan = entry_of(asker, "load.current"), entry_of(asker, "load.fan")
        assert fan.possible.options == ("paddle", "exhaust")
        if not inside:
            assert asker.values(entry) == (4, 9)
            return
        with asker.in_case(worst=True):
            assert asker.values(entry) == (4, 9)
        with asker.in_case(worst=False):
            assert asker.values(entry) == (9, 4)
            assert asker.case.loads[0].current_a == 9

    def test_before_a_case_is_asked_about_it_looks_at_what_another_is_first_of_all(self):
        """A fan may hang first of all: that no way is always worse of any other changes nothing yet."""

        def way(value, part, case):
            return value if part.fan == "paddle" else EACH

        made = rule(at_most(10, amperes), worse={"load.current": way, "load.fan": order("exhaust", "paddle")})
        asker, _ = asker_of(made, light(kind="fan", fan=None, current_a=(4, 9)))
        assert asker.direction(entry_of(asker, "load.current")) is way

    def test_one_that_looks_at_what_was_worked_out_from_another(self):
        @once
        def is_paddle(case, part):
            return part.fan == "paddle"

        def way(value, part, case):
            return value if is_paddle(case, part) else -value

        made = rule(at_most(10, amperes), worse={"load.current": way, "load.fan": order("exhaust", "paddle")})
        asker, _ = asker_of(made, light(kind="fan", fan=None, current_a=(4, 9)))
        entry = entry_of(asker, "load.current")
        for worst, values in ((True, (4, 9)), (False, (9, 4)), (True, (4, 9))):
            with asker.in_case(worst=worst):
                is_paddle(asker.case, asker.case.loads[0])
                assert asker.values(entry) == values

    def test_a_case_is_the_worst_or_the_best(self):
        asker, _ = asker_of(rule(at_most(10, amperes), worse={"load.current": LESS}), light(current_a=(4, 9)))
        with asker.in_case(worst=True) as reading:
            assert asker.case.loads[0].current_a == 4
            assert [entry.kind for entry in reading.reads] == ["load.current"]
        with asker.in_case(worst=False):
            assert asker.case.loads[0].current_a == 9

    def test_without_a_bound_it_stands_at_its_near_end(self):
        made = rule(lambda part, case, book: None, worse={"cable.length": LESS})
        asker, _ = asker_of(made, circuit(box("b"), cable("c", "panel", "b", length_m=None)))
        near = entry_of(asker, "cable.length").possible.options[-1]
        for worst in (True, False):
            with asker.in_case(worst=worst):
                assert asker.case.cables[0].length_m == near

    def test_without_a_bound_it_is_not_tried_each_way(self):
        made = rule(at_most(1, lambda part, case: case.cables[0].length_m), worse={"cable.length": EACH})
        asker, subject = asker_of(made, circuit(box("b"), cable("c", "panel", "b", length_m=None)))
        assert len(asker.ask(subject, worst=True).values) == 1


class TestWays:
    def test_every_combination_is_asked_about(self):
        """Six places and yes or no: twelve answers; the worst and the best of them."""
        values = {mounting: place for place, mounting in enumerate(MOUNTINGS)}

        def value_of(part, case):
            return values[case.loads[0].mounting] * (2.0 if case.loads[0].in_spray else 1.0)

        made = rule(at_most(20, value_of), worse={"load.mounting": EACH, "load.in_spray": EACH})
        asker, subject = asker_of(made, light(mounting=None, in_spray=None))
        worst, best = asker.ask(subject, worst=True), asker.ask(subject, worst=False)
        assert sorted(worst.values) == sorted([*range(6), *range(0, 12, 2)])
        assert (worst.answer.value, best.answer.value) == (10, 0)
        assert (worst.complete, best.complete) == (True, True)

    def test_what_lies_between_may_be_other_ways_in_the_best_case(self):
        """It does at 5 A alone, which is tried where no spray reaches the light; no answer looks at the spray."""

        def points(low, high, part, case):
            return (6.0 if part.in_spray else 5.0,)

        made = rule(
            at_most(10, lambda part, case: 1.0 if amperes(part, case) == 5 else 12.0),
            worse={"load.current": EACH, "load.in_spray": MORE},
            points={"load.current": points},
        )
        asker, subject = asker_of(made, light(current_a=(4, 8), in_spray=None))
        assert asker.ask(subject, worst=True).values == (12, 12, 12)
        assert asker.ask(subject, worst=False).answer.value == 1

    def test_what_hangs_on_another_entry_may_be_other_ways_in_the_best_case(self):
        """More amperes are worse of any fan, which the way itself does not say: it looks at what the fan is."""

        def way(value, part, case):
            return value if part.fan == "paddle" else 2 * value

        made = rule(
            at_most(10, lambda part, case: amperes(part, case) + (case.loads[0].mounting == "wall")),
            worse={"load.current": way, "load.fan": order("exhaust", "paddle"), "load.mounting": EACH},
        )
        asker, subject = asker_of(made, light(kind="fan", fan=None, current_a=(1, 9), mounting=None))
        assert asker.ask(subject, worst=True).answer.value == 10
        assert asker.ask(subject, worst=False).answer.value == 1

    @pytest.mark.parametrize(("most", "complete"), [(12, True), (11, False)])
    def test_so_many_and_no_more(self, monkeypatch, most, complete):
        monkeypatch.setattr(asking, "MOST_WAYS", most)
        made = rule(
            saying(lambda part, case: PASS if case.loads[0].mounting and case.loads[0].in_spray is not None else FAIL),
            worse={"load.mounting": EACH, "load.in_spray": EACH},
        )
        asker, subject = asker_of(made, light(mounting=None, in_spray=None))
        assert asker.ask(subject, worst=True).complete is complete
        assert asker.fails(subject, worst=True, moved={}) is not complete
        assert asker.fails(subject, worst=False, moved={}) is False

    @pytest.mark.parametrize(("most", "fails"), [(12, True), (11, False)])
    def test_it_surely_fails_only_where_all_were_tried(self, monkeypatch, most, fails):
        monkeypatch.setattr(asking, "MOST_WAYS", most)
        made = rule(
            saying(lambda part, case: FAIL if case.loads[0].mounting and case.loads[0].in_spray is not None else PASS),
            worse={"load.mounting": EACH, "load.in_spray": EACH},
        )
        asker, subject = asker_of(made, light(mounting=None, in_spray=None))
        assert asker.fails(subject, worst=False, moved={}) is fails

    def test_it_stops_at_the_first_that_tells(self):
        made = rule(
            saying(lambda part, case: FAIL if case.loads[0].mounting == "wall" else PASS), worse={"load.mounting": EACH}
        )
        asker, subject = asker_of(made, light(mounting=None))
        assert asker.fails(subject, worst=True, moved={})
        assert asker.tries == 2, "one that finds what is open, and the wall"

    def test_where_it_does_not_apply_it_does_not_fail(self):
        made = rule(saying(lambda part, case: None if case.loads[0].in_spray else PASS), worse={"load.in_spray": EACH})
        asker, subject = asker_of(made, light(in_spray=None))
        assert not asker.fails(subject, worst=True, moved={})
        assert not asker.ask(subject, worst=True).fails

    def test_what_is_moved_stands_where_it_was_moved(self):
        asker, subject = asker_of(rule(at_most(5, amperes), worse={"load.current": MORE}), light(current_a=(4, 9)))
        entry = entry_of(asker, "load.current")
        assert asker.ask(subject, worst=True, moved={entry: 4}).answer.value == 4
        assert asker.fails(subject, worst=True, moved={}) is True
        assert asker.fails(subject, worst=True, moved={entry: 4}) is False
        assert asker.fails(subject, worst=False, moved={entry: 9}) is True


def test_users_meet_no_undeclared_error():
    """What a rule does not declare is tried at every value."""
    case = case_of(light(current_a=(4, 12)), rulebook())
    asker = Asker(rule(at_most(10, amperes)), case)
    assert sorted(asker.ask(case.supply, worst=True).values) == [4, 12]


class TestKept:
    def test_the_same_case_is_asked_about_once(self):
        asker, subject = asker_of(rule(at_most(5, amperes), worse={"load.current": MORE}), light(current_a=(4, 9)))
        for _ in range(3):
            asker.ask(subject, worst=True)
            asker.ask(subject, worst=False)
        assert asker.tries == 2

    def test_another_case_with_the_same_values_is_not_asked_about(self):
        asker, subject = asker_of(rule(at_most(5, amperes), worse={"load.current": MORE}), light(current_a=(4, 9)))
        asker.ask(subject, worst=True)
        asker.ask(subject, worst=False, moved={entry_of(asker, "load.current"): 9})
        assert asker.tries == 1

    def test_each_subject_has_its_own_answers(self):
        """Two loads, both judged by the current of the first."""
        shift = {"a": 0.0, "c": 5.0}
        made = rule(
            at_most(10, lambda part, case: shift[part.id] + case.loads[0].current_a),
            lambda case: case.loads,
            worse={"load.current": MORE},
        )
        built = circuit(box("b"), load("a", "b", current_a=(4, 9)), load("c", "b", current_a=1))
        assert [(found.outcome, found.high) for found in judged(made, built)] == [(PASS, 9), (OPEN, 14)]

    def test_more_cases_than_are_kept(self):
        made = rule(at_most(5, amperes), worse={"load.current": MORE})
        asker, subject = asker_of(made, light(current_a=(4, 9)))
        entry = entry_of(asker, "load.current")
        numbers = [4 + place / 100 for place in range(200)]
        assert [asker.ask(subject, worst=True, moved={entry: each}).answer.value for each in numbers * 2] == numbers * 2


class TestBadness:
    @staticmethod
    def answer(outcome, value=None, limit=None, at_least=False):
        part = case_of(circuit(box("b")), rulebook()).supply
        return Answer(part=part, outcome=outcome, says=said("So."), value=value, limit=limit, at_least=at_least)

    def test_none_at_all_is_the_best(self):
        order_of = [None, *(self.answer(outcome) for outcome in (PASS, CAUTION, OPEN, FAIL))]
        assert [badness(each) for each in order_of] == sorted({badness(each) for each in order_of})
        assert badness(self.answer(PASS, 1, 100)) > badness(None)

    def test_of_two_alike_the_farther_over_the_limit(self):
        """4 of 1 is over by 3, 9 of 8 by 1; a number without a limit is over by nothing; past any number is none."""
        over, less_over = self.answer(FAIL, 4, 1), self.answer(FAIL, 9, 8)
        assert badness(over) > badness(less_over) > badness(self.answer(FAIL, 9)) == badness(self.answer(FAIL))
        assert badness(self.answer(FAIL, limit=9)) > badness(over)

    def test_of_two_that_must_be_at_least_so_much_the_farther_under(self):
        assert badness(self.answer(FAIL, 1, 4, True)) > badness(self.answer(FAIL, 3, 4, True))


def test_what_the_worst_case_says_line_by_line():
    def answer(part, case, book):
        value = amperes(part, case)
        if value < 5:
            return None
        return Answer(part=part, outcome=PASS, says=said("So."), working=lambda: (said("value {it}", it=f"{value:g}"),))

    asker, subject = asker_of(rule(answer, worse={"load.current": MORE}), light(current_a=(4, 9)))
    assert asker.told(subject, asker.ask(subject, worst=True)) == [("value {it}", {"it": "9"})]
    assert asker.told(subject, asker.ask(subject, worst=False)) == []


class TestSubjects:
    LIGHTS = rule(
        lambda part, case, book: Answer(part=part, outcome=PASS, says=said("So.")),
        subjects=lambda case: [each for each in case.loads if each.kind == "light"],
    )

    def test_for_a_user_what_is_open_stands_at_its_first(self):
        """A thing of unknown kind is a light first of all."""
        case = case_of(light(kind=None), rulebook())
        assert [part.id for part in subjects_of(self.LIGHTS, case)] == ["a"]

    def test_in_tests_it_raises(self):
        with pytest.raises(UndeclaredError, match=r"trial reads load\.kind to find its subjects"):
            list(subjects_of(self.LIGHTS, case_of(light(kind=None), rulebook()), strict=True))
        assert list(subjects_of(self.LIGHTS, case_of(light(kind="fan"), rulebook()), strict=True)) == []


def test_presumed_until_the_rule_doubts_it():
    made = rule(saying(lambda part, case: FAIL if part.fittings else PASS), lambda case: case.boxes)
    built = circuit(box("b", fittings=None))
    asker, subject = asker_of(made, built)
    entry = entry_of(asker, "box.fittings")
    assert asker.presumed & entry.bit
    assert not asker.movable & entry.bit
    assert asker.values(entry) == ((),)
    assert not asker.fails(subject, worst=True, moved={})
    doubting = rule(
        made.answer, made.subjects, worse={"box.fittings": order((), ("stud",))}, doubts=frozenset({"box.fittings"})
    )
    asker, subject = asker_of(doubting, built)
    assert entry_of(asker, "box.fittings").bit & asker.movable
    assert asker.fails(subject, worst=True, moved={})
    assert asker.tries == 1


def test_what_is_presumed_stays_so_where_the_rule_doubts_what_is_not_open():
    """The very first entry of a case, which has the lowest bit."""
    made = rule(lambda part, case, book: None, lambda case: case.boxes, doubts=frozenset({"cable.carries"}))
    asker, subject = asker_of(made, circuit(box("b", fittings=None)))
    assert waiting.entry_of(subject, "fittings").bit == 1
    assert asker.presumed == 1


def test_what_can_be_moved():
    built = circuit(supply(), box("b"), cable("c", "panel", "b", length_m=None), load("a", "b", current_a=(4, 9)))
    asker, _ = asker_of(rule(lambda part, case, book: None), built)
    movable = {each.kind for each in asker.case.entries if asker.movable & each.bit}
    assert "load.current" in movable
    assert "cable.length" not in movable, "no bound"
    assert "supply.terminals" not in movable, "one value"
