"""Luminaires are listed (410.6)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.listed_luminaire import RULE
from tests.rules.build import EDITIONS, box, circuit, findings, load, only


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("listed", "outcome"), [(True, Outcome.PASS), (False, Outcome.FAIL), (None, Outcome.CAUTION)])
def test_the_mark(edition, listed, outcome):
    built = circuit(box("new", origin="added"), load("lamp", "new", origin="added", listed=listed))
    assert only(RULE, built, "lamp", edition).outcome is outcome


def test_existing_lights_say_nothing():
    assert findings(RULE, circuit(box("old"), load("old lamp", "old", listed=False))) == []
