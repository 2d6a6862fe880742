"""411.1 (2017, 2020) and 411.3 (2023): where wet contact is likely at most 15 V ac or 30 V dc."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.wet_contact import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, findings, low_voltage_load, only, site


def shower(volts, kind, **light):
    given = {"power_per_length_w_per_m": 10.0, "length_m": 2.0, "over_bath": True, "in_spray": True} | light
    return circuit(
        site(room="bathroom"),
        box("b"),
        cable("f", "panel", "b"),
        driver("d", "b", output_voltage_v=volts, output_kind=kind),
        low_voltage_load("strip", **given),
        cable("lead", "d", "strip", type="class 2 cable"),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("volts", "kind", "outcome"),
    [
        (15, "ac", Outcome.PASS),
        (15.5, "ac", Outcome.FAIL),
        (30, "dc", Outcome.PASS),
        (31, "dc", Outcome.FAIL),
        (12, None, Outcome.PASS),
        (24, None, Outcome.UNDETERMINED),
        (36, None, Outcome.FAIL),
        (None, "dc", Outcome.UNDETERMINED),
    ],
)
def test_volts_in_the_spray(edition, volts, kind, outcome):
    assert only(RULE, shower(volts, kind), "strip", edition).outcome is outcome


def test_what_is_unknown_is_asked():
    assert only(RULE, shower(24, None), "strip").needs == ("driver.d.output_kind",)
    assert only(RULE, shower(24, "ac", in_spray=None), "strip").needs == ("low_voltage_load.strip.in_spray",)


def test_out_of_the_spray_and_existing_lights_say_nothing():
    assert findings(RULE, shower(24, "ac", in_spray=False)) == []
    assert findings(RULE, shower(24, "ac", over_bath=False)) == []
    assert findings(RULE, shower(24, "ac", origin="existing")) == []
