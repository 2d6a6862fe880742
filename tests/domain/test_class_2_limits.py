"""Class 2 sources: Chapter 9, Tables 11(A) and 11(B), rows by hand."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.class_2_limits import class_2_allowance, ends_of_class_2, voltage_steps
from tests.rules.build import book, box, circuit, driver


@pytest.mark.parametrize(
    ("kind", "volts", "power", "amperes"),
    [
        ("dc", 12, 60, 5.0),  # up to 20 V: 5 A
        ("dc", 20, 100, 5.0),
        ("dc", 24, 100, 100 / 24),  # up to 60 V: 100 VA
        ("dc", 60, 100, 100 / 60),
        ("dc", 200, 0, 0),
        ("ac", 12, 60, 5.0),
        ("ac", 24, 100, 100 / 24),  # up to 30 V: 100 VA
        ("ac", 200, 0, 0),
    ],
)
def test_what_a_source_may_be_rated_for(kind, volts, power, amperes):
    allowed = class_2_allowance(book(), kind, volts)
    assert (allowed.power_va, allowed.current_a) == pytest.approx((power, amperes))
    assert allowed.sources


def of(kind):
    case = case_of(circuit(box("b"), driver("d", "b", output_kind=kind)), book())
    return case.drivers[0], case


def test_where_a_voltage_turns_an_answer():
    """The rows end at 20 and 30 V (ac) and at 20, 30 and 60 V (dc); 411.3: low-voltage lighting at 30 V and 60 V."""
    assert voltage_steps(0, 100, *of("dc")) == [20, 30, 60]
    assert voltage_steps(20, 60, *of("dc")) == [30]  # what lies between, without the ends
    assert voltage_steps(31, 59, *of("ac")) == []


@pytest.mark.parametrize(("kind", "ends"), [("ac", (30,)), ("dc", (60,)), (None, (30, 60))])
def test_class_2_ends_and_just_above_nothing_limits(kind, ends):
    sides = ends_of_class_2(0, 100, *of(kind))
    assert sides == pytest.approx([side for end in ends for side in (end, end)], rel=1e-5)
    assert sides[::2] == list(ends)
    assert all(above > end for end, above in zip(sides[::2], sides[1::2], strict=True))
    assert ends_of_class_2(61, 100, *of(kind)) == []
    assert ends_of_class_2(0, 60, *of("dc")) == []  # what lies between, without the ends
    assert ends_of_class_2(60, 61, *of("dc")) == pytest.approx([60], rel=1e-5)
