"""Which way an entry is worse where that depends on the part: what counts a quarter more, what stands in."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.directions import (
    hardwired_is_worse,
    kind_is_worse,
    power_is_worse,
    receptacles_are_worse,
)
from tests.rules.build import book, box, cable, circuit, device, load


def of(**given):
    case = case_of(circuit(box("b"), cable("f", "panel", "b"), load("l", "b", **({"kind": None} | given))), book())
    return case.loads[0], case


@pytest.mark.parametrize(
    ("given", "worst_last"),
    [
        ({"power_w": 60}, ["light", "receptacle", "fan", "heater"]),
        ({"current_a": (1, 2)}, ["light", "receptacle", "fan", "heater"]),
        ({"apparent_va": 60}, ["light", "receptacle", "fan", "heater"]),
        # nobody says what it draws: a receptacle counts with the planning figure (220.14(I)), the others with nothing
        ({"kind": "receptacle"}, ["light", "fan", "heater", "receptacle"]),
    ],
)
def test_the_kind_that_counts_most_is_the_worst(given, worst_last):
    part, case = of(**given)
    worse = [kind_is_worse(kind, part, case) for kind in worst_last]
    assert worse == sorted(set(worse))


def test_the_others():
    part, case = of(power_w=60)
    assert hardwired_is_worse("hardwired", part, case) > hardwired_is_worse("cord", part, case)
    assert (power_is_worse(None, part, case), power_is_worse(60.0, part, case)) == (180, 60)
    two, switch = (device("receptacle"), device("receptacle")), (device("switch"),)
    assert [receptacles_are_worse(value, part, case) for value in (two, two[:1], switch)] == [2, 1, 0]
