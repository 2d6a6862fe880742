"""The wiring behind a driver, by hand: 16 AWG stranded copper has 4.99 ohm per 1000 ft (Chapter 9, Table 8)."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.low_voltage_flow import (
    counted_run,
    feeding,
    not_in_tables,
    output_v,
    run_sources,
    solved_for,
    solved_run,
)
from circuitcheck.domain.low_voltage_lights import is_fed_at_both_ends, is_strip, keeps_power, law_of, rated_w
from circuitcheck.domain.low_voltage_runs import low_voltage_runs
from tests.rules.build import FOOT, book, box, cable, circuit, driver, low_voltage_load

#: There and back through 50 ft of 16 AWG [ohm].
OHM = 0.499


def lead(name, start, end, feet=50, **given):
    plain = {"size": "16 AWG", "stranding": "stranded", "type": "class 2 cable", "conductor_temperature_c": 75}
    return cable(name, start, end, length_m=feet * FOOT, **(plain | given))


def lamp(name, watts=24, **given):
    return low_voltage_load(name, power_w=watts, **({"kind": "constant current"} | given))


def strip(name, fed="one end", **given):
    plain = {"power_per_length_w_per_m": 8, "length_m": 3, "resistance_per_length_ohm_per_m": 0.05}
    return low_voltage_load(name, fed_from=fed, **({"kind": "constant current"} | plain | given))


def case_with(*parts, **given):
    built = circuit(box("a"), cable("feed", "panel", "a"), driver("d", "a", output_power_w=200, **given), *parts)
    return case_of(built, book())


def test_what_a_light_is_rated_for():
    case = case_with(lamp("l"), strip("s"), lead("1", "d", "l"), lead("2", "d", "s"))
    point, along = case.low_voltage_loads
    assert (rated_w(point), rated_w(along)) == (24, 24)
    assert (is_strip(point), is_strip(along)) == (False, True)
    assert [keeps_power(kind, point, case) for kind in ("constant power", "constant current", "resistor")] == [1, 0, 0]
    assert law_of(point) == "constant current"


def test_each_cable_from_a_driver_is_a_run_of_its_own():
    case = case_with(
        box("s"), lamp("l"), lamp("m"), lamp("n"),
        lead("1", "d", "l"), lead("2", "l", "m"), lead("3", "d", "s"), lead("4", "s", "n"),
    )  # fmt: skip
    runs = low_voltage_runs(case)
    assert [run.key for run in runs.of_driver["d"]] == ["1", "3"]
    assert [[light.id for light in run.lights] for run in runs.of_driver["d"]] == [["l", "m"], ["n"]]
    assert [[each.id for each in run.cables] for run in runs.of_driver["d"]] == [["1", "2"], ["3", "4"]]
    assert (runs.at["m"].key, runs.at["n"].key, runs.with_cable["4"].key) == ("1", "3", "3")
    assert (runs.step_at["l"].carries_on, runs.step_at["m"].carries_on) == (True, False)
    assert runs.paired == {}


def test_two_leads_to_one_light_and_a_third_that_counts_for_nothing():
    case = case_with(strip("s", "both ends"), lead("1", "d", "s"), lead("2", "d", "s"), lead("3", "d", "s"))
    runs = low_voltage_runs(case)
    (run,) = runs.of_driver["d"]
    assert [each.id for each in run.cables] == ["1", "2"]
    assert [each.id for each in run.left_out] == ["3"]
    assert set(runs.paired) == {"1", "2", "s"}
    assert [each.id for each in runs.paired["s"]] == ["1", "2"]


def test_lamps_one_behind_the_other():
    """24 W at 24 V are 1 A: 2 A through the first lead lose 2 x 0.499 V, 1 A through the second 0.499 V."""
    case = case_with(lamp("l"), lamp("m"), lead("1", "d", "l"), lead("2", "l", "m"))
    state = solved_run(case, "1")
    assert state.served
    assert (state.lowest_v["l"], state.lowest_v["m"]) == pytest.approx((24 - 2 * OHM, 24 - 3 * OHM), rel=1e-4)
    assert (state.cable_a["1"], state.cable_a["2"]) == pytest.approx((2, 1))
    assert state.drawn_w == pytest.approx(48)
    counted = counted_run(case, "1")
    assert (counted.cable_a["1"], counted.cable_a["2"], counted.drawn_w) == pytest.approx((2, 1, 48))


def test_a_lamp_that_keeps_its_power_draws_more():
    # v = 12 + sqrt(144 - 24 x 0.499) V at the lamp
    case = case_with(lamp("l", kind="constant power"), lead("1", "d", "l"))
    volts = 12 + (144 - 24 * OHM) ** 0.5
    assert solved_run(case, "1").lowest_v["l"] == pytest.approx(volts, rel=1e-4)
    assert counted_run(case, "1").cable_a["1"] == pytest.approx(24 / volts, rel=1e-4)
    assert counted_run(case, "1").drawn_w == pytest.approx(24 * 24 / volts, rel=1e-4)
    far = case_with(lamp("l", 400, kind="constant power"), lead("1", "d", "l"))
    assert not solved_run(far, "1").served  # 24^2 / (4 x 0.499) = 288 W at the most
    assert counted_run(far, "1") is None


def test_a_strip_fed_at_both_ends_shares_its_current_by_its_leads():
    # 1 A in all: equal leads carry half each; with 25 ft beside 50 ft the shorter one carries more
    case = case_with(strip("s", "both ends"), lead("1", "d", "s"), lead("2", "d", "s"))
    (step,) = low_voltage_runs(case).of_driver["d"][0].steps
    assert [each.id for each in feeding(step)] == ["1", "2"]
    state = solved_run(case, "1")
    assert (state.cable_a["1"], state.cable_a["2"]) == pytest.approx((0.5, 0.5), rel=1e-3)
    uneven = solved_run(case_with(strip("s", "both ends"), lead("1", "d", "s", 25), lead("2", "d", "s")), "1")
    assert uneven.cable_a["1"] > 0.55
    assert sum(uneven.cable_a.values()) == pytest.approx(1, rel=1e-3)
    turned = solved_run(case_with(strip("s", "both ends"), lead("1", "d", "s"), lead("2", "d", "s", 25)), "1")
    assert turned.cable_a["2"] == pytest.approx(uneven.cable_a["1"], rel=1e-6)
    counted = counted_run(case, "1")
    assert (counted.cable_a["1"], counted.cable_a["2"]) == pytest.approx((0.5, 0.5), rel=1e-3)


def test_a_second_lead_to_a_strip_fed_at_one_end_counts_as_if_it_carried_as_much():
    case = case_with(strip("s"), lead("1", "d", "s"), lead("2", "d", "s"))
    (step,) = low_voltage_runs(case).of_driver["d"][0].steps
    assert [each.id for each in feeding(step)] == ["1"]
    counted = counted_run(case, "1").cable_a
    assert (counted["1"], counted["2"]) == pytest.approx((1, 1))
    point = case_with(lamp("l"), lead("1", "d", "l"))
    assert not is_fed_at_both_ends(point.low_voltage_loads[0])
    assert not is_fed_at_both_ends(None)


def test_beside_a_lamp_whose_current_falls_the_others_count_at_their_rating():
    """A plain resistance of 24 W at 24 V, 24 ohm; beside it one of 1 A: 2 A through the shared lead at the most."""
    hot = lamp("h", kind="incandescent")
    case = case_with(hot, lamp("l"), lead("1", "d", "h"), lead("2", "h", "l"))
    run = low_voltage_runs(case).at["l"]
    light = {each.id: each for each in case.low_voltage_loads}
    assert solved_for(case, run, light["l"]).lowest_v["l"] == pytest.approx(24 - 3 * OHM, rel=1e-4)
    # what the lamp itself gets: (24 - 1 x 0.499) x 24 / 24.499
    own = solved_for(case, run, light["h"]).lowest_v["h"]
    assert own == pytest.approx((24 - OHM) * 24 / (24 + OHM), rel=1e-4)
    assert counted_run(case, "1").cable_a["1"] == pytest.approx(2)


def test_sources_of_a_strip_with_diodes_and_of_none():
    plain = case_with(lamp("l"), lamp("m"), lead("1", "d", "l"), lead("2", "l", "m"))
    mixed = case_with(strip("s", kind="resistor"), lamp("m"), lead("1", "d", "s"), lead("2", "s", "m"))
    assert len(run_sources(mixed, "1")) == len(run_sources(plain, "1")) + 1
    diodes = book().value("resistor-strip-diode-share").source
    assert diodes in run_sources(mixed, "1")
    assert diodes not in run_sources(plain, "1")


def test_a_conductor_that_no_table_holds():
    case = case_with(
        lamp("l"), lamp("m"), lead("1", "d", "l"), lead("2", "l", "m", size="2.5 mm^2", material="aluminum")
    )
    assert not_in_tables(case, "1").id == "2"
    assert not_in_tables(case_with(lamp("l"), lead("1", "d", "l")), "1") is None


def test_a_driver_without_a_voltage_holds_next_to_nothing():
    case = case_with(lamp("l"), lead("1", "d", "l"), output_voltage_v=12)
    assert output_v(case.drivers[0]) == 12
