"""Luminaires are listed (410.6); low-voltage lighting is listed as a set or part by part (411.4)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.listed_luminaire import RULE
from tests.rules.build import EDITIONS, box, circuit, driver, findings, load, low_voltage_load, only


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("listed", "outcome"), [(True, Outcome.PASS), (False, Outcome.FAIL), (None, Outcome.CAUTION)])
def test_the_mark(edition, listed, outcome):
    built = circuit(
        box("new", origin="added"),
        load("lamp", "new", origin="added", listed=listed),
        driver("driver", "new", listed=listed),
        low_voltage_load("strip", power_w=5.0, listed=listed),
    )
    assert [finding.outcome for finding in findings(RULE, built, edition)] == [outcome] * 3


def test_a_mark_still_to_come_is_something_to_look_for():
    built = circuit(box("new", origin="added"), load("lamp", "new", origin="added"))
    assert only(RULE, built, "lamp").says.startswith("Before you buy: look for the listing mark")


def test_existing_lights_and_other_loads_say_nothing():
    old = circuit(box("old"), load("old lamp", "old", listed=False), driver("d", "old", origin="existing"))
    assert findings(RULE, old) == []
    assert findings(RULE, circuit(box("old"), load("fan", "old", origin="added", kind="fan", listed=False))) == []


def test_what_it_is_that_has_no_mark_is_said():
    lamp = load("lamp", "new", origin="added", listed=False)
    light, supply = findings(RULE, circuit(box("new", origin="added"), lamp, driver("d", "new", listed=True)))
    assert light.says.startswith('The light "lamp" has no listing mark')
    assert supply.says.startswith('The driver "d" has the listing mark')
