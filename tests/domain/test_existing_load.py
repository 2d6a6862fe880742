"""What was read at the panel and no listed load explains, of the whole circuit and of one cable, by hand at 120 V."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.existing_load import ExistingLoad, existing_load, most_unlisted, most_unlisted_through
from tests.rules.build import book, box, cable, circuit, driver, load, supply

#: panel - a - b - c, with a second cable from b to d.
WAY = (
    box("a"), box("b"), box("c"), box("d"),
    cable("1", "panel", "a"), cable("2", "a", "b"), cable("3", "b", "c"), cable("4", "b", "d"),
)  # fmt: skip
#: 1 A, 2 A, 3 A and a driver of 0.6 A; and 4 A to come.
THERE = (
    load("at a", "a", current_a=1), load("at b", "b", current_a=2), load("at c", "c", current_a=3),
    driver("at d", "d", origin="existing", power_factor=1.0), load("new", "c", current_a=4, origin="added"),
    driver("new too", "a", power_factor=1.0),
)  # fmt: skip


def case_with(reading, *parts):
    return case_of(circuit(supply(measured_current_a=reading), *WAY, *(parts or THERE)), book())


def test_of_what_is_read_the_list_explains_what_is_there():
    case = case_with(10)
    assert existing_load(case) == (pytest.approx(6.6), 10, 0)
    assert existing_load(case).surplus == pytest.approx(3.4)
    assert most_unlisted(case) == pytest.approx(3.4)


@pytest.mark.parametrize("name", ["1", "2", "3", "4"])
def test_through_each_cable_the_same_may_flow_where_all_is_known(name):
    case = case_with(10)
    assert most_unlisted_through(case, case.tree.cable[name]) == pytest.approx(3.4)


def test_a_list_of_more_than_was_read_leaves_nothing():
    case = case_with(5)
    assert (existing_load(case).surplus, most_unlisted(case)) == (0, 0)
    assert most_unlisted_through(case, case.tree.cable["2"]) == 0


def test_nobody_measured():
    case = case_with(None)
    assert (existing_load(case), most_unlisted(case)) == ((0, None, 0), 0)
    assert existing_load(case).surplus == 0
    assert most_unlisted_through(case, case.tree.cable["2"]) == 0


def test_a_surplus_by_hand():
    assert ExistingLoad(3.0, 5.0).surplus == 2
    assert ExistingLoad(5.0, 3.0).surplus == 0
    assert ExistingLoad(3.0, None).surplus == 0
    assert ExistingLoad(3.0, 5.0).taken_off == 0


def test_loads_elsewhere_count_at_their_least_and_those_behind_as_they_are():
    """At c 1 to 3 A: of 10 A read, 3 A of the others listed, 4 A through cable 3 where its own load draws 3 A."""
    case = case_with(10, *THERE[:2], load("at c", "c", current_a=(1, 3)))
    with case.reading.at(lambda entry: entry.possible.options[0 if entry.kind.startswith("listed") else -1]):
        assert existing_load(case).surplus == 4
        assert most_unlisted(case) == 6
        assert most_unlisted_through(case, case.tree.cable["3"]) == 4
        assert most_unlisted_through(case, case.tree.cable["4"]) == 6
