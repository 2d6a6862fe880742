"""The smallest trade size that would do, against pages that print it and against sums in a comment."""

import pytest

from circuitcheck.advice.box_sizes import smallest_trade_size
from tests.rules.build import book, box, cable, circuit, device, fixture_wires


def smallest(there, *sizes_and_counts):
    """One cable in from the panel, the others out to boxes of their own."""
    cables = [
        cable(f"c{number}", *(("panel", "b") if number == 0 else ("b", f"out {number}")), size=size, conductors=count)
        for number, (size, count) in enumerate(sizes_and_counts)
    ]
    built = circuit(there, *(box(each.to_id) for each in cables if each.to_id != "b"), *cables)
    return smallest_trade_size(there, built, book())


def test_stud_hickey_and_luminaire_wires():
    # ecmweb.com/content/quizzes-code-26, question 1: nine No. 14, a 4 x 2-1/8 octagonal box
    there = box("b", fittings=("stud", "hickey"), fixture_wires=(fixture_wires("14 AWG", 2),))
    assert smallest(there, ("14 AWG", 2), ("14 AWG", 2)) == "4 x 2-1/8 octagon"


def test_mixed_sizes_without_canopy():
    # ecmweb.com/content/quizzes-code-26, question 2: a 4 x 2-1/8 octagonal box
    there = box("b", fittings=("stud",), internal_clamps=True, fixture_wires=(fixture_wires("18 AWG", 2),))
    assert smallest(there, ("12 AWG", 2), ("12 AWG", 2)) == "4 x 2-1/8 octagon"


def test_switch_box_with_twelves():
    # joshthesparky.com/sparkys-journal/boxfill-qotw: 24.75 in^3; of the square boxes 25.5 in^3 is the next
    there = box("b", trade_size="4 x 1-1/2 square", internal_clamps=True, devices=(device(),))
    assert smallest(there, ("12 AWG", 2), ("12 AWG", 2), ("12 AWG", 3)) == "4-11/16 x 1-1/4 square"


def test_no_table_box_is_big_enough():
    # 27 x 2.25 and the grounds are more than the 42 in^3 of the largest
    assert smallest(box("b"), *[("12 AWG", 3)] * 9) is None


def test_other_shape_where_the_own_has_none():
    # 12 x 2.00 + 2.00 + 2 x 0.50 = 27 in^3: no octagon, 29.5 in^3 square
    assert smallest(box("b"), *[("14 AWG", 2)] * 6) == "4-11/16 x 1-1/2 square"


@pytest.mark.parametrize(
    ("clamps", "size"), [(True, "4 x 2-1/8 octagon"), (False, "4 x 1-1/2 octagon"), (None, "4 x 2-1/8 octagon")]
)
def test_what_is_unknown_counts_at_worst(clamps, size):
    # 6 x 2.00 + 2.00 = 14 in^3, with clamps 16 in^3; octagons have 12.5, 15.5 and 21.5 in^3
    assert smallest(box("b", internal_clamps=clamps), *[("14 AWG", 2)] * 3) == size
