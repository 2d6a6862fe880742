"""What an open answer asks for: what turns it alone, what turns it after that, else a least set; never what is idle.

A load's current is a range from 1 to 2 A, high where it has 2. Which loads are high makes a rule fail.
"""

import pytest

from circuitcheck.case import EACH, MORE, Answer, said
from circuitcheck.checking import asking, deciding
from tests.checking.trial_rules import FAIL, OPEN, PASS, about, rule, saying
from tests.rules.build import box, circuit, load

HIGH = {"load.current": MORE}


def found(fails_at, names="abc", named=True, worse=HIGH, **more):
    """What a rule finds that fails where ``fails_at`` (the names of the loads that are high) says so."""

    def outcome_of(part, case):
        high = "".join(each.id for each in case.loads if each.current_a > 1.5)
        return FAIL if fails_at(high) else PASS

    lights = (load(name, "b", current_a=(1, 2), **more) for name in names)
    return about(rule(saying(outcome_of), worse=worse), circuit(box("b"), *lights), named=named)


def needs(fails_at, names="abc", **more):
    """The loads that are asked for."""
    answer = found(fails_at, names, **more)
    assert answer.outcome is OPEN
    return "".join(key.split(".")[1] for key in answer.needs)


@pytest.mark.parametrize(
    ("fails_at", "asked"),
    [
        # from the worst case, where all are high, either alone turns it
        (lambda high: "a" in high and "b" in high, "ab"),
        # from the best case, where none is, either alone turns it
        (lambda high: "a" in high or "b" in high, "ab"),
        # one alone, and the next question would be about two others
        (lambda high: "c" in high, "c"),
        # first a; where it is low nothing fails, so nothing else is asked for
        (lambda high: "a" in high and ("b" in high or "c" in high), "a"),
        # two of three: none alone, the first two together
        (lambda high: len(high) > 1, "ab"),
    ],
)
def test_what_turns_it(fails_at, asked):
    assert needs(fails_at) == asked


def test_what_turns_it_together_is_as_little_as_can_be():
    # z stands first and does nothing; two of the others make it fail. c counts twice: with a and b it is enough, and
    # with b alone.
    assert needs(lambda high: len(high.replace("z", "")) > 1, "zabc") == "ab"
    assert needs(lambda high: sum(2 if name == "c" else 1 for name in high) > 2, "abcd") == "bc"


def test_what_turns_it_after_the_first_is_asked_for_on_the_same_visit():
    # a alone makes it fail from the best case; low, b and c still do together, and each turns that alone.
    assert needs(lambda high: "a" in high or ("b" in high and "c" in high), "abcd") == "abc"


def test_where_only_two_together_turn_it_after_the_first_both_are_asked_for():
    # a alone; then two of four, none of which turns it alone: d and e are left out.
    assert needs(lambda high: "a" in high or len(high) > 1, "abcde") == "abc"


def test_what_is_read_in_one_case_alone_counts():
    """At the worst a rule may stop before it has read all."""

    def outcome_of(part, case):
        a, b = case.loads
        if a.current_a > 1.5:
            return FAIL
        return FAIL if b.current_a > 1.5 else PASS

    parts = (load(name, "b", current_a=(1, 2)) for name in "ab")
    answer = about(rule(saying(outcome_of), worse=HIGH), circuit(box("b"), *parts))
    assert answer.needs == ("load.a.current", "load.b.current")


def test_what_is_read_at_the_worst_alone_counts():
    def outcome_of(part, case):
        a, b = case.loads
        return PASS if a.current_a < 1.5 else FAIL if b.current_a > 1.5 else PASS

    parts = (load(name, "b", current_a=(1, 2)) for name in "ab")
    answer = about(rule(saying(outcome_of), worse=HIGH), circuit(box("b"), *parts))
    assert answer.needs == ("load.a.current", "load.b.current")


@pytest.mark.parametrize("worst", [True, False])
def test_after_the_first_too(worst):
    """c alone; once it is low, b is read in the worst case or in the best alone."""

    def outcome_of(part, case):
        a, b, c = case.loads
        if c.current_a > 1.5:
            return FAIL if a.current_a + b.current_a > 0 else PASS
        if worst:  # b is read where a is high
            return FAIL if a.current_a > 1.5 and b.current_a > 1.5 else PASS
        return FAIL if a.current_a > 1.5 or b.current_a > 1.5 else PASS

    parts = (load(name, "b", current_a=(1, 2)) for name in "abc")
    answer = about(rule(saying(outcome_of), worse=HIGH), circuit(box("b"), *parts))
    assert set(answer.needs) == {"load.a.current", "load.b.current", "load.c.current"}


class TestEachWay:
    """Where a light hangs: six places, none of which is always worse."""

    @staticmethod
    def needs(fails_at, **more):
        made = rule(
            saying(lambda part, case: FAIL if fails_at(case.loads[0]) else PASS),
            worse={"load.mounting": EACH, "load.in_spray": EACH, "load.current": MORE},
        )
        return about(made, circuit(box("b"), load("a", "b", mounting=None, in_spray=None, current_a=(1, 2)))).needs

    @pytest.mark.parametrize("only", ["wall", "ceiling", "outdoors"])
    def test_one_place_of_many(self, only):
        assert self.needs(lambda light: light.mounting == only) == ("load.a.mounting",)
        assert self.needs(lambda light: light.mounting != only) == ("load.a.mounting",)

    def test_another_that_is_tried_each_way_does_not_hide_it(self):
        # In the ceiling it fails if spray reaches it, and on the wall if none does.
        def fails_at(light):
            return light.mounting == ("ceiling" if light.in_spray else "wall")

        assert self.needs(fails_at) == ("load.a.mounting", "load.a.in_spray")

    def test_from_the_best_case_one_place_of_many(self):
        assert self.needs(lambda light: light.current_a > 1.5 or light.mounting == "cabinet") == (
            "load.a.current",
            "load.a.mounting",
        )

    def test_what_is_high_turns_it_only_in_one_place(self):
        def fails_at(light):
            return light.mounting == "cabinet" and light.current_a > 1.5

        assert self.needs(fails_at) == ("load.a.mounting", "load.a.current")
        assert self.needs(lambda light: fails_at(light) or light.current_a > 1.5) == ("load.a.current",)


def test_what_no_table_holds_once_the_rest_stands_well():
    """Where nothing fails any more and the tables hold nothing for what may be, that is asked on the same visit.

    What was asked for before is asked for once, and the third, of which the answer says nothing, not at all.
    """

    def answer(part, case, book):
        first, second, third = case.loads
        outcome = FAIL if first.current_a > 1.5 else OPEN if second.current_a + 0 * third.current_a > 1.5 else PASS
        return Answer(
            part=part, outcome=outcome, says=said("So."), keys=(first.entry("current"), second.entry("current"))
        )

    lights = (load(name, "b", current_a=(1, 2)) for name in "abc")
    told = about(rule(answer, worse=HIGH), circuit(box("b"), *lights))
    assert (told.outcome, told.needs) == (OPEN, ("load.a.current", "load.b.current"))


class TestHalves:
    """Of many that can differ few turn an answer: those are found without a look at each, wherever they stand."""

    NAMES = "abcdefghijklmnopqrstuvwx"

    def tried(self, fails_at):
        """Which loads are named, and in how many cases the rule was asked."""
        lights = (load(name, "b", current_a=(1, 2)) for name in self.NAMES)
        calls = []

        def outcome_of(part, case):
            calls.append(1)
            return FAIL if fails_at("".join(each.id for each in case.loads if each.current_a > 1.5)) else PASS

        answer = about(rule(saying(outcome_of), worse=HIGH), circuit(box("b"), *lights))
        assert answer.outcome is OPEN
        return "".join(key.split(".")[1] for key in answer.needs), len(calls)

    @pytest.mark.parametrize("only", NAMES)
    def test_the_only_one(self, only):
        named, cases = self.tried(lambda high: only in high)
        assert named == only
        assert cases < 2 * len(self.NAMES)

    @pytest.mark.parametrize("two", ["ab", "ax", "lm", "kn", "wx"])
    def test_two_far_apart_or_near(self, two):
        both, _ = self.tried(lambda high: all(name in high for name in two))
        either, _ = self.tried(lambda high: any(name in high for name in two))
        assert both == either == two

    @pytest.mark.parametrize("only", ["wall", "recessed", "pendant", "cabinet", "outdoors"])
    def test_what_is_tried_each_way_is_looked_at_by_itself(self, only):
        """Neither the first nor the last of its words need be the one that saves the answer, nor the one that does not.

        Outdoors is the last: at none of the two do the halves show that it hangs on the mounting.
        """
        lights = [load(name, "b", current_a=(1, 2)) for name in self.NAMES] + [load("z", "b", mounting=None)]

        def outcome_of(part, case):
            high = [each.id for each in case.loads[:-1] if each.current_a > 1.5]
            return FAIL if case.loads[-1].mounting != only or len(high) > len(self.NAMES) else PASS

        made = rule(saying(outcome_of), worse={**HIGH, "load.mounting": EACH})
        answer = about(made, circuit(box("b"), *lights))
        assert (answer.outcome, answer.needs) == (OPEN, ("load.z.mounting",))


class TestMuch:
    """Where it would take too long, all that can differ is named."""

    def test_no_more_than_so_many(self):
        names = [f"l{place}" for place in range(30)]
        assert len(found(lambda high: "l" in high, names).needs) == deciding.MOST_NAMED

    def test_too_many_to_move_each(self, monkeypatch):
        monkeypatch.setattr(deciding, "MOST_MOVES", 2)
        assert needs(lambda high: "a" in high, "ab") == "a"
        assert needs(lambda high: "a" in high, "abc") == "abc"

    def test_what_can_be_one_thing_only_is_never_named(self, monkeypatch):
        """60 °C at the terminals is all that is assumed."""
        monkeypatch.setattr(deciding, "MOST_MOVES", 0)

        def outcome_of(part, case):
            return FAIL if part.terminals_c * case.loads[0].current_a > 90 else PASS

        made = rule(saying(outcome_of), worse={"supply.terminals": MORE, "load.current": MORE})
        found = about(made, circuit(box("b"), load("a", "b", current_a=(1, 2))))
        assert (found.outcome, found.needs) == (OPEN, ("load.a.current",))

    @pytest.mark.parametrize("tries", [0, 2, 3])
    def test_too_many_cases(self, monkeypatch, tries):
        """Two cases are asked about before, the worst and the best; a third one is past the limit."""
        monkeypatch.setattr(deciding, "MOST_TRIES", tries)
        assert needs(lambda high: "a" in high, "abc") == "abc"

    def test_just_not_too_many(self, monkeypatch):
        monkeypatch.setattr(deciding, "MOST_TRIES", 20)
        assert needs(lambda high: "a" in high, "abc") == "a"

    def test_nothing_where_nobody_reads_it(self):
        assert found(lambda high: "a" in high, named=False).needs == ()

    def test_not_every_way_was_tried(self, monkeypatch):
        monkeypatch.setattr(asking, "MOST_WAYS", 1)
        assert needs(lambda high: "a" in high, "ab", worse={"load.current": MORE}) == "a"
