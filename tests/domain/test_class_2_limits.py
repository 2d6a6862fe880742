"""Class 2 sources: Chapter 9, Tables 11(A) and 11(B), rows by hand."""

import pytest

from circuitcheck.domain.class_2_limits import class_2_allowance
from tests.rules.build import book


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
