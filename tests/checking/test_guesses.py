"""A guess is one more open entry: an answer that holds only while a guess does is undetermined, and each is listed.

The rules here are tiny ones made for the purpose, so that what is tested is the handling of guesses alone.
"""

from pathlib import Path

import circuitcheck
from circuitcheck.case import EACH, MORE, Answer, CaseRule, Family, said
from circuitcheck.checking import check
from circuitcheck.findings import Outcome, Verdict
from circuitcheck.quantities import How, Interval
from circuitcheck.rules.evidence import stop_first
from tests.rules.build import book, box, cable, circuit, control, only, site

BOOK = book()


def at_most(limit, count, subjects, worse):
    def answer(part, case, book):
        value = float(count(part))
        outcome = Outcome.FAIL if value > limit else Outcome.PASS
        return Answer(part=part, outcome=outcome, says=said("so"), value=value, limit=limit)

    return CaseRule(
        name="count", title="Count", family=Family.SITE, rank=1, subjects=subjects, answer=answer, worse=worse
    )


def clamps(limit):
    """Twelve, and two more when there are clamps."""
    worse = {"box.internal_clamps": MORE}
    return at_most(limit, lambda part: 12 + 2 * part.internal_clamps, lambda case: case.boxes, worse)


def answer(limit, **given):
    (finding,) = check(circuit(box("attic", **given)), BOOK, [clamps(limit)]).findings
    return finding


GUESSED = {"internal_clamps": "guess"}


def test_an_answer_that_hangs_on_a_guess_stays_open_whichever_way_it_is() -> None:
    for clamped in (False, True):
        finding = answer(13, internal_clamps=clamped, known_by=GUESSED)
        assert finding.outcome is Outcome.UNDETERMINED
        assert finding.needs == ("box.attic.internal_clamps",)
        assert (finding.value, finding.low, finding.high) == (14, 12, 14)
        assert any("guess" in line for line in finding.assumed)


def test_an_answer_that_the_guess_cannot_change_stands() -> None:
    assert answer(14, internal_clamps=False, known_by=GUESSED).outcome is Outcome.PASS
    assert answer(11, internal_clamps=False, known_by=GUESSED).outcome is Outcome.FAIL


def test_what_was_measured_is_not_doubted() -> None:
    assert answer(13, internal_clamps=False, known_by={"internal_clamps": "measured"}).outcome is Outcome.PASS


def test_a_guess_about_another_box_changes_nothing_here() -> None:
    boxes = (box("sure"), box("unsure", known_by=GUESSED))
    report = check(circuit(*boxes), BOOK, [clamps(13)])
    assert [finding.outcome for finding in report.findings] == [Outcome.PASS, Outcome.UNDETERMINED]
    assert report.findings[1].needs == ("box.unsure.internal_clamps",)
    assert report.verdict is Verdict.UNDETERMINED


def test_a_guessed_count_may_be_one_more() -> None:
    alongside = at_most(2, lambda part: part.bundled_with, lambda case: case.cables, {"cable.bundled_with": MORE})
    built = circuit(box("b"), cable("feed", "panel", "b", bundled_with=2, known_by={"bundled_with": "guess"}))
    (finding,) = check(built, BOOK, [alongside]).findings
    assert (finding.outcome, finding.needs) == (Outcome.UNDETERMINED, ("cable.feed.bundled_with",))


def test_a_guessed_list_is_as_open_as_one_that_is_left_out() -> None:
    """A switch is wired in the box, so a list without any device is at best half right."""
    devices = at_most(0, lambda part: len(part.devices), lambda case: case.boxes, {"box.devices": EACH})
    parts = (box("b", devices=(), known_by={"devices": "guess"}), cable("feed", "panel", "b"), control("s", "b"))
    (finding,) = check(circuit(*parts), BOOK, [devices]).findings
    assert (finding.outcome, finding.needs) == (Outcome.UNDETERMINED, ("box.b.devices",))


def test_every_guess_is_listed_with_what_it_stands_for() -> None:
    feet = 0.3048
    length = Interval(45 * feet, 75 * feet, How.GUESS, "about 60 ft")
    feed = cable("feed", "panel", "b", length_m=length, known_by={"size": "guess", "type": "label"})
    report = check(circuit(box("b"), feed), BOOK, [])
    assert [(guess.key, guess.written) for guess in report.guesses] == [
        ("cable.feed.length", '"about 60 ft"'),
        ("cable.feed.size", '"14 AWG"'),
    ]
    assert "45 ft to 75 ft" in report.guesses[0].stands_for  # a quarter less and a quarter more than 60
    assert any("cable.feed.length" in caution and "45 ft to 75 ft" in caution for caution in report.cautions)


def test_a_guess_says_whether_it_holds_an_answer_open() -> None:
    """A name for people has nothing that it could be instead."""
    known_by = {"product": "guess", "internal_clamps": "guess", "fittings": "guess"}
    built = circuit(box("b", product="a box", fittings=("stud",), known_by=known_by))
    stands_for = {guess.key: guess.stands_for for guess in check(built, BOOK, []).guesses}
    assert "counts as written" in stands_for["box.b.product"]
    assert "stays open" in stands_for["box.b.internal_clamps"]
    assert "stays open" in stands_for["box.b.fittings"]


def test_a_guess_is_told_as_the_file_writes_it() -> None:
    known_by = {"product": "guess", "internal_clamps": "guess", "fittings": "guess", "gangs": "guess"}
    there = box("b", product="a box", internal_clamps=False, fittings=("stud", "hickey"), gangs=2, known_by=known_by)
    written = {guess.key.rpartition(".")[2]: guess.written for guess in check(circuit(there), BOOK, []).guesses}
    assert written == {"product": '"a box"', "internal_clamps": "false", "fittings": "a list of 2", "gangs": "2"}


def test_a_guess_that_there_is_no_sign_is_no_look() -> None:
    """A sign that somebody guesses at stops all the same."""
    for signs, outcome in (((), Outcome.UNDETERMINED), (("flicker",), Outcome.FAIL)):
        built = circuit(site(signs=signs, known_by={"signs": "guess"}), box("b"))
        assert only(stop_first.RULE, built, "circuit").outcome is outcome


def test_no_pass_weakens_answers_for_a_guess():
    """A guess is an open entry. Beside ``possible`` and the making of a case, the word stands where guesses are listed,
    in rules about entries themselves, and where a cable may be there already.
    """
    package = Path(circuitcheck.__file__).parent
    folders = ("case", "domain", "rules", "checking", "advice")
    files = (path for folder in folders for path in (package / folder).rglob("*.py") if path.parent.name != "evidence")
    naming = {path.relative_to(package).as_posix() for path in files if "GUESS" in path.read_text("utf-8")}
    assert naming == {"case/making.py", "checking/guesses.py", "checking/wire_size.py"}
