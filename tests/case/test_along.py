"""What is worked out along a way is what its cables make of it one after the other, whatever is open of them."""

import pytest

from circuitcheck.case.along import along
from circuitcheck.case.making import case_of
from tests.rules.build import book, box, cable, circuit

#: panel - a - b, with c behind a too.
BOXES = box("a"), box("b"), box("c")


@pytest.mark.parametrize("length_m", [3, (3, 9)])
def test_each_cable_on_the_way_counts_once_and_in_its_order(length_m):
    passed = along(lambda case, way, run: (*way, (run.id, run.length_m)), (), reads="length")
    cables = cable("1", "panel", "a", length_m=2), cable("2", "a", "b", length_m=length_m), cable("3", "a", "c")
    case = case_of(circuit(*BOXES, *cables), book())
    with case.reading.at(lambda entry: 3.0):
        assert passed(case, "panel") == ()
        assert passed(case, "a") == (("1", 2),)
        assert passed(case, "b") == (("1", 2), ("2", 3))
        assert [name for name, _ in passed(case, "c")] == ["1", "3"]
