"""What settles most stands first: within an open answer, and in the list of what to find out.

The rules are made for the purpose; what each entry can do is read off their definition by hand.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.advice.asking_again import answers, found_out, outcomes
from circuitcheck.advice.turning import looks
from circuitcheck.case import EACH, MORE, Answer, said, words_apart
from circuitcheck.case.making import case_of
from circuitcheck.checking import check
from circuitcheck.checking.open_values import open_values
from circuitcheck.checking.unknowns import unknowns_of
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import Finding, Outcome
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.checking.test_judging import TOTAL, at_most, judged, rule
from tests.generating.dice import Dice, Shares
from tests.generating.opening import opened
from tests.rules.build import box, cable, circuit, load, site

DEN = Path(__file__).parents[2] / "examples" / "den.circuit.toml"


def needs(made, *parts):
    (finding,) = judged(made, circuit(box("b"), *parts))
    assert finding.outcome is Outcome.UNDETERMINED
    return finding.needs


def fails_where(failing, others=None, **worse):
    """A rule about the first load that fails where ``failing`` says so of it."""

    def value(part, case):
        return 11.0 if failing(case.loads[0], case) else 1.0

    return rule(
        at_most(10, value),
        worse={f"load.{key}": way for key, way in worse.items()} | {"cable.length": MORE} | (others or {}),
    )


class TestWithinAnAnswer:
    KIND, MOUNTING = "load.a.kind", "load.a.mounting"

    @pytest.mark.parametrize("kind_first", [True, False])
    def test_what_ends_it_at_more_of_its_values_stands_first(self, kind_first):
        # Every kind but a light fails, and of the ways to mount it one: each fails by itself, whatever the other is.
        def failing(lamp, case):
            ways = [lambda: lamp.kind != "light", lambda: lamp.mounting == "recessed"]
            return any(tuple(way() for way in (ways if kind_first else reversed(ways))))

        made = fails_where(failing, kind=EACH, mounting=EACH)
        assert needs(made, load("a", "b", kind=None, mounting=None)) == (self.KIND, self.MOUNTING)

    def test_one_of_yes_and_no_is_more_than_two_ways_of_six(self):
        """Without spray it is saved, which is one end of two; of the six ways to mount it two save it."""

        def failing(lamp, case):
            return lamp.mounting not in ("recessed", "pendant") and lamp.in_spray

        made = fails_where(failing, mounting=EACH, in_spray=MORE)
        assert needs(made, load("a", "b", mounting=None, in_spray=None)) == ("load.a.in_spray", self.MOUNTING)

    def test_one_end_of_two_is_more_than_two_ways_of_six(self):
        """At its least the current saves it, and of the six ways to mount it two do."""

        def failing(lamp, case):
            return lamp.mounting not in ("recessed", "pendant") and lamp.current_a > 6

        made = fails_where(failing, mounting=EACH, current=MORE)
        assert needs(made, load("a", "b", current_a=(4, 8), mounting=None)) == ("load.a.current", self.MOUNTING)

    def test_of_words_that_are_alike_each_counts(self):
        """Yes and no: one of two fails by itself. Of six ways to mount it one does; the other five are tried once."""

        def failing(lamp, case):
            return lamp.in_spray or lamp.mounting == "recessed"

        made = fails_where(failing, mounting=EACH, in_spray=EACH)
        made = replace(made, alike={"load.mounting": words_apart("recessed")})
        assert needs(made, load("a", "b", mounting=None, in_spray=None)) == ("load.a.in_spray", self.MOUNTING)

    @pytest.mark.parametrize("kind_first", [True, False])
    def test_what_saves_it_at_more_of_its_values_stands_first(self, kind_first):
        # Only a recessed light in a dwelling fails: every other way to mount it saves it, and one of yes and no.
        def failing(lamp, case):
            ways = [lambda: lamp.mounting == "recessed", lambda: case.site.dwelling]
            return all(tuple(way() for way in (ways if kind_first else reversed(ways))))

        made = fails_where(failing, {"site.dwelling": EACH}, mounting=EACH)
        built = load("a", "b", mounting=None), site(dwelling=None)
        assert needs(made, *built) == (self.MOUNTING, "site.dwelling")

    def test_what_settles_nothing_alone_stands_behind_what_does(self):
        # A recessed light of more than 50 W fails, and anything of more than 100 W: the watts alone can end it, and
        # once they are few enough for that the mounting decides.
        def failing(lamp, case):
            recessed = lamp.mounting == "recessed"
            return lamp.power_w > (50 if recessed else 100)

        made = fails_where(failing, mounting=EACH, power=MORE)
        assert needs(made, load("a", "b", mounting=None, power_w=(60, 120))) == ("load.a.power", self.MOUNTING)

    def test_alike_stand_as_they_were_read(self):
        first, second = load("a", "b", current_a=(0, 11)), load("c", "b", current_a=(0, 11))
        assert needs(TOTAL, first, second) == ("load.a.current", "load.c.current")
        assert needs(TOTAL, second, first) == ("load.c.current", "load.a.current")

    def test_a_length_without_bound_that_settles_nothing_alone_stands_behind_what_does(self):
        # More than 4 A fails. A long cable is a caution where nothing flows, and fails where something does.
        def answer(part, case, book):
            length, current = case.cables[0].length_m, case.loads[0].current_a
            fails = length * current > 100 or current > 4
            outcome = Outcome.FAIL if fails else Outcome.CAUTION if length > 100 else Outcome.PASS
            return Answer(part=part, outcome=outcome, says=said("Long."))

        made = rule(answer, worse={"load.current": MORE, "cable.length": MORE})
        run = cable("run", "panel", "b", length_m=None)
        assert needs(made, run, load("a", "b", current_a=(0, 5))) == ("load.a.current", "cable.run.length")

    def test_a_length_without_bound_that_ends_it_stands_first(self):
        # The same, but something always flows: a cable without end fails whatever flows, so both settle it at one end.
        def failing(lamp, case):
            return case.cables[0].length_m * lamp.current_a > 100 or lamp.current_a > 4

        made = fails_where(failing, current=MORE)
        run = cable("run", "panel", "b", length_m=None)
        assert needs(made, run, load("a", "b", current_a=(1, 5))) == ("cable.run.length", "load.a.current")


def open_about(*keys, check="trial", subject="a", outcome=Outcome.UNDETERMINED):
    return Finding(check=check, subject=subject, outcome=outcome, says="A sentence.", needs=keys)


class TestToFindOut:
    FEED, CLAMPS, VOLUME, SIZE = "cable.feed.length", "box.b.internal_clamps", "box.b.volume", "cable.feed.size"

    def order(self, *findings):
        built = circuit(box("b"), cable("feed", "panel", "b"))
        return [(each.key, each.decides) for each in unknowns_of(findings, built)]

    def test_what_the_most_open_answers_name_stands_first(self):
        findings = (open_about(self.CLAMPS), open_about(self.FEED), open_about(self.FEED, subject="c"))
        assert self.order(*findings) == [(self.FEED, True), (self.CLAMPS, True)]

    def test_of_as_many_what_decides_by_itself_stands_first(self):
        findings = (open_about(self.CLAMPS, self.VOLUME), open_about(self.SIZE, subject="c"))
        assert self.order(*findings) == [(self.SIZE, True), (self.CLAMPS, True), (self.VOLUME, True)]

    def test_what_decides_nothing_stands_last_however_often_it_is_named(self):
        caution = Outcome.CAUTION
        findings = (
            open_about(self.FEED, outcome=caution),
            open_about(self.FEED, subject="c", outcome=caution),
            open_about(self.CLAMPS, subject="d"),
        )
        assert self.order(*findings) == [(self.CLAMPS, True), (self.FEED, False)]

    def test_alike_stand_as_they_are_named(self):
        assert self.order(open_about(self.VOLUME, self.CLAMPS)) == [(self.VOLUME, True), (self.CLAMPS, True)]
        assert self.order(open_about(self.CLAMPS, self.VOLUME)) == [(self.CLAMPS, True), (self.VOLUME, True)]


def test_finding_out_agrees_with_the_order_of_an_example():
    """Of the den a fifth is forgotten. Each entry that an answer names is found out, at each of its values, and the
    answer asked again: what can end an answer by itself stands before what cannot, in ``check`` as in its advice.
    """
    known = read_file(DEN, vocabulary())
    book = load_rulebook(known.job.rulebook)
    built = opened(known, Dice(0), Shares(left_out=0.2, ranges=0.2))
    case = case_of(built, book)
    report = check(built, book)
    still_open = [finding for finding in report.findings if finding.outcome is Outcome.UNDETERMINED]
    counts = [sum(unknown.key in each.needs for each in still_open) for unknown in report.unknowns if unknown.decides]
    assert counts == sorted(counts, reverse=True)
    compared = 0
    for finding in still_open:
        name = finding.check, finding.subject
        every = [open_values(key, case) for key in finding.needs]
        if not 2 <= len(every) <= 4 or None in every:
            continue
        ends = [
            any(
                outcomes(answers(found_out(built, values, value), book, (name,))).get(name) is Outcome.FAIL
                for value in looks(values)
            )
            for values in every
        ]
        assert ends == sorted(ends, reverse=True), finding.needs
        compared += any(ends) and not all(ends)
    assert compared
