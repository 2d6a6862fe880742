"""Which way each entry is worse is declared right: cases drawn at random never become better where they should not.

``unseen_directions.toml`` names the declarations that no case drawn here tells from the other way round, each with the
reason. ``make test-long`` turns every other one round, and each is noticed.
"""

import tomllib
from pathlib import Path

import pytest

from circuitcheck.checking import case_rules
from tests.checking import refinement
from tests.checking.directions import declarations, try_directions, turned

REASONS = tomllib.loads(Path(__file__).with_name("unseen_directions.toml").read_text("utf-8"))
SHORT, LONG = 6, 400
#: In so many circuits a declaration is turned round, of those in which it was seen to matter.
_FEW = 5

pytestmark = pytest.mark.xdist_group("directions")


def wrong(tried):
    aside = {*REASONS["at its most"], *REASONS["not yet"]}
    return {name: example for name, example in tried.wrong.items() if name[0] not in aside}


def test_no_case_becomes_better_where_a_rule_says_worse():
    tried = try_directions(range(SHORT), case_rules())
    assert sum(tried.moved.values()) > 500
    assert wrong(tried) == {}


@pytest.mark.parametrize(
    ("check", "kind"), [("box-fill", "cable.ground"), ("cable-support", "cable.run"), ("box-depth", "box.depth")]
)
def test_a_declaration_turned_round_is_noticed(check, kind):
    (rule,) = (rule for rule in case_rules() if rule.name == check)
    seeds = range(25)
    assert not try_directions(seeds, [rule], only=kind).wrong
    tried = try_directions(seeds, [turned(rule, kind)], only=kind)
    assert (check, kind) in {*tried.wrong, *tried.wrong_numbers}


@pytest.mark.long
def test_every_declaration_turned_round_is_noticed_or_explained(record_property):
    rules = tuple(case_rules())
    seeds = range(1000, 1000 + LONG)
    straight = try_directions(seeds, rules)
    assert wrong(straight) == {}
    unnoticed, turns = [], 0
    for rule, kind in declarations(rules):
        turns += 1
        few = sorted(straight.seeds.get((rule.name, kind), ()))[:_FEW]
        tried = try_directions(few, [turned(rule, kind)], only=kind)
        if (rule.name, kind) not in {*tried.wrong, *tried.wrong_numbers}:
            unnoticed.append(f"{rule.name}: {kind}")
    record_property("told", f"{turns} declarations turned round, {turns - len(unnoticed)} noticed")
    explained = {f"{check}: {kind}" for check, kinds in REASONS["unseen"].items() for kind in kinds}
    assert set(unnoticed) <= explained
    assert explained <= set(unnoticed), "strike these lines: they are noticed"


def test_reasons_name_checks():
    assert {*REASONS["at its most"], *REASONS["not yet"], *REASONS["unseen"]} <= refinement.CHECKS
