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


def test_both_degrees_and_both_entries_are_told():
    found = only(RULE, built("NM"), "lamp")
    assert found.says == (
        'The light "lamp" requires supply wire rated 90 °C (194 °F), and its cable "run" has 60 °C (140 °F).'
    )
    assert list(found.working) == [
        "label of lamp: supply wire 90 °C (194 °F)",
        "cable run: insulation 60 °C (140 °F)",
    ]
    assert found.keys == ("load.lamp.supply_temperature", "cable.run.type")
    good = only(RULE, built(), "lamp")
    assert (
        good.says == 'The cable "run" at the light "lamp" is rated 90 °C (194 °F); the light requires 90 °C (194 °F).'
    )


def test_the_table_of_cables_is_cited_where_it_tells():
    assert len(only(RULE, built("NM"), "lamp").sources) == 2
    assert len(only(RULE, built("NM", insulation_temperature_c=90), "lamp").sources) == 1
