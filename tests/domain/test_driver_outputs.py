"""Runs of lights shared out over the outputs of a driver, by hand."""

import pytest

from circuitcheck.domain.driver_outputs import largest_share


@pytest.mark.parametrize(
    ("watts", "outputs", "most"),
    [([30, 20, 10], 1, 60), ([30, 20, 10], 2, 30), ([30, 20, 10], 3, 30), ([10, 20, 30], 2, 30), ([], 2, 0),
     ([20, 20, 20], 2, 40)],
)  # fmt: skip
def test_the_output_that_gets_most(watts, outputs, most):
    assert largest_share(watts, outputs) == most
