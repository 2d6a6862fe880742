"""The engine of cases, on rules made for the purpose: what the worst and the best case make of one another.

Expected answers are read off the definition of each rule by hand; no shipped rule takes part.
"""

import pytest

from circuitcheck.case import EACH, LESS, MORE, Amount, Answer, Later, Said, in_order, once, order, said
from circuitcheck.case.making import case_of
from circuitcheck.case.memory import aside
from circuitcheck.checking import asking, check
from circuitcheck.checking.asking import UndeclaredError
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.findings import Verdict
from tests.checking.trial_rules import CAUTION, FAIL, OPEN, PASS, amperes, at_most, judged, rule, saying
from tests.rules.build import book as rulebook
from tests.rules.build import box, cable, circuit, driver, guess, load, supply

TOTAL = rule(at_most(10, amperes), worse={"load.current": MORE})


class TestStop:
    """Only what stops the job in every case stops it: unknown, it is a question."""

    @staticmethod
    def shared_on_one_leg():
        def answer(part, case, book):
            if not case.supply.shared_neutral:
                return None
            return Answer(part=part, outcome=FAIL, says=said("One leg."), stop=True)

        return rule(answer, worse={"supply.shared_neutral": MORE})

    def test_what_may_not_apply_is_a_question(self):
        built = circuit(box("b"), load("a", "b"), supply(shared_neutral=None))
        (found,) = judged(self.shared_on_one_leg(), built)
        assert (found.outcome, found.stop) == (OPEN, False)

    def test_what_says_nothing_of_stopping_does_not_stop(self):
        (found,) = judged(TOTAL, circuit(box("b"), load("a", "b", current_a=12)))
        assert (found.outcome, found.stop) == (FAIL, False)

    def test_what_is_known_stops(self):
        built = circuit(box("b"), load("a", "b"), supply(shared_neutral=True))
        (found,) = judged(self.shared_on_one_leg(), built)
        assert (found.outcome, found.stop) == (FAIL, True)


class TestTwoWithoutABound:
    def test_what_neither_shows_alone_both_may(self):
        # Watts over volts, 5,000 at most: 10,000 W at 300 V and none at 1 V stay within it, 10,000 W at 1 V do not.
        def watts_over_volts(part, case):
            return case.loads[0].power_w / case.drivers[0].output_voltage_v

        made = rule(at_most(5000, watts_over_volts), worse={"load.power": MORE, "driver.output_voltage": LESS})
        built = circuit(box("b"), load("a", "b"), driver("d", "b", output_voltage_v=None))
        (found,) = judged(made, built)
        assert found.outcome is OPEN
        assert set(found.needs) == {"load.a.power", "driver.d.output_voltage"}

    def test_what_each_takes_on_has_no_end(self):
        # 1,000 A-times-watts at most, and one lamp known to be too much at worst: watts and volts go on together.
        def answer(part, case, book):
            fails = case.loads[1].current_a > 5
            value = case.loads[0].power_w * case.drivers[0].output_voltage_v
            return Answer(part=part, outcome=FAIL if fails else PASS, says=said("so much"), value=value, limit=1.0)

        worse = {"load.power": MORE, "driver.output_voltage": MORE, "load.current": MORE}
        built = circuit(
            box("b"), load("a", "b"), load("c", "b", current_a=(4, 6)), driver("d", "b", output_voltage_v=None)
        )
        (found,) = judged(rule(answer, worse=worse), built)
        assert found.outcome is OPEN
        assert (found.value, found.high) == (None, None)

    def test_what_has_no_number_far_away_has_no_worst_end(self):
        # At least 10 V, and none at all once the power passes 100 W: the least is open, not the most.
        def answer(part, case, book):
            watts, volts = case.loads[0].power_w, 9.0 - case.loads[1].current_a
            return Answer(
                part=part,
                outcome=FAIL,
                says=said("too few volts"),
                value=None if watts > 100 else volts,
                limit=10.0,
                at_least=True,
            )

        made = rule(answer, worse={"load.power": MORE, "load.current": MORE})
        built = circuit(box("b"), load("a", "b"), load("c", "b", current_a=(1, 2)))
        (found,) = judged(made, built)
        assert (found.outcome, found.low, found.high) == (FAIL, None, 8.0)


class TestRanges:
    @pytest.mark.parametrize(("ends", "outcome"), [((4, 9), PASS), ((9, 12), OPEN), ((11, 12), FAIL), ((10, 10), PASS)])
    def test_both_ends_one_end_no_end(self, ends, outcome):
        (found,) = judged(TOTAL, circuit(box("b"), load("a", "b", current_a=ends)))
        assert found.outcome is outcome
        assert (found.low, found.high, found.value) == (*ends, ends[1])

    def test_a_span_is_told_once(self):
        (found,) = judged(TOTAL, circuit(box("b"), load("a", "b", current_a=(4, 9))))
        assert found.says == "circuit has 4 to 9 A."
        assert tuple(found.working) == ("value: 4 to 9 A",)

    def test_only_what_turns_the_answer_is_asked_for(self):
        built = circuit(box("b"), load("big", "b", current_a=(4, 9)), load("small", "b", current_a=(1.9, 2.0)))
        (found,) = judged(TOTAL, built)
        assert found.outcome is OPEN
        assert found.needs == ("load.big.current",)

    def test_where_only_two_together_turn_it_both_are_asked_for(self):
        built = circuit(box("b"), load("a", "b", current_a=(0, 8)), load("c", "b", current_a=(0, 8)))
        (found,) = judged(TOTAL, built)
        assert set(found.needs) == {"load.a.current", "load.c.current"}


class TestDeclarations:
    def test_an_entry_that_is_not_declared_raises_in_tests_and_is_tried_at_every_value_for_users(self):
        undeclared = rule(at_most(10, amperes))
        built = circuit(box("b"), load("a", "b", current_a=(4, 12)))
        with pytest.raises(UndeclaredError, match=r"load\.current"):
            judged(undeclared, built)
        (found,) = findings_of_rule(undeclared, case_of(built, rulebook()))
        assert (found.outcome, found.low, found.high) == (OPEN, 4, 12)

    def test_a_sentence_that_looks_at_the_case_once_it_is_read_raises_in_tests(self):
        def answer(part, case, book):
            return Answer(
                part=part,
                outcome=PASS,
                says=Said("It has {amperes}.", Later(lambda: {"amperes": Amount(case.loads[0].current_a, "A")})),
            )

        late = rule(answer, worse={"load.current": MORE})
        with pytest.raises(UndeclaredError, match="once a sentence of it is read"):
            judged(late, circuit(box("b"), load("a", "b", current_a=(4, 12))))

    def test_a_direction_turned_round_never_makes_it_fit(self):
        turned = rule(at_most(10, amperes), worse={"load.current": LESS})
        (found,) = judged(turned, circuit(box("b"), load("a", "b", current_a=(4, 12))))
        assert found.outcome is OPEN

    def test_each_tries_what_lies_between_where_the_rule_says_so(self):
        def hump(part, case):
            return 12.0 if 5 < amperes(part, case) < 7 else 1.0

        built = circuit(box("b"), load("a", "b", current_a=(4, 8)))
        ends_only = rule(at_most(10, hump), worse={"load.current": EACH})
        assert judged(ends_only, built)[0].outcome is PASS
        stepped = rule(
            at_most(10, hump),
            worse={"load.current": EACH},
            points={"load.current": lambda low, high, part, case: (6.0,)},
        )
        assert judged(stepped, built)[0].outcome is OPEN

    def test_points_of_what_has_no_bound_are_tried_far_away_only(self):
        """Near it stands at its best end, as without points."""
        made = rule(
            at_most(10, lambda part, case: case.drivers[0].output_voltage_v),
            worse={"driver.output_voltage": MORE},
            points={"driver.output_voltage": lambda low, high, part, case: (6.0,)},
        )
        built = circuit(box("b"), driver("d", "b", output_voltage_v=None))
        (found,) = judged(made, built)
        assert (found.outcome, found.needs) == (OPEN, ("driver.d.output_voltage",))
        assert found.low == SECTIONS["driver"].keys["output_voltage"].kind.least_si
        (found,) = judged(made, circuit(box("b"), driver("d", "b", output_voltage_v=(4, 12))))
        assert (found.outcome, found.low, found.high) == (OPEN, 4, 12)

    def test_a_rule_may_not_read_what_is_open_to_find_its_subjects(self):
        lights = rule(
            at_most(10, lambda part, case: 1.0),
            subjects=lambda case: [each for each in case.loads if each.kind == "light"],
        )
        with pytest.raises(UndeclaredError, match="to find its subjects"):
            judged(lights, circuit(box("b"), load("a", "b", kind=None)))


class TestApplying:
    @staticmethod
    def only_lights(part, case, book):
        return at_most(10, lambda part, case: part.current_a)(part, case, book) if part.kind == "light" else None

    def lights(self):
        return rule(self.only_lights, lambda case: case.loads, worse={"load.kind": EACH, "load.current": MORE})

    def test_what_applies_in_no_case_is_not_spoken_of(self):
        assert judged(self.lights(), circuit(box("b"), load("a", "b", kind="fan", current_a=20))) == []

    def test_what_may_apply_and_would_fail_is_open(self):
        (found,) = judged(self.lights(), circuit(box("b"), load("a", "b", kind=None, current_a=20)))
        assert (found.outcome, found.needs) == (OPEN, ("load.a.kind",))

    def test_what_may_apply_and_would_be_met_is_not_spoken_of(self):
        assert judged(self.lights(), circuit(box("b"), load("a", "b", kind=None, current_a=2))) == []


class TestWithoutBound:
    LENGTHS = rule(
        at_most(10, lambda part, case: sum(each.length_m for each in case.cables)), worse={"cable.length": MORE}
    )

    def test_it_stays_open_and_is_asked_for(self):
        built = circuit(box("b"), cable("c", "panel", "b", length_m=None))
        (found,) = judged(self.LENGTHS, built)
        assert (found.outcome, found.needs, found.high) == (OPEN, ("cable.c.length",), None)

    def test_what_fails_without_it_fails(self):
        built = circuit(box("b"), box("d"), cable("c", "panel", "b", length_m=None), cable("e", "b", "d", length_m=11))
        (found,) = judged(self.LENGTHS, built)
        assert (found.outcome, found.needs, found.high) == (FAIL, (), None)

    def test_of_what_fails_however_long_it_is_what_surely_holds_is_said(self):
        """It fails at 6 A on the shortest cable; that it may be far over nobody knows."""

        def answer(part, case, book):
            value = amperes(part, case) + case.cables[0].length_m
            says = said("Far over." if value > 8 else "Over.")
            return Answer(part=part, outcome=FAIL, says=says, value=value, limit=5.0)

        built = circuit(box("b"), cable("c", "panel", "b", length_m=None), load("a", "b", current_a=(6, 9)))
        (found,) = judged(rule(answer, worse={"cable.length": MORE, "load.current": MORE}), built)
        assert (found.outcome, found.says, found.high) == (FAIL, "At best: Over.", None)


class TestLater:
    def test_how_long_a_load_stays_on_leaves_a_caution(self):
        counted = rule(
            at_most(
                10, lambda part, case: sum(each.current_a * (1.25 if each.continuous else 1) for each in case.loads)
            ),
            worse={"load.continuous": MORE},
        )
        (found,) = judged(counted, circuit(box("b"), load("a", "b", current_a=9, continuous=None)))
        assert (found.outcome, found.needs, found.to_come) == (CAUTION, (), False)
        (found,) = judged(counted, circuit(box("b"), load("a", "b", current_a=11, continuous=None)))
        assert found.outcome is FAIL

    def test_what_else_may_make_it_fail_leaves_it_open(self):
        """12 A are too much however long it stays on."""
        made = rule(
            at_most(10, lambda part, case: amperes(part, case) + case.loads[0].continuous),
            worse={"load.continuous": MORE, "load.current": MORE},
        )
        (found,) = judged(made, circuit(box("b"), load("a", "b", current_a=(4, 12), continuous=None)))
        assert (found.outcome, found.needs[0]) == (OPEN, "load.a.current")

    def test_what_is_not_only_work_to_come_is_no_line_of_a_checklist(self):
        """It fails where a light without a label stays on for long: the label is bought, how long is not."""
        made = rule(
            saying(lambda part, case: FAIL if part.continuous and not part.listed else PASS),
            lambda case: case.loads,
            worse={"load.continuous": MORE, "load.listed": LESS},
        )
        (found,) = judged(made, circuit(box("b"), load("a", "b", origin="added", continuous=None, listed=None)))
        assert (found.outcome, found.to_come) == (CAUTION, False)

    @pytest.mark.parametrize(("origin", "outcome", "to_come"), [("added", CAUTION, True), ("existing", OPEN, False)])
    def test_work_still_to_be_done_leaves_a_line_of_a_checklist(self, origin, outcome, to_come):
        spaced = rule(
            at_most(1.5, lambda part, case: part.support_spacing_m),
            lambda case: case.cables,
            worse={"cable.support_spacing": MORE},
        )
        built = circuit(box("b"), cable("c", "panel", "b", origin=origin, support_spacing_m=None))
        (found,) = judged(spaced, built)
        assert (found.outcome, found.to_come) == (outcome, to_come)


class TestGuesses:
    def test_a_guessed_number_is_its_range(self):
        (found,) = judged(TOTAL, circuit(box("b"), load("a", "b", current_a=guess(9))))
        assert (found.outcome, found.needs) == (OPEN, ("load.a.current",))

    def test_a_guessed_word_is_as_open_as_an_unknown_one(self):
        built = circuit(box("b"), load("a", "b", kind="fan", current_a=20, known_by={"kind": "guess"}))
        (found,) = judged(TestApplying().lights(), built)
        assert (found.outcome, found.needs) == (OPEN, ("load.a.kind",))


class TestMemory:
    def test_what_was_worked_out_follows_what_it_read(self):
        calls = []

        @once
        def doubled(case, part):
            calls.append(part.id)
            return 2 * part.current_a

        found_rule = rule(
            at_most(10, lambda part, case: doubled(case, part)), lambda case: case.loads, worse={"load.current": MORE}
        )
        built = circuit(box("b"), load("known", "b", current_a=1), load("open", "b", current_a=(4, 6)))
        known, opened = judged(found_rule, built)
        assert (known.value, opened.low, opened.high) == (2, 8, 12)
        assert calls.count("known") == 1
        assert calls.count("open") == 2

    def test_a_long_chain_is_never_deep(self):
        @once
        def length_to(case, node):
            feed = case.tree.feed[node]
            before = length_to(case, feed.from_id) if feed.from_id in case.tree.feed else 0.0
            return before + feed.length_m

        def value(part, case):
            in_order(case, length_to, lambda: (node for node in case.tree.order if node in case.tree.feed))
            return length_to(case, case.tree.order[-1])

        count = 1100  # deeper than Python goes
        parts = [box(f"b{n}") for n in range(count)]
        parts += [
            cable(f"c{n}", f"b{n - 1}" if n else "panel", f"b{n}", length_m=(1, 2) if n == 0 else 1)
            for n in range(count)
        ]
        chain = rule(at_most(count + 0.5, value), worse={"cable.length": MORE})
        (found,) = judged(chain, circuit(*parts))
        assert (found.outcome, found.low, found.high) == (OPEN, count, count + 1)


class TestFaults:
    def test_a_rule_that_raises_is_a_fault_and_never_fits(self):
        def broken(part, case, book):
            raise ZeroDivisionError("a slip of ours")

        report = check(circuit(box("b")), rulebook(), [rule(broken), TOTAL])
        (fault,) = report.faults
        assert fault.line == "fault of the program in check trial: ZeroDivisionError: a slip of ours"
        assert report.verdict is Verdict.UNDETERMINED
        assert [found.outcome for found in report.findings] == [PASS]

    def test_what_fails_still_fails(self):
        def broken(part, case, book):
            raise ZeroDivisionError

        built = circuit(box("b"), load("a", "b", current_a=20))
        assert check(built, rulebook(), [rule(broken), TOTAL]).verdict is Verdict.DOES_NOT_FIT


def test_a_breaker_of_uncertain_rating_is_one_of_those_that_are_made():
    # Ratings that are made, 240.6(A) of 2023: 10, 15, 20, 25 A. "about 15 A" is 10, 15 or 20, never 11.25 or 18.75.
    seen = []

    def answer(part, case, book):
        seen.append(part.breaker_a)
        return Answer(part=part, outcome=PASS, says=said("x"))

    judged(rule(answer, worse={"supply.breaker": EACH}), circuit(supply(breaker_a=guess(15))))
    assert set(seen) == {10, 15, 20}
    seen.clear()
    judged(rule(answer, worse={"supply.breaker": EACH}), circuit(supply(breaker_a=(15, 25))))
    assert set(seen) == {15, 20, 25}


class TestNoNumberAtTheWorst:
    def test_where_the_worst_case_has_no_number_none_is_shown(self):
        """Over 10 A nothing can be said in numbers: then no number is the most that it can be."""

        def answer(part, case, book):
            value = amperes(part, case)
            return Answer(
                part=part,
                outcome=FAIL if value > 10 else PASS,
                says=said("nothing works") if value > 10 else said("{value}", value=Amount(value, "A")),
                value=None if value > 10 else value,
            )

        trial = rule(answer, worse={"load.current": MORE})
        (found,) = judged(trial, circuit(box("b"), load("a", "b", current_a=(4, 12))))
        assert (found.outcome, found.low, found.high, found.value) == (OPEN, 4, None, None)


class TestSetAside:
    def test_what_a_rule_sets_aside_is_told_and_not_asked_for(self):
        def answer(part, case, book):
            with aside(case):
                length = sum(each.length_m for each in case.cables)
            return Answer(part=part, outcome=FAIL if length > 50 else PASS, says=said("so"))

        trial = rule(answer, worse={"cable.length": MORE})
        (found,) = judged(trial, circuit(box("b"), cable("feed", "panel", "b", length_m=None)))
        assert (found.outcome, found.needs, found.assumed_keys) == (PASS, (), ("cable.feed.length",))
        assert "left out" in found.assumed[0]


def test_a_direction_may_look_at_another_open_entry_of_the_part():
    """Which way a power factor is worse depends on whether watts are given, here as a range."""
    trial = rule(
        at_most(10, lambda part, case: sum(each.power_w / each.power_factor for each in case.loads)),
        worse={
            "load.power": MORE,
            "load.power_factor": lambda value, part, case: value if part.power_w is None else -value,
        },
    )
    built = circuit(box("b"), load("a", "b", power_w=(2, 4), power_factor=(0.5, 1)))
    (found,) = judged(trial, built)
    assert (found.low, found.high) == (2, 8)


def test_what_holds_in_one_case_is_found_again_after_another_was_asked_about():
    made = []

    @once
    def twice(case, part):
        made.append(part.current_a)
        return 2 * part.current_a

    case = case_of(circuit(box("b"), load("a", "b", current_a=(4, 9))), rulebook())
    (part,) = case.loads
    ways = [lambda entry: entry.possible.options[0], lambda entry: entry.possible.options[-1]]
    answers = []
    for way in (0, 1, 0, 1):
        with case.reading.at(ways[way]) as reading:
            answers.append(twice(case, part))
            assert [entry.kind for entry in reading.reads] == ["load.current"]
    assert answers == [8, 18, 8, 18]
    assert made == [4, 9]


class TestAboutTheUnknown:
    """Where the tables hold nothing at worst for what nobody knows yet, no sentence says that it is so."""

    def test_also_beside_what_has_no_bound(self):
        def answer(part, case, book):
            lamp, run = case.loads[0], case.cables[0]
            outcome = FAIL if run.length_m > 100 else OPEN if lamp.current_a > 5 else PASS
            words = said("No table holds {value}.", value=Amount(lamp.current_a, "A"))
            return Answer(
                part=part,
                outcome=outcome,
                says=words,
                open_says=said("Cannot tell yet."),
                keys=(lamp.entry("current"),),
            )

        built = circuit(box("b"), cable("c", "panel", "b", length_m=None), load("a", "b", current_a=(1, 9)))
        (found,) = judged(rule(answer, worse={"load.current": MORE, "cable.length": MORE}), built)
        assert (found.outcome, set(found.needs)) == (OPEN, {"load.a.current", "cable.c.length"})
        assert found.says.startswith("Cannot tell yet; still unknown: ")


class TestPresumed:
    """What is presumed counts as it is presumed, and is told where the answer would be another one without it."""

    def fitted(self, limit):
        return rule(at_most(limit, lambda part, case: len(part.fittings)), lambda case: case.boxes)

    def test_told_only_where_the_answer_rests_on_it(self):
        built = circuit(box("b", fittings=None))
        (tight,), (roomy,) = judged(self.fitted(0), built), judged(self.fitted(1), built)
        assert (tight.outcome, tight.value, tight.assumed_keys) == (PASS, 0, ("box.b.fittings",))
        assert (roomy.outcome, roomy.assumed_keys) == (PASS, ())

    @pytest.mark.parametrize("way", ["crossed", "followed"])
    def test_each_of_the_ways_in_which_it_can_be_otherwise_counts(self, way):
        made = rule(saying(lambda part, case: CAUTION if part.air_space == way else PASS), lambda case: case.cables)
        (found,) = judged(made, circuit(box("b"), cable("c", "panel", "b", air_space=None)))
        assert (found.outcome, found.assumed_keys) == (PASS, ("cable.c.air_space",))

    def test_what_else_is_open_does_not_make_an_answer_rest_on_it(self):
        """Over 5 A is a caution and under it none, with however few fittings."""

        def outcome_of(part, case):
            return CAUTION if len(part.fittings) > 9 or amperes(part, case) > 5 else PASS

        made = rule(saying(outcome_of), lambda case: case.boxes, worse={"load.current": MORE})
        (found,) = judged(made, circuit(box("b", fittings=None), load("a", "b", current_a=(4, 9))))
        assert (found.outcome, found.assumed_keys) == (CAUTION, ())

    @pytest.mark.parametrize("count", [10, 30])
    @pytest.mark.parametrize("two", [(2, 3), (0, 9), (7, 7)])
    def test_of_many_those_are_found_that_do_it_alone_without_a_look_at_each(self, count, two):
        calls = []

        def outcome_of(part, case):
            calls.append(1)
            return CAUTION if any(case.loads[place].quantity > 1 for place in two) else PASS

        loads = (load(f"l{number}", "b", power_w=1, quantity=None) for number in range(count))
        (found,) = judged(rule(saying(outcome_of)), circuit(box("b"), *loads))
        assert found.outcome is PASS
        assert found.assumed_keys == tuple(f"load.l{place}.quantity" for place in dict.fromkeys(two))
        assert len(calls) < 2 + 2 * 10

    def test_what_only_many_together_do_is_told_of_the_first_two_dozen(self):
        loads = [load(f"l{number}", "b", power_w=1, quantity=None) for number in range(30)]
        made = rule(saying(lambda part, case: CAUTION if sum(each.quantity for each in case.loads) > 55 else PASS))
        (many,), (few,) = judged(made, circuit(box("b"), *loads)), judged(made, circuit(box("b"), *loads[:20]))
        assert many.assumed_keys == tuple(f"load.l{number}.quantity" for number in range(24))
        assert few.assumed_keys == ()


class TestDoubted:
    """What the table presumes and a rule is about is open for that rule; asked for where it changes what is said."""

    @staticmethod
    def carried(part, case, book):
        plain = part.carries == "feed"
        return Answer(
            part=part,
            outcome=PASS if plain else CAUTION,
            says=said("plain") if plain else said("switched"),
            open_says=said("It is unknown"),
        )

    def found(self, doubts, **given):
        trial = rule(
            self.carried,
            lambda case: case.cables[1:],
            worse={"cable.carries": order("feed", "switched")},
            doubts=doubts,
        )
        first, second = cable("up", "panel", "b"), cable("c", "b", "d", origin="existing", **given)
        (found,) = judged(trial, circuit(box("b"), box("d"), first, second))
        return found

    def test_others_take_it_as_presumed(self):
        found = self.found(frozenset())
        assert (found.outcome, found.needs, found.assumed_keys) == (PASS, (), ("cable.c.carries",))

    def test_it_stays_a_caution_and_is_asked_for(self):
        found = self.found(frozenset({"cable.carries"}))
        assert (found.outcome, found.needs) == (CAUTION, ("cable.c.carries",))
        assert found.says == 'It is unknown; still unknown: cable "c": what it carries.'

    def test_what_changes_nothing_that_is_said_is_not_asked_for(self):
        """Over 5 A whatever the cable carries; that at best something else is said counts for nothing."""

        def answer(part, case, book):
            over = part.carries != "never" and amperes(part, case) > 5
            return Answer(part=part, outcome=CAUTION, says=said("Over.") if over else said("Under."))

        worse = {"cable.carries": order("feed", "switched"), "load.current": MORE}
        made = rule(answer, lambda case: case.cables[1:], worse=worse, doubts=frozenset({"cable.carries"}))
        cables = cable("up", "panel", "b"), cable("c", "b", "d", origin="existing")
        (found,) = judged(made, circuit(box("b"), box("d"), *cables, load("a", "d", current_a=(4, 9))))
        assert (found.outcome, found.needs) == (CAUTION, ())

    def test_what_is_settled_is_not_asked_for(self):
        found = self.found(frozenset({"cable.carries"}), carries="switched")
        assert (found.outcome, found.needs, found.says) == (CAUTION, (), "switched")


class TestNotEveryWay:
    """Where not every way is tried, what was not tried may be otherwise: outdoors without spray is never tried here."""

    @staticmethod
    def found(monkeypatch, outcome_of, **given):
        monkeypatch.setattr(asking, "MOST_WAYS", 2)
        worse = {"load.mounting": EACH, "load.in_spray": EACH, "load.current": MORE}
        made = rule(saying(lambda part, case: outcome_of(part)), lambda case: case.loads, worse=worse)
        (found,) = judged(made, circuit(box("b"), load("a", "b", mounting=None, in_spray=None, **given)))
        return found

    @staticmethod
    def is_untried(part):
        return (part.mounting, part.in_spray) == ("outdoors", False)

    @pytest.mark.parametrize(("tried", "untried"), [(PASS, FAIL), (FAIL, PASS)])
    def test_no_answer_of_those_that_were_tried_is_the_last_word(self, monkeypatch, tried, untried):
        found = self.found(monkeypatch, lambda part: untried if self.is_untried(part) else tried)
        assert (found.outcome, found.needs) == (OPEN, ("load.a.mounting", "load.a.in_spray"))

    def test_nor_where_all_were_tried_in_the_best_case(self, monkeypatch):
        """At 1 A it passes wherever it hangs, and nobody looks where that is."""

        def outcome_of(part):
            return FAIL if part.current_a > 5 and self.is_untried(part) else PASS

        assert self.found(monkeypatch, outcome_of, current_a=(1, 9)).outcome is OPEN


class TestEachPart:
    """A direction may say of one part that no way is always worse for it."""

    def found(self, direction):
        # three conductors are best for "middle", two and four fail
        def answer(part, case, book):
            off = abs(part.conductors - 3) if part.id == "middle" else part.conductors - 2
            return Answer(
                part=part, outcome=FAIL if off > 0 else PASS, says=said("{off}", off=Amount(off)), value=float(off)
            )

        made = rule(answer, lambda case: case.cables, worse={"cable.conductors": direction})
        parts = (box("b"), box("c"), cable("middle", "panel", "b", conductors=3, known_by={"conductors": "guess"}))
        (middle, end) = judged(made, circuit(*parts, cable("end", "b", "c", conductors=None)))
        return middle, end

    def test_each_value_is_tried_for_that_part(self):
        middle, end = self.found(lambda value, part, case: EACH if part.id == "middle" else value)
        assert (middle.outcome, middle.low, middle.high) == (OPEN, 0, 1)
        assert (end.outcome, end.low, end.high) == (OPEN, 0, 1)


class TestWithoutBounds:
    """Entries that can be anything: alone each stands at its best end, and is then moved far."""

    def test_two_that_turn_the_answer_only_together_open_it(self):
        # From an inch to a thousand feet and more: of the product of two lengths neither passes this alone.
        def product(part, case):
            return case.cables[0].length_m * case.cables[1].length_m

        far = rule(at_most(500, product), worse={"cable.length": MORE})
        parts = (cable("x", "panel", "b", length_m=None), cable("y", "b", "c", length_m=None))
        (found,) = judged(far, circuit(box("b"), box("c"), *parts))
        assert (found.outcome, set(found.needs)) == (OPEN, {"cable.x.length", "cable.y.length"})

    def test_those_of_which_no_way_is_always_worse_are_tried_with_one_another(self):
        # Too much only where two of the three are long and the third is short: none alone, and not all together.
        def two_beside_a_short_one(part, case):
            x, y, z = (cable.length_m for cable in case.cables)
            return min(x, y) if z < 1 else 0.0

        made = rule(at_most(10, two_beside_a_short_one), worse={"cable.length": EACH})
        ends = (("x", "panel", "b"), ("y", "b", "c"), ("z", "c", "d"))
        parts = [cable(name, first, last, length_m=None) for name, first, last in ends]
        (found,) = judged(made, circuit(box("b"), box("c"), box("d"), *parts))
        assert (found.outcome, set(found.needs)) == (OPEN, {f"cable.{name}.length" for name in "xyz"})


class TestNumbersOfOneCase:
    """Where the rule says nothing in the best case, its numbers have one end."""

    def test_where_it_may_not_apply_nothing_is_the_best_that_the_number_can_be(self):
        def answer(part, case, book):
            if part.kind == "receptacle":
                return None
            return at_most(5, lambda part, case: part.current_a)(part, case, book)

        only_lights = rule(
            answer,
            lambda case: case.loads,
            worse={"load.kind": lambda value, part, case: value == "light", "load.current": MORE},
        )
        (found,) = judged(only_lights, circuit(box("b"), load("a", "b", kind=None, current_a=(4, 9))))
        assert (found.outcome, found.low, found.high) == (OPEN, None, 9)


def test_of_what_must_be_at_least_so_much_the_least_is_the_worst_though_the_best_case_has_no_number():
    """At 9 A 1 V is left of at least 5 V; at 4 A nothing has to be left, and no number is told."""

    def answer(part, case, book):
        volts = 10 - amperes(part, case)
        if volts > 5:
            return Answer(part=part, outcome=PASS, says=said("Any."))
        return Answer(part=part, outcome=FAIL, says=said("Few."), value=volts, limit=5.0, at_least=True)

    (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), load("a", "b", current_a=(4, 9))))
    assert (found.outcome, found.low, found.high) == (OPEN, 1, None)


def test_where_the_tables_hold_nothing_somebody_is_asked_and_nothing_known_is_to_be_found_out():
    def answer(part, case, book):
        return Answer(part=part, outcome=OPEN, says=said("No row."), keys=(part.ref,), ask=("What holds here?",))

    (found,) = judged(rule(answer), circuit(box("b")))
    assert (found.outcome, found.needs, found.ask) == (OPEN, (), ("What holds here?",))


@pytest.mark.parametrize("current", [3, (3, 4)])
@pytest.mark.parametrize(
    ("outcome", "cause", "needs"),
    [(PASS, "", ()), (CAUTION, "", ()), (FAIL, "too thin", ()), (OPEN, "", ("supply.breaker",))],
)
def test_only_a_failure_has_a_cause_and_only_where_no_table_holds_is_what_is_known_asked_for(
    current, outcome, cause, needs
):
    """Whether all is known, or something is open that changes nothing."""

    def answer(part, case, book):
        assert amperes(part, case)
        return Answer(part=part, outcome=outcome, says=said("So."), keys=(part.entry("breaker"),), cause="too thin")

    (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), load("a", "b", current_a=current)))
    assert (found.outcome, found.cause, found.needs, found.keys) == (outcome, cause, needs, ("supply.breaker",))


def test_where_somebody_is_asked_at_best_and_it_fails_at_worst_both_are_told():
    """What turns it to a failure is to be found out, and nothing that is known already."""

    def answer(part, case, book):
        outcome = FAIL if part.conductors > 2 else OPEN
        ask = () if outcome is FAIL else ("What holds here?",)
        return Answer(
            part=part, outcome=outcome, says=said("So it is."), keys=(part.ref._replace(key="size"),), ask=ask
        )

    trial = rule(answer, lambda case: case.cables, worse={"cable.conductors": MORE})
    (found,) = judged(
        trial, circuit(box("b"), cable("c", "panel", "b", conductors=2, known_by={"conductors": "guess"}))
    )
    assert (found.outcome, found.needs, found.ask) == (OPEN, ("cable.c.conductors",), ("What holds here?",))


def no_row_for(metals):
    """The tables hold nothing for these metals; it reads the length too, and names the size."""

    def answer(part, case, book):
        holds = part.material not in metals and part.length_m >= 0
        ref = part.ref._replace(key="size")
        return Answer(part=part, outcome=PASS if holds else OPEN, says=said("So it is."), keys=(ref,))

    worse = {"cable.material": order("copper", "copper-clad aluminum", "aluminum"), "cable.length": MORE}
    return rule(answer, lambda case: case.cables, worse=worse)


def test_where_the_tables_hold_nothing_what_brings_a_row_is_asked_for_and_nothing_else():
    built = circuit(box("b"), cable("c", "panel", "b", type="NM", size="10 AWG", material=None, length_m=(3, 9)))
    (found,) = judged(no_row_for(("aluminum",)), built)
    assert (found.outcome, found.needs) == (OPEN, ("cable.c.material",))
    (found,) = judged(no_row_for(("copper", "copper-clad aluminum", "aluminum")), built)
    assert (found.outcome, found.needs) == (OPEN, ("cable.c.size",)), "no metal helps, so the size is read again"


@pytest.mark.parametrize(("few_below", "outcome"), [(5, CAUTION), (20, CAUTION), (3, PASS)])
def test_what_is_a_caution_in_the_best_case_is_one_whatever_the_worst_is(few_below, outcome):
    """More amperes are worse for the breaker; a few are a caution, since a dimmer needs more; in one case or both."""

    def answer(part, case, book):
        value = amperes(part, case)
        few = value < few_below
        says = said("Few: {value}." if few else "Enough: {value}.", value=Amount(value, "A"))
        return Answer(part=part, outcome=CAUTION if few else PASS, says=says, value=value, limit=25.0)

    (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), load("a", "b", current_a=(4, 9))))
    assert (found.outcome, found.low, found.high) == (outcome, 4, 9)


class TestNoTableAtTheWorst:
    """Two lights: where both draw 2 A the tables hold nothing, at 1 A of either they do."""

    @staticmethod
    def found(named, ask=()):
        def answer(part, case, book):
            high = all(each.current_a > 1.5 for each in case.loads)
            keys = (named(case),)
            return Answer(
                part=part, outcome=OPEN if high else PASS, says=said("So."), keys=keys, ask=ask if high else ()
            )

        lamps = (load(name, "b", current_a=(1, 2)) for name in "ac")
        (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), *lamps))
        return found.outcome, found.needs, found.ask

    def test_what_the_answer_names_is_asked_for_and_no_more(self):
        assert self.found(lambda case: case.loads[0].entry("current")) == (OPEN, ("load.a.current",), ())

    def test_where_it_names_nothing_that_is_open_what_brings_a_row_is_asked_for(self):
        found = self.found(lambda case: case.supply.entry("breaker"))
        assert found == (OPEN, ("load.a.current", "load.c.current"), ())

    def test_where_it_says_whom_to_ask_nothing_else_is_asked_for(self):
        assert self.found(lambda case: case.supply.entry("breaker"), ("Who?",)) == (OPEN, (), ("Who?",))

    def test_where_there_is_none_at_best_either_what_the_best_case_names_is_read_again(self):
        """Whatever flows the size has no row; where more than 5 A flow the breaker has none either."""

        def answer(part, case, book):
            keys = (case.supply.entry("breaker"),) if amperes(part, case) > 5 else (part.entry("size"),)
            return Answer(part=part, outcome=OPEN, says=said("No row."), keys=keys)

        made = rule(answer, lambda case: case.cables, worse={"load.current": MORE})
        (found,) = judged(made, circuit(box("b"), cable("c", "panel", "b"), load("a", "b", current_a=(4, 9))))
        assert (found.outcome, found.needs) == (OPEN, ("cable.c.size",))

    def test_one_of_many_ways_that_brings_a_row_is_enough(self):
        """Recessed there is no row, mounted otherwise there is; the current that is read as well changes nothing."""

        def answer(part, case, book):
            outcome = OPEN if part.mounting == "recessed" and part.current_a > 0 else PASS
            return Answer(part=part, outcome=outcome, says=said("So."), keys=(part.entry("power"),))

        made = rule(answer, lambda case: case.loads, worse={"load.mounting": EACH, "load.current": MORE})
        (found,) = judged(made, circuit(box("b"), load("a", "b", mounting=None, current_a=(1, 2))))
        assert (found.outcome, found.needs, found.says) == (OPEN, ("load.a.mounting",), "So.")


def test_what_either_case_rests_on_in_the_books_is_named_once():
    book = rulebook()
    many, few = (book.value(name).source for name in ("cable-support-spacing", "unknown-power-factor"))

    def answer(part, case, book):
        sources = (many, many) if amperes(part, case) > 5 else (few, many)
        return Answer(part=part, outcome=PASS, says=said("So."), sources=sources)

    (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), load("a", "b", current_a=(4, 9))))
    assert found.sources == (many, few)


def test_a_caution_of_both_cases_is_not_told_as_one_of_the_worst_alone():
    def answer(part, case, book):
        return Answer(part=part, outcome=CAUTION, says=said("Much." if amperes(part, case) > 5 else "Some."))

    (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), load("a", "b", current_a=(4, 9))))
    assert (found.outcome, found.says) == (CAUTION, "Much.")


def test_where_no_case_has_a_row_the_sentence_says_so_and_does_not_ask_whether():
    def answer(part, case, book):
        key = case.loads[0].entry("current")
        words = said("No row."), said("Cannot tell yet whether there is a row")
        assert amperes(part, case)
        return Answer(part=part, outcome=OPEN, says=words[0], open_says=words[1], keys=(key,))

    (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), load("a", "b", current_a=(4, 9))))
    assert (found.outcome, found.needs, found.says) == (OPEN, ("load.a.current",), "No row.")


def trial_of_open_sentences(answered_at_best):
    def answer(part, case, book):
        value = amperes(part, case)
        more = (
            {"open_says": said("Is {value} too much", value=Amount(value, "A"))}
            if value > 5 or answered_at_best
            else {}
        )
        return Answer(part=part, outcome=FAIL if value > 10 else PASS, says=said("So."), **more)

    (found,) = judged(rule(answer, worse={"load.current": MORE}), circuit(box("b"), load("a", "b", current_a=(4, 12))))
    return found


@pytest.mark.parametrize(("answered_at_best", "starts"), [(True, "Is 4 to 12 A too much"), (False, "Is 12 A too much")])
def test_an_open_sentence_spans_both_cases_where_both_have_one(answered_at_best, starts):
    found = trial_of_open_sentences(answered_at_best)
    assert (found.outcome, found.says.startswith(starts)) == (OPEN, True)


def test_a_finding_is_about_its_part_or_about_the_whole_circuit():
    built = circuit(box("b"), load("a", "b", current_a=3))
    each = rule(at_most(5, lambda part, case: part.current_a), lambda case: case.loads, worse={"load.current": MORE})
    assert [found.subject for found in judged(TOTAL, built)] == ["circuit"]
    assert [found.subject for found in judged(each, built)] == ["a"]


@pytest.mark.parametrize(("much", "prefix"), [("Much: {value}.", True), ("It has {value}.", False)])
def test_a_caution_of_the_worst_case_alone_says_so_where_its_sentence_is_another(much, prefix):
    def answer(part, case, book):
        over = part.current_a > 5
        says = said(much if over else "It has {value}.", value=Amount(part.current_a, "A"))
        return Answer(part=part, outcome=CAUTION if over else PASS, says=says)

    trial = rule(answer, lambda case: case.loads, worse={"load.current": MORE})
    (found,) = judged(trial, circuit(box("b"), load("a", "b", current_a=(4, 9))))
    assert (found.outcome, found.says.startswith("At worst: ")) == (CAUTION, prefix)


@pytest.mark.parametrize(("ends", "rating"), [((13.9, 15.6), 15.0), ((15.0, 18.9), 15.0)])
def test_a_breaker_between_two_ends_is_the_rating_that_is_made(ends, rating):
    """240.6(A): 15 and 20 A are made, nothing between."""
    assert case_of(circuit(supply(breaker_a=ends)), rulebook()).supply.breaker_a == rating
