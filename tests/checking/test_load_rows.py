"""What each load counts on the pages, at its least and at its most, by hand at 120 V."""

import pytest

from circuitcheck.checking.load_rows import load_rows
from tests.rules.build import book, box, circuit, driver, load, supply


def rows_of(*parts):
    made = load_rows(circuit(box("b"), *parts), book())
    return {row.ref.id: row for row in made.rows}, made.unlisted_a


def test_a_known_load_counts_the_same_at_both_ends():
    rows, unlisted = rows_of(load("l", "b", power_w=60), load("new", "b", power_w=90, origin="added", continuous=True))
    # 60 W / 120 V = 0.5 A; 90 W / 120 V x 1.25 = 0.9375 A
    assert (rows["l"].apparent_va, rows["l"].counted_a) == ((60, 60), (0.5, 0.5))
    assert (rows["new"].apparent_va, rows["new"].counted_a) == ((90, 90), (0.9375, 0.9375))
    assert (rows["l"].added, rows["new"].added) == (False, True)
    assert (rows["l"].continuous, rows["new"].continuous) == (False, True)
    assert rows["l"].known
    assert rows["l"].written == "60 W / power factor 1 / 120 V"
    assert unlisted == (0, 0)


def test_a_range_and_hours_that_nobody_knows():
    rows, _ = rows_of(load("l", "b", power_w=(60, 120), continuous=None))
    assert rows["l"].apparent_va == (60, 120)
    assert rows["l"].counted_a == (0.5, 1.25)
    assert rows["l"].continuous is None


def test_a_load_of_which_nothing_is_known_is_said_to_be_unknown():
    rows, _ = rows_of(load("l", "b"), load("m", "b", power_w=60))
    assert (rows["l"].known, rows["m"].known) == (False, True)


def test_drivers_come_after_the_loads():
    rows, _ = rows_of(driver("d", "b", power_factor=1.0, continuous=False), load("l", "b", power_w=60))
    assert list(rows) == ["l", "d"]
    assert (rows["d"].apparent_va, rows["d"].added) == (pytest.approx((72, 72)), True)  # 0.6 A x 120 V


def test_what_was_read_beyond_the_list():
    _, unlisted = rows_of(supply(measured_current_a=5), load("l", "b", power_w=(120, 240)))
    assert unlisted == (3, 4)
