"""Which way an entry is worse where that depends on the part: what counts a quarter more, what stands in."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.directions import (
    DRAW_WORSE,
    DRIVER_DRAW_WORSE,
    EXPLAINED_WORSE,
    GONE_WORSE,
    LISTED_LESS,
    LOAD_DRAW_WORSE,
    hardwired_is_worse,
    kind_is_worse,
    no_receptacle_is_worse,
    power_is_worse,
    receptacle_is_worse,
    receptacles_are_worse,
)
from circuitcheck.rules.capacity.ampacity import RULE as AMPACITY
from circuitcheck.rules.capacity.load_share import RULE as LOAD_SHARE
from tests.rules.build import book, box, cable, circuit, device, load, only, supply


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


@pytest.mark.parametrize(("rule", "subject"), [(LOAD_SHARE, "circuit"), (AMPACITY, "run")])
def test_a_fan_known_by_its_amperes_is_a_large_motor_from_some_voltage_on(rule, subject):
    """1/8 hp is 93.2 W: of 0.8 A that is 116.5 V. Over it a quarter comes on top: 0.8 A x 1.25 = 1.0 A.

    One watt more at 110 to 125 V is 0.008 to 0.009 A.
    """

    def found(volts):
        fan = load("fan", "b", kind="fan", current_a=0.8)
        parts = box("b"), cable("run", "panel", "b"), fan, load("lamp", "b", power_w=1)
        return only(rule, circuit(supply(voltage_v=volts), *parts), subject)

    told = found((110, 125))
    assert (told.low, told.high) == (pytest.approx(0.8 + 1 / 116.5), pytest.approx(1.0 + 1 / 116.5))
    for volts in (110, 116, 116.5, 116.6, 125):
        assert told.low <= found(volts).value <= told.high
    assert found((110, 116)).high == pytest.approx(0.8 + 1 / 110)
    assert found((117, 125)).low == pytest.approx(1.0 + 1 / 125)


@pytest.mark.parametrize(
    ("entry", "less", "more"),
    # I = P / (V x power factor x efficiency): what of two values draws less, and what draws more
    [
        ("supply.voltage", 240.0, 120.0),
        ("load.power", 60.0, 100.0),
        ("load.apparent", 60.0, 100.0),
        ("load.current", 0.5, 1.0),
        ("load.fitted", 60.0, 100.0),
        ("load.power_factor", 1.0, 0.5),
        ("load.kind", "light", "heater"),
        ("driver.input_power", 60.0, 100.0),
        ("driver.input_current", 0.5, 1.0),
        ("driver.output_power", 60.0, 100.0),
        ("driver.efficiency", 0.9, 0.8),
        ("driver.power_factor", 1.0, 0.5),
    ],
)
def test_what_draws_more_is_worse_and_explains_more_of_a_reading(entry, less, more):
    part, case = of(power_w=60)
    listed = LISTED_LESS[f"listed {entry}"]
    tables = [table for table in (DRAW_WORSE, LOAD_DRAW_WORSE, DRIVER_DRAW_WORSE) if entry in table]
    assert len(tables) == (3 if entry == "supply.voltage" else 2)
    assert all(table[entry](less, part, case) < table[entry](more, part, case) for table in tables)
    assert listed(less, part, case) > listed(more, part, case)


def test_every_entry_that_draws_is_listed_but_how_a_load_is_connected():
    """A quarter more for a heater that is fastened in place counts against the breaker, not in a reading."""
    assert set(LISTED_LESS) == {f"listed {entry}" for entry in DRAW_WORSE if entry != "load.connection"}


def test_no_receptacle_is_worse_for_what_is_to_explain_a_reading():
    part, case = of(power_w=60)
    kinds = sorted(("receptacle", "light"), key=lambda kind: no_receptacle_is_worse(kind, part, case))
    assert kinds == ["receptacle", "light"]
    assert set(EXPLAINED_WORSE) == set(LISTED_LESS)


def test_a_receptacle_is_worse_for_a_rating():
    part, case = of(power_w=60)
    assert (receptacle_is_worse("receptacle", part, case), receptacle_is_worse("light", part, case)) == (True, False)


def test_the_less_it_drew_what_goes_is_worse():
    part, case = of(power_w=60)
    for entry, less, more in [
        ("gone load.power", None, 60.0),
        ("gone load.power", 60.0, 100.0),
        ("gone load.apparent", 60.0, 100.0),
        ("gone load.current", 0.5, 1.0),
        ("gone load.fitted", 60.0, 100.0),
        ("gone load.kind", "light", "heater"),
        ("listed supply.voltage", 240.0, 120.0),
        ("load.on_at_reading", False, True),
    ]:
        direction = GONE_WORSE[entry]
        assert direction(less, part, case) > direction(more, part, case), entry
    assert len(GONE_WORSE) == 7
