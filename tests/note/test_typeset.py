"""Figures of a column: what is needed is rounded up, and the lesser of two down, so that the truth lies between."""

import pytest

from circuitcheck.note.typeset import needed


@pytest.mark.parametrize(
    ("low", "high", "decimals", "shown"),
    [
        (0.8333, 0.8333, 1, "0.9"),
        (0.8333, 1.6667, 1, "0.8 to 1.7"),
        (0.8333, 1.6667, 2, "0.83 to 1.67"),
        (2.0, 2.25, 2, "2.00 to 2.25"),
        (0.8301, 0.8302, 2, "0.84"),  # both in one cell of the column
    ],
)
def test_ends_are_rounded_outward(low, high, decimals, shown):
    assert needed(low, high, decimals) == shown
