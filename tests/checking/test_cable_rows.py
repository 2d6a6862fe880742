"""A row for each cable: what it may carry at worst and at best, and the load behind it, by hand.

NFPA 70, Table 310.16 at 90 degC: 14 AWG 25 A; Table 310.15(B)(1): 0.71 at 56 to 60 degC; 60 degC column 15 A.
"""

import pytest

from circuitcheck.checking.cable_rows import cable_rows
from tests.rules.build import book, box, cable, circuit, load


def rows_of(run, *more):
    return cable_rows(circuit(box("b"), run, *more), book())


def test_what_it_may_carry_and_what_it_carries():
    row = rows_of(
        cable("run", "panel", "b", ambient_c=(30, 60), current_carrying=10), load("l", "b", power_w=(60, 240))
    )
    row = row["run"]
    assert (row.worst.amperes, row.best.amperes) == pytest.approx((25 * 0.71 * 0.5, 12.5))
    assert row.load == (2, 0.5)
    assert row.known


def test_a_load_of_which_nothing_is_known_leaves_it_unknown():
    assert not rows_of(cable("run", "panel", "b"), load("l", "b"))["run"].known


def test_a_size_of_no_table_has_no_row_to_stand_in():
    row = rows_of(cable("run", "panel", "b", size="20 AWG"), load("l", "b", power_w=60))["run"]
    assert (row.worst, row.best) == (None, None)


def test_every_branch_cable_has_a_row():
    rows = rows_of(cable("run", "panel", "b"), box("c"), cable("on", "b", "c"), load("l", "c", power_w=60))
    assert set(rows) == {"run", "on"}
    assert rows["on"].load == rows["run"].load == (0.5, 0.5)
