"""The longest low-voltage cable and the thinnest conductor that would do, asked of the rules themselves.

Resistance by hand from NFPA 70, Chapter 9, Table 8: 16 AWG stranded copper 4.99 ohm per 1000 ft, 14 AWG 3.14; a strip
loses i r L^2 / 2 (Gonen, Electric Power Distribution Engineering).
"""

from dataclasses import replace
from math import inf

import pytest

from circuitcheck.checking import check
from circuitcheck.checking.lead_sizes import longest_lead_m, thinnest_lead, with_lead_sizes
from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.low_voltage_cable import RULE as CARRIES
from circuitcheck.rules.low_voltage.low_voltage_drop import RULE as DROPS
from tests.rules.build import FOOT, book, box, cable, circuit, driver, exact, low_voltage_load, only
from tests.rules.build import findings as findings_of


def built(feet=90.0, lead=(), **light):
    """A strip of 39.6 W at 24 V, 1.65 A, with 0.02 ohm/ft over 9 ft."""
    strip = {
        "power_per_length_w_per_m": 4.4 / FOOT,
        "length_m": 9 * FOOT,
        "resistance_per_length_ohm_per_m": 0.02 / FOOT,
        "fed_from": "one end",
        "kind": "constant current",
        "min_voltage_v": 22.8,
    }
    run = {"size": "16 AWG", "stranding": "stranded", "type": "class 2 cable", "length_m": feet * FOOT, "ambient_c": 30}
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        driver("driver", "attic"),
        cable("lead", "driver", "strip", **(run | dict(lead))),
        low_voltage_load("strip", **(strip | light)),
    )


def longest_feet(made):
    longest = longest_lead_m(made.tree.cable["lead"], "strip", made, book())
    return None if longest is None else longest / FOOT


def told(made):
    (found,) = (each for each in check(made, book(), (DROPS, CARRIES)).findings if each.check == DROPS.name)
    return found


def test_the_longest_lead_and_the_thinnest_conductor():
    # 1.2 V - 1.65 A x 0.18 ohm / 2 = 1.0515 V are left for the lead: 0.6373 ohm, 63.86 ft. At 90 ft 14 AWG: 0.565 ohm.
    assert 63.86 * 0.995 < longest_feet(built()) <= 63.86
    found = told(built())
    assert (found.chosen, found.smallest) == ("16 AWG", "14 AWG")
    assert found.to_do[0].startswith('The longest cable "lead" of 16 AWG that would do is 63.')
    assert found.to_do[0].endswith("the thinnest conductor that would do at this length is 14 AWG.")


def test_the_thinnest_of_all_may_do():
    """10 ft of 18 AWG (7.95 ohm per 1000 ft) are 0.159 ohm there and back, and carry 6 A (Table 402.5)."""
    made = built(10)
    assert thinnest_lead(made.tree.cable["lead"], {"lead", "strip"}, made, book()) == "18 AWG"


def test_past_the_usual_share_it_is_told_too():
    found = told(built(min_voltage_v=None))
    assert (found.outcome, found.smallest) == (Outcome.CAUTION, "14 AWG")


def test_nothing_is_told_about_a_lead_that_does():
    """20 ft of 16 AWG are 0.2 ohm there and back: 0.33 V and 0.15 V in the strip, of the 1.2 V that are left."""
    found = told(built(20))
    assert (found.outcome, found.chosen, found.smallest, found.to_do) == (Outcome.PASS, None, None, ())


@pytest.mark.parametrize("kind", ["constant current", "constant power", "resistor", None])
def test_the_longest_lead_still_does_and_a_longer_one_does_not(kind):
    feet = longest_feet(built(20, kind=kind))
    assert only(DROPS, built(feet, kind=kind), "strip").outcome is Outcome.PASS
    assert only(DROPS, built(feet * 1.02, kind=kind), "strip").outcome is not Outcome.PASS


def test_where_no_lead_would_do_that_is_said():
    heavy = built(power_per_length_w_per_m=40 / FOOT)
    assert longest_feet(heavy) is None
    assert "however short" in told(heavy).to_do[0]


def test_a_lead_that_can_never_be_too_long():
    # Diodes behind a resistor stop drawing at their own voltage, 16.8 V: 5 V are kept through any wire.
    assert longest_feet(built(kind="resistor", min_voltage_v=5)) == inf


def test_the_thinnest_conductor_that_carries_the_current():
    # 84 W at 12 V are 7 A: 18 AWG carries 6 A, 16 AWG 8 A (Table 402.5); at 50 degC 8 x 0.58 = 4.64 A, and 14 AWG
    # 15 x 0.58 = 8.7 A (Tables 310.16, 310.15(B)(1)).
    def thinnest(ambient_c):
        made = circuit(
            box("attic"),
            cable("feed", "panel", "attic"),
            driver("driver", "attic", output_voltage_v=12, output_power_w=84, class_2=False),
            cable("lead", "driver", "lamp", type="class 2 cable", size="18 AWG", ambient_c=ambient_c, length_m=1),
            low_voltage_load("lamp", power_w=84, kind="constant current"),
        )
        (found,) = check(made, book(), (CARRIES,)).findings
        assert found.smallest == thinnest_lead(made.tree.cable["lead"], {"lead"}, made, book())
        return found.smallest

    assert (thinnest(30), thinnest(50)) == ("16 AWG", "14 AWG")


def test_nobody_is_told_to_change_a_cable_that_is_there_already():
    found = told(built(lead={"origin": "existing"}))
    assert (found.outcome, found.smallest) == (Outcome.FAIL, None)


@pytest.mark.parametrize(("farthest_needs_v", "told_about"), [(23.2, "bcd"), (21.5, "abc")])
def test_the_three_worst_are_told_and_the_others_are_not(farthest_needs_v, told_about):
    """Leads of 60, 90, 120 and 150 ft: the shortest loses least, so it is the one that is not told about.

    1.65 A lose 0.01647 V on each foot, and 0.15 V in the strip: 22.9, 22.4, 21.9 and 21.4 V arrive. Where the last one
    needs 21.5 V alone it is short of the least, though the fewest volts arrive there.
    """
    strip = built().low_voltage_loads[0]
    runs = {60: "a", 90: "b", 120: "c", 150: "d"}
    parts = [box("attic"), cable("feed", "panel", "attic")]
    for feet, name in runs.items():
        plain = {"size": "16 AWG", "stranding": "stranded", "type": "class 2 cable", "ambient_c": 30}
        parts += [
            driver(f"driver {name}", "attic"),
            cable(f"lead {name}", f"driver {name}", name, length_m=feet * FOOT, **plain),
            replace(strip, id=name, min_voltage_v=exact(farthest_needs_v if name == "d" else 23.2)),
        ]
    findings = check(circuit(*parts), book(), (DROPS, CARRIES)).findings
    short = {each.subject: each for each in findings if each.check == DROPS.name}
    assert {name: each.outcome for name, each in short.items()} == dict.fromkeys("abcd", Outcome.FAIL)
    assert [name for name, each in sorted(short.items()) if each.chosen] == list(told_about)
    assert all("of 16 AWG that would do is" in short[name].to_do[0] for name in told_about)


def test_worse_findings_of_other_checks_take_nobodys_place():
    made = built()
    (short,) = findings_of(DROPS, made)
    full = [replace(short, check="box-fill", subject=f"box {n}", value=99.0, limit=9.0) for n in range(4)]
    told_now, *others = with_lead_sizes([short, *full], made, book())
    assert (told_now.chosen, told_now.smallest) == ("16 AWG", "14 AWG")
    assert others == full


def test_a_lead_by_its_metric_size_is_told_another_metric_size():
    """1.0515 V at 1.65 A are 0.637 ohm over 2 x 90 ft (54.9 m), 11.6 ohm/km. IEC 60228, class 1, at 20 degC: 1.5 mm^2
    up to 12.1 ohm/km, 2.5 mm^2 up to 7.41, which at 90 degC are 9.5 (0.393 % a degree).
    """
    found = told(built(lead={"size": "0.75 mm^2", "stranding": "solid"}))
    assert (found.chosen, found.smallest) == ("0.75 mm^2", "2.5 mm^2")


def test_a_lead_of_unknown_size_is_told_the_thinnest_alone():
    found = told(built(lead={"size": None}))
    assert (found.chosen, found.smallest) == (None, "14 AWG")
    assert found.to_do[0] == "The thinnest conductor that would do at this length is 14 AWG."


def test_nothing_is_told_about_a_lead_that_is_there_or_where_two_feed_the_light():
    assert told(built(lead={"origin": "existing"})).chosen is None
    there = built()
    second = replace(there.cables[1], id="second")
    both = replace(there, cables=(*there.cables, second))
    (found,) = (each for each in check(both, book(), (DROPS,)).findings if each.check == DROPS.name)
    assert found.chosen is None


def test_a_lead_that_carries_too_much_is_told_what_carries_it_unless_it_is_there():
    """84 W at 12 V are 7 A: 18 AWG carries 6 A and 16 AWG 8 A (Table 402.5)."""

    def lead_of(origin):
        made = circuit(
            box("attic"),
            cable("feed", "panel", "attic"),
            driver("driver", "attic", output_voltage_v=12, output_power_w=84, class_2=False),
            cable("lead", "driver", "lamp", type="class 2 cable", size="18 AWG", length_m=1, origin=origin),
            low_voltage_load("lamp", power_w=84, kind="constant current"),
        )
        (found,) = check(made, book(), (CARRIES,)).findings
        return found.outcome, found.chosen, found.smallest, found.decided_by

    assert lead_of("added") == (Outcome.FAIL, "18 AWG", "16 AWG", "low-voltage-cable")
    assert lead_of("existing") == (Outcome.FAIL, None, None, None)
