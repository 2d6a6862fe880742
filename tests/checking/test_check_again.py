"""After an entry changed, asking only the rules that it concerns tells what asking all of them tells, in every field.

``check`` asks every rule and takes nothing over: it is the measure here.
"""

import random
import re
from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.case import EvidenceRule
from circuitcheck.case.making import case_of
from circuitcheck.checking import case_rules, check
from circuitcheck.checking.asking import Asker, subjects_of
from circuitcheck.checking.changed_entries import is_named_by_readers
from circuitcheck.checking.check_again import check_again, made_ready
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.errors import CircuitFileError, NotInBookError
from circuitcheck.findings import Finding, Outcome
from circuitcheck.quantities import How, Interval
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.checking.trial_rules import rule as trial
from tests.generating.circuits import circuit_of, draw_document
from tests.generating.dice import Shares
from tests.rules.build import box, cable, circuit, load

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.circuit.toml"))
PACKAGE = Path(__file__).parents[2] / "circuitcheck"
HALLWAY = EXAMPLES[0].with_name("hallway.circuit.toml")

#: Much of a circuit is not known.
OPEN = Shares(left_out=0.5, ranges=0.5, guesses=0.25)


def from_file(path):
    return read_circuit(path.read_text("utf-8"), path.name, vocabulary())


def read(asker, subject):
    """The open entries that a rule reads about a subject in its worst and its best case."""
    for worst in (True, False):
        with asker.in_case(worst=worst) as reading:
            asker.rule.answer(subject, asker.case, asker.case.book)
            yield from reading.reads


def with_entry(circuit, place, value):
    """The circuit with another value of an entry: the section, the part's place in it, the key."""
    section, index, key = place
    held = getattr(circuit, section.attribute)
    if not section.many:
        return replace(circuit, **{section.attribute: replace(held, **{key.attribute: value})})
    parts = list(held)
    parts[index] = replace(parts[index], **{key.attribute: value})
    return replace(circuit, **{section.attribute: tuple(parts)})


#: What can be changed without another circuit coming of it: not which parts there are and how they hang together.
CHANGEABLE = (Form.PHYSICAL, Form.WORD, Form.YES_NO, Form.WHOLE, Form.SIZE, Form.TEXT)


def places(circuit, name=None, *, named=True):
    """The place of every entry that the circuit gives, or may give, of a kind of which it is known who reads it.

    ``named`` False: of every kind but for origins and the job's own.
    """
    return [
        (section, index, key)
        for section in SECTIONS.values()
        for index in range(len(getattr(circuit, section.attribute)) if section.many else 1)
        for key in section.keys.values()
        for kind in (f"{section.name}.{key.name}",)
        if name in (None, kind)
        and (
            is_named_by_readers(kind, key)
            if named
            else key.form in CHANGEABLE and section.name != "job" and key.name != "origin"
        )
    ]


def ref_of(circuit, place):
    section, index, key = place
    held = getattr(circuit, section.attribute)
    return Ref(section.name, held[index].id if section.many else "", key.name)


def value_at(circuit, place):
    section, index, key = place
    held = getattr(circuit, section.attribute)
    return getattr(held[index] if section.many else held, key.attribute)


def another(dice, key, value):
    """Less or more than the value, or a number in its place; a number, a range or a guess; now and then unknown."""
    if value is not None and not key.required and dice.random() < 0.15:
        return None
    if key.form is Form.YES_NO:
        return not value
    if key.form is Form.WORD:
        return dice.choice((*key.words, *vocabulary().get(key.vocabulary, ())))
    if key.form is Form.WHOLE:
        return (value or 0) + 1
    if key.form is Form.TEXT:
        return "another"
    if key.form is Form.SIZE:
        return dice.choice(("14 AWG", "12 AWG", "10 AWG"))
    least, greatest = key.kind.least_si, key.kind.greatest_si
    start = value.low if value is not None else dice.choice((1.0, 3.0, 20.0))
    low = min(max(start * dice.choice((0.2, 0.8, 1.1, 2.0, 9.0)), least), greatest)
    high = min(low * 1.4, greatest) if dice.random() < 0.3 else low
    return Interval(low, high, dice.choice((How.STATED, How.STATED, How.GUESS)))


def contradictions(circuit, dice, changes, *, named=True):
    """Changes entries one after the other, each twice, as somebody types them; how many rules stood in all.

    ``named`` False: of every kind, always after it was made ready.
    """
    book = load_rulebook(circuit.job.rulebook)
    told = check_again(circuit, book)
    stood = 0
    given = [place for place in places(circuit, named=named) if value_at(circuit, place) is not None]
    chosen = dice.sample(given, min(changes, len(given))) + dice.sample(places(circuit, named=named), 1)
    for place in [place for place in chosen for _ in range(2)]:
        if not named or dice.random() < 0.5:
            told = made_ready(told, ref_of(circuit, place))
        circuit = with_entry(circuit, place, another(dice, place[2], value_at(circuit, place)))
        told = check_again(circuit, book, told)
        told.forget()
        assert told.report == check(circuit, book), (place[0].name, place[1], place[2].name)
        stood += len(told.planned.standing)
    return stood


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
@pytest.mark.parametrize("changes", [3, pytest.param(25, marks=pytest.mark.long)])
def test_examples_of_which_entries_change(path, changes):
    assert contradictions(from_file(path), random.Random(path.name), changes) > 40 * changes


@pytest.mark.parametrize("last", [4, pytest.param(150, marks=pytest.mark.long)])
def test_random_circuits_of_which_entries_change(last):
    stood = 0
    for seed in range(last):
        try:
            circuit = circuit_of(draw_document(f"again {seed}", Shares(left_out=0.1)))
        except CircuitFileError:
            continue
        stood += contradictions(circuit, random.Random(seed), 3)
    assert stood > 40 * last


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
@pytest.mark.parametrize("changes", [2, pytest.param(25, marks=pytest.mark.long)])
def test_examples_of_which_entries_of_every_kind_change(path, changes):
    contradictions(from_file(path), random.Random(path.name), changes, named=False)


@pytest.mark.parametrize("last", [2, pytest.param(150, marks=pytest.mark.long)])
def test_random_circuits_of_which_entries_of_every_kind_change(last):
    stood = 0
    for seed in range(last):
        try:
            circuit = circuit_of(draw_document(f"every kind {seed}", Shares(left_out=0.1)))
        except CircuitFileError:
            continue
        stood += contradictions(circuit, random.Random(seed), 3, named=False)
    assert stood > 20 * last


@pytest.mark.parametrize(
    ("entry", "asked", "stands"),
    [
        ("load.power", {"load-share", "voltage-drop"}, {"box-fill", "cable-support"}),
        ("cable.length", {"voltage-drop"}, {"load-share", "box-fill"}),
        ("box.volume", {"box-fill"}, {"load-share", "voltage-drop"}),
        ("cable.concealed", {"cable-support"}, {"box-fill", "ampacity"}),
        ("job.title", set(), {"box-fill", "ampacity"}),
    ],
)
def test_rules_that_read_the_entry_are_asked_and_no_others(entry, asked, stands):
    circuit = from_file(HALLWAY)
    book = load_rulebook(circuit.job.rulebook)
    place = next(place for place in places(circuit, entry) if value_at(circuit, place) is not None)
    value = value_at(circuit, place)
    higher = Interval(value.low * 1.5, value.low * 1.5) if isinstance(value, Interval) else None
    changed = with_entry(circuit, place, higher or another(random.Random(1), place[2], value))
    told = check_again(changed, book, check_again(circuit, book))
    assert not told.is_whole
    assert stands <= told.planned.standing
    assert not asked & told.planned.standing


@pytest.mark.parametrize(
    "changed",
    [
        lambda circuit: replace(circuit, cables=circuit.cables[:-1]),
        lambda circuit: replace(circuit, cables=(replace(circuit.cables[0], type="UF-B"), *circuit.cables[1:])),
        lambda circuit: replace(circuit, cables=(replace(circuit.cables[0], size="10 AWG"), *circuit.cables[1:])),
        lambda circuit: replace(circuit, loads=(replace(circuit.loads[0], quantity=7), *circuit.loads[1:])),
        lambda circuit: replace(circuit, boxes=(replace(circuit.boxes[0], origin="added"), *circuit.boxes[1:])),
    ],
)
def test_where_parts_or_what_they_are_made_of_changed_every_rule_is_asked(changed):
    circuit = as_planned(from_file(HALLWAY))
    book = load_rulebook(circuit.job.rulebook)
    told = check_again(changed(circuit), book, check_again(circuit, book))
    assert told.is_whole
    assert told.report == check(changed(circuit), book)


def test_under_another_rulebook_every_rule_is_asked():
    circuit = from_file(HALLWAY)
    told = check_again(circuit, load_rulebook("nec-2023"))
    again = check_again(circuit, load_rulebook("nec-2020"), told)
    assert again.is_whole
    assert again.report == check(circuit, load_rulebook("nec-2020"))


def test_where_a_rule_raised_every_rule_is_asked(monkeypatch):
    def broken(circuit, book):
        raise ZeroDivisionError("a slip of ours")

    def good(circuit, book):
        return [Finding(check="sound", subject="circuit", outcome=Outcome.PASS, says="All is well.")]

    rules = tuple(
        EvidenceRule(name=name, title=name, rank=1, check=function)
        for name, function in (("trial", broken), ("sound", good))
    )
    monkeypatch.setattr("circuitcheck.checking.check_again.ALL_RULES", rules)
    circuit = from_file(HALLWAY)
    book = load_rulebook(circuit.job.rulebook)
    told = check_again(circuit, book)
    again = check_again(circuit, book, told)
    assert [fault.check for fault in again.report.faults] == ["trial"]
    assert again.is_whole


@pytest.mark.parametrize(
    ("error", "faults", "not_judged"),
    [
        (ZeroDivisionError("a slip of ours"), ("trial",), ()),
        (NotInBookError("nec-2023", "table 'trial'", absent=True), (), ("trial",)),
    ],
)
def test_a_rule_of_cases_that_could_not_judge_is_asked_again_whatever_changed(monkeypatch, error, faults, not_judged):
    """It named no entry, and what it could not say before is not the same as nothing to say."""

    def broken(part, case, book):
        raise error

    monkeypatch.setattr("circuitcheck.checking.check_again.ALL_RULES", (trial(broken),))
    circuit = from_file(HALLWAY)
    book = load_rulebook(circuit.job.rulebook)
    changed = replace(circuit, job=replace(circuit.job, title="another"))
    for told in (check_again(circuit, book), check_again(changed, book, check_again(circuit, book))):
        assert tuple(fault.check for fault in told.report.faults) == faults
        assert told.report.not_judged == not_judged
        assert told.is_whole


def test_what_only_the_working_tells_is_told_anew():
    """Nobody asks how a box is held of which it is open whether it holds anything at all; its working says so."""
    built = circuit(box("b", mounting=None), cable("c", "panel", "b"), load("lamp", "b", kind=None, origin="added"))
    book = load_rulebook(built.job.rulebook)
    changed = replace(built, boxes=(replace(built.boxes[0], mounting="retrofit"),))
    told = check_again(changed, book, check_again(built, book))
    (holds,) = (finding for finding in told.report.findings if finding.check == "box-support")
    assert any("held by: retrofit" in line for line in holds.working)
    assert told.report == check(changed, book)


def test_the_working_of_a_finding_is_worked_out_again_once_that_is_forgotten():
    circuit = from_file(HALLWAY)
    book = load_rulebook(circuit.job.rulebook)
    told = check_again(circuit, book)
    case = told.planned.state.case
    assert case.worked_out
    told.forget()
    assert not case.worked_out
    lines = {(each.check, each.subject): tuple(each.working) for each in told.report.findings}
    assert case.worked_out
    assert lines == {(each.check, each.subject): tuple(each.working) for each in check(circuit, book).findings}


@pytest.mark.parametrize("last", [60, pytest.param(3000, marks=pytest.mark.long)])
def test_every_rule_names_what_it_reads(last):
    """With everything left out, a range or a guess, whatever a rule reads is seen: at its worst and at its best."""
    named = set()
    for seed in range(last):
        try:
            circuit = as_planned(circuit_of(draw_document(f"named {seed}", OPEN)))
        except CircuitFileError:
            continue
        case = case_of(circuit, load_rulebook(circuit.job.rulebook))
        for rule in case_rules():
            asker = Asker(rule, case)
            for entry in {entry for subject in subjects_of(rule, case, strict=True) for entry in read(asker, subject)}:
                kind = entry.kind.rpartition(" ")[2]
                key = SECTIONS[entry.part.section].keys[kind.partition(".")[2]]
                if is_named_by_readers(kind, key):
                    assert entry.kind in (*rule.worse, *rule.points, *rule.turns, *rule.doubts), (seed, rule.name)
                    named.add((rule.name, kind))
    assert len(named) > 150


def test_free_text_is_read_by_no_rule():
    texts = {key.attribute for section in SECTIONS.values() for key in section.keys.values() if key.form is Form.TEXT}
    assert {"title", "panel", "product"} <= texts
    read_by = re.compile(rf"\bjob\.place\b|\.(?:{'|'.join(texts - {'place'})})\b")
    for layer in ("rules", "domain", "possible"):
        for path in (PACKAGE / layer).rglob("*.py"):
            assert read_by.findall(path.read_text("utf-8")) == [], path
