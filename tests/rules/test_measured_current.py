"""A clamp reading above the sum means that the list is not complete."""

from dataclasses import replace

import pytest

from circuitcheck.circuit.change import Change
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.rules.capacity.measured_current import RULE
from tests.rules.build import EDITIONS, between, book, box, cable, circuit, driver, findings, load, only, supply


def judged(reading, *parts, edition="nec-2023"):
    return only(RULE, circuit(box("b"), supply(measured_current_a=reading), *parts), "circuit", edition)


@pytest.mark.parametrize("edition", EDITIONS)
def test_above_and_below_the_sum(edition):
    lamps = load("lamps", "b", power_w=600)  # 5 A
    assert judged(4.9, lamps, edition=edition).outcome is Outcome.PASS
    above = judged(5.5, lamps, edition=edition)
    assert (above.outcome, above.value, above.limit) == (Outcome.CAUTION, 5.5, pytest.approx(5))


def test_nobody_measured():
    assert findings(RULE, circuit(box("b"), load("lamps", "b", power_w=600))) == []


def test_what_is_added_was_not_there_yet():
    lamps, added = load("lamps", "b", power_w=360), load("new", "b", power_w=600, origin="added")
    assert judged(4.0, lamps, added, driver("d", "b")).outcome is Outcome.CAUTION
    # of unknown origin it counts as added
    assert judged(4.0, lamps, load("new", "b", power_w=600, origin=None)).outcome is Outcome.CAUTION


def test_continuous_factor_is_not_in_a_reading():
    assert judged(5.5, load("lamps", "b", power_w=600, continuous=True)).limit == pytest.approx(5)


def test_an_unknown_load_may_be_what_is_missing():
    found = judged(3.8, load("lamps", "b", power_w=360), load("thing", "b", kind="other"))
    assert (found.outcome, found.needs) == (Outcome.CAUTION, ())


def test_part_over_is_a_caution():
    assert judged(between(4.5, 5.5), load("lamps", "b", power_w=600)).outcome is Outcome.CAUTION
    # 600 W take 5 A at a power factor of 1, less than the 5.5 A read; at 0.9 they explain the reading.
    assert judged(5.5, load("lamps", "b", power_w=600, power_factor=None)).outcome is Outcome.PASS


def test_a_list_far_below_the_reading_is_asked_for():
    """6 A read and 0.5 A listed: 5.5 A are not explained, so the list is not whole."""
    lamp = load("lamp", "b", power_w=60)
    for complete in (None, False):
        found = only(RULE, circuit(box("b"), supply(measured_current_a=6, loads_complete=complete), lamp), "circuit")
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.loads_complete",))
    walked = only(RULE, circuit(box("b"), supply(measured_current_a=6, loads_complete=True), lamp), "circuit")
    assert walked.outcome is Outcome.CAUTION


def taken_away(reading, on):
    """A lamp of 5 A goes, one of 2 A stays; nobody may know whether the first was on."""
    lamps = (load("old", "b", current_a=5, on_at_reading=on), load("other", "b", current_a=2))
    found = circuit(box("b"), cable("run", "panel", "b", origin="existing"), supply(measured_current_a=reading), *lamps)
    return as_planned(replace(found, changes=(Change(part=Ref("load", "old"), action="remove"),)))


@pytest.mark.parametrize(
    ("reading", "on", "outcome", "listed"),
    [
        (6, True, Outcome.PASS, 7),
        (6, False, Outcome.UNDETERMINED, 2),
        (7.8, True, Outcome.CAUTION, 7),
        (2.8, True, Outcome.PASS, 7),
        (2.8, False, Outcome.CAUTION, 2),
        (2.8, None, Outcome.CAUTION, 2),
    ],
)
def test_a_lamp_that_goes_explains_the_reading_where_it_was_on(reading, on, outcome, listed):
    """More than the allowance of 1 A beyond the list asks for what is missing."""
    found = only(RULE, taken_away(reading, on), "circuit")
    assert (found.outcome, found.value) == (outcome, pytest.approx(reading))
    told = min(reading, 5) + 2 if on else listed  # no more goes than was read
    assert found.limit == pytest.approx(told)
    assert f"The meter showed {reading} A" in found.says or f"the meter showed {reading} A" in found.says
    assert f"{told:.3g} A" in found.says


def test_only_what_was_there_is_a_source():
    """220.18(B): a driver counts by its label."""
    there, new = driver("d", "b", origin="existing"), driver("d", "b")
    counted = book().value("driver-counted-by-input-rating").source
    assert counted in judged(0.5, there).sources
    assert counted not in judged(0.5, new).sources
