"""What an entry is over all cases: one value where the file settles it, both ends of a span, each word of several."""

from __future__ import annotations

from circuitcheck.case import values_of
from circuitcheck.case.along import along
from circuitcheck.case.making import case_of
from tests.rules.build import book, box, cable, circuit, load


def light(**given):
    return case_of(circuit(box("b"), cable("f", "panel", "b"), load("l", "b", **given)), book()).loads[0]


def test_each_value_of_an_entry_and_none_where_there_is_none():
    assert values_of(light(power_w=60), "power_w") == (60,)
    assert values_of(light(power_w=(40, 60)), "power_w") == (40, 60)
    assert values_of(light(power_w=60), "apparent_va") == (None,)
    assert set(values_of(light(power_w=60, connection=None), "connection")) == {"hardwired", "cord"}


def test_asking_makes_nothing_rest_on_it():
    case = case_of(circuit(box("b"), cable("f", "panel", "b"), load("l", "b", power_w=(40, 60))), book())
    with case.reading.at(lambda entry: entry.possible.options[0]) as reading:
        values_of(case.loads[0], "power_w")
        assert reading.reads == ()
        assert case.loads[0].power_w == 40
        assert len(reading.reads) == 1


def test_along_a_way_it_is_the_same_kept_box_by_box_and_not():
    """Two cables to the second box; a third lies elsewhere and is open, or not."""
    count = along(lambda case, before, run: before + (run.carries == "feed"), 0, reads="carries")
    for other in ("feed", None):
        case = case_of(
            circuit(
                *map(box, "abc"), cable("1", "panel", "a", carries="feed"), cable("2", "a", "b", carries="switched"),
                cable("3", "a", "c", carries=other, origin="existing"),
            ),
            book(),
        )  # fmt: skip
        with case.reading.at(lambda entry: entry.possible.options[0]):
            assert [count(case, place) for place in ("panel", "a", "b")] == [0, 1, 1]
