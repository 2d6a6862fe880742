"""What to find out first: thresholds against sums and scans, and questions that turn what they say they turn."""

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from circuitcheck.advice.advised import advised
from circuitcheck.advice.asking_again import ANYTHING, answers, found_out, open_answers, outcomes, with_steps
from circuitcheck.advice.least_questions import best_step, least_questions
from circuitcheck.advice.questions import questions_of
from circuitcheck.advice.turning import Region, looks, region_text, regions, where_it_holds
from circuitcheck.case import EACH, Answer, CaseRule, Family, said
from circuitcheck.case.making import case_of
from circuitcheck.checking import check
from circuitcheck.checking.open_values import OpenValues, open_values, ref_of
from circuitcheck.checking.would_do import changed
from circuitcheck.circuit.change import Change
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import Outcome, Verdict
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.generating.dice import Dice, Shares
from tests.generating.opening import opened
from tests.rules.build import CUBIC_INCH, book, box, cable, circuit, device, exact, load, supply

ROOT = Path(__file__).parents[2]
LENGTH = SECTIONS["cable"].keys["length"]


def length(low_m, high_m):
    return OpenValues(Ref("cable", "feed", "length"), LENGTH, (low_m, high_m), ())


def asked(built, edition="nec-2023"):
    report = check(built, book(edition))
    return {each.key: each for each in questions_of(report, as_planned(built), book(edition)).unknowns}


class TestThresholds:
    def test_box_volume_by_hand(self):
        # two 14/2 with ground, a switch, no clamps: 4 x 2.00 + 2 x 2.00 + 2.00 = 14.00 in^3, below it the box is full
        there = box("b", trade_size=None, volume_m3=None, devices=(device(),), origin="added")
        question = asked(
            circuit(there, box("c"), cable("feed", "panel", "b"), cable("on", "b", "c")),
        )["box.b.volume"]
        assert (question.settles, question.alone) == ("at least 14 in³", True)
        assert question.ends == "at most 13.9 in³"  # rounded so that what is named does end it
        assert ("box-fill", "b") in question.checks

    def test_breaker_by_its_watts(self):
        # 15 A x 120 V = 1800 W of a load that is not continuous and stays on the wire for good
        lamp = load("lamp", "b", power_w=(1500, 2500), origin="added")
        question = asked(circuit(box("b"), cable("feed", "panel", "b"), lamp))["load.lamp.power"]
        assert question.settles == "at most 1800 W"
        assert question.alone
        assert ("load-share", "circuit") in question.checks

    @pytest.mark.parametrize("change", ["remove", "replace"])
    def test_whether_a_load_that_goes_was_on_at_the_reading(self, change):
        # 14.5 A were read. If the 3 A were on: 14.5 - 3 + 1 = 12.5 A. If not: 14.5 + 1 = 15.5 A of 15 A.
        old, new = load("old", "b", current_a=3, kind="receptacle"), load("new", "b", current_a=1, origin="added")
        nothing = {"current_a": exact(0)} if change == "replace" else {}
        there = circuit(
            box("b"), cable("feed", "panel", "b", origin="existing"), old, new, supply(measured_current_a=14.5)
        )
        planned = replace(there, changes=(Change(part=Ref("load", "old"), action=change, new=nothing),))
        question = asked(planned)["load.old.on_at_reading"]
        assert (question.settles, question.ends, question.alone) == ("yes", "no", True)
        assert ("load-share", "circuit") in question.checks

    @pytest.mark.parametrize("change", ["remove", "replace"])
    def test_what_a_load_drew_that_goes_or_is_replaced(self, change):
        """14.5 A were read with a heater on, and 1 A is to come: from 60 W on (0.5 A of 120 V) the rest fits 15 A."""
        old = load("old", "b", kind="heater", power_w=None, on_at_reading=True)
        new = load("new", "b", current_a=1, origin="added")
        way = box("b"), box("c"), cable("feed", "panel", "b", origin="existing"), cable("on", "b", "c")
        there = circuit(*way, old, new, supply(measured_current_a=14.5))
        given = {"kind": "light", "current_a": exact(0)} if change == "replace" else {}
        planned = replace(there, changes=(Change(part=Ref("load", "old"), action=change, new=given),))
        question = asked(planned)["load.old.power"]
        assert (question.settles, question.ends) == ("at least 60.1 W", "at most 59.9 W")

    def test_an_answer_of_yes_or_no(self):
        # 4 x 2.00 + 2 x 2.00 + 2.00 = 14 fits 15 in^3, with clamps 16 does not
        there = box("b", trade_size=None, volume_m3=15 * CUBIC_INCH, devices=(device(),), internal_clamps=None)
        question = asked(circuit(there, box("c"), cable("feed", "panel", "b"), cable("on", "b", "c")))[
            "box.b.internal_clamps"
        ]
        assert (question.settles, question.ends, question.alone, question.visit) == ("no", "yes", True, "box")

    @pytest.mark.parametrize("turn_m", [1.0, 3.7, 9.999, 0.5])
    def test_the_end_found_by_halving_is_that_of_a_scan(self, turn_m):
        found = regions(length(0.4, 10.0), lambda value: value <= turn_m)
        scanned = max(0.4 + 9.6 * step / 20_000 for step in range(20_001) if 0.4 + 9.6 * step / 20_000 <= turn_m)
        (region,) = found
        assert region.low is None
        assert region.high == pytest.approx(scanned, abs=1e-3)
        assert region.high <= turn_m

    def test_a_wide_span_is_looked_at_evenly_in_its_logarithm(self):
        points = looks(length(0.01, 1000.0))
        ratios = [math.log(after / before) for before, after in pairwise(points)]
        assert ratios == pytest.approx([ratios[0]] * len(ratios))

    def test_what_is_named_is_always_inside(self):
        # 30.48 m are 100 ft, 10 m are 32.8084 ft: down to 32.8, up to 32.9
        assert region_text(LENGTH, Region(None, 30.48)) == "at most 100 ft"
        assert region_text(LENGTH, Region(None, 10.0)) == "at most 32.8 ft"
        assert region_text(LENGTH, Region(10.0, None)) == "at least 32.9 ft"
        assert region_text(LENGTH, Region(10.0, 30.48)) == "32.9 ft to 100 ft"
        assert region_text(LENGTH, Region(None, None)) == "any value"
        assert where_it_holds(length(1.0, 2.0), lambda value: False) is None


@cache
def examples():
    return [
        read_file(ROOT / "examples" / f"{name}.circuit.toml", vocabulary())
        for name in ("bedroom", "shelf-strip", "den")
    ]


@cache
def forgotten(seed):
    """An example of which a tenth is forgotten, its report, its open entries and its questions."""
    known = examples()[seed % len(examples())]
    built = opened(known, Dice(seed), Shares(left_out=0.1, ranges=0.3))
    rulebook = load_rulebook(built.job.rulebook)
    report = check(built, rulebook)
    return built, rulebook, report, case_of(built, rulebook), questions_of(report, built, rulebook).unknowns


#: `make test-long` asks the same of many more.
SEEDS = (1, 2, *(pytest.param(seed, marks=pytest.mark.long) for seed in range(3, 40)))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_question_turns_every_answer_that_it_names(seed):
    built, rulebook, report, case, questions = forgotten(seed)
    named = [each for each in questions if each.checks][:2]
    for question in named:
        values = open_values(question.key, case)
        left = set(question.checks)
        for value in looks(values):
            after = check(found_out(built, values, value), rulebook)
            told = outcomes(after.findings)
            left -= {name for name in left if told.get(name) is not Outcome.UNDETERMINED}
            if Outcome.FAIL in told.values() and report.verdict is Verdict.UNDETERMINED:
                assert after.verdict is Verdict.DOES_NOT_FIT
            if not left:
                break
        assert not left, question


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_said_to_end_the_job_ends_it_and_nothing_else_does(seed):
    built, rulebook, _, case, questions = forgotten(seed)
    spans = [each for each in questions if each.alone and open_values(each.key, case).span]
    for question in spans[:1]:
        values = open_values(question.key, case)
        low, high = values.span

        def ends(value, values=values, question=question):
            told = answers(found_out(built, values, value), rulebook, question.checks)
            return Outcome.FAIL in outcomes(told).values()

        found = regions(values, ends)
        for value in (low + (high - low) * step / 12 for step in range(13)):
            inside = any(
                (region.low is None or value >= region.low) and (region.high is None or value <= region.high)
                for region in found
            )
            assert ends(value) is inside, (question, value)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_idle_entry_never_turns_the_verdict(seed):
    built, rulebook, report, case, questions = forgotten(seed)
    idle = [each for each in questions if not each.decides and not each.alone]
    for question in idle[:4]:
        values = open_values(question.key, case)
        for value in looks(values)[:: max(1, len(looks(values)) - 1)] if values is not None else ():
            after = check(found_out(built, values, value), rulebook)
            assert after.verdict is report.verdict, (question.key, value)


def test_what_only_people_do_decides_nothing_and_may_end_the_job():
    # 14 A on a 15 A breaker; 1.25 x 14 A = 17.5 A once it stays on for three hours: a caution until that is known
    lamp = load("lamp", "b", power_w=14 * 120, continuous=None, origin="added")
    question = asked(circuit(box("b"), cable("feed", "panel", "b"), lamp))["load.lamp.continuous"]
    assert (question.decides, question.alone, question.ends, question.settles) == (False, True, "yes", None)


class TestExamples:
    """The questions of the examples, each with its reason."""

    def advised(self, name):
        built = read_file(ROOT / "examples" / f"{name}.circuit.toml", vocabulary())
        rulebook = load_rulebook(built.job.rulebook)
        return advised(check(built, rulebook), built, rulebook)

    def test_den(self):
        report = self.advised("den")
        deciding = [each for each in report.unknowns if each.decides]
        # A guessed size comes first: thinner than 14 AWG is no branch circuit wire, which ends the job by itself
        # (210.19 and Table 210.24: at least 14 AWG); it turns the breaker, the ampacity and the box count.
        # Clamps only turn the box: four 14 AWG, grounds, leads and clamps.
        assert [each.key for each in deciding] == ["cable.feed.size", "box.ceiling.internal_clamps"]
        first, second = deciding
        assert (first.alone, first.ends, len(first.checks)) == (True, "16 AWG", 3)
        assert (second.alone, second.settles, second.ends, second.checks) == (
            False, "no", None, (("box-fill", "ceiling"),)
        )  # fmt: skip
        # Neither can be left out: with clamps and 14 AWG, or without and 12 AWG, the box stays open.
        assert report.least_questions == ("cable.feed.size", "box.ceiling.internal_clamps")
        assert [(each.visit, each.settles) for each in report.visits] == [("box", 3)]  # both are seen in one open box

    @pytest.mark.parametrize("name", ["hallway", "old-house"])
    def test_where_something_fails_nobody_is_sent_on_a_visit(self, name):
        # the attic box holds 16 in 15.5 in^3; the old house has signs to stop
        report = self.advised(name)
        assert report.verdict is Verdict.DOES_NOT_FIT
        assert not any(each.alone or each.ends for each in report.unknowns)
        assert (report.least_questions, report.visits) == ((), ())

    @pytest.mark.parametrize("name", ["bedroom", "shelf-strip"])
    def test_where_it_fits_nothing_decides(self, name):
        report = self.advised(name)
        assert not any(each.decides for each in report.unknowns)


def test_the_least_set_settles_all_and_none_of_it_can_be_left_out():
    built = examples()[2]
    rulebook = load_rulebook(built.job.rulebook)
    report = check(built, rulebook)
    keys = least_questions(built, rulebook, report.unknowns)
    concerned = {key: [each for each in report.findings if key in each.needs] for key in keys}
    steps = [best_step(built, case_of(built, rulebook), key, concerned[key]) for key in keys]
    assert check(with_steps(built, steps), rulebook).verdict is Verdict.FITS
    for left in steps:
        fewer = with_steps(built, [each for each in steps if each is not left])
        assert check(fewer, rulebook).verdict is Verdict.UNDETERMINED


@pytest.mark.parametrize(
    ("path", "ref"),
    [
        ("cable.feed.length", Ref("cable", "feed", "length")),
        ("supply.breaker", Ref("supply", "", "breaker")),
        ("box.hall.east.volume", Ref("box", "hall.east", "volume")),
        ("nothing.here", None),
    ],
)
def test_the_path_of_an_entry(path, ref):
    assert ref_of(path) == ref


def judged_up_to_three(load, case, book):
    """As a rule that looks up a value for more than three lights."""
    if load.quantity > 3:
        book.value("many-lights")
    return Answer(part=load, outcome=Outcome.FAIL if load.quantity < 2 else Outcome.PASS, says=said("A few."))


def test_what_is_not_judged_once_it_is_known_settles_nothing(monkeypatch):
    """Of 1 to 9 lights one fails, two and three pass, and of more nobody can tell."""
    trial = CaseRule(
        name="trial", title="t", family=Family.SITE, rank=1, subjects=lambda case: case.loads,
        answer=judged_up_to_three, worse={"load.quantity": EACH},
    )  # fmt: skip
    monkeypatch.setattr("circuitcheck.advice.asking_again.ALL_RULES", (trial,))
    lamps = circuit(box("b"), cable("feed", "panel", "b"), load("lamp", "b", quantity=3))
    for lights, outcome in ((1, Outcome.FAIL), (3, Outcome.PASS), (4, Outcome.UNDETERMINED)):
        known = changed(lamps, Ref("load", "lamp", "quantity"), lights)
        assert outcomes(answers(known, book(), [("trial", "lamp")])) == {("trial", "lamp"): outcome}
        assert bool(open_answers(known, book())) is (lights == 4)
        assert bool(open_answers(known, book(), ("trial",))) is False
    assert answers(lamps, book(), [("trial", ANYTHING)]) == ()
