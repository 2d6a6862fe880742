"""What a conductor may carry, step by step by hand.

NFPA 70, Table 310.16: 14 AWG copper 15, 20, 25 A at 60, 75, 90 degC; 12 AWG 20, 25, 30 A (aluminum 15, 20, 25 A).
Table 310.15(B)(1): at 56 to 60 degC 0.58 for 75 and 0.71 for 90 degC insulation, and none for 60. Table 310.15(C)(1):
4 to 6 conductors 0.80, 10 to 20 0.50.
"""

from dataclasses import fields

import pytest

from circuitcheck.domain.conductor_ampacity import (
    Conditions,
    Corrected,
    both_degrees,
    column_at_most,
    columns_of,
    corrected_ampacity,
    equivalent_size,
    has_aluminum,
)
from tests.domain.closed import is_closed
from tests.rules.build import book

BOOK = book()


def may_carry(size="14 AWG", metal="copper", insulation=90, ambient=30, count=2, cable=60, terminals=60):
    return corrected_ampacity(BOOK, size, metal, Conditions(insulation, ambient, count, cable, terminals))


@pytest.mark.parametrize(
    ("given", "amperes"),
    [
        ({}, 15),  # 25 A, held to the 60 degC column of NM-B (334.80)
        ({"cable": None, "terminals": 75}, 20),
        ({"cable": 90, "terminals": 75}, 20),
        ({"cable": None, "terminals": 90}, 25),
        ({"cable": 75, "terminals": 60}, 15),
        ({"ambient": 60}, 15),  # 25 x 0.71 = 17.75 A
        ({"ambient": 60, "count": 6}, 25 * 0.71 * 0.8),
        ({"ambient": 60, "count": 10}, 25 * 0.71 * 0.5),
        ({"ambient": 60, "insulation": 75, "count": 4}, 20 * 0.58 * 0.8),
        ({"ambient": 60, "insulation": 60}, 0),
        ({"insulation": 85, "count": 10}, 10),  # the 75 degC column: 20 x 0.50
        ({"insulation": 59}, 0),  # no column is that cool
        ({"size": "12 AWG"}, 20),
        ({"size": "12 AWG", "metal": "aluminum"}, 15),
        ({"size": "12 AWG", "metal": "aluminum", "count": 10}, 12.5),
        ({"size": "14 AWG", "metal": "aluminum"}, 0),  # the table prints none
        ({"size": "2.5 mm^2"}, 15),  # 14 AWG stands in for it
    ],
)
def test_by_hand(given, amperes):
    assert may_carry(**given).amperes == pytest.approx(amperes)


def test_a_size_of_no_table():
    assert may_carry("20 AWG") is None


def lines(**given):
    return [str(line) for line in may_carry(**given).working()]


def test_the_working_has_every_step():
    assert lines(ambient=60, count=10) == [
        "14 AWG copper, 90 degC column: 25 A",
        "x 0.71 for air at 140 degF (60 degC)",
        "x 0.50 for 10 current-carrying conductors together",
        "= 8.87 A",
    ]
    assert lines()[3:] == ["= 25 A", "limited to 15 A, the 60 degC column of the cable type"]
    assert lines(cable=90)[-1] == "limited to 15 A, the 60 degC column of the terminals"
    assert lines(cable=None)[-1] == "limited to 15 A, the 60 degC column of the terminals"
    assert lines(metal="aluminum") == ["14 AWG aluminum: the table gives no ampacity at 90 degC"]
    assert lines(insulation=60, ambient=60)[-1] == "air at 140 degF (60 degC): not allowed for this insulation, so 0 A"
    assert lines(size="2.5 mm^2")[0].startswith("2.5 mm^2 (as 14 AWG) copper")


def test_before_correction_the_cooler_column_counts():
    assert may_carry(ambient=60, count=10).before_a == 15
    assert may_carry(cable=None, terminals=90).before_a == 25
    assert may_carry(insulation=60, terminals=90, cable=None).before_a == 15


def test_the_columns():
    assert columns_of(BOOK.table("ampacity")) == (60, 75, 90)
    assert [column_at_most((60, 75, 90), each) for each in (59, 60, 74, 75, 105)] == [None, 60, 60, 75, 90]
    assert both_degrees(60) == "140 degF (60 degC)"


def test_a_metric_size_has_a_gauge_that_stands_in():
    assert equivalent_size(BOOK, "2.5 mm^2")[0] == "14 AWG"
    assert equivalent_size(BOOK, "2.5 mm^2")[1]
    assert equivalent_size(BOOK, "14 AWG") == ("14 AWG", ())
    assert [has_aluminum(BOOK, size) for size in ("14 AWG", "12 AWG", "20 AWG")] == [False, True, False]


def test_what_is_kept_is_named_and_cannot_be_changed():
    found = may_carry()
    assert is_closed(found)
    with pytest.raises(TypeError):
        Corrected(*(getattr(found, field.name) for field in fields(found)))


def test_where_no_column_is_cool_enough_the_coolest_is_told():
    cold = may_carry(insulation=59)
    assert (cold.insulation_a, cold.insulation_column_c, cold.ambient_factor) == (0, 60, None)
    held = may_carry(cable=None, terminals=59)
    assert (held.held_column_c, held.held_a, held.held_by) == (60, 15, "terminals")


def test_what_the_factors_stand_on_is_cited():
    def places(**given):
        return {source.place for source in may_carry(**given).sources}

    air = BOOK.table("ambient-correction").rows[0].source.place
    assert air in places()
    assert air not in places(ambient=200)  # no such air in the table
    assert may_carry(ambient=200).amperes == 0
    assert BOOK.table("conductor-count-adjustment").rows[0].source.place in places()


def test_a_size_is_printed_in_aluminum_in_every_column_or_in_none():
    table = BOOK.table("ampacity")
    printed = {sum(row.number(f"aluminum_{column}") is not None for column in columns_of(table)) for row in table.rows}
    assert printed == {0, 3}
