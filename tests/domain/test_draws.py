"""What loads and drivers draw from the branch circuit, against worked examples and arithmetic by hand."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.draws import (
    count_sources,
    draw_of,
    driver_draw,
    line_current,
    load_draw,
    motor_quarter,
    power_at,
    says_what_it_takes,
)
from tests.rules.build import book, box, circuit, driver, load


def drawn(**given):
    plain = {"input_current_a": None, "output_power_w": None}
    case = case_of(circuit(box("b"), driver("d", "b", **(plain | given))), book())
    with case.reading.at(lambda entry: None):  # what is not given is nothing at all
        return driver_draw(case, case.drivers[0])


def test_the_ampere_rating_counts_not_the_watts_of_the_lamp():
    # A lamp of 14 W marked 120 V, 0.200 A counts as 24 VA, power factor 14/24 = 0.58: the ampere rating
    # counts, not the watts of the lamp (NFPA 70-2017, 220.18(B)).
    draw = drawn(output_power_w=14, input_power_w=14, input_current_a=0.2)
    assert (draw.amperes, abs(draw.power), draw.power.real) == pytest.approx((0.2, 24, 14))


def test_output_power_with_efficiency_and_power_factor():
    # 60 W / 0.86 = 69.8 W in; 69.8 W / 0.92 = 75.8 VA: division by hand.
    draw = drawn(output_power_w=60, efficiency=0.86, power_factor=0.92)
    assert draw.power.real == pytest.approx(69.77, abs=0.005)
    assert abs(draw.power) == pytest.approx(75.83, abs=0.005)


def test_no_more_watts_than_volt_amperes_flow_in():
    assert drawn(input_power_w=90, input_current_a=0.5).power.real == pytest.approx(60)


@pytest.mark.parametrize(
    ("given", "amperes", "written"),
    [
        ({"input_power_w": 72, "power_factor": 0.8}, 0.75, "72 W in / power factor 0.8 / 120 V"),
        (
            {"output_power_w": 60, "efficiency": 0.8, "power_factor": 0.5},
            1.25,
            "60 W out / efficiency 0.8 / power factor 0.5 / 120 V",
        ),
        ({"input_current_a": 0.6, "input_power_w": 60}, 0.6, "0.6 A on its label"),
        ({"output_power_w": 60}, 0, "nothing is known of it"),
    ],
)
def test_how_the_current_of_a_driver_comes_about(given, amperes, written):
    # 72 / 0.8 = 90 VA; 60 / 0.8 = 75 W and 75 / 0.5 = 150 VA
    draw = drawn(**given)
    assert draw.amperes == pytest.approx(amperes)
    assert str(draw.written) == written
    assert [source.place for source in draw.sources] == [book().value("driver-counted-by-input-rating").source.place]


def test_what_nobody_knows_draws_nothing_here():
    draw = drawn()
    assert (draw.amperes, draw.power) == (0.0, 0j)
    assert str(draw.written) == "nothing is known of it"


def test_of_watts_and_volt_amperes_what_is_left_over_is_reactive():
    # 0.5 A x 120 V = 60 VA with 36 W in: sqrt(60^2 - 36^2) = 48 var
    draw = drawn(input_power_w=36, input_current_a=0.5, power_factor=0.9)
    assert (draw.power.real, draw.power.imag) == pytest.approx((36, 48))
    # without watts the power factor tells them: 60 x 0.8 = 48 W and 36 var
    draw = drawn(input_current_a=0.5, power_factor=0.8)
    assert (draw.power.real, draw.power.imag) == pytest.approx((48, 36))


def of_load(**given):
    case = case_of(circuit(box("b"), load("l", "b", **given)), book())
    with case.reading.at(lambda entry: None):
        return load_draw(case, case.loads[0])


@pytest.mark.parametrize(
    ("given", "amperes", "watts", "var"),
    [
        # 180 VA / 120 V = 1.5 A; 0.8 x 180 = 144 W and 108 var
        ({"apparent_va": 180, "power_factor": 0.8}, 1.5, 144, 108),
        # the label's watts, where it has both: 108 W and 144 var; never more watts than volt-amperes
        ({"apparent_va": 180, "power_w": 108}, 1.5, 108, 144),
        ({"apparent_va": 180, "power_w": 200}, 1.5, 180, 0),
        # amperes before watts: 1.5 A x 120 V = 180 VA
        ({"current_a": 1.5, "power_w": 60, "power_factor": 0.6}, 1.5, 108, 144),
        # 96 W / 0.8 = 120 VA = 1 A, 72 var
        ({"power_w": 96, "power_factor": 0.8}, 1.0, 96, 72),
        ({"power_w": 96, "power_factor": 0.8, "quantity": 3}, 3.0, 288, 216),
        # the lamp that is in it where it takes more: 144 W / 0.8 = 180 VA
        ({"power_w": 96, "power_factor": 0.8, "fitted_w": 144}, 1.5, 144, 108),
        ({"power_w": 96, "power_factor": 0.8, "fitted_w": 60}, 1.0, 96, 72),
        ({"power_w": 96, "power_factor": 0.8, "fitted_w": 144, "quantity": 2}, 3.0, 288, 216),
        # a receptacle of unknown use: 180 VA (220.14(I))
        ({"kind": "receptacle"}, 1.5, 180, 0),
        ({"kind": "receptacle", "quantity": 2}, 3.0, 360, 0),
    ],
)
def test_what_a_load_draws(given, amperes, watts, var):
    draw = of_load(**given)
    assert (draw.amperes, draw.power.real, draw.power.imag) == pytest.approx((amperes, watts, var), abs=1e-9)


def test_only_a_planning_figure_is_called_planned():
    assert of_load(kind="receptacle").planned
    assert of_load(kind="receptacle").sources
    assert not of_load(power_w=60).planned
    assert not of_load(kind="receptacle", power_w=60).planned


@pytest.mark.parametrize(
    ("given", "written"),
    [
        ({"power_w": 96, "power_factor": 0.8}, "96 W / power factor 0.8 / 120 V"),
        ({"power_w": 96, "quantity": 3, "power_factor": 0.8}, "3 x 96 W / power factor 0.8 / 120 V"),
        ({"power_w": 60, "fitted_w": 150, "quantity": 2}, "2 x 150 W / power factor 1 / 120 V"),
        ({"apparent_va": 180}, "180 VA / 120 V"),
        ({"apparent_va": 180, "quantity": 2}, "2 x 180 VA / 120 V"),
        ({"current_a": 1.5}, "1.5 A"),
        ({"current_a": 1.5, "quantity": 2}, "2 x 1.5 A"),
        ({}, "nothing is known of it"),
    ],
)
def test_how_the_current_of_a_load_comes_about(given, written):
    assert str(of_load(**given).written) == written


def test_a_load_of_which_nobody_knows_anything_draws_nothing_here():
    assert (of_load().amperes, of_load().power) == (0.0, 0j)


@pytest.mark.parametrize(
    ("given", "says"),
    [({}, False), ({"fitted_w": 60}, False), ({"power_w": 60}, True), ({"apparent_va": 60}, True),
     ({"current_a": 1}, True)],
)  # fmt: skip
def test_whether_the_file_says_what_it_takes(given, says):
    case = case_of(circuit(box("b"), load("l", "b", kind="receptacle", **given)), book())
    with case.reading.at(lambda entry: None):
        assert says_what_it_takes(case.loads[0]) is says


def test_with_another_power_factor():
    """1 A x 120 V: at 0.6 they are 72 W and 96 var, at 0.8 they are 96 W and 72 var; 72 W at 0.6 are 120 VA."""
    lamp, weighed = load("l", "b", current_a=1, power_factor=0.8), load("w", "b", power_w=72)
    case = case_of(circuit(box("b"), lamp, weighed, driver("d", "b", input_current_a=1, power_factor=0.8)), book())
    parts = (*case.loads, *case.drivers)
    with case.reading.at(lambda entry: None):
        assert [power_at(case, part, 0.6) for part in parts] == pytest.approx([72 + 96j] * 3)
        assert [draw_of(case, part).power for part in parts] == pytest.approx([96 + 72j, 72, 96 + 72j])
        assert [draw_of(case, part).part.id for part in parts] == ["l", "w", "d"]


def counted(*loads):
    """Amperes of each load that count against the breaker."""
    case = case_of(circuit(box("b"), *loads), book())
    return pytest.approx([line_current(case, load_draw(case, each)) for each in case.loads])


def test_continuous_loads_and_heaters_count_a_quarter_more_against_the_breaker():
    """210.19(A), 210.20(A): 125 percent; 424.4(B): a fixed space heater is continuous whatever anybody says."""
    assert counted(load("l", "b", current_a=4, continuous=True)) == [5]
    assert counted(load("l", "b", current_a=4)) == [4]
    heater = {"kind": "heater", "current_a": 8}
    assert counted(load("h", "b", **heater)) == [10]
    assert counted(load("h", "b", **heater, connection="cord")) == [8]


def test_the_largest_motor_fastened_in_place_counts_a_quarter_more_once():
    """220.18(A): over 1/8 hp, 93.25 W; three alike are one largest and two more. 1.2 A x 120 V = 144 VA."""
    small, large = load("small", "b", kind="fan", current_a=0.5), load("large", "b", kind="fan", current_a=1.2)
    assert counted(small, large) == [0.5, 1.5]
    assert counted(load("three", "b", kind="fan", current_a=1.2, quantity=3)) == [3.9]
    larger = load("larger", "b", kind="fan", current_a=2.0)
    assert counted(large, larger) == [1.2, 2.5]
    assert counted(larger, large) == [2.5, 1.2]
    long = load("long", "b", kind="fan", current_a=1.2, continuous=True)
    assert counted(long) == [1.5]  # its quarter once
    assert counted(long, large) == [1.5, 1.5]  # and it takes away that of no other
    assert counted(load("cord", "b", kind="fan", current_a=1.2, connection="cord")) == [1.2]
    assert counted(load("lamp", "b", current_a=1.2)) == [1.2]
    # 0.5 A x 120 V = 60 W each: none of the three is over 1/8 hp
    assert counted(load("three", "b", kind="fan", current_a=0.5, quantity=3)) == [1.5]


def test_the_factor_that_counts_is_cited():
    heater, fan = load("h", "b", kind="heater", current_a=8), load("f", "b", kind="fan", current_a=1.2)
    case = case_of(circuit(box("b"), heater, fan, load("l", "b", current_a=1, continuous=True)), book())
    cited = [[source.place for source in count_sources(case, load_draw(case, each))] for each in case.loads]
    names = (("space-heater-continuous", "space-heater-factor"), ("largest-motor-factor", "small-motor-power"), ())
    assert cited == [[book().value(name).source.place for name in each] for each in names]


def test_the_watts_on_its_label_tell_how_large_a_motor_can_be():
    # 1.2 A are 144 VA, but a motor that takes 90 W in has no more than 90 W on its shaft: under 1/8 hp
    assert counted(load("weak", "b", kind="fan", apparent_va=144, power_w=90)) == [1.2]
    assert counted(load("strong", "b", kind="fan", apparent_va=144, power_w=100)) == [1.5]


def test_a_quarter_of_one_motor_and_none_of_anything_else():
    fans = load("fans", "b", kind="fan", current_a=1.2, quantity=3)
    case = case_of(circuit(box("b"), fans, driver("d", "b", power_factor=0.9)), book())
    assert motor_quarter(case, load_draw(case, case.loads[0])) == pytest.approx(0.3)
    assert motor_quarter(case, driver_draw(case, case.drivers[0])) == 0.0
