"""The voltage drop of twice as many lights takes about twice the work: counted in function calls, not in seconds.

Work that is done anew for each light along the way would take four times as much.
"""

import sys

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.rules.capacity.voltage_drop import RULE
from tests.rules.build import book, box, cable, circuit, load


def lights(count, before):
    """So many lights; ``before`` tells from the number of a box what feeds it."""
    parts = []
    for number in range(count):
        parts += [
            box(f"b{number}"),
            cable(f"c{number}", before(number), f"b{number}", length_m=1.5),
            load(f"l{number}", f"b{number}", power_w=5.0),
        ]
    return circuit(*parts)


def calls(built):
    """How many functions are called to judge a circuit."""
    count = 0

    def counted(frame, event, argument):
        nonlocal count
        count += event in ("call", "c_call")

    case = case_of(built, book())
    before = sys.getprofile()
    sys.setprofile(counted)
    try:
        findings = list(findings_of_rule(RULE, case))
    finally:
        sys.setprofile(before)
    assert len(findings) >= len(built.loads)
    return count


@pytest.mark.parametrize(
    "before",
    [lambda number: f"b{number - 1}" if number else "panel", lambda number: "b0" if number else "panel"],
    ids=["in a chain", "side by side"],
)
def test_twice_as_many_lights_take_about_twice_the_work(before):
    calls(lights(2, before))  # the tables are read once a process
    few, many = calls(lights(40, before)), calls(lights(80, before))  # a way shows its last 24 cables, whatever before
    assert many < 2.4 * few
