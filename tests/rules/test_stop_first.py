"""Signs to stop: what EPA/ATSDR and CPSC 516 tell people to look for ends the job before any arithmetic."""

import pytest

from circuitcheck.circuit.keys.job import SITE
from circuitcheck.findings import Outcome
from circuitcheck.rules.evidence.stop_first import RULE
from tests.rules.build import EDITIONS, circuit, only, site


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_place_without_signs_passes(edition):
    assert only(RULE, circuit(site(signs=())), "circuit", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("sign", ["loose pebble insulation", "brittle insulation", "burning smell", "knob and tube"])
def test_any_sign_stops(sign):
    found = only(RULE, circuit(site(signs=(sign,))), "circuit")
    assert found.outcome is Outcome.FAIL
    assert found.stop
    assert sign in found.says


def test_pebbles_send_people_away_from_the_attic_and_wiring_signs_to_an_electrician():
    pebbles = only(RULE, circuit(site(signs=("loose pebble insulation",))), "circuit")
    assert "asbestos" in " ".join(pebbles.to_do)
    warm = only(RULE, circuit(site(signs=("warm plates",))), "circuit")
    assert "electrician" in " ".join(warm.to_do)


def test_nobody_looked():
    found = only(RULE, circuit(site(signs=None)), "circuit")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("site.signs",)


@pytest.mark.parametrize("sign", ["burning smell", "scorch marks", "warm plates", "flicker"])
def test_heat_means_breaker_off_but_no_hand_on_a_warm_panel(sign):
    """Advice of fire departments and of CPSC 516 on heat: power off where that is safe; smoke: out, and call."""
    told = " ".join(only(RULE, circuit(site(signs=(sign,))), "circuit").to_do)
    assert "breaker off" in told
    assert "warm or smells, do not touch it" in told
    assert "out of the house" in told
    assert "fire department" in told


@pytest.mark.parametrize("sign", ["cloth insulation", "brittle insulation", "knob and tube"])
def test_old_insulation_is_left_alone(sign):
    told = " ".join(only(RULE, circuit(site(signs=(sign,))), "circuit").to_do)
    assert "alone" in told
    assert "licensed electrician" in told
    assert "breaker off" not in told
    assert "fire department" not in told


def test_pebbles_and_a_smell_tell_of_both():
    told = only(RULE, circuit(site(signs=("loose pebble insulation", "burning smell"))), "circuit").to_do
    assert "fire department" in told[0]
    assert any("asbestos" in line for line in told)


def test_every_sign_that_the_file_may_name_has_advice():
    for sign in SITE.keys["signs"].words:
        assert only(RULE, circuit(site(signs=(sign,))), "circuit").to_do, sign


def test_each_kind_of_sign_has_its_own_advice_the_most_urgent_first():
    def told(*signs):
        return " / ".join(only(RULE, circuit(site(signs=signs)), "circuit").to_do)

    heat, old, pebbles = told("warm plates"), told("knob and tube"), told("loose pebble insulation")
    assert "fire department" in heat
    assert "Leave the old wiring alone" in old
    assert "asbestos" in pebbles
    assert "old wiring" not in heat + pebbles
    assert "fire department" not in old + pebbles
    assert "asbestos" not in heat + old
    both = told("knob and tube", "loose pebble insulation", "flicker")
    assert both == " / ".join((heat, pebbles, old))


def test_a_guess_that_there_is_no_sign_is_no_look():
    guessed = {"known_by": {"signs": "guess"}}
    assert only(RULE, circuit(site(signs=(), **guessed)), "circuit").outcome is Outcome.UNDETERMINED
    assert only(RULE, circuit(site(signs=("flicker",), **guessed)), "circuit").stop
    assert not only(RULE, circuit(site(signs=())), "circuit").stop
