"""What was read at the panel and no listed load explains, of the whole circuit and of one cable, by hand at 120 V."""

import pytest

from circuitcheck.case.case import Gone
from circuitcheck.case.making import case_of
from circuitcheck.domain.cable_currents import unlisted_through
from circuitcheck.domain.existing_load import (
    ExistingLoad,
    existing_load,
    explained,
    most_unlisted,
    most_unlisted_through,
    unfed,
    unfed_draw,
)
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
    assert existing_load(case) == (pytest.approx(6.6), 10)
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
    assert (existing_load(case), most_unlisted(case)) == ((0, None), 0)
    assert existing_load(case).surplus == 0
    assert most_unlisted_through(case, case.tree.cable["2"]) == 0


def test_a_surplus_by_hand():
    assert ExistingLoad(3.0, 5.0).surplus == 2
    assert ExistingLoad(5.0, 3.0).surplus == 0
    assert ExistingLoad(3.0, None).surplus == 0


def test_loads_elsewhere_count_at_their_least_and_those_behind_as_they_are():
    """At c 1 to 3 A: of 10 A read, 3 A of the others listed, 4 A through cable 3 where its own load draws 3 A."""
    lamp = load("at c", "c", current_a=(1, 3))
    source = driver("at c", "c", origin="existing", input_current_a=(1, 3), power_factor=1.0)
    for there in ((lamp,), (source, driver("new", "c", power_factor=1.0))):
        case = case_with(10, *THERE[:2], *there)
        with case.reading.at(lambda entry: entry.possible.options[0 if entry.kind.startswith("listed") else -1]):
            assert existing_load(case).surplus == 4
            assert most_unlisted(case) == 6
            assert most_unlisted_through(case, case.tree.cable["3"]) == 4
            assert most_unlisted_through(case, case.tree.cable["4"]) == 6


def with_gone(reading, *least, on=True):
    """THERE, and loads that go and that drew so much [A]."""
    was = (load(f"was {amperes}", "a", current_a=amperes, on_at_reading=on) for amperes in least)
    case = case_with(reading)
    case.gone = tuple(Gone(gone, has_watts=False) for gone in case_with(None, *was).loads)
    return case


def test_what_goes_is_off_the_reading_where_it_was_on():
    """Of 10 A read, 2 A and 1 A go: 7 A are left, of which the list explains 6.6 A."""
    case = with_gone(10, 2, 1, 0)
    assert existing_load(case) == (pytest.approx(6.6), 7)
    assert most_unlisted(case) == pytest.approx(0.4)
    assert most_unlisted_through(case, case.tree.cable["4"]) == pytest.approx(0.4)
    off = with_gone(10, 2, 1, on=False)
    assert existing_load(off) == (pytest.approx(6.6), 10)
    assert most_unlisted(off) == most_unlisted_through(off, off.tree.cable["4"]) == pytest.approx(3.4)


def test_no_more_goes_than_was_read():
    case = with_gone(2, 5)
    assert existing_load(case) == (pytest.approx(6.6), 0)
    assert (existing_load(case).surplus, most_unlisted(case)) == (0, 0)


def test_drivers_count_beside_loads_and_what_is_to_be_added_does_not():
    """A driver of 0.6 A alone at d; those that are added explain nothing of what was read."""
    there = driver("there", "d", origin="existing", power_factor=1.0)
    case = case_with(10, there, load("lamp", "d", current_a=1), driver("new", "d", power_factor=1.0))
    assert existing_load(case).listed == pytest.approx(1.6)
    for name in ("1", "4"):
        assert most_unlisted_through(case, case.tree.cable[name]) == pytest.approx(8.4)
    with case.reading.at(lambda entry: None):
        assert most_unlisted_through(case, case.tree.cable["3"]) == pytest.approx(8.4)


@pytest.mark.parametrize("reading", [None, 5, 9, 20])
@pytest.mark.parametrize("name", ["1", "3"])
def test_what_hangs_on_no_cable_may_flow_anywhere_whatever_was_read(reading, name):
    """5 A there already and 0.6 A to be added, in a box that no cable feeds; 2 A at a, 1 A at c.

    Of 9 A read, 2 A and 1 A are at a and c: 6 A have no place, of 20 A read 17 A; to be added is 0.6 A more.
    """
    case = case_with(
        reading, box("apart"), load("at a", "a", current_a=2), load("at c", "c", current_a=1),
        load("heater", "apart", current_a=5), driver("new", "apart", power_factor=1.0),
    )  # fmt: skip
    assert [part.id for part in unfed(case)] == ["heater", "new"]
    assert unfed_draw(case) == pytest.approx(5.6)
    expected = {None: 5.6, 5: 5.6, 9: 6.6, 20: 17.6}[reading]
    assert most_unlisted(case) == pytest.approx(expected)
    through = unlisted_through(case, case.tree.cable[name])
    assert through == (pytest.approx(expected), False)


def test_what_hangs_on_no_cable_counts_at_its_most_though_the_list_counts_at_its_least():
    """Of 9 A read, 2 A are at a. The heater draws 1 to 8 A: at the most it alone draws more than the 7 A left."""
    case = case_with(9, box("apart"), load("at a", "a", current_a=2), load("heater", "apart", current_a=(1, 8)))
    with case.reading.at(lambda entry: entry.possible.options[0 if entry.kind.startswith("listed") else -1]):
        assert most_unlisted(case) == most_unlisted_through(case, case.tree.cable["1"]) == 8
    with case.reading.at(lambda entry: entry.possible.options[0]):
        assert most_unlisted(case) == most_unlisted_through(case, case.tree.cable["1"]) == 7


def test_a_list_explains_what_its_loads_draw_at_the_least_and_what_receptacles_are_planned_for():
    """Of 9 A read: a lamp of 1 to 3 A, a driver of 0.6 A, a receptacle with 0.5 A in it (180 VA / 120 V = 1.5 A)."""
    case = case_with(
        9, load("lamp", "a", current_a=(1, 3)), load("outlet", "b", kind="receptacle", current_a=0.5),
        driver("there", "d", origin="existing", power_factor=1.0), load("new", "a", current_a=7, origin="added"),
    )  # fmt: skip
    with case.reading.at(lambda entry: entry.possible.options[0 if entry.kind.startswith("listed") else -1]):
        assert explained(case).amperes == pytest.approx(1 + 0.6 + 1.5)
        planned = book().value("receptacle-planning-load").source
        assert planned in explained(case).sources
    lamp = case_with(9, load("lamp", "a", current_a=1))
    assert explained(lamp) == (1, ())


def test_what_goes_explains_what_it_drew():
    """5 A of the 10 A read were those of what goes."""
    assert explained(with_gone(10, 3)).amperes == pytest.approx(6.6 + 3)
