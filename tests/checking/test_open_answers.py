"""What is said of an answer that is open or rests on something: outcome, sentence, numbers, what to find out.

Each rule is made for its test, and what must come out is read off the rule.
"""

from dataclasses import replace

import pytest

from circuitcheck.case import EACH, LESS, MORE, Amount, Answer, order, said
from circuitcheck.checking import asking
from circuitcheck.findings import Source, Status
from circuitcheck.refs import Ref
from tests.checking.trial_rules import CAUTION, FAIL, OPEN, PASS, about, amperes, at_most, judged, rule, saying
from tests.rules.build import box, cable, circuit, load, supply

CURRENT = {"load.current": MORE}
FLAGS = {"load.own_switch": EACH, "load.in_spray": EACH, "load.current": MORE}
TO_COME = {"load.continuous": MORE, "box.bonded": LESS, "load.current": MORE, "load.in_spray": MORE}
#: A light of which nobody knows what it is.
UNKNOWN = {"in_spray": None, "lamp": None, "current_a": 1}
MINE = Source("a table", "2023", "row 1", Status.PUBLISHED, "read")


def lamp(low, high, *parts, **given):
    return circuit(box("b"), load("a", "b", current_a=(low, high), **given), *parts)


def by_amperes(*steps, **more):
    """The outcome of the last step that the current passes, from (0, outcome) on."""
    return saying(lambda part, case: [told for least, told in steps if amperes(part, case) >= least][-1], **more)


def test_what_either_end_rests_on_is_cited():
    other = replace(MINE, place="row 2")

    def answer(part, case, book):
        fails = amperes(part, case) > 5
        return Answer(
            part=part, outcome=FAIL if fails else PASS, says=said("so"), sources=(MINE,) if fails else (other,)
        )

    found = about(rule(answer, worse=CURRENT), lamp(1, 9))
    assert (found.outcome, found.sources) == (OPEN, (MINE, other))


class TestTooManyWays:
    """Where not every way was tried nothing is certain, unless it is known to differ."""

    def found(self, monkeypatch, outcome_of, **given):
        monkeypatch.setattr(asking, "MOST_WAYS", 3)
        return about(rule(saying(outcome_of), worse=FLAGS), lamp(1, 2, **given))

    @staticmethod
    def flags(case):
        return 2 * case.loads[0].own_switch + case.loads[0].in_spray

    @pytest.mark.parametrize("outcome", [PASS, CAUTION, FAIL])
    def test_alike_in_all_that_were_tried(self, monkeypatch, outcome):
        found = self.found(monkeypatch, lambda part, case: outcome if self.flags(case) < 9 else None)
        assert (found.outcome, found.needs) == (OPEN, ("load.a.own_switch", "load.a.in_spray"))

    @pytest.mark.parametrize("turned", [1, 2])
    def test_many_at_the_worst_or_at_the_best_alone(self, monkeypatch, turned):
        def outcome_of(part, case):
            return PASS if amperes(part, case) == turned else CAUTION if self.flags(case) < 9 else None

        assert self.found(monkeypatch, outcome_of).outcome is OPEN

    @pytest.mark.parametrize("many", [1, 2])
    def test_many_at_one_end_leave_no_number(self, monkeypatch, many):
        """At 2 A it fails, at 1 A it does; at one of them four ways are there, of which three are tried."""
        monkeypatch.setattr(asking, "MOST_WAYS", 3)

        def value_of(part, case):
            high = amperes(part, case) > 1
            return 20.0 * high + (self.flags(case) if high is (many > 1) else 0)

        found = about(rule(at_most(10, value_of), worse=FLAGS), lamp(1, 2, own_switch=None, in_spray=None))
        assert (found.outcome, found.value, found.low, found.high) == (OPEN, None, None, None)
        assert found.says.endswith("not every way was tried; numbers may be higher or lower.")
        monkeypatch.setattr(asking, "MOST_WAYS", 4)
        found = about(rule(at_most(10, value_of), worse=FLAGS), lamp(1, 2, own_switch=None, in_spray=None))
        assert (found.low is None, found.says.endswith("lower.")) == (False, False)

    def test_what_is_known_to_differ_is_decided_as_ever(self, monkeypatch):
        # The first way that is tried fails, the second does not; the current decides nothing.
        found = self.found(monkeypatch, lambda part, case: FAIL if self.flags(case) in (0, 3) else PASS)
        assert (found.outcome, "load.a.own_switch" in found.needs) == (OPEN, True)

    def test_no_number_is_told_as_the_most_where_not_all_were_tried(self, monkeypatch):
        def answer(part, case, book):
            value = float(self.flags(case))
            return Answer(part=part, outcome=CAUTION, says=said("So."), value=value, limit=9.0, unit="A")

        monkeypatch.setattr(asking, "MOST_WAYS", 3)
        found = about(rule(answer, worse=FLAGS), lamp(1, 2))
        assert (found.outcome, found.value, found.low, found.high) == (OPEN, None, None, None)

    def test_nothing_is_said_in_those_that_were_tried(self, monkeypatch):
        # The fourth way fails, and only three are tried: that it does not apply is not known.
        found = self.found(monkeypatch, lambda part, case: FAIL if self.flags(case) == 3 else None)
        assert found is not None
        assert found.outcome is OPEN

    def test_work_to_come_settles_nothing_that_was_not_tried(self, monkeypatch):
        # The fourth way fails however well the metal is bonded, and only three are tried.
        def outcome_of(part, case):
            if not case.boxes[0].bonded:
                return FAIL
            return FAIL if self.flags(case) == 3 else PASS

        monkeypatch.setattr(asking, "MOST_WAYS", 3)
        made = rule(saying(outcome_of), worse=FLAGS | {"box.bonded": LESS})
        assert about(made, circuit(box("b", origin="added", bonded=None), load("a", "b"))).outcome is OPEN


class TestCautions:
    def test_a_caution_at_best_alone_stays_one(self):
        found = about(rule(by_amperes((0, CAUTION), (5, PASS)), worse=CURRENT), lamp(4, 9))
        assert (found.outcome, found.says) == (CAUTION, "It is pass or caution.")

    def test_it_is_no_worst_case_then(self):
        def answer(part, case, book):
            much = amperes(part, case) > 5
            return Answer(part=part, outcome=PASS if much else CAUTION, says=said("Much.") if much else said("Little."))

        found = about(rule(answer, worse=CURRENT), lamp(4, 9))
        assert (found.outcome, found.says) == (CAUTION, "Little.")

    def test_of_two_cautions_the_worst_has_the_limit(self):
        def answer(part, case, book):
            value = amperes(part, case)
            return Answer(part=part, outcome=CAUTION, says=said("So."), value=value, limit=10 - value)

        found = about(rule(answer, worse=CURRENT), lamp(4, 9))
        assert (found.outcome, found.limit, found.value) == (CAUTION, 1, 9)

    def test_what_it_says_only_at_best_is_no_caution(self):
        def answer(part, case, book):
            return None if amperes(part, case) > 5 else Answer(part=part, outcome=CAUTION, says=said("Little."))

        assert about(rule(answer, worse=CURRENT), lamp(4, 9)) is None

    def test_of_the_worst_alone_it_says_so(self):
        def answer(part, case, book):
            return None if amperes(part, case) < 5 else Answer(part=part, outcome=CAUTION, says=said("Much."))

        found = about(rule(answer, worse=CURRENT), lamp(4, 9))
        assert (found.outcome, found.says) == (CAUTION, "At worst: Much.")

    def test_of_every_case_it_does_not(self):
        def answer(part, case, book):
            much = amperes(part, case) > 5
            return Answer(part=part, outcome=CAUTION, says=said("Much.") if much else said("Little."))

        assert about(rule(answer, worse=CURRENT), lamp(4, 9)).says == "Much."

    def test_what_is_known_does_not(self):
        found = about(rule(by_amperes((0, CAUTION)), worse=CURRENT), lamp(4, 4))
        assert (found.outcome, found.says) == (CAUTION, "It is caution.")


class TestLater:
    """How long it is on, and work to come: a caution, unless it fails however these turn out."""

    def found(self, fails, to_come=None, **given):
        def answer(part, case, book):
            bad = fails(case)
            return Answer(
                part=part,
                outcome=FAIL if bad else PASS,
                says=said("It has {value}.", value=Amount(amperes(part, case), "A")),
                to_come=to_come(case, bad) if to_come else None,
            )

        light = load("a", "b", **({"current_a": 1, "continuous": None, "in_spray": False} | given))
        return about(rule(answer, worse=TO_COME), circuit(box("b", origin="added", bonded=None), light))

    def test_what_fails_all_the_same_is_asked_for(self):
        found = self.found(lambda case: case.loads[0].continuous or case.loads[0].in_spray, in_spray=None)
        assert (found.outcome, found.needs) == (OPEN, ("load.a.continuous", "load.a.in_spray"))

    def test_what_fails_only_with_it_is_a_caution(self):
        found = self.found(lambda case: case.loads[0].continuous and case.loads[0].in_spray, in_spray=None)
        assert (found.outcome, found.needs) == (CAUTION, ())

    def test_it_is_to_come_where_all_of_it_is_work(self):
        assert self.found(lambda case: not case.boxes[0].bonded).to_come
        found = self.found(lambda case: not case.boxes[0].bonded or case.loads[0].continuous)
        assert (found.outcome, found.to_come) == (CAUTION, False)

    def test_it_names_what_it_depends_on(self):
        found = self.found(lambda case: not case.boxes[0].bonded or case.loads[0].continuous)
        assert found.says.startswith("It has 1 A. It depends on: ")
        assert found.says.count(";") == 1

    def test_what_to_do_is_said_of_both_cases(self):
        """At 9 A and at 11 A: one span, where both say it."""

        def to_come(case, bad):
            return said("Bond it at {value}.", value=Amount(amperes(None, case), "A"))

        found = self.found(lambda case: not case.boxes[0].bonded, to_come, current_a=(9, 11))
        assert found.says == "Bond it at 9 to 11 A."

    def test_what_to_do_is_said_where_only_the_worst_says_it(self):
        found = self.found(lambda case: not case.boxes[0].bonded, lambda case, bad: said("Bond it.") if bad else None)
        assert found.says == "Bond it."

    def test_what_is_plugged_in_is_asked_for(self):
        """A receptacle in a dwelling carries nothing, or what nobody wrote down (180 VA are planned for it)."""
        made = rule(
            saying(lambda part, case: FAIL if case.loads[0].power_w is None else PASS),
            worse={"load.power": lambda value, part, case: value is None},
        )
        built = circuit(box("b"), load("a", "b", kind="receptacle", connection="cord"))
        found = about(made, built)
        assert (found.outcome, found.needs) == (CAUTION, ("load.a.power",))


class TestWhatItDoubts:
    """``cable.carries`` is presumed to be a feed; the rule doubts it."""

    def found(self, template_of, low=4, high=9, only=None):
        def answer(part, case, book):
            words = template_of(part.carries != "feed", amperes(part, case))
            if words is None:
                return None
            return Answer(part=part, outcome=only or CAUTION, says=said(words), open_says=said("It is unknown"))

        made = rule(
            answer,
            lambda case: case.cables[1:],
            worse={"cable.carries": order("feed", "switched"), "load.current": MORE},
            doubts=frozenset({"cable.carries"}),
        )
        parts = cable("up", "panel", "b"), cable("c", "b", "d", origin="existing")
        return about(made, circuit(box("b"), box("d"), *parts, load("a", "d", current_a=(low, high))))

    def test_it_is_asked_for_where_another_sentence_is_said(self):
        found = self.found(lambda doubted, value: "Switched." if doubted else "Plain.")
        assert (found.outcome, found.needs) == (CAUTION, ("cable.c.carries",))
        assert found.says == 'It is unknown; still unknown: cable "c": what it carries.'

    def test_not_where_the_worst_of_the_others_says_the_same(self):
        found = self.found(lambda doubted, value: "Loud." if value > 5 else "Switched." if doubted else "Plain.")
        assert (found.outcome, found.needs, found.says) == (CAUTION, (), "Loud.")

    def test_it_is_asked_for_where_nothing_is_said_without_it(self):
        found = self.found(lambda doubted, value: "Switched." if doubted else None)
        assert (found.outcome, found.needs) == (CAUTION, ("cable.c.carries",))

    def test_nothing_is_said_where_only_the_best_says_something(self):
        assert self.found(lambda doubted, value: None if doubted else "Plain.") is None


class TestNoRow:
    """The tables hold nothing for what is known."""

    @staticmethod
    def answering(outcome_of, **more):
        def answer(part, case, book):
            outcome = outcome_of(case)
            return Answer(part=part, outcome=outcome, says=said(f"{outcome.value}."), **more)

        worse = {
            "load.mounting": EACH,
            "load.in_spray": MORE,
            "load.current": MORE,
            "load.lamp": order("LED", "halogen", "incandescent", "fluorescent"),
        }
        return rule(answer, worse=worse)

    def found(self, outcome_of, named=True, light=UNKNOWN, **more):
        return about(self.answering(outcome_of, **more), circuit(box("b"), load("a", "b", **light)), named=named)

    def test_what_it_names_is_asked_for(self):
        found = self.found(
            lambda case: OPEN if case.loads[0].lamp or case.loads[0].in_spray else PASS,
            keys=(Ref("load", "a", "lamp"),),
        )
        assert (found.outcome, found.needs) == (OPEN, ("load.a.lamp",))

    def test_whom_to_ask_is_enough(self):
        found = self.found(lambda case: OPEN if case.loads[0].lamp else PASS, ask=("Who knows?",))
        assert (found.outcome, found.needs, found.ask) == (OPEN, (), ("Who knows?",))

    def test_where_it_names_nothing_all_that_was_read_is_asked_for(self):
        found = self.found(lambda case: OPEN if case.loads[0].lamp or case.loads[0].in_spray else PASS)
        assert found.needs == ("load.a.lamp",)

    def test_one_value_of_many_that_brings_a_row_is_enough(self):
        """What it names is known; among the places where a light can hang only one has a row, and wall is worst."""
        light = {"mounting": None, "in_spray": None, "current_a": 1}

        def outcome_of(case):
            return PASS if case.loads[0].mounting == "recessed" else OPEN if case.loads[0].in_spray < 2 else FAIL

        known = (Ref("load", "a", "kind"),)
        found = self.found(outcome_of, light=light, keys=known)
        assert (found.outcome, found.needs) == (OPEN, ("load.a.mounting",))
        unnamed = self.found(outcome_of, light=light, keys=known, named=False)
        assert (unnamed.outcome, unnamed.needs) == (OPEN, ("load.a.kind",))

    def test_where_nothing_brings_a_row_what_it_names_is_read_again(self):
        keys = (Ref("load", "a", "kind"),)
        found = self.found(lambda case: OPEN if case.loads[0].lamp else PASS, keys=keys)
        assert (found.outcome, found.needs) == (OPEN, ("load.a.kind",))

    def test_what_has_no_row_at_worst_is_asked_for_too_where_it_is_told(self):
        """At worst a lamp of no table, at best a light of no table: the sentence speaks of the lamp."""

        def answer(part, case, book):
            lamp = case.loads[0].lamp
            key = Ref("load", "a", "lamp" if lamp != "LED" else "in_spray")
            told = said("No such lamp." if lamp != "LED" else f"No such light ({case.loads[0].in_spray}).")
            return Answer(part=part, outcome=OPEN, says=told, keys=(key,))

        made = rule(answer, worse=self.answering(None).worse)
        found = about(made, circuit(box("b"), load("a", "b", **UNKNOWN)))
        assert set(found.needs) == {"load.a.lamp", "load.a.in_spray"}

    def test_what_has_no_row_is_asked_for_beside_what_has_no_bound(self):
        """On a short cable the tables hold nothing for a fluorescent lamp; on a long one no lamp does."""

        def answer(part, case, book):
            if case.cables[0].length_m > 100:
                return Answer(part=part, outcome=FAIL, says=said("Too much."))
            none = case.loads[0].lamp == "fluorescent"
            keys = (Ref("load", "a", "lamp"),)
            return Answer(part=part, outcome=OPEN if none else PASS, says=said("So."), keys=keys)

        made = rule(answer, worse={**self.answering(None).worse, "cable.length": MORE})
        found = about(made, circuit(box("b"), cable("c", "panel", "b", length_m=None), load("a", "b", **UNKNOWN)))
        assert (found.outcome, set(found.needs)) == (OPEN, {"cable.c.length", "load.a.lamp"})

    def test_the_keys_of_the_best_where_only_that_has_no_row(self):
        def answer(part, case, book):
            spray = case.loads[0].in_spray
            return Answer(
                part=part,
                outcome=FAIL if spray else OPEN,
                says=said("So."),
                keys=(Ref("load", "a", "kind" if spray else "weight"),),
            )

        found = about(
            rule(answer, worse={"load.in_spray": MORE}), circuit(box("b"), load("a", "b", in_spray=None, weight_kg=1))
        )
        assert (found.outcome, found.needs) == (OPEN, ("load.a.weight",))
        assert found.keys == ("load.a.weight", "load.a.kind")

    def test_it_says_what_it_says(self):
        found = self.found(lambda case: OPEN if case.loads[0].lamp else PASS)
        assert found.says == "undetermined."


class TestPresumed:
    """No fitting is listed in any box: presumed, and told where the answer rests on it."""

    @staticmethod
    def found(limit, count, weights=None, named=True):
        def answer(part, case, book):
            total = sum((weights or {}).get(each.id, 1) * len(each.fittings) for each in case.boxes)
            return Answer(part=part, outcome=FAIL if total > limit else PASS, says=said("So."), value=float(total))

        return about(rule(answer), circuit(*(box(f"b{place}", fittings=None) for place in range(count))), named=named)

    def test_together_they_change_nothing(self):
        assert self.found(6, 6).assumed_keys == ()

    def test_none_alone_changes_anything(self):
        assert self.found(1, 6).assumed_keys == self.found(1, 3).assumed_keys == ()

    def test_those_that_change_it_alone(self):
        found = self.found(1, 6, {"b2": 2, "b4": 2})
        assert (found.outcome, found.assumed_keys) == (PASS, ("box.b2.fittings", "box.b4.fittings"))
        assert len(found.assumed) == 2

    def test_of_many_the_first_are_told(self):
        """Twenty-four at most."""
        assert self.found(1, 24).assumed_keys == ()
        assert len(self.found(1, 25).assumed_keys) == len(self.found(0, 30).assumed_keys) == 24

    def test_nothing_is_looked_for_where_nobody_reads_it(self):
        assert self.found(0, 2).assumed_keys == ("box.b0.fittings", "box.b1.fittings")
        assert self.found(0, 2, named=False).assumed_keys == ()

    def test_any_other_value_may_change_it(self):
        """An old cable may be switched, or a switch loop."""

        def outcome_of(turning):
            return lambda part, case: FAIL if part.carries == turning else PASS

        def resting(turning):
            made = rule(saying(outcome_of(turning)), lambda case: case.cables[1:])
            built = circuit(
                box("b"), box("d"), cable("up", "panel", "b"), cable("c", "b", "d", origin="existing", carries=None)
            )
            return about(made, built).assumed_keys

        assert resting("switched") == resting("switch loop") == ("cable.c.carries",)
        assert resting("two circuits") == ()


class TestWhatIsTold:
    def answer(self, part, case, book):
        value = amperes(part, case) * (1.25 if case.loads[0].continuous else 1.0) + len(case.boxes[0].fittings)
        return Answer(
            part=part,
            outcome=FAIL if value > 10 else PASS,
            says=said("It has {value}.", value=Amount(value, "A")),
            value=value,
            limit=10.0,
            sources=(MINE,),
            stop=value > 10,
            cause="heat",
            to_do={FAIL: ("Take one off.",), OPEN: ("Look.",)},
            working=lambda: (said("{value} in all", value=Amount(value, "A")),),
        )

    def found(self, low, high, continuous=None):
        made = rule(self.answer, worse=TO_COME)
        return about(
            made, circuit(box("b", fittings=None), load("a", "b", current_a=(low, high), continuous=continuous))
        )

    def test_what_is_assumed_of_an_unknown(self):
        found = self.found(1, 2)
        assert found.assumed_keys == ("load.a.continuous",)
        assert "box.b.fittings" in self.found(7, 7.8).assumed_keys, "one more would be over 10"

    def test_what_is_presumed_is_cited_only_where_the_answer_rests_on_it(self):
        assert self.found(1, 2).sources == (MINE,)
        places = {source.place for source in self.found(7, 7.8).sources}
        assert places == {"row 1", "what is possible"}

    def test_it_stops_the_job_only_where_every_case_does(self):
        assert (self.found(11, 12).stop, self.found(9, 12).stop, self.found(1, 2).stop) == (True, False, False)

    def test_a_cause_belongs_to_what_fails(self):
        assert (self.found(11, 12).cause, self.found(9.5, 12, False).cause, self.found(1, 2).cause) == ("heat", "", "")

    def test_what_to_do_goes_by_the_outcome(self):
        assert (self.found(11, 12).to_do, self.found(9.5, 12, False).to_do) == (("Take one off.",), ("Look.",))

    def test_the_lines_of_both_cases_are_one(self):
        assert tuple(self.found(1, 2).working) == ("1 to 2.5 A in all",)
        assert tuple(self.found(1, 1, False).working) == ("1 A in all",)

    def test_lines_that_differ_stand_one_after_the_other(self):
        def answer(part, case, book):
            much = amperes(part, case) > 5
            return Answer(
                part=part,
                outcome=PASS,
                says=said("So."),
                working=lambda: (said("much of {what}" if much else "little", what="{it}"),),
            )

        found = about(rule(answer, worse=CURRENT), lamp(4, 9))
        assert tuple(found.working) == ("at worst: much of {it}", "at best: little")

    @pytest.mark.parametrize(
        ("low", "high", "says"),
        [
            ("few", "many", "Cannot tell yet. At worst: many At best: few"),
            (
                "{value}",
                "{value}",
                'Cannot tell yet. At worst: 12 A At best: 4 A; still unknown: load "a": rated current of one.',
            ),
            ("so", "so", 'Cannot tell yet: so; still unknown: load "a": rated current of one.'),
        ],
    )
    def test_an_open_answer_without_a_sentence_of_its_own(self, low, high, says):
        def answer(part, case, book):
            value = amperes(part, case)
            words = said(high if value > 10 else low, value=Amount(value, "A")) if "{" in low else said(low)
            words = said(high if value > 10 else low, **words.things)
            return Answer(part=part, outcome=FAIL if value > 10 else PASS, says=words)

        named = "unknown" in says
        assert about(rule(answer, worse=CURRENT), lamp(4, 12), named=named).says.startswith(says)

    @pytest.mark.parametrize("best_too", [True, False])
    def test_a_sentence_of_its_own_spans_both(self, best_too):
        def answer(part, case, book):
            value = amperes(part, case)
            words = said("Cannot tell yet whether {value} are too much", value=Amount(value, "A"))
            bad = value > 10
            told = words if bad or best_too else None
            return Answer(part=part, outcome=FAIL if bad else PASS, says=said("So."), open_says=told)

        span = "4 to 12 A" if best_too else "12 A"
        expected = f'Cannot tell yet whether {span} are too much; still unknown: load "a": rated current of one.'
        assert about(rule(answer, worse=CURRENT), lamp(4, 12)).says == expected


class TestOneEnd:
    """Where one of the cases has no number."""

    @staticmethod
    def found(numbered, *, at_least):
        """4 to 9 A, of which only what ``numbered`` takes is told as a number."""

        def answer(part, case, book):
            value = amperes(part, case)
            told = value if numbered(value) else None
            return Answer(part=part, outcome=PASS, says=said("So."), value=told, limit=1, at_least=at_least)

        return about(rule(answer, worse=CURRENT), lamp(4, 9))

    @pytest.mark.parametrize(("at_least", "ends"), [(False, (None, 9)), (True, (9, None))])
    def test_none_at_best(self, at_least, ends):
        found = self.found(lambda value: value > 5, at_least=at_least)
        assert (found.outcome, found.low, found.high) == (PASS, *ends)

    @pytest.mark.parametrize(("at_least", "ends"), [(False, (4, None)), (True, (None, 4))])
    def test_none_at_worst(self, at_least, ends):
        found = self.found(lambda value: value < 5, at_least=at_least)
        assert (found.outcome, found.low, found.high, found.value) == (PASS, *ends, None)

    @pytest.mark.parametrize(("nothing", "low"), [(None, 4), (0.0, 0.0)])
    def test_no_answer_in_one_of_the_best_ways(self, nothing, low):
        """In one of the ways there is nothing to count: where nothing is a number, it is the lower end."""

        def answer(part, case, book):
            light = case.loads[0]
            if light.in_spray:
                return None
            return Answer(part=part, outcome=FAIL, says=said("So."), value=light.current_a, limit=1)

        worse = {"load.current": MORE, "load.in_spray": EACH}
        found = about(rule(answer, worse=worse, nothing=nothing), lamp(4, 9, in_spray=None))
        assert (found.low, found.high) == (low, 9)

    def test_none_at_all(self):
        found = about(rule(by_amperes((0, PASS)), worse=CURRENT), lamp(4, 9))
        assert (found.low, found.high, found.value) == (None, None, None)


def test_it_is_a_wrong_direction_where_only_the_best_fails():
    found = about(rule(by_amperes((0, FAIL), (5, PASS)), worse=CURRENT), lamp(4, 9))
    assert (found.outcome, found.needs) == (OPEN, ("load.a.current",))


def test_a_known_circuit_has_one_answer():
    (found,) = judged(rule(by_amperes((0, FAIL)), worse=CURRENT), lamp(4, 4))
    assert (found.outcome, found.says, found.needs, found.assumed) == (FAIL, "It is fail.", (), ())
    assert judged(rule(lambda part, case, book: None), circuit(supply(), box("b"))) == []
