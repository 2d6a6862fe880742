"""Voltage drop at each load: worked examples from outside, a general solver, and what is said of what is not known."""

import re
import sys
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.domain import branch
from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.rules.capacity.voltage_drop import RULE
from tests.rules.build import FOOT, box, cable, circuit, control, driver, findings, guess, load, only, supply

EDITIONS = ("nec-2017", "nec-2020", "nec-2023")


def one_run(feet, size, amperes, volts=120.0, *, stranding="solid", lost=0.0, **more):
    """One load at the end of one cable. A worked example with a fixed current is a constant power at what arrives."""
    return circuit(
        supply(voltage_v=volts, breaker_a=20),
        box("end"),
        cable("run", "panel", "end", size=size, stranding=stranding, length_m=feet * FOOT, **more),
        load("heater", "end", kind="heater", power_w=amperes * (volts - lost)),
    )


@pytest.mark.parametrize(
    ("feet", "size", "amperes", "volts", "lost", "percent"),
    [
        # arithmetic on Chapter 9 Table 8: two-wire circuit, 100 ft, No. 16 stranded copper at 4.99 ohm per 1,000 ft,
        # 4 A: 2 x 100 x 4.99/1000 x 4 = 4.0 V, of 24 V 16.7 percent (of the rounded 4.0; 3.99 V are 16.6 percent).
        (100, "16 AWG", 4, 24, 4.0, 16.7),
        # tradelicenseprep.com, lesson on voltage drop: 20 A, 100 ft, 12 AWG copper, K = 12.9, 120 V: 7.9 V, 6.6 %.
        (100, "12 AWG", 20, 120, 7.9, 6.6),
        # The same lesson with 8 AWG: 3.1 V, 2.6 %.
        (100, "8 AWG", 20, 120, 3.1, 2.6),
    ],
)
def test_worked_examples_with_stranded_copper_at_75_degrees(feet, size, amperes, volts, lost, percent):
    found = only(RULE, one_run(feet, size, amperes, volts, stranding="stranded", lost=lost), "heater")
    assert found.value == pytest.approx(percent, abs=0.08)
    assert found.parts[0].value == pytest.approx(lost, abs=0.05)
    # The working divides what it tells, and recommends 5 % in all (210.19(A), 215.2(A), informational notes).
    (told,) = (line for line in found.working if line.startswith("together "))
    of_volts, in_percent = (float(number) for number in re.findall(r"[\d.]+(?= V of| %)", told))
    assert in_percent == pytest.approx(100 * of_volts / volts, abs=0.08)
    assert any(line.startswith("5 % is recommended for feeder and branch circuit") for line in found.working)


@pytest.mark.parametrize(("size", "lost"), [("14 AWG", 7.07), ("12 AWG", 4.45), ("10 AWG", 2.80), ("8 AWG", 1.76)])
def test_a_textbook_question_at_20_degrees(size, lost):
    """A 10 A heater at 140 ft on 120 V, with wire-table resistances at 20 degC: 7.07, 4.45, 2.80 and 1.76 V.

    Source: smartsolve.ai, question 35 (a trade textbook's question on 210.19). Chapter 9 Table 8 prints 10 AWG 0.4
    percent low, and so the test allows 0.6 percent.
    """
    found = only(RULE, one_run(140, size, 10, lost=lost, conductor_temperature_c=20), "heater")
    assert found.parts[0].value == pytest.approx(lost, rel=0.006)


@pytest.mark.parametrize(("size", "ohms"), [("12 AWG", 1.7), ("10 AWG", 1.1)])
def test_effective_impedance_in_steel_at_a_power_factor_of_85_percent(size, ohms):
    """Table 9 as quoted by EC&M, The basics of calculating voltage drop: 1.7 and 1.1 ohm to neutral per 1,000 ft."""
    built = circuit(
        supply(breaker_a=20),
        box("end"),
        cable("run", "panel", "end", size=size, stranding="stranded", type="MC", length_m=1000 * FOOT),
        load("motor", "end", kind="fan", apparent_va=12, power_factor=0.85),
    )
    found = only(RULE, built, "motor")
    assert found.parts[0].value / (2 * 12 / 120) == pytest.approx(ohms, abs=0.05)


def tree(lengths, watts, sizes=("14 AWG",) * 5):
    """Panel - a - b - c with d on a and e on b; one light in each box."""
    ends = (("panel", "a"), ("a", "b"), ("b", "c"), ("a", "d"), ("b", "e"))
    return circuit(
        *(box(to) for _, to in ends),
        *(
            cable(f"to {to}", above, to, length_m=length, size=size)
            for (above, to), length, size in zip(ends, lengths, sizes, strict=True)
        ),
        *(load(f"light {to}", to, power_w=power) for (_, to), power in zip(ends, watts, strict=True)),
    )


def test_a_tree_against_a_nodal_solve():
    """Numpy solves the nodal equations with Table 8 and Table 9 figures for 14 and 12 AWG typed here."""
    lengths, watts = (20.0, 8.0, 12.0, 5.0, 9.0), (60, 75, 100, 40, 25)
    sizes = ("12 AWG", "14 AWG", "14 AWG", "14 AWG", "12 AWG")
    per_kft = {"14 AWG": 3.07 + 0.058j, "12 AWG": 1.93 + 0.054j}
    above = (-1, 0, 1, 0, 1)
    z = [2 * meters / 304.8 * per_kft[size] for meters, size in zip(lengths, sizes, strict=True)]
    y = np.zeros((5, 5), complex)
    source = np.zeros(5, complex)
    for node, parent in enumerate(above):
        y[node, node] += 1 / z[node]
        if parent < 0:
            source[node] += 120 / z[node]
        else:
            y[parent, parent] += 1 / z[node]
            y[node, parent] -= 1 / z[node]
            y[parent, node] -= 1 / z[node]
    v = np.full(5, 120.0 + 0j)
    for _ in range(100):
        v = np.linalg.solve(y, source - np.conj(np.array(watts) / v))
    for found, volts in zip(findings(RULE, tree(lengths, watts, sizes)), np.abs(v), strict=True):
        assert found.value == pytest.approx(100 * (120 - volts) / 120, abs=1e-9)
        assert sum(part.value for part in found.parts) == pytest.approx(120 - volts, abs=1e-9)


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_short_run_passes_and_a_long_one_is_a_caution_in_every_edition(edition):
    short = only(RULE, one_run(30, "14 AWG", 5), "heater", edition)
    assert (short.outcome, short.limit, short.unit) == (Outcome.PASS, 3.0, "percent")
    long = only(RULE, one_run(150, "14 AWG", 5), "heater", edition)
    assert long.outcome is Outcome.CAUTION
    assert "3 %" in long.says
    assert long.to_do
    assert any(source.edition == edition.removeprefix("nec-") for source in long.sources)


def test_the_dearest_cable_is_named_and_the_parts_add_up():
    found = only(RULE, tree((30, 5, 5, 5, 5), (60, 60, 60, 60, 60)), "light c")
    assert 'most of it in cable "to a"' in found.says
    assert [part.subject for part in found.parts] == ["to a", "to b", "to c"]
    assert found.keys[0] == "cable.to a.size"
    assert sum(part.value for part in found.parts) == pytest.approx(found.value * 1.2)


def test_a_guessed_length_gives_both_ends():
    built = circuit(
        box("end"), cable("run", "panel", "end", length_m=guess(60 * FOOT)), load("lamp", "end", power_w=1000)
    )
    found = only(RULE, built, "lamp")
    least, most = (only(RULE, one_run(feet, "14 AWG", 0), "heater") for feet in (45, 75))
    assert (least.value, most.value) == (0, 0)
    assert found.low < found.value == found.high
    assert found.value / found.low == pytest.approx(75 / 45, rel=0.05)
    assert found.outcome is Outcome.CAUTION  # part of the range is over a recommendation
    assert "75 ft" in " ".join(found.working)


def test_an_unknown_length_leaves_everything_else_answered():
    built = tree((20, 8, 12, 5, 9), (60, 75, 100, 40, 25))
    cables = [cable(one.id, one.from_id, one.to_id, length_m=None) if one.to_id == "b" else one for one in built.cables]
    hidden = circuit(*built.boxes, *cables, *built.loads)
    answers = {found.subject: found for found in findings(RULE, hidden)}
    for subject in ("light b", "light c", "light e"):
        assert answers[subject].outcome is Outcome.UNDETERMINED
        assert answers[subject].needs == ("cable.to b.length",)
        assert answers[subject].value is None
        assert answers[subject].low > 0
    for subject in ("light a", "light d"):
        assert answers[subject].outcome is Outcome.PASS
        assert answers[subject].value is not None
        assert any('"to b": length unknown; its own' in sentence for sentence in answers[subject].assumed)
        assert "cable.to b.length" in answers[subject].assumed_keys


def test_an_unknown_size_counts_from_the_thinnest_to_the_thickest_and_is_listed():
    def dropped(size, material="copper"):
        built = circuit(
            box("end"), cable("run", "panel", "end", size=size, material=material), load("lamp", "end", power_w=600)
        )
        return only(RULE, built, "lamp")

    found = dropped(None)
    assert (found.low, found.high) == (dropped("10 AWG").value, dropped("14 AWG").value)
    assert (found.outcome, found.assumed_keys) == (Outcome.PASS, ("cable.run.size",))


def test_a_size_that_decides_whether_enough_arrives_is_asked_for():
    # 600 W take about 5.1 A: 50 ft of 14 AWG lose 0.307 ohm x 5.1 A = 1.57 V, of 10 AWG 0.121 x 5.1 = 0.62 V.
    built = circuit(
        box("end"),
        cable("run", "panel", "end", size=None, length_m=50 * FOOT),
        load("lamp", "end", power_w=600, min_voltage_v=119),
    )
    found = only(RULE, built, "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.size",))


def test_an_unknown_load_stops_only_those_that_share_a_cable_with_it():
    built = circuit(
        box("a"), box("b"), box("c"),
        cable("west", "panel", "a"), cable("west on", "a", "b"), cable("east", "panel", "c"),
        load("lamp a", "a", power_w=60), load("lamp b", "b"), load("lamp c", "c", power_w=60),
    )  # fmt: skip
    answers = {found.subject: found for found in findings(RULE, built)}
    assert answers["lamp a"].needs == answers["lamp b"].needs == ("load.lamp b.power",)
    assert answers["lamp a"].outcome is Outcome.UNDETERMINED
    assert answers["lamp c"].outcome is Outcome.PASS


def test_what_is_over_already_stays_open_while_more_is_unknown():
    # What is missing can only add, up to where no voltage serves it (V^2/4R), so no better answer than just under it.
    built = circuit(
        box("a"), cable("run", "panel", "a", length_m=60), load("lamp", "a", power_w=600), load("other", "a")
    )
    found = only(RULE, built, "lamp")
    assert found.outcome is Outcome.UNDETERMINED
    assert "Cannot tell yet" in found.says
    assert found.low > 3.0


def test_a_receptacle_of_unknown_use_counts_by_the_planning_figure():
    """180 VA each: NFPA 70, 220.14(I)."""

    def with_receptacle(**more):
        return circuit(
            box("a"), cable("run", "panel", "a"),
            load("lamp", "a", power_w=60), load("outlet", "a", kind="receptacle", **more),
        )  # fmt: skip

    planned = only(RULE, with_receptacle(power_factor=None), "lamp")
    same = only(RULE, with_receptacle(power_w=180), "lamp")
    assert planned.value == pytest.approx(same.value, rel=1e-12)
    outlet = only(RULE, with_receptacle(power_factor=None), "outlet")
    assert "load.outlet.power" in outlet.assumed_keys
    assert "planning figure" in " ".join(outlet.assumed)


@pytest.mark.parametrize(
    ("minimum", "outcome"), [(110, Outcome.PASS), ((117.0, 118.0), Outcome.UNDETERMINED), (119.9, Outcome.FAIL)]
)
def test_the_least_voltage_on_the_label_decides(minimum, outcome):
    built = circuit(
        box("a"), cable("run", "panel", "a", length_m=20),
        load("lamp", "a", power_w=700, min_voltage_v=minimum),
    )  # fmt: skip
    found = only(RULE, built, "lamp")
    assert found.outcome is outcome
    if outcome is Outcome.UNDETERMINED:
        assert found.needs == ("load.lamp.min_voltage",)


def test_a_low_end_below_the_least_voltage_needs_the_guess():
    built = circuit(
        box("a"), cable("run", "panel", "a", length_m=guess(20)), load("lamp", "a", power_w=700, min_voltage_v=117.5)
    )
    found = only(RULE, built, "lamp")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.length",))


@pytest.mark.parametrize(
    ("measured", "label", "outcome", "solved"),
    [
        (121, 113, Outcome.CAUTION, 1),  # nominal volts meet it: from more no fewer arrive
        (121, 114, Outcome.CAUTION, 2),
        (121, 115, Outcome.FAIL, 2),
        (120, 114, Outcome.FAIL, 1),  # both are one
        (119, 113, Outcome.FAIL, 2),
        (119, 112, Outcome.CAUTION, 2),
    ],
)
def test_the_branch_is_solved_from_the_measured_voltage_only_where_a_label_hangs_on_it(
    monkeypatch, measured, label, outcome, solved
):
    """1,200 W over 100 ft of 14 AWG (3.07 ohm/kft, NFPA 70, Table 8; 0.614 ohm there and back), V = source - 737 / V:
    from 120 V 113.5 V arrive, from 121 V 114.6 V and from 119 V 112.5 V.
    """
    asked = []

    def noted(*given):
        asked.append(given[-1])
        return solve_branch(*given)

    solve_branch = branch.solve_branch
    monkeypatch.setattr(branch, "solve_branch", noted)
    lamp = load("lamp", "a", power_w=1200, min_voltage_v=label)
    run = cable("run", "panel", "a", length_m=100 * FOOT)
    assert only(RULE, circuit(supply(measured_voltage_v=measured), box("a"), run, lamp), "lamp").outcome is outcome
    assert len(set(asked)) == len(asked) == solved


def test_a_measured_voltage_and_the_supply_count_for_the_volts_that_arrive_only():
    def built(minimum=None, **more):
        return circuit(
            supply(**more), box("a"), cable("run", "panel", "a", length_m=20),
            load("lamp", "a", power_w=500, min_voltage_v=minimum),
        )  # fmt: skip

    plain = only(RULE, built(), "lamp")
    assert only(RULE, built(measured_voltage_v=113.0), "lamp").value == plain.value
    measured = only(RULE, built(measured_voltage_v=113.0, impedance_ohm=0.3), "lamp")
    assert measured.value == only(RULE, built(impedance_ohm=0.3), "lamp").value
    # 500 W at about 109.6 V: 4.56 A through 0.3 ohm and 0.403 ohm there and back (3.07 ohm/kft x 131.2 ft) lose 3.21 V.
    assert any("109.7 V arrives" in line for line in measured.working)
    assert only(RULE, built(minimum=112.0, measured_voltage_v=113.0), "lamp").outcome is Outcome.FAIL
    assert only(RULE, built(minimum=112.0), "lamp").outcome is Outcome.PASS


def test_the_drop_the_part_before_the_panel_and_what_arrives_add_up():
    """One solved state: 1,200 W of constant power behind 0.20 ohm and 50 ft of 14 AWG (0.307 ohm there and back).

    V = 120 - (0.20 + 0.307) x 1200 / V gives V = 114.695 V by repeated substitution: 10.4625 A, 2.093 V before the
    panel and 3.212 V = 2.677 % in the branch (from 120 V at the panel it would be 2.627 %).
    """
    built = circuit(
        supply(impedance_ohm=0.2),
        box("a"),
        cable("run", "panel", "a", length_m=50 * FOOT),
        load("lamp", "a", power_w=1200),
    )
    found = only(RULE, built, "lamp")
    assert found.value == pytest.approx(2.677, abs=0.002)
    assert found.parts[0].value == pytest.approx(3.212, abs=0.002)
    working = " ".join(found.working)
    assert "2.09 V is lost before the panel" in working
    assert "114.6 V arrives" in working


def test_where_no_voltage_may_serve_the_loads_no_most_is_told():
    """At 120 V the line of 20.1 ohm gives no more than 179 W, at 240 V four times as much: 200 W can be had there only.

    The meter showed 120 V, so that in either case less than 230 V arrives.
    """
    built = circuit(
        supply(voltage_v=(120, 240), measured_voltage_v=120), box("far"),
        cable("run", "panel", "far", length_m=1000), load("lamp", "far", power_w=200, min_voltage_v=230),
    )  # fmt: skip
    found = only(RULE, built, "lamp")
    assert (found.outcome, found.high) == (Outcome.FAIL, None)


def test_loads_that_no_voltage_can_serve_fail_without_a_number():
    """120^2 / (4 R) with R = 2 x 1,000 m x 10.07 mohm/m = 20.1 ohm is 179 W; 200 W cannot be had there."""
    built = circuit(
        box("far"), box("near"), cable("run", "panel", "far", length_m=1000), cable("short", "panel", "near"),
        load("lamp", "far", power_w=200), load("other", "near", power_w=60),
    )  # fmt: skip
    found = only(RULE, built, "lamp")
    assert (found.outcome, found.value, found.low, found.high) == (Outcome.FAIL, None, None, None)
    assert "No voltage can serve" in found.says
    assert (found.limit, found.unit) == (pytest.approx(3), "percent")  # 210.19(A), informational note: 3 percent
    assert found.parts == ()
    assert only(RULE, built, "other").outcome is Outcome.PASS


def test_a_guess_that_decides_whether_it_can_be_served_is_asked_for():
    built = circuit(
        box("far"), cable("run", "panel", "far", length_m=(700.0, 1000.0)), load("lamp", "far", power_w=200)
    )
    found = only(RULE, built, "lamp")
    assert (found.outcome, found.value, found.needs) == (Outcome.UNDETERMINED, None, ("cable.run.length",))


def test_a_driver_counts_its_input_watts():
    """60 W out at 80 percent efficiency are 75 W in: the same drop as a 75 W lamp of power factor one."""

    def built(*parts):
        return circuit(box("a"), cable("run", "panel", "a", length_m=30), *parts)

    fed = only(
        RULE, built(driver("d", "a", input_current_a=None, efficiency=0.8, power_factor=1.0, output_power_w=60)), "d"
    )
    lamp = only(RULE, built(load("lamp", "a", power_w=75)), "lamp")
    assert fed.value == pytest.approx(lamp.value, rel=1e-12)


def test_a_driver_without_any_rating_is_asked_about():
    built = circuit(
        box("a"), cable("run", "panel", "a"), load("lamp", "a", power_w=60),
        driver("d", "a", input_current_a=None, output_power_w=None),
    )  # fmt: skip
    assert only(RULE, built, "lamp").needs == ("driver.d.input_current",)


def test_an_unknown_power_factor_lies_between_its_two_ends():
    def value(**more):
        built = circuit(box("a"), cable("run", "panel", "a", length_m=30), load("lamp", "a", **more))
        return only(RULE, built, "lamp")

    unknown = value(power_w=600, power_factor=None)
    assert unknown.low == pytest.approx(value(power_w=600, power_factor=1.0).value)
    assert unknown.high == pytest.approx(value(power_w=600, power_factor=0.5).value)
    assert "load.lamp.power_factor" in unknown.assumed_keys
    apparent = value(apparent_va=600, power_factor=None)
    for factor in (0.5, 0.7, 0.9, 1.0):
        assert apparent.low <= value(apparent_va=600, power_factor=factor).value <= apparent.high


@pytest.mark.parametrize(
    ("part", "entry", "open_as", "values"),
    [
        ({"apparent_va": 600}, "power_w", (300, 600), (300, 480, 570, 585, 595, 600)),
        ({"input_current_a": 5}, "input_power_w", (300, 700), (300, 480, 570, 585, 595, 600, 700)),
        ({"input_current_a": 5, "efficiency": 0.8}, "output_power_w", None, (1, 240, 456, 468, 476, 480, 600)),
        ({"input_current_a": 5, "efficiency": 0.8}, "output_power_w", (240, 600), (240, 456, 468, 476, 480, 600)),
        ({"input_current_a": 5, "efficiency": (0.7, 0.9)}, "output_power_w", None, (1, 240, 456, 476, 490, 600)),
        ({"input_current_a": 5, "output_power_w": 480}, "efficiency", (0.7, 0.99), (0.7, 0.8, 0.81, 0.82, 0.85, 0.99)),
    ],
)
def test_open_watts_beside_known_volt_amperes_lose_most_between_their_ends(part, entry, open_as, values):
    """6 AWG in steel has X to R as about 0.13: R P + X Q of 600 VA is largest at cos(atan(0.13)) x 600 VA = 595 W.

    Table 9 of NFPA 70: 0.49 and 0.064 ohm a thousand feet, in steel.
    """

    def found(value, **known):
        what = {"power_factor": 1.0, **part, **known, entry: value}
        lamp = load("x", "a", **what) if "apparent_va" in part else driver("x", "a", **what)
        run = cable("run", "panel", "a", size="6 AWG", stranding="stranded", type="MC", length_m=30)
        return only(RULE, circuit(supply(breaker_a=20), box("a"), run, lamp), "x")

    settled = {"efficiency": 0.8} if "efficiency" in part else {}
    before, known = found(open_as), [found(value, **settled).value for value in values]
    assert max(known) > 1.003 * max(known[0], known[-1])
    assert all(before.low <= value <= before.high * (1 + 1e-6) for value in known)


def test_an_open_power_factor_in_a_switch_loop_that_others_share():
    def found(factor):
        built = circuit(
            box("a"),
            box("s"),
            box("b"),
            cable("run", "panel", "a", length_m=2),
            cable("loop", "a", "s", length_m=4, carries="switch loop"),
            cable("on", "a", "b", length_m=5),
            control("switch", "s"),
            load("many", "a", power_w=9000, switched_by="switch"),
            load("one", "b", apparent_va=60, power_factor=factor, switched_by="switch"),
        )
        return only(RULE, built, "one")

    told = found(None)
    for factor in (0.5, 0.7, 0.9, 1.0):
        assert told.low - 1e-6 <= found(factor).value <= told.high + 1e-6


def test_more_nominal_volts_are_more_watts_of_known_amperes():
    """Behind 4 ohm, of 122 V at the panel, x (122 V - x) / 4 ohm is what flows.

    2 A x 150 V are 300 W, and 111.2 V arrive; of 200 W 115.0 V; 5 A x 100 V are 500 W, and 102 V arrive.
    """

    def found(volts, other):
        built = circuit(
            supply(voltage_v=volts, measured_voltage_v=122, impedance_ohm=4.0),
            box("a"),
            cable("run", "panel", "a", length_m=0.3),
            load("x", "a", current_a=2, min_voltage_v=113),
            load("y", "a", current_a=other),
        )
        return only(RULE, built, "x").outcome

    assert (found(100, 0), found(100, 3), found(150, 0)) == (Outcome.PASS, Outcome.FAIL, Outcome.FAIL)
    assert found((100, 150), (0, 3)) is Outcome.UNDETERMINED


def test_what_is_unknown_about_a_cable_is_taken_at_its_worst():
    def value(**more):
        built = circuit(box("a"), cable("run", "panel", "a", length_m=30, **more), load("lamp", "a", power_w=600))
        return only(RULE, built, "lamp")

    unknown = value(size="12 AWG", material=None, stranding=None, type=None)
    worst = value(size="12 AWG", material="aluminum", stranding="stranded", type="MC")
    best = value(size="12 AWG")
    assert (unknown.low, unknown.high) == (best.value, worst.value)
    assert set(unknown.assumed_keys) == {"cable.run.material", "cable.run.stranding", "cable.run.type"}
    clad = value(size="12 AWG", material="copper-clad aluminum")
    assert best.value < clad.value < worst.value
    # No 14 AWG aluminum in the ampacity table: an unknown material of that size is not taken for it.
    assert value(size="14 AWG", material=None).value == value(size="14 AWG").value


def test_a_hotter_conductor_loses_more_and_a_metric_one_goes_by_its_limit():
    """2.5 mm^2: at most 7.41 ohm/km at 20 degC (IEC 60228 class 1); 20 m there and back, 5 A: 0.01482 x 20 x 5 V."""
    cold = only(RULE, one_run(20 / FOOT, "2.5 mm^2", 5, lost=1.48, conductor_temperature_c=20), "heater")
    assert cold.parts[0].value == pytest.approx(1.482, abs=0.002)
    hot = only(RULE, one_run(20 / FOOT, "2.5 mm^2", 5, lost=1.48, conductor_temperature_c=90), "heater")
    assert hot.value > cold.value


def test_a_switch_loop_adds_the_drop_of_its_two_conductors():
    """A 300 W lamp switched over 15 m of 14 AWG: the loop loses about what 15 m more of feed would."""

    def built(*more, **lamp):
        return circuit(
            box("a"),
            box("switch"),
            cable("feed", "panel", "a", length_m=10),
            load("lamp", "a", power_w=300, **lamp),
            *more,
        )

    loop = cable("loop", "a", "switch", length_m=15, carries="switch loop")
    looped = only(RULE, built(loop, control("wall switch", "switch"), switched_by="wall switch"), "lamp")
    longer = only(
        RULE,
        circuit(box("a"), cable("feed", "panel", "a", length_m=25), load("lamp", "a", power_w=300)),
        "lamp",
    )
    assert looped.value == pytest.approx(longer.value, rel=1e-9)
    assert [part.name for part in looped.parts] == ["feed", "loop (switch loop)"]
    straight = only(RULE, built(loop, control("wall switch", "switch")), "lamp")
    assert straight.value < looped.value


def test_lamps_in_two_boxes_share_the_loop_that_switches_them():
    """All of the current goes through the loop: its drop is that of one lamp with the power of both."""
    loop = cable("loop", "a", "switch", length_m=15, carries="switch loop")
    parts = (
        box("a"),
        box("switch"),
        box("b"),
        cable("feed", "panel", "a", length_m=0.001),
        loop,
        control("s", "switch"),
    )
    one = circuit(*parts, load("both", "a", power_w=300, switched_by="s"))
    two = circuit(
        *parts, cable("on", "a", "b", length_m=0.001),
        load("first", "a", power_w=100, switched_by="s"), load("second", "b", power_w=200, switched_by="s"),
    )  # fmt: skip
    whole = only(RULE, one, "both").value
    assert only(RULE, two, "first").value == pytest.approx(whole, rel=1e-3)
    assert only(RULE, two, "second").value == pytest.approx(whole, rel=1e-3)


def test_lamps_of_unlike_power_factor_lose_the_same_volts_in_their_loop():
    """One loop carries the currents of both, so both lose R x (P1 + P2) / V in it, whatever their own angle.

    14 AWG solid: 3.07 ohm per 1000 ft (NFPA 70, Chapter 9, Table 8) over 2 x 15 m is 0.302 ohm; 300 W at 120 V: 0.63 %
    (the current rises a little as the voltage falls, and 0.006 ohm of reactance adds for the 346 var).
    """
    built = circuit(
        box("a"),
        box("switch"),
        box("b"),
        cable("feed", "panel", "a", length_m=0.001),
        cable("loop", "a", "switch", length_m=15, carries="switch loop"),
        cable("on", "a", "b", length_m=0.001),
        control("s", "switch"),
        load("filament", "a", power_w=100, power_factor=1.0, switched_by="s"),
        load("electronic", "b", power_w=200, power_factor=0.5, switched_by="s"),
    )
    first, second = only(RULE, built, "filament").value, only(RULE, built, "electronic").value
    assert first == pytest.approx(0.63, abs=0.02)
    assert second == pytest.approx(first, rel=0.06)


def test_quantity_counts():
    def value(**more):
        return only(RULE, circuit(box("a"), cable("run", "panel", "a"), load("lamp", "a", **more)), "lamp").value

    assert value(power_w=20, quantity=3) == pytest.approx(value(power_w=60), rel=1e-12)
    assert value(current_a=0.5) == pytest.approx(value(power_w=60), rel=1e-12)


@pytest.mark.parametrize("count", [1200, pytest.param(3000, marks=pytest.mark.long)])  # Python nests 1,000 calls
def test_a_long_chain_is_answered_without_recursion(count):
    ids = ["panel", *(f"b{number}" for number in range(count))]
    built = circuit(
        *(box(one) for one in ids[1:]),
        *(cable(f"c{number}", ids[number], ids[number + 1], length_m=30 / count) for number in range(count)),
        *(load(f"l{number}", f"b{number}", power_w=900 / count) for number in range(count)),
    )
    answers = findings(RULE, built)
    assert len(answers) == count
    values = [found.value for found in answers]
    assert values == sorted(values)
    assert sum(part.value for part in answers[-1].parts) == pytest.approx(values[-1] * 1.2)
    assert all(len(found.working) < 40 for found in answers)


def test_twice_the_loads_is_twice_the_work():
    """Counted in calls, which no other work on the machine changes; keys were gathered anew for each load once."""

    def calls(count):
        ids = ["panel", *(f"b{number}" for number in range(count))]
        built = circuit(
            *(box(one) for one in ids[1:]),
            *(cable(f"c{number}", ids[min(number, 1)], ids[number + 1], length_m=3) for number in range(count)),
            *(load(f"l{number}", f"b{number}", power_w=900 / count) for number in range(count)),
        )
        seen = 0

        def seeing(_frame, event, _arg):
            nonlocal seen
            seen += event == "call"

        before = sys.getprofile()
        sys.setprofile(seeing)
        try:
            assert len(findings(RULE, built)) == count
        finally:
            sys.setprofile(before)
        return seen

    calls(10)  # what is worked out once for the book
    assert calls(120) < 2.2 * calls(60)


def test_no_load_no_finding():
    assert findings(RULE, circuit(box("a"), cable("run", "panel", "a"))) == []


LENGTHS = st.tuples(*[st.floats(0.1, 60)] * 5)
WATTS = st.tuples(*[st.floats(1, 300)] * 5)


def values(built):
    """The drops; a way so long that no volts arrive has none to name, and is worse than any."""
    return [float("inf") if found.value is None else found.value for found in findings(RULE, built)]


@settings(max_examples=25, deadline=None)
@given(lengths=LENGTHS, watts=WATTS, which=st.integers(0, 4), times=st.floats(1, 3))
def test_a_longer_cable_never_lowers_the_drop_at_any_load(lengths, watts, which, times):
    before = values(tree(lengths, watts))
    after = values(tree([m * times if n == which else m for n, m in enumerate(lengths)], watts))
    assert all(b >= a - 1e-9 for a, b in zip(before, after, strict=True))


@settings(max_examples=25, deadline=None)
@given(lengths=LENGTHS, watts=WATTS, which=st.integers(0, 4), more=st.floats(0, 300))
def test_more_load_never_lowers_the_drop_at_any_load(lengths, watts, which, more):
    before = values(tree(lengths, watts))
    after = values(tree(lengths, [w + more if n == which else w for n, w in enumerate(watts)]))
    assert all(b >= a - 1e-9 for a, b in zip(before, after, strict=True))


@settings(max_examples=25, deadline=None)
@given(lengths=LENGTHS, watts=WATTS, which=st.integers(0, 4))
def test_a_thinner_conductor_never_lowers_the_drop_at_any_load(lengths, watts, which):
    thick = values(tree(lengths, watts, ["12 AWG"] * 5))
    thin = values(tree(lengths, watts, ["14 AWG" if n == which else "12 AWG" for n in range(5)]))
    assert all(b >= a - 1e-9 for a, b in zip(thick, thin, strict=True))


@settings(max_examples=25, deadline=None)
@given(
    length=st.tuples(st.floats(0.1, 60), st.floats(0, 60)),
    power=st.tuples(st.floats(1, 600), st.floats(0, 600)),
    where=st.tuples(st.floats(0, 1), st.floats(0, 1)),
)
def test_every_value_within_the_ranges_lies_between_the_two_ends(length, power, where):
    def built(meters, watts):
        return circuit(box("a"), cable("run", "panel", "a", length_m=meters), load("lamp", "a", power_w=watts))

    found = only(RULE, built((length[0], length[0] + length[1]), (power[0], power[0] + power[1])), "lamp")
    inside = only(RULE, built(length[0] + where[0] * length[1], power[0] + where[1] * power[1]), "lamp")
    assert found.low - 1e-9 <= inside.value <= found.high + 1e-9


MAYBE_CABLE = st.fixed_dictionaries(
    {
        "size": st.sampled_from(["14 AWG", "12 AWG", "10 AWG", "2.5 mm^2", "4 mm^2"]),
        "material": st.sampled_from(["copper", "copper-clad aluminum", None]),
        "stranding": st.sampled_from(["solid", "stranded", None]),
        "type": st.sampled_from(["NM-B", "MC", None]),
        "length_m": st.sampled_from([3.0, 20.0, (5.0, 25.0), None]),
    }
)
MAYBE_LOAD = st.one_of(
    st.fixed_dictionaries(
        {"power_w": st.sampled_from([60, (20, 200)]), "power_factor": st.sampled_from([1, 0.7, None])}
    ),
    st.fixed_dictionaries(
        {"apparent_va": st.sampled_from([90, (20, 200)]), "power_factor": st.sampled_from([0.9, None])}
    ),
    st.fixed_dictionaries({"kind": st.sampled_from(["receptacle", "heater", "light"]), "power_factor": st.none()}),
)


def settled(given, draw):
    """The same entry with every range and every unknown settled one way or the other."""
    certain = dict(given)
    for name, choices in {
        "material": ["copper", "copper-clad aluminum"] + ["aluminum"] * (given.get("size") in ("12 AWG", "10 AWG")),
        "stranding": ["solid", "stranded"],
        "type": ["NM-B", "MC"],
        "power_factor": [0.5, 0.8, 1.0],
    }.items():
        if name in certain and certain[name] is None:
            certain[name] = draw(st.sampled_from(choices))
    if given.get("type") == "NM-B" and given["size"].endswith("AWG") and given["material"] in (None, "copper"):
        # NM-B in 14, 12 and 10 AWG is copper and solid, by its print (issue 9, B8)
        certain["material"] = "copper"
        certain["stranding"] = given["stranding"] or "solid"
    if certain.get("size") in ("14 AWG", "2.5 mm^2") and given["material"] is None:
        certain["material"] = "copper"  # the tables give 14 AWG, which stands in for 2.5 mm^2, to copper alone
    if certain.get("kind") == "heater":
        certain["power_factor"] = 1.0
    for name, value in certain.items():
        if isinstance(value, tuple):
            certain[name] = draw(st.floats(*value))
    return certain


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_whatever_the_unknowns_turn_out_to_be_lies_between_the_two_ends(data):
    """Any way to settle what is open about three cables and three loads gives a value within what was said before."""
    ends = (("panel", "a"), ("a", "b"), ("a", "c"))
    cables = [data.draw(MAYBE_CABLE) for _ in ends]
    loads = [data.draw(MAYBE_LOAD) for _ in ends]

    def built(cables, loads):
        return circuit(
            *(box(to) for _, to in ends),
            *(cable(f"to {to}", above, to, **one) for (above, to), one in zip(ends, cables, strict=True)),
            *(load(f"lamp {to}", to, **one) for (_, to), one in zip(ends, loads, strict=True)),
        )

    before = {found.subject: found for found in findings(RULE, built(cables, loads))}
    after = findings(
        RULE, built([settled(one, data.draw) for one in cables], [settled(one, data.draw) for one in loads])
    )
    for found in before.values():
        assert (found.outcome is Outcome.UNDETERMINED) <= bool(found.needs)
    for found in after:
        said = before[found.subject]
        if found.value is not None and said.value is not None:
            # An unknown length elsewhere leaves its losses out of the shared current, as the finding says.
            slack = 0.02 if any("left out" in sentence for sentence in said.assumed) else 1e-9
            assert said.low - 1e-9 <= found.value <= said.high * (1 + slack) + 1e-9


def test_of_known_volt_amperes_most_is_lost_just_below_a_power_factor_of_one():
    """6 AWG copper in steel: 0.491 ohm/kft and 0.064 of reactance (Tables 8 and 9), so P to Q as R to X: 0.9916."""
    way = {
        "size": "6 AWG",
        "type": "AC",
        "stranding": "stranded",
        "length_m": 100 * FOOT,
        "conductor_temperature_c": 75,
    }

    def judged(**given):
        lamp = load("lamp", "a", power_w=None, apparent_va=1200, **given)
        return only(RULE, circuit(box("a"), cable("run", "panel", "a", **way), lamp), "lamp")

    told, most = judged(power_factor=None), judged(power_factor=0.9916)
    assert told.high == pytest.approx(most.value, rel=1e-5)
    # at one the resistance alone loses: 0.491 to the root of 0.491^2 + 0.064^2 as 1 to 1.0085
    assert most.value / judged(power_factor=1.0).value == pytest.approx(1.0085, abs=2e-4)
    assert told.low == pytest.approx(judged(power_factor=0.5).value)


def test_a_lamp_that_takes_more_than_the_label_turns_the_power_factor_round():
    """100 VA and a lamp of 60 W: below 0.6 the lamp's vars count, above the label's watts; least is lost at 0.6."""

    def judged(factor):
        lamp = load("lamp", "a", power_w=None, apparent_va=100, fitted_w=60, power_factor=factor)
        return only(RULE, circuit(box("a"), cable("run", "panel", "a", length_m=100 * FOOT), lamp), "lamp")

    told = judged((0.05, 0.9))
    for factor in (0.05, 0.3, 0.6, 0.75, 0.9):
        assert told.low - 1e-9 <= judged(factor).value <= told.high + 1e-9


def test_a_guess_at_the_metal_leaves_the_stranding_open():
    """NM-B in 12 AWG is solid where it is copper; of aluminum it has 3.25 ohm/kft stranded, 3.18 solid (Table 8)."""
    way = {"size": "12 AWG", "type": "NM-B", "stranding": None, "length_m": 100 * FOOT}
    lamp = load("lamp", "a", current_a=10, power_factor=1.0)
    guessed = cable("run", "panel", "a", material="aluminum", known_by={"material": How.GUESS}, **way)
    told = only(RULE, circuit(box("a"), guessed, lamp), "lamp")
    known = only(RULE, circuit(box("a"), cable("run", "panel", "a", material="aluminum", **way), lamp), "lamp")
    assert told.low < known.low <= known.high <= told.high
    assert known.high / known.low == pytest.approx(3.25 / 3.18, rel=3e-3)


def with_reading(reading, *more, end="existing", end_by=How.STATED, **given):
    """``end``: whether the box of the new light was there already; ``end_by``: how that is known."""
    return circuit(
        supply(measured_current_a=reading), box("a"), box("b", origin=end, known_by={"origin": end_by}),
        cable("feed", "panel", "a", length_m=68 * FOOT, origin="existing"),
        cable("on", "a", "b", length_m=27 * FOOT), load("old", "a", power_w=60),
        load("new", "b", power_w=40, origin="added", **given), *more,
    )  # fmt: skip


def test_what_was_measured_flows_through_the_only_cable_that_leaves_the_panel():
    """10 A through 68 ft of 14 AWG, 0.00614 ohm a foot there and back (Table 8): 4.175 V, 3.48 % of 120 V."""
    found = only(RULE, with_reading(10), "new")
    # and the new light: 1/3 A through 95 ft, 0.583 ohm: 0.19 V
    assert found.outcome is Outcome.CAUTION
    assert found.value == pytest.approx(100 * (4.175 + 0.19) / 120, abs=0.06)
    assert sum(row.value for row in found.parts) == pytest.approx(found.value * 1.2, rel=1e-6)
    assert only(RULE, with_reading(0.5), "new").value == pytest.approx(only(RULE, with_reading(None), "new").value)


def test_the_less_the_list_draws_the_more_of_a_reading_flows_anywhere():
    """10 A read, 5 to 10 A by the list (600 VA, 300 to 600 W): at most 5 A besides, 2.1 V of the feed's 0.418 ohm."""
    lamps = load("lamps", "a", power_w=(300, 600), power_factor=1.0)
    told = only(RULE, with_reading(10, lamps), "new")
    for watts in (300, 400, 600):
        known = only(RULE, with_reading(10, load("lamps", "a", power_w=watts, power_factor=1.0)), "new")
        assert told.low <= known.value <= told.high
    # even more so where the power factor hides how much of the reading the list explains: of 600 VA 300 W
    for factor in (0.5, 0.8, 1.0):
        dim = load("lamps", "a", power_w=600, power_factor=factor)
        known = only(RULE, with_reading(10, dim), "new")
        told = only(RULE, with_reading(10, load("lamps", "a", power_w=600, power_factor=None)), "new")
        assert told.low <= known.value <= told.high


def test_what_was_measured_may_flow_all_the_way():
    """6 A read, 5.5 A on no list: 2.4 V in the feed, 2 %; 95 ft have 0.583 ohm: 3.2 V all the way and the rest."""
    found = only(RULE, with_reading(6), "new")
    assert found.outcome is Outcome.CAUTION
    assert found.value < 3
    assert "If all of it flows this way" in found.says
    least = only(RULE, with_reading(6, min_voltage_v=117), "new")
    assert (least.outcome, least.needs) == (Outcome.UNDETERMINED, ("supply.loads_complete",))


def test_what_was_measured_does_not_flow_to_what_is_only_added():
    """6 A read, 5.5 A on no list: 2.30 V in the feed's 68 ft (0.4175 ohm), and none of it in the 27 ft that are new.

    0.5 A and 1/3 A of the lights lose 0.35 V in the feed, 1/3 A 0.055 V in the new cable: 2.70 V, 2.25 %, and 117.3 V.
    """
    found = only(RULE, with_reading(6, end="added", min_voltage_v=117), "new")
    assert (found.outcome, found.value) == (Outcome.PASS, pytest.approx(2.25, abs=0.02))
    assert any("5.5 A; 2.3 V is lost by it" in line and "up to 0 V besides" in line for line in found.working)
    # from the box of the old light on a current that no list explains may flow to any box that was there
    there = only(RULE, with_reading(6, min_voltage_v=117), "new")
    assert there.outcome is Outcome.UNDETERMINED
    # a guess at whether it was there leaves that open
    guessed = only(RULE, with_reading(6, end="added", end_by=How.GUESS, min_voltage_v=117), "new")
    assert guessed.outcome is Outcome.UNDETERMINED


def test_a_current_of_an_added_load_without_a_cable_may_flow_to_what_is_added():
    """1 A of an added heater that hangs on no cable, 3 A read of 0.5 A listed: 2.5 A as far as the old box, 1 A on."""
    heater = box("apart"), load("heater", "apart", current_a=1, origin="added")
    (line,) = (
        line
        for line in only(RULE, with_reading(3, *heater, end="added"), "new").working
        if "on no branch cable" in line
    )
    # 3.5 A x 0.4175 ohm + 1 A x 0.1658 ohm = 1.627 V
    assert line == "on no branch cable: 3.5 A; flowing all this way it would lose 1.63 V"


def test_with_two_cables_from_the_panel_nobody_knows_which_carries_it():
    other = (box("c"), cable("second", "panel", "c", origin="existing"), load("far", "c", power_w=60))
    built = with_reading(10, *other)
    found = only(RULE, built, "new")
    assert found.value == pytest.approx(only(RULE, with_reading(None, *other), "new").value)
    assert found.outcome is Outcome.CAUTION


def test_what_the_load_takes_is_told_with_its_vars_where_it_has_any():
    # 96 W at a power factor of 0.8: sqrt(120^2 - 96^2) = 72 var
    def first(**given):
        built = circuit(box("a"), cable("run", "panel", "a"), load("lamp", "a", **given))
        return only(RULE, built, "lamp").working[0]

    assert first(power_w=96, power_factor=0.8).startswith('"lamp": 96 W and 72 var; all loads')
    assert first(power_w=60).startswith('"lamp": 60 W; all loads')


def test_what_is_lost_before_the_panel_is_told_where_the_file_gives_an_impedance():
    # 12 A through 0.1 ohm: about 1.2 V of 120 V
    def lines(**on):
        parts = supply(**on), box("a"), cable("run", "panel", "a", length_m=1), load("heater", "a", power_w=1426)
        return only(RULE, circuit(*parts), "heater").working

    behind = [line for line in lines(impedance_ohm=0.1) if "before the panel" in line]
    assert behind == ["1.2 V is lost before the panel, in 0.1 ohm"]
    assert any("from 120 V nominal behind 0.1 ohm" in line for line in lines(impedance_ohm=0.1))
    assert not any("before the panel" in line or "behind" in line for line in lines())
    assert any("from 118 V measured" in line for line in lines(measured_voltage_v=118))


def test_a_planned_cable_is_planned_thicker_and_one_in_the_wall_is_not():
    def cure(origin):
        run = cable("run", "panel", "a", length_m=60, origin=origin)
        return only(RULE, circuit(box("a"), run, load("lamp", "a", power_w=1200)), "lamp").to_do

    assert "thicker conductor" in cure("added")[0]
    assert "already in the wall" in cure("existing")[0]


def test_a_drop_past_five_percent_is_told_with_the_feeder():
    # 10 A there and back through 14 AWG, 6.14 mohm a foot: 60 ft 3.7 V (3.1 %), 120 ft 7.4 V (6.1 %)
    def says(feet):
        run = cable("run", "panel", "a", length_m=feet * FOOT)
        return only(RULE, circuit(box("a"), run, load("lamp", "a", current_a=10)), "lamp").says

    assert says(60).endswith("At most 3 % is recommended.")
    assert says(120).endswith("At most 3 % is recommended, and 5 % with the feeder.")
    assert says(20).endswith('and load "lamp".')


def test_a_size_that_the_tables_do_not_hold_is_named():
    """Table 8 and IEC 60228 give no aluminum of 2.5 mm^2."""
    built = circuit(
        box("a"), box("b"), cable("odd", "panel", "a", size="2.5 mm^2", material="aluminum"), cable("run", "a", "b"),
        load("lamp", "b", power_w=60),
    )  # fmt: skip
    found = only(RULE, built, "lamp")
    assert (found.outcome, found.value, found.limit) == (Outcome.UNDETERMINED, None, 3.0)
    assert 'no aluminum conductor of 2.5 mm^2, as in cable "odd"' in found.says
    assert found.keys == ("cable.odd.size", "cable.odd.material")


def test_with_more_power_factor_a_driver_known_by_its_amperes_takes_more_watts():
    """What is lost goes with the watts: a driver known by its watts is worse at a low power factor, one known by its
    amperes at a high one (0.5 A x 120 V = 60 VA)."""

    def ends(**given):
        fed = driver("d", "a", output_power_w=None, power_factor=None, **({"input_current_a": None} | given))
        built = circuit(box("a"), cable("run", "panel", "a", length_m=60), fed)
        return only(RULE, built, "d")

    def at(factor, **given):
        fed = driver("d", "a", output_power_w=None, power_factor=factor, **({"input_current_a": None} | given))
        return only(RULE, circuit(box("a"), cable("run", "panel", "a", length_m=60), fed), "d").value

    amperes = ends(input_current_a=0.5)
    assert amperes.low == at(0.5, input_current_a=0.5)
    # a touch more than at 1, where the reactance of the cable adds to it: cos(phi - arctan(X / R))
    assert at(1.0, input_current_a=0.5) <= amperes.high == pytest.approx(at(1.0, input_current_a=0.5), rel=1e-3)
    assert amperes.value == amperes.high
    watts = ends(input_power_w=60)
    assert (watts.low, watts.high) == (at(1.0, input_power_w=60), at(0.5, input_power_w=60))


def test_the_more_impedance_before_the_panel_the_more_is_lost():
    def ends(ohm):
        parts = supply(impedance_ohm=ohm), box("a"), cable("run", "panel", "a", length_m=60)
        return only(RULE, circuit(*parts, load("lamp", "a", power_w=1200)), "lamp")

    between_them = ends((0.1, 0.5))
    assert (between_them.low, between_them.high) == (ends(0.1).value, ends(0.5).value)
    assert between_them.value == between_them.high


def test_a_label_that_is_not_met_fails_whatever_else_may_flow():
    """119.5 V on the label, 6 A read: it fails by the volts in the feed alone, and no word of what may flow farther."""
    found = only(RULE, with_reading(6, min_voltage_v=119.5), "new")
    assert found.outcome is Outcome.FAIL
    assert "less than the 119.5 V that its label requires" in found.says
    assert "If all of it flows this way" not in found.says


def test_a_reading_that_changes_little_is_told_without_a_warning():
    # 1 A read, 0.5 A on no list: 0.3 V more all the way
    found = only(RULE, with_reading(1), "new")
    assert found.outcome is Outcome.PASS
    assert "If all of it flows this way" not in found.says
    assert any("measured beyond the listed loads: 0.5 A" in line for line in found.working)


def test_where_the_measured_voltage_serves_no_load_that_is_told():
    """600 W over 100 ft of 14 AWG, 0.614 ohm: 35 V can bring 35^2 / (4 x 0.614) = 499 W at the most."""
    low = circuit(
        supply(measured_voltage_v=35), box("a"), cable("run", "panel", "a", length_m=100 * FOOT),
        load("lamp", "a", power_w=600, min_voltage_v=30),
    )  # fmt: skip
    found = only(RULE, low, "lamp")
    assert found.outcome is Outcome.FAIL
    assert found.says.startswith("No steady voltage arrives")
    assert any("no voltage satisfies all loads" in line for line in found.working)


def test_of_a_long_way_the_last_two_dozen_cables_are_listed_and_those_before_as_one():
    names = ["panel", *(f"b{number}" for number in range(30))]
    parts = [load("lamp", "b29", power_w=60)]
    for start, end in pairwise(names):
        parts += [box(end), cable(f"to {end}", start, end, length_m=2)]
    found = only(RULE, circuit(*parts), "lamp")
    assert found.parts[0].name == "6 cables before that"
    assert len(found.parts) == 25
    assert sum(part.value for part in found.parts) == pytest.approx(found.value * 1.2)
    assert any(line.startswith("6 cables before that: ") for line in found.working)
    # the same cable thirty times: each loses a thirtieth
    assert found.parts[0].value == pytest.approx(6 / 30 * found.value * 1.2, rel=1e-6)


@pytest.mark.parametrize(("watts", "outcome"), [(677, Outcome.PASS), (685, Outcome.CAUTION)])
def test_three_percent_are_three_percent(watts, outcome):
    """v (120 - v) = P R with 0.614 ohm for 100 ft of 14 AWG: 677 W lose 3.57 V, 2.98 %; 685 W 3.61 V, 3.01 %."""
    run = cable("run", "panel", "a", length_m=100 * FOOT, conductor_temperature_c=75)
    found = only(RULE, circuit(box("a"), run, load("lamp", "a", power_w=watts)), "lamp")
    assert found.outcome is outcome
    assert found.value == pytest.approx(100 * (120 - (60 + (3600 - watts * 0.614) ** 0.5)) / 120, rel=2e-3)


def beside_a_heater(heater_box, amperes, **of_lamp):
    """A lamp of 5 A behind 100 ft of 14 AWG, and a heater on the same run or in a box that no branch cable feeds."""
    return circuit(
        supply(breaker_a=20), box("near"), box("apart"), driver("d", "near", input_current_a=0.0001),
        cable("run", "panel", "near", length_m=100 * FOOT), cable("thin", "d", "apart", type="class 2 cable"),
        load("lamp", "near", current_a=5, **of_lamp), load("heater", heater_box, kind="heater", current_a=amperes),
    )  # fmt: skip


@pytest.mark.parametrize(("amperes", "outcome"), [(0.7, Outcome.PASS), (1.0, Outcome.CAUTION)])
def test_a_load_that_no_branch_cable_feeds_may_be_on_the_way(amperes, outcome):
    """3.07 ohm a 1,000 ft (Chapter 9 Table 8): 100 ft there and back 0.614 ohm; 5.7 A lose 2.9 %, 6 A 3.07 %."""
    found = only(RULE, beside_a_heater("apart", amperes), "lamp")
    assert found.outcome is outcome
    assert found.value == pytest.approx(only(RULE, beside_a_heater("near", 0), "lamp").value)
    assert any(f"on no branch cable: {amperes:g} A" in line for line in found.working)
    if outcome is Outcome.CAUTION:
        assert "The circuit carries 1 A whose place is unknown, since no branch cable feeds every load." in found.says
        assert "If all of it flows this way, 3.1" in found.says


@pytest.mark.parametrize(("amperes", "outcome"), [(1, Outcome.CAUTION), (3.2, Outcome.UNDETERMINED)])
def test_whether_a_label_is_met_hangs_on_where_such_a_load_is(amperes, outcome):
    """115 V on the label: 120 - 0.614 x 6 = 116.3 V, 120 - 0.614 x 8.2 = 114.97 V."""
    found = only(RULE, beside_a_heater("apart", amperes, min_voltage_v=115), "lamp")
    assert found.outcome is outcome
    if outcome is Outcome.UNDETERMINED:
        assert found.keys == ("load.heater.box",)
        assert "less than the 115 V on its label arrives" in found.says
