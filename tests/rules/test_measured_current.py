"""A clamp reading above the sum means that the list is not complete."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.measured_current import RULE
from tests.rules.build import EDITIONS, between, box, circuit, driver, findings, load, only, supply


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
