"""Branch-circuit conductors within 3 in of a driver: insulation for 90 degC, 410.68, alike from 2017 to 2023."""

from dataclasses import replace

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.driver_supply_wire import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, findings, low_voltage_load, only


def built(origin="added", **given):
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic", **given),
        driver("driver", "attic", origin=origin),
        cable("lead", "driver", "strip", type="class 2 cable"),
        low_voltage_load("strip", power_w=5),
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_new_cable_passes(edition):
    found = only(RULE, built(type="NM-B"), "driver", edition)
    assert found.outcome is Outcome.PASS
    assert (found.value, found.limit, found.unit) == (90, 90, "degC")


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("given", [{"type": "NM"}, {"type": "NM-B", "insulation_temperature_c": 75}])
def test_cooler_insulation_fails(edition, given):
    found = only(RULE, built(**given), "driver", edition)
    assert found.outcome is Outcome.FAIL
    assert "3 in" in found.says


@pytest.mark.parametrize(
    ("given", "key"),
    [({"type": None}, "type"), ({"type": None, "insulation_temperature_c": (60, 90)}, "insulation_temperature")],
)
def test_what_is_not_known_is_asked(given, key):
    found = only(RULE, built(**given), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == (f"cable.feed.{key}",)


def test_a_driver_that_was_there_says_nothing():
    assert findings(RULE, built(origin="existing", type="NM")) == []


def test_the_low_voltage_side_is_not_asked():
    # The lead behind the driver has insulation for 60 degC; only the 120 V side counts here.
    assert only(RULE, built(type="NM-B"), "driver").outcome is Outcome.PASS


def test_of_two_cables_the_cooler_one_decides():
    # NM-B: 90 degC (334.112), an old cable without a mark 60 degC
    made = built(type="NM-B")
    old = cable("old", "attic", "hall", type="NM", origin="existing")
    found = only(RULE, replace(made, boxes=(*made.boxes, box("hall")), cables=(*made.cables, old)), "driver")
    assert (found.outcome, found.value) == (Outcome.FAIL, 60)
    assert found.says.startswith('Cable "old" ends beside driver "driver" with insulation rated 140 degF (60 degC).')


def test_the_kind_of_a_cable_is_a_source_only_where_its_insulation_is_not_given():
    by_kind, marked = (built(type="NM-B", insulation_temperature_c=each) for each in (None, 90))
    places = [{source.place for source in only(RULE, made, "driver").sources} for made in (by_kind, marked)]
    assert places == [{"410.68", "334.80, 334.112"}, {"410.68"}]
