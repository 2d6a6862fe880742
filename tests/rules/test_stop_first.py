"""Signs to stop: what EPA/ATSDR and CPSC 516 tell people to look for ends the job before any arithmetic."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.stop_first import RULE
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
