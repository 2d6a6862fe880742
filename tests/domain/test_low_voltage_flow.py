"""The wiring behind a driver, by hand: 16 AWG stranded copper has 4.99 ohm per 1000 ft (Chapter 9, Table 8)."""

from itertools import pairwise

import pytest

from circuitcheck.case import EACH
from circuitcheck.case.making import case_of
from circuitcheck.domain.low_voltage_flow import (
    RUN_WORSE,
    counted_run,
    feeding,
    not_in_tables,
    output_v,
    run_sources,
    solved_for,
    solved_run,
)
from circuitcheck.domain.low_voltage_lights import (
    is_fed_at_both_ends,
    is_strip,
    keeps_power,
    law_of,
    longer_is_worse,
    rated_w,
)
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
    assert solved_run(far, "1").drawn_w == 0
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
    assert book().table("conductors").find("16 AWG").source in run_sources(plain, "1")
    unknown = case_with(lamp("l"), lead("1", "d", "l", size="2.5 mm^2", material="aluminum"))
    assert run_sources(unknown, "1") == ()
    # such a conductor counts as no resistance: whoever asks is told of it first
    assert solved_run(unknown, "1").lowest_v["l"] == pytest.approx(24)


def test_a_conductor_that_no_table_holds():
    case = case_with(
        lamp("l"), lamp("m"), lead("1", "d", "l"), lead("2", "l", "m", size="2.5 mm^2", material="aluminum")
    )
    assert not_in_tables(case, "1").id == "2"
    assert not_in_tables(case_with(lamp("l"), lead("1", "d", "l")), "1") is None


def test_a_driver_without_a_voltage_holds_next_to_nothing():
    case = case_with(lamp("l"), lead("1", "d", "l"), output_voltage_v=12)
    assert output_v(case.drivers[0]) == 12
    for given in (0.5, 0):
        volts = output_v(case_with(lamp("l"), lead("1", "d", "l"), output_voltage_v=given).drivers[0])
        assert 0 < volts <= 0.5


def test_a_splice_box_draws_nothing_itself():
    # 1 A through two leads of 0.499 ohm
    case = case_with(box("s"), lamp("l"), lead("1", "d", "s"), lead("2", "s", "l"))
    assert solved_run(case, "1").lowest_v == {"l": pytest.approx(24 - 2 * OHM, rel=1e-4)}
    assert counted_run(case, "1").cable_a == pytest.approx({"1": 1, "2": 1})


def test_along_a_strip_the_voltage_is_highest_at_its_feed():
    # 24 W at 24 V, 1 A: 0.499 V in the lead; spread evenly over 0.15 ohm, half of that is lost, 0.075 V
    state = solved_run(case_with(strip("s"), lead("1", "d", "s")), "1")
    assert state.highest_v["s"] == pytest.approx(24 - OHM, rel=1e-4)
    assert state.lowest_v["s"] == pytest.approx(24 - OHM - 0.075, rel=1e-4)


def test_leads_without_any_resistance_carry_half_each():
    case = case_with(strip("s", "both ends"), lead("1", "d", "s", 0), lead("2", "d", "s", 0))
    assert solved_run(case, "1").cable_a == pytest.approx({"1": 0.5, "2": 0.5})


def test_one_lamp_that_keeps_its_power_is_enough_to_draw_more():
    """24 W that stay and 1 A at the end of one lead of 0.499 ohm: v^2 - (24 - 0.499) v + 24 x 0.499 = 0."""
    case = case_with(lamp("l", kind="constant power"), lamp("m"), lead("1", "d", "l"), lead("2", "l", "m", 0))
    half = (24 - OHM) / 2
    volts = half + (half**2 - 24 * OHM) ** 0.5
    counted = counted_run(case, "1")
    assert counted.cable_a == pytest.approx({"1": 1 + 24 / volts, "2": 1}, rel=1e-4)
    assert counted.drawn_w == pytest.approx(24 * (1 + 24 / volts), rel=1e-4)


def test_two_leads_share_what_flows_on_behind_a_strip_too():
    # 1 A for the strip and 1 A for a lamp behind it: 2 A in both leads together
    case = case_with(
        strip("s", "both ends"), lamp("l"), lead("1", "d", "s"), lead("2", "d", "s"), lead("3", "s", "l")
    )  # fmt: skip
    counted = counted_run(case, "1").cable_a
    assert counted["1"] + counted["2"] == pytest.approx(2, rel=1e-3)
    assert counted["3"] == pytest.approx(1)


@pytest.mark.parametrize(
    ("count", "volts"),
    # up to 24 places its own current falls with its voltage, 24 ohm behind 0.499; beyond it counts as 1 A
    [(24, 24 * 24 / (24 + OHM)), (25, 24 - OHM)],
)
def test_of_very_many_lamps_each_counts_at_its_rating(count, volts):
    names = ["h", *(f"l{number}" for number in range(count - 1))]
    parts = [lamp(name, 24 if name == "h" else 1e-6, kind="incandescent") for name in names]
    leads = [lead(f"to {end}", start, end, 50 if end == "h" else 0) for start, end in pairwise(["d", *names])]
    case = case_with(*parts, *leads)
    run = low_voltage_runs(case).at["h"]
    assert solved_for(case, run, case.tree.low_voltage_load["h"]).lowest_v["h"] == pytest.approx(volts, rel=1e-4)


def test_a_length_alone_makes_a_strip():
    case = case_with(low_voltage_load("s", power_w=24, length_m=3), lead("1", "d", "s"))
    assert is_strip(case.low_voltage_loads[0])


def test_a_longer_strip_is_worse_and_a_light_at_one_point_least_so():
    case = case_with(strip("s", "both ends"), lead("1", "d", "s"), lead("2", "d", "s"), strip("t"), lead("3", "d", "t"))
    paired, single = case.low_voltage_loads
    ranks = [longer_is_worse(length, single, case) for length in (None, 0.0, 1.0, 2.0)]
    assert ranks == sorted(set(ranks))
    assert longer_is_worse(2.0, paired, case) == 2.0
    assert longer_is_worse(None, paired, case) is EACH


@pytest.mark.parametrize(
    ("entry", "better", "worse"),
    # more current, more resistance or a lower voltage to begin with: each leaves less at the light
    [
        ("driver.output_voltage", 24.0, 12.0),
        ("cable.length", 1.0, 2.0),
        ("cable.size", "14 AWG", "16 AWG"),
        ("cable.material", "copper", "aluminum"),
        ("cable.stranding", "solid", "stranded"),
        ("cable.conductor_temperature", 30.0, 60.0),
        ("low_voltage_load.power", 5.0, 9.0),
        ("low_voltage_load.power_per_length", 5.0, 9.0),
        ("low_voltage_load.length", 1.0, 2.0),
        ("low_voltage_load.resistance_per_length", 0.1, 0.2),
        ("low_voltage_load.fed_from", "both ends", "middle"),
        ("low_voltage_load.fed_from", "middle", "one end"),
    ],
)
def test_what_loses_more_is_worse(entry, better, worse):
    case = case_with(strip("s"), lead("1", "d", "s"))
    direction, (part,) = RUN_WORSE[entry], case.low_voltage_loads
    assert direction(better, part, case) < direction(worse, part, case)
