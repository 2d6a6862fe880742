"""What the work touches and what it adds."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.added_work import added_devices, added_outlets, adds_outlet_or_device, has_added_work
from circuitcheck.domain.work import is_touched, is_used
from circuitcheck.refs import Ref
from tests.rules.build import book, box, cable, circuit, control, driver, load

OLD = {"origin": "existing"}


def case_with(*parts, opened=(), moved=(), replaced=()):
    there = (box("b", **OLD), box("c", **OLD), cable("f", "panel", "b", **OLD), cable("g", "b", "c", **OLD))
    names = {part.id for part in parts}
    case = case_of(circuit(*(each for each in there if each.id not in names), *parts), book())
    case.opened, case.moved, case.replaced = frozenset(opened), frozenset(moved), frozenset(replaced)
    return case


def both(**given):
    """A part of each kind in b."""
    return (
        load("l", "b", power_w=9, **given), driver("d", "b", **given), control("k", "b", kind="switch", **given)
    )  # fmt: skip


@pytest.mark.parametrize(
    ("parts", "opened", "touched"),
    [
        ((), (), []),
        (both(**OLD), (), []),
        ((), ("c",), ["c"]),
        ((box("b", origin="added"),), (), ["b"]),
        ((cable("g", "b", "c", origin="added"),), (), ["b", "c"]),
        ((load("l", "b", power_w=9, origin="added"), load("m", "b", power_w=9)), (), ["b"]),
        ((driver("d", "c"), driver("e", "c", **OLD)), (), ["c"]),
        ((control("k", "c", origin="added"), control("m", "c", **OLD)), (), ["c"]),
    ],
)
def test_a_box_is_touched_where_something_in_it_is_new(parts, opened, touched):
    case = case_with(*parts, opened=opened)
    assert [each.id for each in case.boxes if is_touched(case, each)] == touched


NEW = both(origin="added")
REFS = {name: Ref(section, name) for section, name in (("load", "l"), ("driver", "d"), ("control", "k"))}


def test_what_is_added():
    case = case_with(*NEW, load("old", "b", power_w=9), load("instead", "b", power_w=9, origin="added", replaces=True))
    with case.reading.at(lambda entry: False):
        assert [part.id for part in added_outlets(case)] == ["l", "d"]
        assert [part.id for part in added_devices(case)] == ["k"]
        assert adds_outlet_or_device(case)
        assert has_added_work(case)


def test_what_takes_the_place_of_another_is_none():
    case = case_with(*NEW, replaced=[REFS["d"], REFS["k"]])
    with case.reading.at(lambda entry: False):
        assert [part.id for part in added_outlets(case)] == ["l"]
        assert list(added_devices(case)) == []


@pytest.mark.parametrize("still", ["l", "d", "k"])
def test_what_is_moved_brings_none_more(still):
    case = case_with(*NEW, moved=REFS.values())
    others = case_with(*NEW, moved=[ref for name, ref in REFS.items() if name != still])
    for each, more in ((case, False), (others, True)):
        with each.reading.at(lambda entry: False):
            assert adds_outlet_or_device(each) is more


@pytest.mark.parametrize(
    ("parts", "adds"),
    [
        ((), False),
        (both(**OLD), False),
        ((box("b", origin="added"),), True),
        ((cable("g", "b", "c", origin="added"),), True),
        ((driver("d", "b"),), True),
        ((control("k", "b", kind="switch", origin="added"),), True),
    ],
)
def test_a_cable_or_a_box_is_work_too(parts, adds):
    case = case_with(*parts)
    with case.reading.at(lambda entry: False):
        assert has_added_work(case) is adds


@pytest.mark.parametrize(
    ("parts", "used"),
    [
        ((), []),
        (both(**OLD), []),
        ((cable("f", "panel", "b", origin="added"),), ["f", "g"]),
        ((cable("g", "b", "c", origin="added"),), ["f", "g"]),
        ((load("l", "c", power_w=9, origin="added"), load("m", "c", power_w=9)), ["g"]),
        ((driver("d", "b"), driver("e", "b", **OLD)), ["f", "g"]),
    ],
)
def test_a_cable_is_used_where_something_new_hangs_on_it(parts, used):
    case = case_with(*parts)
    assert sorted(each.id for each in case.cables if is_used(each, case)) == used
