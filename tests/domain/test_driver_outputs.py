"""Runs of lights shared out over the outputs of a driver, by hand."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.driver_outputs import largest_share, outputs_of
from tests.rules.build import book, box, circuit, driver


@pytest.mark.parametrize(
    ("watts", "outputs", "most"),
    [([30, 20, 10], 1, 60), ([30, 20, 10], 2, 30), ([30, 20, 10], 3, 30), ([10, 20, 30], 2, 30), ([], 2, 0),
     ([20, 20, 20], 2, 40)],
)  # fmt: skip
def test_the_output_that_gets_most(watts, outputs, most):
    assert largest_share(watts, outputs) == most


@pytest.mark.parametrize(("given", "outputs"), [(None, 1), (1, 1), (2, 2), (4, 4)])
def test_a_label_that_names_no_outputs_has_one(given, outputs):
    case = case_of(circuit(box("b"), driver("d", "b", outputs=given)), book())
    with case.reading.at(lambda entry: None):
        assert outputs_of(case.drivers[0]) == outputs
