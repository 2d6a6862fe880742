"""Which way each entry is worse is declared right: cases drawn at random never become better where they should not.

``unseen_directions.toml`` names the declarations that no case drawn here tells from the other way round, each with the
reason. ``make test-long`` turns every other one round, and each is noticed.

Also what else a rule declares for good: its rank, and that what it holds is never changed.
"""

import sys
from dataclasses import is_dataclass

import pytest

from circuitcheck.checking import case_rules
from circuitcheck.rules import ALL_RULES
from tests.checking import refinement
from tests.checking.directions import REASONS, declarations, try_directions, turned, unnoticed
from tests.checking.shown import is_wrong, shown, try_shown

SHORT, LONG = 6, 860
pytestmark = pytest.mark.xdist_group("directions")


def wrong(tried):
    return {
        (check, kind): example
        for (check, kind), example in tried.wrong.items()
        if kind not in REASONS["other cause"].get(check, ())
    }


def test_no_case_becomes_better_where_a_rule_says_worse():
    tried = try_directions(range(SHORT), case_rules())
    assert sum(tried.moved.values()) > 500
    assert wrong(tried) == {}


def test_where_a_direction_can_be_seen_it_is_the_declared_one():
    seen = list(try_shown(shown()))
    assert len(seen) > 300
    assert [name for name, tried in seen if is_wrong(tried)] == []


@pytest.mark.parametrize(
    ("check", "kind"),
    [("box-fill", "cable.ground"), ("cable-support", "cable.support_spacing"), ("box-depth", "box.depth")],
)
def test_a_declaration_turned_round_is_noticed(check, kind):
    (rule,) = (rule for rule in case_rules() if rule.name == check)
    seeds = [seed for seed, names in shown().items() if (check, kind) in names]
    assert not try_directions(seeds, [rule], only=kind).wrong
    assert noticed_where_shown(rule, kind)


@pytest.mark.long
def test_no_case_of_many_becomes_better_where_a_rule_says_worse():
    assert wrong(try_directions(range(1000, 1000 + LONG), case_rules())) == {}


def noticed_where_shown(rule, kind):
    """Whether one of the circuits in which the declaration is known to show tells it from the other way round."""
    seeds = [seed for seed, names in shown().items() if (rule.name, kind) in names]
    tried = try_directions(seeds, [turned(rule, kind)], only=kind)
    return (rule.name, kind) in {*tried.wrong, *tried.wrong_numbers}


@pytest.mark.long
def test_every_declaration_turned_round_is_noticed_or_explained(record_property):
    rules = tuple(case_rules())
    every = sum(1 for _ in declarations(rules))
    named = {rule.name: rule for rule in rules}
    waiting = unnoticed(rules, range(1000, 1000 + LONG))
    left = {f"{check}: {kind}" for check, kind in waiting if not noticed_where_shown(named[check], kind)}
    record_property("told", f"{every} declarations turned round, {every - len(left)} noticed")
    explained = {f"{check}: {kind}" for each in REASONS["unseen"] for check in each["checks"] for kind in each["kinds"]}
    assert left <= explained
    record_property("noticed now", sorted(explained - left))


def test_between_two_ranks_there_is_room_for_another_rule():
    """Findings and pages stand in the order of the ranks; of two alike nobody could say which comes first."""
    ranks = [rule.rank for rule in ALL_RULES]
    assert len(set(ranks)) == len(ranks)
    assert [rank for rank in ranks if rank % 5] == []


def test_what_rules_and_their_engine_hold_cannot_be_changed_by_chance():
    """Answers are kept and shared; only a node grows while the branch is laid out."""
    layers, loose = ("circuitcheck.rules", "circuitcheck.domain", "circuitcheck.checking"), set()
    for module in [name for name in sys.modules if name.startswith(layers)]:
        for held in list(vars(sys.modules[module]).values()):
            if isinstance(held, type) and is_dataclass(held) and held.__module__ == module:
                assert "__slots__" in vars(held), held
                if not held.__dataclass_params__.frozen:
                    loose.add(held.__name__)
    assert loose == {"Node"}


def test_reasons_name_checks():
    unseen = {check for each in REASONS["unseen"] for check in each["checks"]}
    assert {*REASONS["open"], *unseen} <= refinement.CHECKS
    known = {(rule.name, kind) for rule, kind in declarations(case_rules())}
    named = {(check, kind) for each in REASONS["unseen"] for check in each["checks"] for kind in each["kinds"]}
    aside = {
        (check, kind) for why in ("open", "other cause") for check, kinds in REASONS[why].items() for kind in kinds
    }
    assert named | aside <= known, sorted((named | aside) - known)
    assert all(len(each["why"]) > 20 for each in REASONS["unseen"])
