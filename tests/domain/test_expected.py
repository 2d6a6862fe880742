"""What another entry calls for is never zero: a case that lacks it is a fault of the program."""

from __future__ import annotations

import pytest

from circuitcheck.case import expected
from circuitcheck.case.expected import MissingEntryError
from circuitcheck.case.making import case_of
from circuitcheck.domain.low_voltage_lights import is_strip, rated_w
from tests.rules.build import book, box, cable, circuit, driver, low_voltage_load


def light(**given):
    parts = box("b"), cable("f", "panel", "b"), driver("d", "b"), cable("lead", "d", "l")
    return case_of(circuit(*parts, low_voltage_load("l", **given)), book()).low_voltage_loads[0]


def test_zero_and_no_are_there():
    part = light(power_w=5)
    assert [expected(value, part, "power") for value in (0.0, False, 7.5, "")] == [0.0, False, 7.5, ""]


def test_what_is_missing_is_named():
    with pytest.raises(MissingEntryError, match=r"^low_voltage_load\.l\.length is missing"):
        expected(None, light(power_w=5), "length")


def test_a_strip_has_its_watts_by_its_length_and_a_lamp_its_own():
    strip = light(power_per_length_w_per_m=10, length_m=2.5)
    assert (is_strip(strip), rated_w(strip)) == (True, 25)
    lamp = light(power_w=4)
    assert (is_strip(lamp), rated_w(lamp)) == (False, 4)
