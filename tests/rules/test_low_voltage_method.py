"""Kinds of cable behind a driver: 411.5(A) until 2020, 411.6(A) in 2023; 400.12 for cord."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.low_voltage_method import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, low_voltage_load, only


def built(type, concealed=True, class_2=True, origin="added"):
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        driver("driver", "attic", class_2=class_2),
        cable("lead", "driver", "strip", type=type, concealed=concealed, origin=origin),
        low_voltage_load("strip", power_w=5),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("kind", ["class 2 cable", "class 3 cable", "NM-B", "THHN in raceway"])
def test_kinds_for_walls_pass(edition, kind):
    assert only(RULE, built(kind), "lead", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("kind", ["lamp cord", "flexible cord", "low-voltage strip lead"])
def test_cord_and_leads_in_a_wall_fail(edition, kind):
    found = only(RULE, built(kind), "lead", edition)
    assert found.outcome is Outcome.FAIL
    assert "400.12" in {source.place for source in found.sources}


def test_class_2_cable_counts_on_a_class_2_source():
    assert only(RULE, built("class 2 cable", class_2=False), "lead").outcome is Outcome.FAIL
    assert only(RULE, built("class 2 cable", class_2=False, concealed=False), "lead").outcome is Outcome.FAIL
    found = only(RULE, built("class 2 cable", class_2=None), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("driver.driver.class_2",)
    assert only(RULE, built("NM-B", class_2=False), "lead").outcome is Outcome.PASS


def test_a_lead_in_the_open_passes_and_cord_is_a_caution():
    assert only(RULE, built("low-voltage strip lead", concealed=False), "lead").outcome is Outcome.PASS
    assert only(RULE, built("lamp cord", concealed=False), "lead").outcome is Outcome.CAUTION


def test_whether_a_lead_is_hidden_is_asked():
    found = only(RULE, built("low-voltage strip lead", concealed=None), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.concealed",)
    assert only(RULE, built("class 2 cable", concealed=None), "lead").outcome is Outcome.PASS


def test_whether_an_old_cord_is_hidden_is_asked_too():
    found = only(RULE, built("lamp cord", concealed=None, origin="existing"), "lead")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.lead.concealed",))


def test_an_unread_kind_is_asked():
    found = only(RULE, built(None), "lead")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.lead.type",)


def test_old_house_cable_that_was_there_stays_and_is_not_used_anew():
    assert only(RULE, built("NM", origin="existing"), "lead").outcome is Outcome.PASS
    assert only(RULE, built("NM", origin="added"), "lead").outcome is Outcome.FAIL


@pytest.mark.parametrize(
    ("edition", "place"), [("nec-2017", "411.5(A)"), ("nec-2020", "411.5(A)"), ("nec-2023", "411.6(A)")]
)
def test_the_section_by_edition(edition, place):
    assert only(RULE, built("NM-B"), "lead", edition).sources[0].place == place


@pytest.mark.parametrize(
    ("kind", "place"), [("class 2 cable", "725.60(A)"), ("lamp cord", "400.12"), ("THHN in raceway", None)]
)
def test_what_decides_is_a_source(kind, place):
    # the definition of a class 2 source; uses of cord that are not permitted; for house wiring neither
    places = {source.place for source in only(RULE, built(kind), "lead").sources}
    assert {each for each in places if each in ("725.60(A)", "400.12")} == ({place} if place else set())
