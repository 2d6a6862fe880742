"""The conditions of use of a cable: its insulation, what heats it, by hand.

310.15(C)(1): conductors of cables that lie together more than 24 in; 334.80: more than two cables through one sealed
hole count so however short; 340.80: UF-B goes by its 60 degC column.
"""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.conditions_of_use import (
    CONDITIONS_WORSE,
    bare_ampacity_of,
    cables_alongside,
    conditions_of,
    outside_is_worse,
    size_is_worse,
    type_is_worse,
)
from tests.rules.build import book, box, cable, circuit, supply

BOOK = book()


def of(**given):
    built = circuit(supply(terminals_c=60), box("b"), cable("run", "panel", "b", **({"ambient_c": 30} | given)))
    case = case_of(built, BOOK)
    return case, case.cables[0]


@pytest.mark.parametrize(
    ("given", "conductors", "lines"),
    [
        ({}, 2, 0),
        ({"conductors": 3}, 3, 0),
        ({"conductors": 3, "carries": "travelers"}, 2, 0),  # of two travelers one carries at a time
        ({"conductors": 2, "carries": "travelers"}, 2, 0),
        ({"conductors": 4, "carries": "travelers"}, 3, 0),
        ({"bundled_with": 2}, 6, 1),
        ({"bundled_with": 2, "current_carrying": 5}, 5, 1),
        ({"sealed_hole_with": 1}, 2, 0),  # two in one hole are not more than two
        ({"sealed_hole_with": 2}, 6, 2),
        ({"sealed_hole_with": 3, "bundled_with": 1}, 8, 2),
        ({"sealed_hole_with": 2, "bundled_with": 4}, 10, 2),
    ],
)
def test_how_many_conductors_heat_one_another(given, conductors, lines):
    case, run = of(**given)
    with case.reading.at(lambda entry: None):  # nobody counted what carries current
        conditions = conditions_of(case, run)
    assert conditions.conductors == conductors
    assert len(conditions.notes) == lines


def test_what_lies_beside_it_is_told_in_numbers():
    _, notes, sources = cables_alongside(*of(sealed_hole_with=3))
    assert str(notes[0]).startswith("4 cables in one sealed hole")
    assert str(notes[1]).startswith("3 other cable(s) alongside for more than 24 in")
    assert len(sources) == 3
    assert cables_alongside(*of()) == (0, (), ())


@pytest.mark.parametrize(
    ("given", "insulation", "limit"),
    [
        ({}, 90, 60),  # NM-B: 90 degC insulation, 60 degC column (334.80, 334.112)
        ({"type": "NM"}, 60, 60),
        ({"type": "UF-B", "insulation_temperature_c": 90}, 90, 60),
        ({"type": "UF-B", "insulation_temperature_c": 90, "place": "outdoors"}, 60, 60),
        ({"type": "UF-B", "insulation_temperature_c": 90, "place": "underground"}, 60, 60),
        ({"type": "NM-B", "place": "outdoors"}, 90, 60),
        ({"insulation_temperature_c": 75}, 75, 60),
        ({"type": "THHN in raceway"}, 90, None),
    ],
)
def test_insulation_and_the_column_of_its_kind(given, insulation, limit):
    conditions = conditions_of(*of(**given))
    assert (conditions.insulation_c, conditions.cable_limit_c) == (insulation, limit)
    assert (conditions.ambient_c, conditions.terminals_c) == (30, 60)
    assert conditions.sources


def test_bare_is_in_plain_air_and_alone():
    hot = bare_ampacity_of(*of(ambient_c=60, bundled_with=5, current_carrying=12))
    assert (hot.ambient_factor, hot.count_factor, hot.amperes) == (1.0, 1.0, 15)
    assert (hot.count, hot.ambient_c) == (1, 30)


def test_which_way_is_worse():
    case, run = of()
    kinds = ("THHN in raceway", "NM-B", "NM")
    worse = [type_is_worse(kind, run, case) for kind in kinds]
    assert worse == sorted(set(worse))
    assert [outside_is_worse(place, run, case) for place in ("inside", "outdoors", "underground")] == [0, 1, 1]
    sizes = ("10 AWG", "12 AWG", "14 AWG")
    worse = [size_is_worse(size, run, case) for size in sizes]
    assert worse == sorted(set(worse))
    assert size_is_worse("1 inch", run, case) == 0  # counts as no metal at all
    outside, there = of(place="outdoors", type="UF-B")
    assert type_is_worse("UF-B", there, outside)[2]
    assert not type_is_worse("NM-B", there, outside)[2]
    assert not type_is_worse("UF-B", run, case)[2]


@pytest.mark.parametrize(
    ("entry", "better", "worse"),
    # cooler insulation or terminals, warmer air, more that heats, thinner or worse metal: each lowers the ampacity
    [
        ("cable.size", "12 AWG", "14 AWG"),
        ("cable.material", "copper", "aluminum"),
        ("cable.material", "copper-clad aluminum", "aluminum"),
        ("cable.insulation_temperature", 90.0, 60.0),
        ("cable.place", "inside", "underground"),
        ("cable.ambient", 30.0, 50.0),
        ("cable.conductors", 2, 3),
        ("cable.current_carrying", 2, 3),
        ("cable.bundled_with", 0, 1),
        ("cable.sealed_hole_with", 1, 2),
        ("supply.terminals", 75.0, 60.0),
    ],
)
def test_what_lowers_ampacity_is_worse(entry, better, worse):
    case, run = of()
    direction = CONDITIONS_WORSE[entry]
    assert direction(better, run, case) < direction(worse, run, case)
