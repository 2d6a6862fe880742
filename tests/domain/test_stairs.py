"""Added lights of a stair, by hand. NFPA 70, 210.70(A)(2): a switch at each floor level from six risers on."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.stairs import is_added_on_stair, may_be_lights, stair_light_named
from tests.rules.build import EDITIONS, book, box, cable, circuit, driver, load, site


def case_with(*parts, edition="nec-2023", room="stairway", **given):
    stair = site(**{"stair_risers": 12} | given)
    return case_of(circuit(box("b", room=room), cable("feed", "panel", "b"), stair, *parts), book(edition))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("risers", "counts"), [(5, False), (6, True), (7, True)])
def test_a_stair_from_six_risers_on(edition, risers, counts):
    case = case_with(load("lamp", "b", origin="added"), edition=edition, stair_risers=risers)
    assert is_added_on_stair(case.loads[0], case) is counts


def test_only_what_is_added_there_and_is_a_light():
    parts = (
        load("new", "b", origin="added"), load("old", "b"), load("fan", "b", kind="fan", origin="added"),
        driver("strips", "b"), driver("old driver", "b", origin="existing"),
    )  # fmt: skip
    case = case_with(*parts)
    assert [each.id for each in may_be_lights(case)] == ["new", "old", "fan", "strips", "old driver"]
    found = [each for each in may_be_lights(case) if is_added_on_stair(each, case)]
    assert [stair_light_named(each) for each in found] == ['the light "new"', 'the driver "strips"']
    for elsewhere in (case_with(*parts, room="hallway"), case_with(*parts, dwelling=False)):
        assert not any(is_added_on_stair(each, elsewhere) for each in may_be_lights(elsewhere))
