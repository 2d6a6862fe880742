"""Supply wire at a luminaire: labels ask for 90 degC, cable before about 1985 has 60 degC conductors."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.supply_temperature import RULE
from tests.rules.build import EDITIONS, between, box, cable, circuit, findings, load, only


def built(cable_type="NM-B", asks=90, **given):
    return circuit(
        box("new", origin="added"),
        cable("run", "panel", "new", type=cable_type, **given),
        load("lamp", "new", origin="added", supply_temperature_c=asks),
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_new_cable_takes_90_degrees(edition):
    found = only(RULE, built(), "lamp", edition)
    assert (found.outcome, found.value, found.limit) == (Outcome.PASS, 90, 90)


@pytest.mark.parametrize("edition", EDITIONS)
def test_old_cable_under_a_90_degree_light_fails(edition):
    found = only(RULE, built("NM"), "lamp", edition)
    assert (found.outcome, found.value, found.limit) == (Outcome.FAIL, 90, 60)
    assert "junction box" in " ".join(found.to_do)


def test_old_cable_under_a_60_degree_light_passes():
    assert only(RULE, built("NM", asks=60), "lamp").outcome is Outcome.PASS


def test_an_unknown_label_on_old_cable_asks_and_on_new_cable_passes():
    found = only(RULE, built("NM", asks=None), "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.lamp.supply_temperature",))
    assert only(RULE, built(asks=None), "lamp").outcome is Outcome.PASS


def test_an_unknown_cable_asks_for_its_type():
    found = only(RULE, built(None), "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.type",))


def test_the_print_on_the_conductors_goes_before_the_type():
    assert only(RULE, built("NM", insulation_temperature_c=90), "lamp").outcome is Outcome.PASS


def test_existing_lights_say_nothing():
    assert findings(RULE, circuit(box("old"), cable("f", "panel", "old"), load("old lamp", "old"))) == []


def test_a_range_across_the_limit_names_what_is_ranged():
    label = only(RULE, built("NM", asks=between(55, 75)), "lamp")
    assert (label.outcome, label.needs) == (Outcome.UNDETERMINED, ("load.lamp.supply_temperature",))
    cable_print = only(RULE, built(asks=75, insulation_temperature_c=between(60, 90)), "lamp")
    assert (cable_print.outcome, cable_print.needs) == (Outcome.UNDETERMINED, ("cable.run.insulation_temperature",))
