"""That the work for one part does not grow with the circuit: counted, since times depend on what else runs."""

import pytest

from circuitcheck.case import MORE, once
from circuitcheck.case.making import case_of
from circuitcheck.case.results import Kept
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.deciding import MOST_NAMED
from circuitcheck.checking.judging import finding_about
from circuitcheck.rules.capacity import ampacity, voltage_drop
from tests.checking.trial_rules import OPEN, at_most, judged, rule
from tests.rules.build import book as rulebook
from tests.rules.build import box, cable, circuit, load


def chain(count, *, loads, **open_entries):
    """So many boxes one behind the other, with a load in the last so many of them."""
    parts = [box(f"b{n}") for n in range(count)]
    parts += [cable(f"c{n}", f"b{n - 1}" if n else "panel", f"b{n}", **open_entries) for n in range(count)]
    parts += [load(f"l{n}", f"b{n}", power_w=0.5) for n in range(count - loads, count)]
    return circuit(*parts)


def looked_up(monkeypatch, made_rule, count):
    """How often a result that hangs on the case is looked for among those that are kept, for each cable."""
    calls = []
    found = Kept.found
    with monkeypatch.context() as patched:
        patched.setattr(Kept, "found", lambda kept, reading: calls.append(1) or found(kept, reading))
        judged(made_rule, chain(count, loads=count, bundled_with=None, ambient_c=None))
    return len(calls) / count


def test_a_cable_looks_at_no_part_that_is_far_away(monkeypatch):
    few, many = (looked_up(monkeypatch, ampacity.RULE, count) for count in (15, 45))
    assert few > 0
    assert many < 1.25 * few


def answers(count, **open_entries):
    """How often a rule answers about the one load at the end of a chain, and what is found."""
    case = case_of(chain(count, loads=1, **open_entries), rulebook())
    asker = Asker(voltage_drop.RULE, case)
    (subject,) = voltage_drop.RULE.subjects(case)
    return asker, finding_about(asker, subject, named=True)


def test_past_some_dozens_of_unknown_lengths_no_more_are_asked_one_by_one():
    (few, _), (many, _) = answers(41, length_m=None), answers(46, length_m=None)
    assert many.tries == few.tries


@once
def together(case):
    return sum(each.length_m for each in case.cables)


def metres(part, case):
    return together(case)


def turned_by(count, far):
    """What is found where a sum of unknown lengths passes its limit once more than ``far`` of them go far."""
    built = chain(count, loads=0, length_m=None)
    entry = next(each for each in case_of(built, rulebook()).entries if each.kind == "cable.length")
    limit = (far + 0.5) * entry.possible.options[-1]
    (found,) = judged(rule(at_most(limit, metres), worse={"cable.length": MORE}), built)
    assert found.outcome is OPEN
    return found.needs


@pytest.mark.parametrize(("count", "far"), [(10, 4), (24, 20)])
def test_of_up_to_two_dozen_a_least_set_that_turns_the_answer_stands_first(count, far):
    assert list(turned_by(count, far))[: far + 1] == [f"cable.c{n}.length" for n in range(count - far - 1, count)]


@pytest.mark.parametrize("far", [0, 1, 30])
def test_of_more_two_dozen_are_named_whether_they_turn_it_alone_or_together(far):
    assert list(turned_by(40, far)) == [f"cable.c{n}.length" for n in range(MOST_NAMED)]


def test_what_only_very_many_turn_together_is_no_pass():
    """More than are listed of one result: each of 60 lengths goes far, and 50 of them are too much."""
    assert list(turned_by(60, 49)) == [f"cable.c{n}.length" for n in range(MOST_NAMED)]
