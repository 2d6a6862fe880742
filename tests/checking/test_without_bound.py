"""Entries that can be anything: each stands at its best end, and is then moved far, alone and with others.

A length goes to 609.6 m (2000 ft, the most that the key takes), a distance between supports to 15.24 m (50 ft).
"""

import pytest

from circuitcheck.case import EACH, MORE, Amount, Answer, said
from circuitcheck.case.memory import aside
from circuitcheck.checking import asking
from tests.checking.trial_rules import CAUTION, FAIL, OPEN, PASS, about, amperes, at_most, meters, rule
from tests.rules.build import FOOT, box, cable, circuit, driver, load, low_voltage_load

FAR = 2000 * FOOT
SPACED = {"cable.support_spacing": MORE, "cable.length": MORE, "load.continuous": MORE}
LENGTHS = {"cable.length": MORE, "load.current": MORE}
x, y, z = meters("x"), meters("y"), meters("z")


def built(*parts, current=1, **lengths):
    """Cables of these lengths in a row, and a load."""
    nodes = ["panel", *(f"at {name}" for name in lengths)]
    cables = [
        cable(name, nodes[place], nodes[place + 1], length_m=length)
        for place, (name, length) in enumerate(lengths.items())
    ]
    boxes = [box(node) for node in nodes[1:]]
    return circuit(*boxes, *cables, load("a", nodes[-1], current_a=current), *parts)


def limited(limit, value_of):
    return rule(at_most(limit, lambda part, case: value_of(case)), worse=LENGTHS)


class TestWhatItChanges:
    def test_nothing_then_nobody_asks(self):
        found = about(limited(10_000, x), built(x=None))
        assert (found.outcome, found.needs, found.value, found.high) == (PASS, (), FAR, FAR)
        assert not found.says.startswith("At best")
        assert [line.rpartition(" ")[0] for line in found.working] == ["value: 0.0305 to 610"]  # 609.6 m, rounded

    def test_only_the_worst_of_the_other_entries(self):
        # 609.6 m at 1 A stay within 1000, at 2 A they do not.
        found = about(limited(1000, lambda case: x(case) * amperes(None, case)), built(x=None, current=(1, 2)))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length", "load.a.current"))

    def test_only_the_best_of_the_other_entries(self):
        # 9 to 12 A of 10, and a long cable uses up the 2 A in which it may do.
        made = limited(10, lambda case: amperes(None, case) + (2 if x(case) > 500 else 0))
        found = about(made, built(x=None, current=(9, 12)))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length", "load.a.current"))

    def test_what_it_takes_on_is_told_as_at_least_so_much(self):
        """From the shortest that a length can be, a tenth of a foot."""

        def answer(part, case, book):
            open_says = said("Is {value} too far", value=Amount(x(case) / FOOT, "ft"))
            return Answer(part=part, outcome=FAIL if x(case) > 100 else PASS, says=said("So."), open_says=open_says)

        found = about(rule(answer, worse=LENGTHS), built(x=None))
        assert (found.outcome, found.says.startswith("Is at least 0.1 ft too far")) == (OPEN, True)

    def test_it_stands_before_what_decides_only_once_it_is_far(self):
        """Any way to mount the other light does while the cable is short, so that none of them settles more."""

        def value(part, case):
            mounting = case.loads[1].mounting
            return 20 if x(case) > 500 and mounting not in ("recessed", "pendant") else 1

        made = rule(at_most(10, value), worse=LENGTHS | {"load.mounting": EACH})
        found = about(made, built(load("b", "at x", current_a=1, mounting=None), x=None))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length", "load.b.mounting"))

    def test_what_is_open_without_it_is_not_asked_about_it(self):
        made = limited(10, lambda case: amperes(None, case) + 0 * x(case))
        found = about(made, built(x=None, current=(9, 12)))
        assert (found.outcome, found.needs) == (OPEN, ("load.a.current",))

    def test_a_number_that_it_takes_on_has_no_end_and_one_that_stays_between_has(self):
        """4 to 12 A. On a long cable 3 A more, or what lies nearer: 6 to 10 A. Either way the current alone decides."""
        on = limited(10, lambda case: amperes(None, case) + (3 if x(case) > 500 else 0))
        found = about(on, built(x=None, current=(4, 12)))
        assert (found.outcome, found.needs, found.value, found.high) == (OPEN, ("load.a.current",), None, None)
        between = limited(9, lambda case: 4 + amperes(None, case) / 2 if x(case) > 500 else amperes(None, case))
        found = about(between, built(x=None, current=(4, 12)))
        assert (found.outcome, found.needs) == (OPEN, ("load.a.current",))
        assert (found.value, found.low, found.high) == (12, 4, 12)

    def test_each_of_two_that_does_alone_is_asked_for(self):
        found = about(limited(100, lambda case: x(case) + y(case)), built(x=None, y=None))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length", "cable.y.length"))

    def test_of_three_the_two_that_do_together(self):
        # The third is looked at and changes nothing.
        made = limited(500, lambda case: x(case) * y(case) + 0 * z(case))
        assert about(made, built(z=None, x=None, y=None)).needs == ("cable.x.length", "cable.y.length")
        assert about(made, built(x=None, z=None, y=None)).needs == ("cable.x.length", "cable.y.length")

    @pytest.mark.parametrize("current", [2, (1, 2)])
    def test_those_past_the_ones_that_are_listed_count_too(self, monkeypatch, current):
        """Too far only where all three are; at 1 A only the first is looked at."""
        monkeypatch.setattr(asking, "MOST_UNBOUNDED", 2)
        made = limited(100, lambda case: min(x(case), y(case), z(case)) if amperes(None, case) > 1.5 else 0 * x(case))
        assert about(made, built(x=None, y=None, z=None, current=current)).outcome is OPEN

    def test_two_that_do_nothing_together(self):
        found = about(limited(10_000, lambda case: x(case) + y(case)), built(x=None, y=None))
        assert (found.outcome, found.needs) == (PASS, ())


class TestBesideIt:
    """On the same visit: what else moves the number, and what decides once it turns out badly."""

    def test_what_moves_the_number_and_alone_changes_nothing(self):
        # 609.6 + 0.5 * 609.6: the second alone stays below 400, the third is not in the number.
        made = limited(400, lambda case: x(case) + y(case) / 2 + 0 * z(case))
        assert about(made, built(x=None, y=None, z=None)).needs == ("cable.x.length", "cable.y.length")

    def test_what_moves_the_number_only_once_another_is_more_than_nothing(self):
        """Volts lost are ohms times amperes: without amperes no length counts, with them each of the two does."""
        made = limited(100, lambda case: (x(case) + y(case)) * z(case))
        assert set(about(made, built(x=None, y=None, z=None)).needs) == {f"cable.{each}.length" for each in "xyz"}

    def test_a_little_more_is_less_than_far(self):
        """Over 500 m the first alone counts, near its end the second does not yet: between these it does."""
        made = limited(900, lambda case: 1000 if x(case) > 500 else y(case) if x(case) > 0.1 else 0 * y(case))
        assert about(made, built(x=None, y=None)).needs == ("cable.x.length", "cable.y.length")

    def test_a_little_more_is_a_little_less_where_that_is_worse(self):
        """The same from the other end: a short one alone counts, at its longest the second does not yet."""

        def value(case):
            return 1000 if x(case) < 100 else y(case) if x(case) < FAR - 0.1 else 0 * y(case)

        worse = {"cable.length": lambda value, part, case: -value if part.id == "x" else value}
        made = rule(at_most(900, lambda part, case: value(case)), worse=worse)
        assert about(made, built(x=None, y=None)).needs == ("cable.x.length", "cable.y.length")

    def test_what_may_not_be_there_is_never_a_little_of_it(self):
        """A light of which no power is known may be a strip: it has no length then, or any."""

        def answer(part, case, book):
            (light,) = case.low_voltage_loads
            value = (light.length_m or 0.0) + 0 * y(case)
            return Answer(part=part, outcome=FAIL if value > 5 else PASS, says=said("So far."), value=value)

        worse = {"cable.length": MORE, "low_voltage_load.length": lambda value, part, case: value or 0.0}
        strip = low_voltage_load("s", fed_from="d", power_w=None, length_m=None)
        found = about(rule(answer, worse=worse), built(driver("d", "at y"), strip, y=None))
        assert (found.outcome, found.needs) == (OPEN, ("low_voltage_load.s.length",))

    def test_what_moves_nothing_while_others_do(self):
        # From 1 A to 2 A the number moves, with the second length it does not.
        made = limited(10, lambda case: amperes(None, case) + x(case) + 0 * y(case))
        assert about(made, built(x=None, y=None, current=(1, 2))).needs == ("cable.x.length",)

    def test_what_moves_the_limit(self):
        def answer(part, case, book):
            return Answer(
                part=part,
                outcome=FAIL if x(case) > 100 else PASS,
                says=said("So far."),
                value=x(case),
                limit=max(100.0, y(case)),
            )

        assert about(rule(answer, worse=LENGTHS), built(x=None, y=None)).needs == ("cable.x.length", "cable.y.length")

    def test_what_brings_no_answer_is_not_asked_for(self):
        def answer(part, case, book):
            if y(case) > 100:
                return None
            return Answer(part=part, outcome=FAIL if x(case) > 100 else PASS, says=said("So far."), value=x(case))

        worse = {"cable.length": lambda value, part, case: value if part.id == "x" else -value}
        found = about(rule(answer, worse=worse), built(x=None, y=(1, 2)))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length",))

    @pytest.mark.parametrize(
        ("current", "value_of"),
        [
            # far it fails at 2 A and not at 1 A; near it passes
            ((1, 2), lambda case: x(case) / 100 * amperes(None, case)),
            # near it fails at 12 A and not at 9 A; far it fails at both
            ((9, 12), lambda case: amperes(None, case) + x(case)),
        ],
    )
    def test_what_decides_near_or_far(self, current, value_of):
        made = limited(10, value_of)
        assert about(made, built(x=None, current=current)).needs == ("cable.x.length", "load.a.current")
        found = about(made, built(x=None, current=current), named=False)
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length",))

    def test_nothing_else_where_it_alone_decides(self):
        made = limited(10, lambda case: amperes(None, case) + x(case))
        assert about(made, built(x=None, current=(1, 2))).needs == ("cable.x.length",)


class TestNumbers:
    def test_the_worst_number_is_the_farthest(self):
        # Far off the first has 609.6, the second a half of that; near they have 0.1 ft.
        found = about(limited(10_000, lambda case: x(case) + y(case) / 2), built(x=None, y=None))
        assert (found.outcome, found.value) == (PASS, pytest.approx(1.5 * FAR))
        assert (found.low, found.high) == (pytest.approx(0.15 * FOOT), found.value)

    def test_the_worst_number_is_the_nearest_where_that_is_worse(self):
        made = rule(at_most(100, lambda part, case: 1 / x(case)), worse={"cable.length": EACH})
        found = about(made, built(x=None))
        assert (found.outcome, found.value) == (PASS, pytest.approx(1 / (0.1 * FOOT)))

    @pytest.mark.parametrize(("at_least", "ends"), [(False, (1.0, None)), (True, (None, 1.0))])
    def test_where_there_is_none_far_off_it_has_no_worst_end(self, at_least, ends):
        def answer(part, case, book):
            value = None if x(case) > 100 else 1.0
            return Answer(part=part, outcome=PASS, says=said("So."), value=value, limit=5.0, at_least=at_least)

        found = about(rule(answer, worse=LENGTHS), built(x=None))
        assert (found.outcome, found.low, found.high) == (PASS, *ends)

    def test_what_fails_near_and_does_not_apply_far_off_is_open(self):
        def answer(part, case, book):
            return None if x(case) > 100 else Answer(part=part, outcome=FAIL, says=said("So."), value=1.0)

        found = about(rule(answer, worse=LENGTHS), built(x=None))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length",))

    @pytest.mark.parametrize(("at_least", "ends"), [(False, (11.0, None)), (True, (None, 11.0))])
    def test_what_fails_already_may_be_worse_without_end(self, at_least, ends):
        def answer(part, case, book):
            value = 11 - 0 * x(case)
            return Answer(part=part, outcome=FAIL, says=said("So."), value=value, limit=9, at_least=at_least)

        found = about(rule(answer, worse=LENGTHS), built(x=None))
        assert (found.outcome, found.low, found.high, found.value) == (FAIL, *ends, 11)

    @pytest.mark.parametrize("read_at", [9, 12])
    def test_what_fails_may_be_worse_where_one_case_reads_it(self, read_at):
        def answer(part, case, book):
            value = amperes(part, case)
            value += 0 * x(case) if value == read_at else 0
            return Answer(part=part, outcome=FAIL, says=said("So."), value=value, limit=5)

        found = about(rule(answer, worse=LENGTHS), built(x=None, current=(9, 12)))
        assert (found.outcome, found.low, found.high, found.value) == (FAIL, 9, None, 9)

    def test_an_open_answer_has_no_worst_number(self):
        found = about(limited(10, x), built(x=None))
        assert (found.outcome, found.value, found.low, found.high) == (OPEN, None, pytest.approx(0.1 * FOOT), None)


class TestSaidOnlyFarOff:
    """The rule says nothing about it near."""

    @staticmethod
    def long(length_of):
        def answer(part, case, book):
            if length_of(case) < 500:
                return None
            over = amperes(part, case) > 10
            return Answer(part=part, outcome=FAIL if over else PASS, says=said("Over." if over else "Well."))

        return rule(answer, worse=LENGTHS)

    def test_the_worst_that_it_may_say(self):
        found = about(self.long(x), built(x=None, current=(4, 12)))
        assert (found.outcome, found.needs[0]) == (OPEN, "cable.x.length")
        assert found.says.startswith("Cannot tell yet: Over; still unknown: ")

    def test_what_changes_nothing_about_that_is_not_asked_for(self):
        found = about(self.long(lambda case: x(case) + 0 * y(case)), built(x=None, y=None, current=12))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length",))

    def test_two_that_bring_it_only_together(self):
        found = about(self.long(lambda case: x(case) * y(case)), built(x=None, y=None, current=12))
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length", "cable.y.length"))

    def test_what_brings_nothing_is_not_spoken_of(self):
        assert about(self.long(lambda case: x(case) / 100), built(x=None, current=12)) is None
        assert about(self.long(lambda case: (x(case) + y(case)) / 100), built(x=None, y=None, current=12)) is None

    def test_what_would_be_met_is_not_spoken_of(self):
        assert about(self.long(x), built(x=None, current=2)) is None


class TestLater:
    """Work that is still to be done has no bound either, and leaves a caution."""

    @staticmethod
    def first(case):
        return case.cables[0]

    def told(self, worse_of, **given):
        def answer(part, case, book):
            value = worse_of(case)
            return Answer(
                part=part,
                outcome=FAIL if value > 10 else PASS,
                says=said("It has {value}.", value=Amount(value)),
                to_come=said("Keep it under 10, not {value}.", value=Amount(value)) if value > 10 else None,
            )

        run = cable("x", "panel", "b", **given)
        return about(rule(answer, worse=SPACED), circuit(box("b"), run, load("a", "b", current_a=1, continuous=None)))

    def test_it_says_what_to_keep_to(self):
        found = self.told(lambda case: self.first(case).support_spacing_m, support_spacing_m=None)
        assert (found.outcome, found.to_come, found.needs) == (CAUTION, True, ())
        assert found.says == "Keep it under 10, not 15.2."

    def test_what_fails_however_the_work_is_done_fails(self):
        found = self.told(lambda case: 11 + self.first(case).support_spacing_m, support_spacing_m=None)
        assert found.outcome is FAIL

    def test_what_else_has_no_bound_is_asked_for(self):
        def sum_of(case):
            return self.first(case).support_spacing_m + self.first(case).length_m

        found = self.told(sum_of, support_spacing_m=None, length_m=None)
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.length", "cable.x.support_spacing"))

    def test_what_is_open_beside_the_work_is_asked_for(self):
        def both(case):
            return self.first(case).support_spacing_m + (20 if case.loads[0].continuous else 0)

        found = self.told(both, support_spacing_m=None)
        assert (found.outcome, found.needs) == (OPEN, ("cable.x.support_spacing", "load.a.continuous"))


class TestSetAside:
    def test_only_so_many_are_told(self):
        """A sentence names six of a kind."""

        def answer(part, case, book):
            with aside(case):
                total = sum(each.length_m for each in case.cables)
            return Answer(part=part, outcome=PASS, says=said("{total}", total=Amount(total)))

        found = about(rule(answer, worse=LENGTHS), built(**dict.fromkeys("abcdefgh")))
        assert found.assumed_keys == tuple(f"cable.{name}.length" for name in "abcdef")

    def test_what_is_asked_for_is_not_told_as_set_aside(self):
        found = about(limited(10, x), built(x=None))
        assert (found.assumed, found.assumed_keys) == ((), ())
