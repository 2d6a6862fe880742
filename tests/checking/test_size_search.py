"""Which size is asked for first, and why it is not enough: by the breaker, in its conditions, by the voltage lost.

By hand: NFPA 70, Table 210.24 (15 A 14 AWG, 20 A 12 AWG, 30 A 10 AWG), Table 310.16 at 90 degC (14 AWG 25 A, 12 AWG
30 A, 10 AWG 40 A), 0.50 for 10 to 20 conductors together; Chapter 9, Table 8 at 75 degC (solid copper, ohm per 1000 ft:
14 AWG 3.07, 12 AWG 1.93, 10 AWG 1.21). Three percent of 120 V are 3.6 V.
"""

import pytest

from circuitcheck.checking import other_sizes
from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.wire_size import RULE
from tests.rules.build import FOOT, box, cable, circuit, driver, exact, findings, load, only, supply

PASS, CAUTION, FAIL, UNDETERMINED = Outcome.PASS, Outcome.CAUTION, Outcome.FAIL, Outcome.UNDETERMINED
HOT = {"bundled_with": 5, "current_carrying": 12}


def run(size="14 AWG", *, breaker=15, amperes=1.0, feet=10, more=(), **given):
    return circuit(
        supply(breaker_a=breaker), box("end"), cable("run", "panel", "end", size=size, length_m=feet * FOOT, **given),
        load("lamp", "end", current_a=amperes), *more,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("built", "outcome", "smallest", "decided_by"),
    [
        (run(), PASS, "14 AWG", "breaker-vs-wire"),
        (run(breaker=20), FAIL, "12 AWG", "breaker-vs-wire"),
        (run("10 AWG", breaker=20), PASS, "12 AWG", "breaker-vs-wire"),
        (run(breaker=30), FAIL, "10 AWG", "breaker-vs-wire"),
        # 25 A x 0.50 = 12.5 A for 14 A: 12 AWG carries 15 A
        (run(amperes=14, feet=5, **HOT), FAIL, "12 AWG", "ampacity"),
        (run("12 AWG", amperes=14, feet=5, **HOT), PASS, "12 AWG", "ampacity"),
        # 1 A and 12.5 A that may be on for hours: 1 + 1.25 x 12.5 = 16.6 A, over the 15 A of 14 AWG at 60 degC
        (run(more=(load("den", "end", current_a=12.5, continuous=None),)), CAUTION, "12 AWG", "ampacity"),
        # 12 A over 100 ft: 14 AWG 7.4 V, 12 AWG 4.6 V, 10 AWG 2.9 V
        (run(amperes=12, feet=100), CAUTION, "10 AWG", "voltage-drop"),
        (run("12 AWG", amperes=12, feet=100), CAUTION, "10 AWG", "voltage-drop"),
        (run("10 AWG", amperes=12, feet=100), PASS, "10 AWG", "voltage-drop"),
        (run("8 AWG", amperes=12, feet=100), PASS, "10 AWG", "voltage-drop"),
        # too thin and too long: what must be, and what is recommended besides
        (run(breaker=20, amperes=12, feet=100), FAIL, "10 AWG", "voltage-drop"),
    ],
)
def test_the_thinnest_and_what_decides_it(built, outcome, smallest, decided_by):
    found = only(RULE, built, "run")
    assert (found.outcome, found.smallest, found.decided_by) == (outcome, smallest, decided_by)


def test_each_size_that_was_asked_about_is_told_with_its_numbers():
    working = only(RULE, run(amperes=12, feet=100), "run").working
    lines = {line.partition(":")[0]: line for line in working}
    assert list(lines)[:3] == ["14 AWG", "12 AWG", "10 AWG"]
    assert "breaker at most 15 A (here 15 A)" in lines["14 AWG"]
    assert "may carry 15 A for 12 A" in lines["14 AWG"]
    assert lines["14 AWG"].endswith("not enough for voltage-drop")
    assert lines["10 AWG"].endswith(": enough")
    assert "drop 2.4" in lines["10 AWG"]  # 2.9 V of 120 V


@pytest.mark.parametrize(("most_parts", "needs_v"), [(40_000, None), (0, None), (0, 119.8)])
def test_no_thickness_cures_what_the_cable_that_is_there_loses(monkeypatch, most_parts, needs_v):
    """12 A through 150 ft of 14 AWG lose 11 V behind the new cable: no size is tried for that, nor where a lamp right
    behind it, which gets 119.6 V (0.37 V lost on 5 ft), needs more still.
    """
    monkeypatch.setattr(other_sizes, "MOST_PARTS", most_parts)
    new = cable("new", "panel", "a", length_m=5 * FOOT)
    old = cable("old", "a", "b", origin="existing", length_m=150 * FOOT)
    near = load("near", "a", current_a=0.1, min_voltage_v=None if needs_v is None else exact(needs_v))
    found = only(RULE, circuit(box("a"), box("b"), old, new, near, load("lamp", "b", current_a=12)), "new")
    assert (found.outcome, found.smallest, found.decided_by) == (PASS, "14 AWG", "breaker-vs-wire")
    assert any("loses more than 3 %" in line for line in found.working)


def test_a_length_that_can_be_anything_asks_for_no_thickness():
    found = only(RULE, circuit(box("a"), cable("run", "panel", "a", length_m=None), load("l", "a", current_a=1)), "run")
    assert (found.outcome, found.smallest) == (CAUTION, "14 AWG")
    assert "is unknown" in found.says
    assert found.to_do == ('Find out what is missing about cable "run" before you choose its size.',)


def test_a_length_between_two_ends_counts_at_its_longer_one():
    # 10 A: 60 ft lose 3.7 V on 14 AWG and 2.3 V on 12 AWG; 20 ft lose 1.2 V
    built = circuit(box("a"), cable("run", "panel", "a", length_m=(20 * FOOT, 60 * FOOT)), load("l", "a", current_a=10))
    found = only(RULE, built, "run")
    assert (found.outcome, found.smallest, found.decided_by) == (CAUTION, "12 AWG", "voltage-drop")


def test_what_is_there_before_may_lose_too_much_only_at_worst():
    # Of the old cable 10 to 150 ft: at worst it loses too much by itself, at best nearly nothing.
    old = cable("old", "panel", "a", origin="existing", length_m=(10 * FOOT, 150 * FOOT))
    parts = old, cable("new", "a", "b", length_m=5 * FOOT), load("lamp", "b", current_a=12)
    found = only(RULE, circuit(box("a"), box("b"), *parts), "new")
    assert (found.outcome, found.smallest) == (CAUTION, "14 AWG")
    assert "is unknown" in found.says
    assert not any("loses more than" in line for line in found.working)


def test_where_one_way_can_be_of_any_length_another_that_no_thickness_cures_settles_nothing():
    """Behind the new cable 150 ft of 14 AWG lose 11 V at 12 A by themselves; how far the other lamp is nobody knows."""
    parts = (
        box("a"), box("b"), box("c"), cable("new", "panel", "a", length_m=5 * FOOT),
        cable("long", "a", "b", origin="existing", length_m=150 * FOOT), load("lamp", "b", current_a=12),
    )  # fmt: skip
    assert only(RULE, circuit(*parts), "new").outcome is PASS
    other = cable("other", "a", "c", origin="existing", length_m=None), load("small", "c", current_a=1)
    found = only(RULE, circuit(*parts, *other), "new")
    assert (found.outcome, found.smallest) == (CAUTION, "14 AWG")
    assert "is unknown" in found.says


def test_a_load_of_unknown_size_is_held_by_the_breaker_where_the_wire_is():
    """240.4: the breaker lets 15 A through, and 12 AWG carries 20 A; together with five others 15 A."""
    free = circuit(box("a"), cable("run", "panel", "a"), load("l", "a"))
    found = only(RULE, free, "run")
    assert (found.outcome, found.smallest, found.needs) == (UNDETERMINED, "14 AWG", ("load.l.power",))
    warm = circuit(box("a"), cable("run", "panel", "a", **HOT), load("l", "a"))
    found = only(RULE, warm, "run")
    assert (found.outcome, found.smallest) == (UNDETERMINED, "12 AWG")
    assert "12 AWG carries all that the breaker lets through" in found.says
    fed = circuit(box("a"), cable("run", "panel", "a"), driver("d", "a", input_current_a=None, output_power_w=None))
    assert only(RULE, fed, "run").smallest == "14 AWG"


def test_a_load_between_two_ends_is_held_by_no_breaker():
    """5 to 20 A on a breaker of 15 A: 14 AWG may carry 15 A, 12 AWG 20 A (Table 310.16 and 240.4(D))."""
    found = only(RULE, run(amperes=(5, 20), feet=1), "run")
    assert (found.outcome, found.smallest) == (UNDETERMINED, "12 AWG")
    assert "12 AWG would do in any case" in found.says


def test_the_driver_at_the_end_counts_like_a_load():
    # 12 A over 100 ft as above
    fed = circuit(
        box("a"), cable("run", "panel", "a", length_m=100 * FOOT), driver("d", "a", input_current_a=12, power_factor=1)
    )
    found = only(RULE, fed, "run")
    assert (found.outcome, found.smallest) == (CAUTION, "10 AWG")


@pytest.mark.parametrize("most_parts", [40_000, 0])
def test_a_thinner_one_than_planned_is_found_where_all_may_be_thinner(monkeypatch, most_parts):
    monkeypatch.setattr(other_sizes, "MOST_PARTS", most_parts)  # none is tried alone where all do
    built = circuit(
        box("a"), box("b"), cable("one", "panel", "a", size="10 AWG"), cable("two", "a", "b", size="8 AWG"),
        load("lamp", "b", current_a=1),
    )  # fmt: skip
    assert [each.smallest for each in findings(RULE, built)] == ["14 AWG", "14 AWG"]


def test_the_least_voltage_on_a_label_makes_no_size_fail():
    """3.1 V of 120 V arrive missing on 14 AWG at 5 A over 100 ft: within 3 percent, but under 118 V on the label."""
    needs = load("lamp", "end", current_a=5, min_voltage_v=exact(118.0))
    built = circuit(box("end"), cable("run", "panel", "end", length_m=100 * FOOT), needs)
    found = only(RULE, built, "run")
    # 10 AWG: 5 x 0.242 = 1.2 V; 12 AWG: 1.93 V, so 118.07 V
    assert (found.outcome, found.smallest, found.decided_by) == (CAUTION, "12 AWG", "voltage-drop")


def test_a_label_that_no_thickness_meets_asks_for_none():
    """119.99 V of 120 V: even the thickest wire of 100 ft loses more at 5 A (500 kcmil: 0.0265 ohm/kft, 0.03 V)."""
    needs = load("lamp", "end", current_a=5, min_voltage_v=exact(119.99))
    found = only(RULE, circuit(box("end"), cable("run", "panel", "end", length_m=100 * FOOT), needs), "run")
    assert (found.outcome, found.smallest) == (PASS, "14 AWG")
    assert "is unknown" not in found.says


def test_a_label_that_no_thickness_meets_at_worst_leaves_it_open():
    # of 0.1 A to 5 A the thickest wire loses 0.5 mV to 27 mV: at best 119.99 V arrive
    needs = load("lamp", "end", current_a=(0.1, 5), min_voltage_v=exact(119.99))
    found = only(RULE, circuit(box("end"), cable("run", "panel", "end", length_m=100 * FOOT), needs), "run")
    assert (found.outcome, found.smallest) == (CAUTION, "14 AWG")
    assert "is unknown" in found.says


@pytest.mark.parametrize(
    ("built", "outcome"),
    [
        (run(), Outcome.PASS),
        (run(amperes=11.7, feet=197), Outcome.CAUTION),  # 11.7 A x 1.21 ohm: far more than 3 %
        (run(breaker=20), Outcome.FAIL),
        (run(type="UF-B", size="12 AWG", material=None), Outcome.PASS),
        (run(breaker=20, type="UF-B", size="12 AWG", material=None), Outcome.UNDETERMINED),  # aluminum: 15 A at most
    ],
)
def test_where_no_other_size_is_tried_the_planned_one_is_answered(monkeypatch, built, outcome):
    monkeypatch.setattr(other_sizes, "MOST_TRIES", -1)
    found = only(RULE, built, "run")
    assert found.outcome is outcome
    assert ("cable.run.material" in found.needs) is (outcome is Outcome.UNDETERMINED)
