"""What a control works, and the watts of it, by hand."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.switching import is_touched, switched, watts_of, watts_of_driver, works
from tests.rules.build import book, box, cable, circuit, control, driver, load, site


def case_with(*parts):
    return case_of(circuit(box("b"), cable("f", "panel", "b"), *parts), book())


def worked_by(case):
    return works(case, case.controls[0])


def test_lights_drivers_and_the_rest_are_told_apart():
    case = case_with(
        control("k", "b", kind="dimmer", origin="existing"),
        load("lamp", "b", power_w=60, switched_by="k"),
        load("fan", "b", kind="fan", power_w=60, switched_by="k"),
        load("other", "b", power_w=60),
        driver("d", "b", switched_by="k", origin="existing", power_factor=1.0),
    )
    worked = worked_by(case)
    assert [[part.id for part in parts] for parts in worked] == [["lamp"], ["fan"], ["d"]]
    assert switched(case) == {"k": ("lamp", "fan", "d")}
    assert not is_touched(case.controls[0], worked)


@pytest.mark.parametrize("new", ["k", "lamp", "fan", "d"])
def test_one_added_part_is_enough_to_be_touched(new):
    def origin(name):
        return {"origin": "added" if name == new else "existing"}

    case = case_with(
        control("k", "b", kind="dimmer", **origin("k")),
        load("lamp", "b", power_w=60, switched_by="k", **origin("lamp")),
        load("fan", "b", kind="fan", power_w=60, switched_by="k", **origin("fan")),
        driver("d", "b", switched_by="k", **origin("d")),
    )
    assert is_touched(case.controls[0], worked_by(case))


def test_a_control_that_works_nothing():
    assert worked_by(case_with(control("k", "b", kind="dimmer", origin="existing"))) == ((), (), ())


@pytest.mark.parametrize(
    ("given", "watts"),
    [
        ({"power_w": 60}, 60),
        ({"power_w": 60, "apparent_va": 80}, 60),
        ({"apparent_va": 80, "current_a": 1}, 80),
        ({"current_a": 1}, 120),  # 1 A x 120 V
        ({"power_w": 60, "fitted_w": 75}, 75),
        ({"power_w": 60, "fitted_w": 9}, 60),
        ({"power_w": 60, "quantity": 3}, 180),
    ],
)
def test_the_watts_of_all_pieces(given, watts):
    case = case_with(load("lamp", "b", **given))
    assert watts_of(case, case.loads[0]) == watts


def test_the_watts_into_a_driver():
    # 0.6 A x 120 V x 0.9 = 64.8 W
    case = case_with(driver("d", "b", power_factor=0.9))
    assert watts_of_driver(case, case.drivers[0]) == pytest.approx(64.8)


def test_of_a_receptacle_into_which_nobody_says_what_is_plugged_there_are_no_watts():
    case = case_with(site(dwelling=False), load("outlet", "b", kind="receptacle"))
    with case.reading.at(lambda entry: entry.possible.options[0]):
        assert case.loads[0].power_w is None
        assert watts_of(case, case.loads[0]) == 0
