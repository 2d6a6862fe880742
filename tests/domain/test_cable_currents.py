"""What flows through each cable, by hand: 120 V, continuous loads and the largest motor a quarter more."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.cable_currents import carried_by, leads_to_what_was_there, unlisted_through
from circuitcheck.domain.existing_load import existing_load
from tests.rules.build import book, box, cable, circuit, control, driver, load, supply

#: panel - first - a - second - b, with a branch from a to c.
WAY = (
    box("a"), box("b"), box("c"),
    cable("first", "panel", "a"), cable("second", "a", "b"), cable("side", "a", "c"),
)  # fmt: skip


def case_with(*parts, way=WAY):
    return case_of(circuit(*way, *parts), book())


def flows(case):
    """By cable: what it counts in its conditions, and before correction [A]."""
    carried = {each.id: carried_by(case, each) for each in case.cables}
    return {name: (pytest.approx(each.load), pytest.approx(each.counted)) for name, each in carried.items()}


def test_each_cable_carries_what_hangs_behind_it():
    case = case_with(
        load("near", "a", current_a=1),
        load("far", "b", current_a=2, continuous=True),
        driver("d", "c", power_factor=1, continuous=False),
    )
    # 2 A that stay on count 2.5 A; the driver takes 0.6 A
    assert flows(case) == {"first": (3.6, 4.1), "second": (2, 2.5), "side": (0.6, 0.6)}


def test_the_largest_motor_behind_it_counts_a_quarter_more_and_never_twice():
    small = load("small", "b", kind="fan", current_a=1)
    large = load("large", "c", kind="fan", current_a=2)
    assert flows(case_with(small, large)) == {"first": (3.5, 3.5), "second": (1.25, 1.25), "side": (2.5, 2.5)}
    # continuous, the large one counts 2.5 A before correction by that, and the quarter of the small one besides
    long = load("large", "c", kind="fan", current_a=2, continuous=True)
    assert flows(case_with(small, long)) == {"first": (3.5, 3.75), "second": (1.25, 1.25), "side": (2.5, 2.5)}


def test_a_switch_loop_carries_what_its_switch_turns_on():
    loop = (*WAY[:3], cable("first", "panel", "a"), cable("loop", "a", "b", carries="switch loop"),
            cable("side", "a", "c", carries="feed"))  # fmt: skip
    lamps = load("on", "a", current_a=3, switched_by="k"), load("other", "a", current_a=1)
    case = case_with(control("k", "b", kind="switch"), *lamps, way=loop)
    assert flows(case) == {"first": (4, 4), "loop": (3, 3), "side": (0, 0)}
    beside = case_with(control("k", "c", kind="switch"), *lamps, way=loop)
    assert flows(beside) == {"first": (4, 4), "loop": (0, 0), "side": (0, 0)}


def test_what_was_read_beyond_the_list_flows_through_the_only_cable_from_the_panel():
    listed = (
        load("near", "a", current_a=1),
        load("far", "b", current_a=2),
        load("new", "c", current_a=5, origin="added"),
    )
    case = case_with(supply(measured_current_a=7), *listed)
    first, second, side = case.cables
    assert unlisted_through(case, first) == (4, True)  # 7 A read, 3 A listed; what is to be added was not there yet
    assert unlisted_through(case, second) == (4, False)
    assert unlisted_through(case, side) == (4, False)
    assert existing_load(case).surplus == 4
    assert existing_load(case).listed == 3
    two = (*WAY, box("d"), cable("other", "panel", "d"))
    case = case_with(supply(measured_current_a=7), *listed, way=two)
    assert not unlisted_through(case, case.cables[0]).certain


def test_what_both_stand_on_is_cited():
    """A receptacle of unknown use by the planning figure, a driver by its label: both sources, each once."""
    both = load("outlets", "b", kind="receptacle"), driver("d", "c", power_factor=1, continuous=False)
    case = case_with(*both, driver("e", "c", power_factor=1, continuous=False))
    with case.reading.at(lambda entry: None):
        first, second, side = (carried_by(case, each).sources for each in case.cables)
    assert set(first) == {*second, *side}
    assert (len(first), len(second), len(side)) == (2, 1, 1)


def test_a_reading_below_the_list_adds_nothing():
    case = case_with(supply(measured_current_a=1), load("near", "a", current_a=3))
    assert existing_load(case).surplus == 0
    assert unlisted_through(case, case.cables[1]) == (0, False)
    without = case_with(load("near", "a", current_a=3))
    assert existing_load(without) == (0, None)
    assert existing_load(without).surplus == 0
    assert unlisted_through(without, without.cables[0]) == (0, True)


def test_what_was_there_before_the_work_is_behind_a_cable_too_where_it_is_another_one_now():
    parts = (
        box("a", origin="added"), box("b", origin="added"), cable("1", "panel", "a"), cable("2", "a", "b"),
        load("lamp", "b", current_a=1, origin="added"),
    )  # fmt: skip
    case = case_with(way=parts)
    first, second = case.cables
    assert not leads_to_what_was_there(case, first)
    for moved, replaced, names in (({second.ref}, set(), (True, True)), (set(), {case.boxes[0].ref}, (True, False))):
        case = case_with(way=parts)
        case.moved, case.replaced = frozenset(moved), frozenset(replaced)
        assert tuple(leads_to_what_was_there(case, cable) for cable in case.cables) == names


NEW_WAY = (
    box("a"), box("b", origin="added"), box("c", origin="added"),
    cable("first", "panel", "a", origin="existing"), cable("second", "a", "b"), cable("third", "b", "c"),
)  # fmt: skip


SWITCH = control("k", "c", kind="switch")


@pytest.mark.parametrize(
    ("parts", "leads", "amperes"),
    [
        ((), (False, False), (0, 0)),
        ((load("lamp", "c", current_a=1, origin="added"),), (False, False), (0, 0)),
        ((load("lamp", "b", current_a=1),), (True, False), (8, 0)),
        ((load("lamp", "c", current_a=1),), (True, True), (8, 8)),
        # its label says 0.6 A
        ((driver("d", "c", power_factor=1, continuous=False, origin="existing"),), (True, True), (8.4, 8.4)),
        ((SWITCH, load("lamp", "a", current_a=1, switched_by="k")), (True, True), (8, 8)),
        ((SWITCH, load("lamp", "a", current_a=1, switched_by="k", origin="added")), (False, False), (0, 0)),
    ],
)
def test_what_was_there_is_also_a_load_a_driver_and_what_a_switch_turns_on(parts, leads, amperes):
    """9 A were read: what the list leaves of it may flow to what was there, and to nothing else."""
    case = case_with(supply(measured_current_a=9), *parts, way=NEW_WAY)
    _, *new = case.cables
    assert tuple(leads_to_what_was_there(case, each) for each in new) == leads
    assert [unlisted_through(case, each) for each in new] == [(pytest.approx(most), False) for most in amperes]


def test_what_takes_a_current_back_may_lead_to_what_was_there():
    for carries, leads in (("feed", False), ("switched", False), ("switch loop", True), ("travelers", True)):
        way = (*NEW_WAY[:5], cable("third", "b", "c", carries=carries))
        case = case_with(way=way)
        assert [leads_to_what_was_there(case, each) for each in case.cables] == [True, leads, leads]
