"""Shared neutral: breakers open together since 2008 (210.4(B)); no neutral through a device (300.13(B))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.shared_neutral import RULE
from tests.rules.build import EDITIONS, circuit, findings, only, supply


def test_a_neutral_of_its_own_says_nothing():
    assert findings(RULE, circuit(supply(shared_neutral=False))) == []


@pytest.mark.parametrize("edition", EDITIONS)
def test_tied_breakers_are_a_caution_to_turn_off_both(edition):
    found = only(RULE, circuit(supply(shared_neutral=True, handle_tie=True)), "circuit", edition)
    assert found.outcome is Outcome.CAUTION
    assert "both breakers" in " ".join(found.to_do)


@pytest.mark.parametrize("edition", EDITIONS)
def test_breakers_that_open_alone_fail(edition):
    found = only(RULE, circuit(supply(shared_neutral=True, handle_tie=False)), "circuit", edition)
    assert found.outcome is Outcome.FAIL


def test_what_is_unknown_is_asked():
    assert only(RULE, circuit(supply(shared_neutral=True)), "circuit").needs == ("supply.handle_tie",)
    found = only(RULE, circuit(supply(shared_neutral=None)), "circuit")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.shared_neutral",))


def test_both_legs_on_the_neutral_are_shown():
    # Opposite legs cancel, so the neutral carries at most the larger; on one leg they add: 15 A + 12 A = 27 A.
    built = circuit(supply(shared_neutral=True, handle_tie=True, other_leg_current_a=12))
    assert "27 A" in " ".join(only(RULE, built, "circuit").working)


def test_with_the_other_leg_unknown_both_breakers_may_load_the_neutral():
    # Two 15 A breakers on one leg: 15 A + 15 A = 30 A on the neutral.
    built = circuit(supply(shared_neutral=True, handle_tie=True))
    assert "30 A" in " ".join(only(RULE, built, "circuit").working)


def test_a_two_pole_breaker_opens_both():
    found = only(RULE, circuit(supply(shared_neutral=True, poles=2)), "circuit")
    assert found.outcome is Outcome.CAUTION
    assert found.needs == ()
