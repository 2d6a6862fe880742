"""Small changes of the program are noticed by its tests, or listed with the reason.

``make test-long`` tries every change of the engine of cases and of ``tables/possible``, and 200 of rules, domain and
checking drawn at random, of which at most 5 % may survive. That takes hours on a slow machine: ``MUTANTS=40`` tries no
more than so many of each, and ``.venv/bin/python -m tests.mutating.trying 40 1 domain`` of one folder.
"""

import os
import random
import tomllib
from pathlib import Path

import pytest

from tests.mutating.changes import PACKAGE, changes_of
from tests.mutating.entries import changed_rows
from tests.mutating.trying import code_changes, files_for, rings, sample, survivors

EXPLAINED = tomllib.loads(Path(__file__).with_name("survivors.toml").read_text("utf-8"))
REASONS = {name: each["why"] for each in EXPLAINED["explained"] for name in each["changes"]}
_JUDGES = ("judging", "asking", "values_in_order", "deciding", "rested_on", "settled")
_WORDS_IT = ("doubted", "numbers", "without_end")
_KEEPS = ("choice", "results", "reading", "memory")
ENGINE = (*(f"checking/{name}.py" for name in (*_JUDGES, *_WORDS_IT)), *(f"case/{name}.py" for name in _KEEPS))
MOST = int(os.environ.get("MUTANTS", "0")) or None
SEED, DRAWN, SHARE = 2026, 200, 0.05


def some(changes):
    changes = list(changes)
    return changes if MOST is None or len(changes) <= MOST else random.Random(SEED).sample(changes, MOST)


def test_a_change_is_one_thing_otherwise_and_still_a_module():
    changes = list(changes_of(PACKAGE / "domain" / "recessed.py"))
    whats = {change.what for change in changes}
    assert {"IsNot is Is", "Or is And", "Eq is NotEq"} <= whats
    sources = [change.source() for change in changes]
    assert len(set(sources)) == len(sources)
    for source in sources:
        compile(source, "changed", "exec")


def test_every_change_of_an_entry_is_another_entry_and_has_tests():
    changes = list(changed_rows())
    assert len(changes) > 300
    assert len({change.name for change in changes}) == len(changes)
    assert all(Path(file).exists() for change in changes[::40] for file in files_for(change))


def test_the_tests_of_a_rule_and_of_what_it_stands_on_are_tried():
    box = next(iter(code_changes("rules/capacity/box_fill.py")))
    assert [Path(file).name for file in files_for(box)] == ["test_box_fill.py"]
    count = next(iter(code_changes("domain/box_count.py")))
    assert "test_box_fill.py" in {Path(file).name for file in files_for(count)}
    assert "test_judging.py" in {Path(file).name for file in files_for(next(iter(code_changes(ENGINE[0]))))}


def test_what_survives_the_closest_tests_is_tried_with_those_further_away():
    """The rule on what a driver can feed stands on the impedance of cables by way of the flow behind the driver."""
    close, wider, widest = (set(ring) for ring in rings(next(iter(code_changes("domain/impedance.py")))))
    assert not close & wider
    assert not (close | wider) & widest
    names = {Path(file).stem for file in widest}
    assert {"oracle", "examples", "test_examples", "test_forms", "test_driver_capacity"} <= names
    assert all(Path(file).exists() for file in widest)


def test_reasons_are_given():
    assert all(len(reason) > 20 for reason in REASONS.values())


@pytest.mark.long
def test_what_is_explained_can_still_be_changed():
    everywhere = code_changes("case", "checking", "domain", "physics", "possible", "rules")
    assert REASONS.keys() <= {change.name for change in (*everywhere, *changed_rows())}


@pytest.mark.long
@pytest.mark.parametrize("what", ["engine", "possible"])
def test_no_change_of_the_engine_or_of_an_entry_survives_unexplained(what, record_property):
    tried = some(code_changes(*ENGINE) if what == "engine" else changed_rows())
    left = survivors(tried)
    record_property("told", f"{len(left)} of {len(tried)} survive")
    assert not [name for name in left if name not in REASONS]


@pytest.mark.long
def test_few_changes_of_rules_domain_and_checking_survive(record_property):
    tried = sample(min(MOST or DRAWN, DRAWN), SEED, "rules", "domain", "checking")
    left = survivors(tried)
    record_property("told", f"{len(left)} of {len(tried)} survive: {left}")
    assert len([name for name in left if name not in REASONS]) <= SHARE * len(tried)
