"""A voltage under load: worked by hand as (unloaded - loaded) / unloaded."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.loaded_voltage import RULE
from tests.rules.build import circuit, findings, only, supply


@pytest.mark.parametrize(
    ("loaded", "percent", "outcome"),
    # (120 - 116) / 120 = 3.33 %; (120 - 108) / 120 = 10 %
    [(116, 3.333, Outcome.PASS), (108, 10.0, Outcome.CAUTION)],
)
def test_the_loss(loaded, percent, outcome):
    built = circuit(supply(measured_voltage_v=120, loaded_voltage_v=loaded, loaded_current_a=12))
    found = only(RULE, built, "circuit")
    assert found.outcome is outcome
    assert found.value == pytest.approx(percent, abs=0.001)


def test_the_loop_resistance_is_shown():
    built = circuit(supply(measured_voltage_v=120, loaded_voltage_v=108, loaded_current_a=12))
    assert "1 ohm" in only(RULE, built, "circuit").working[1]  # 12 V / 12 A


def test_a_reading_without_its_partner_asks():
    found = only(RULE, circuit(supply(loaded_voltage_v=116)), "circuit")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.measured_voltage",))


def test_no_reading_says_nothing():
    assert findings(RULE, circuit(supply(measured_voltage_v=120))) == []
