"""A clamp reading above the sum means that the list is not complete."""

from dataclasses import replace

import pytest

from circuitcheck.circuit.change import Change
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.rules.capacity.measured_current import RULE
from tests.rules.build import EDITIONS, between, book, box, cable, circuit, driver, findings, load, only, supply


def judged(reading, *parts, edition="nec-2023", **known):
    return only(RULE, circuit(box("b"), supply(measured_current_a=reading, **known), *parts), "circuit", edition)


@pytest.mark.parametrize("edition", EDITIONS)
def test_above_and_below_the_sum(edition):
    """Up to 1 A more may be the meter, the voltage of that hour, or things on standby; more is a load."""
    lamps, walked = load("lamps", "b", power_w=600), {"loads_complete": True}  # 5 A
    assert judged(4.9, lamps, edition=edition).outcome is Outcome.PASS
    assert judged(6, lamps, edition=edition).outcome is Outcome.PASS
    above = judged(6.1, lamps, edition=edition, **walked)
    assert (above.outcome, above.value, above.limit) == (Outcome.CAUTION, 6.1, pytest.approx(5))


def test_nobody_measured():
    assert findings(RULE, circuit(box("b"), load("lamps", "b", power_w=600))) == []


def test_what_is_added_was_not_there_yet():
    lamps, added = load("lamps", "b", power_w=360), load("new", "b", power_w=600, origin="added")
    assert judged(4.1, lamps, added, driver("d", "b")).outcome is Outcome.UNDETERMINED
    # of unknown origin it counts as added
    assert judged(4.1, lamps, load("new", "b", power_w=600, origin=None)).outcome is Outcome.UNDETERMINED


def test_continuous_factor_is_not_in_a_reading():
    assert judged(5.5, load("lamps", "b", power_w=600, continuous=True)).limit == pytest.approx(5)


def test_an_unknown_load_may_be_what_is_missing():
    found = judged(4.1, load("lamps", "b", power_w=360), load("thing", "b", kind="other"))
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.loads_complete",))
    walked = judged(4.1, load("lamps", "b", power_w=360), load("thing", "b", kind="other"), loads_complete=True)
    assert walked.outcome is Outcome.CAUTION


OPEN_LAMPS = [
    pytest.param({"power_w": 600, "power_factor": None}, {"power_w": 600}, id="power factor"),  # 5 A at 1, more below
    pytest.param({"power_w": (600, 1200)}, {"power_w": 600}, id="watts"),
    pytest.param({"current_a": (5, 10)}, {"current_a": 5}, id="amperes"),
    pytest.param({"power_w": 120, "fitted_w": (600, 1200)}, {"power_w": 120, "fitted_w": 600}, id="lamps in it"),
]


@pytest.mark.parametrize(("unknown", "known"), OPEN_LAMPS)
@pytest.mark.parametrize("complete", [None, True, False])
def test_a_reading_that_the_list_explains_at_its_most_alone_agrees_with_nothing_yet(unknown, known, complete):
    """600 W take 5 A of the 7 A that were read, 1200 W all of them: that the list is whole nobody knows before."""
    before = judged(7, load("lamps", "b", **unknown), loads_complete=complete)
    after = judged(7, load("lamps", "b", **known), loads_complete=complete)
    expected = Outcome.CAUTION if complete else Outcome.UNDETERMINED
    assert before.outcome is after.outcome is expected
    assert before.limit == after.limit == pytest.approx(5)
    if complete is None:
        assert before.needs == after.needs == ("supply.loads_complete",)


@pytest.mark.parametrize(("unknown", "known"), OPEN_LAMPS)
def test_a_reading_that_the_list_explains_at_its_least_agrees_whatever_is_found_out(unknown, known):
    told = judged(5.8, load("lamps", "b", **unknown))
    assert told.outcome is judged(5.8, load("lamps", "b", **known)).outcome is Outcome.PASS
    assert "explain 5 to 10 A;" in told.says


def test_what_the_list_leaves_open_is_asked_for_where_it_is_known_to_be_short():
    found = judged(7, load("lamps", "b", power_w=(600, 1200)), loads_complete=False)
    assert found.needs == ("load.lamps.power",)


@pytest.mark.parametrize("use", [{}, {"power_w": 0}, {"power_w": 180}, {"power_w": (0, 180)}])
@pytest.mark.parametrize("edition", EDITIONS)
def test_a_receptacle_explains_what_the_code_plans_for_it(use, edition):
    """220.14(I): 180 VA at each receptacle, 1.5 A at 120 V; what is plugged in changes. Three explain 4.5 A."""
    outlets = load("outlets", "b", kind="receptacle", quantity=3, **use)
    found = judged(5.4, outlets, edition=edition)
    assert (found.outcome, found.limit) == (Outcome.PASS, pytest.approx(4.5))
    assert book(edition).value("receptacle-planning-load").source in found.sources
    assert judged(5.6, outlets, edition=edition).outcome is Outcome.UNDETERMINED


def test_a_receptacle_with_more_in_it_explains_that():
    heater = load("heater", "b", kind="receptacle", current_a=10)
    assert judged(11, heater).outcome is Outcome.PASS
    assert judged(11, heater).limit == pytest.approx(10)


def test_what_may_be_no_receptacle_explains_no_more_than_it_draws():
    assert judged(2, load("thing", "b", kind=None, power_w=12)).outcome is Outcome.UNDETERMINED
    assert judged(2, load("thing", "b", kind="receptacle", power_w=12)).outcome is Outcome.PASS


def test_a_range_counts_at_its_end():
    lamps = load("lamps", "b", power_w=600)
    assert judged(between(4.5, 5.9), lamps).outcome is Outcome.PASS
    assert judged(between(4.5, 6.5), lamps).outcome is Outcome.UNDETERMINED


def test_a_list_far_below_the_reading_is_asked_for():
    """6 A read and 0.5 A listed: 5.5 A are not explained, so the list is not whole."""
    lamp = load("lamp", "b", power_w=60)
    for complete in (None, False):
        found = judged(6, lamp, loads_complete=complete)
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.loads_complete",))
    assert judged(6, lamp, loads_complete=True).outcome is Outcome.CAUTION


def taken_away(reading, on):
    """A lamp of 5 A goes, one of 2 A stays; nobody may know whether the first was on."""
    lamps = (load("old", "b", current_a=5, on_at_reading=on), load("other", "b", current_a=2))
    found = circuit(box("b"), cable("run", "panel", "b", origin="existing"), supply(measured_current_a=reading), *lamps)
    return as_planned(replace(found, changes=(Change(part=Ref("load", "old"), action="remove"),)))


@pytest.mark.parametrize(
    ("reading", "on", "outcome", "listed"),
    [
        (8, True, Outcome.PASS, 7),
        (8, False, Outcome.UNDETERMINED, 2),
        (8, None, Outcome.UNDETERMINED, 2),
        (8.2, True, Outcome.UNDETERMINED, 7),
        (2.8, True, Outcome.PASS, 7),
        (2.8, False, Outcome.PASS, 2),
        (2.8, None, Outcome.PASS, 2),
    ],
)
def test_a_lamp_that_goes_explains_the_reading_where_it_was_on(reading, on, outcome, listed):
    """More than the allowance of 1 A beyond the list asks for what is missing."""
    found = only(RULE, taken_away(reading, on), "circuit")
    assert (found.outcome, found.value) == (outcome, pytest.approx(reading))
    assert found.limit == pytest.approx(listed)
    assert f"meter showed {reading} A" in found.says


def test_only_what_was_there_is_a_source():
    """220.18(B): a driver counts by its label."""
    there, new = driver("d", "b", origin="existing"), driver("d", "b")
    counted = book().value("driver-counted-by-input-rating").source
    assert counted in judged(0.5, there).sources
    assert counted not in judged(0.5, new).sources
