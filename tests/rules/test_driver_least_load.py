"""The least load that a driver's label asks for against what its lights draw; watts worked by hand."""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.driver_least_load import RULE
from circuitcheck.rules.low_voltage.low_voltage_drop import RULE as LOW_VOLTAGE_DROP
from tests.rules.build import (
    EDITIONS,
    FOOT,
    between,
    book,
    box,
    cable,
    circuit,
    direction,
    driver,
    findings,
    low_voltage_load,
    only,
)


def built(*lights, feet=20.0, least=10.0, **more):
    lead = cable("lead", "driver", "lamp", size="16 AWG", stranding="stranded", length_m=feet * FOOT)
    source = driver("driver", "attic", min_load_w=least, **more)
    return circuit(box("attic"), cable("feed", "panel", "attic"), source, lead, *lights)


def lamp(watts, kind="constant current"):
    return low_voltage_load("lamp", power_w=watts, kind=kind)


#: 5 W of resistors behind the lamp: 7.2 V above the diodes of 24 V, at 5 W / 24 V, are 34.56 ohm.
RESISTORS_BESIDE = (
    cable("on", "lamp", "second", size="16 AWG", stranding="stranded", length_m=FOOT),
    low_voltage_load("second", power_w=5, kind="resistor"),
)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("watts", "outcome"), [(5, Outcome.FAIL), (9.99, Outcome.FAIL), (12, Outcome.PASS)])
def test_the_least_load(edition, watts, outcome):
    found = only(RULE, built(lamp(watts)), "driver", edition)
    assert (found.outcome, found.value, found.limit) == (outcome, pytest.approx(watts), 10)


def test_a_label_without_a_least_load_and_a_driver_without_lights_ask_for_nothing():
    assert not findings(RULE, built(lamp(1), least=None))
    assert not findings(RULE, built(lamp(1), least=0))
    assert not findings(
        RULE, circuit(box("attic"), cable("feed", "panel", "attic"), driver("d", "attic", min_load_w=5))
    )


def test_a_range_across_it_cannot_be_told():
    found = only(RULE, built(lamp(between(8, 12))), "driver")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("low_voltage_load.lamp.power",))
    ranged = only(RULE, built(lamp(12), least=between(8, 20)), "driver")
    assert (ranged.outcome, ranged.needs) == (Outcome.UNDETERMINED, ("driver.driver.min_load",))


def test_a_strip_with_resistors_draws_less_than_its_label_behind_a_long_lead():
    # Diodes take 0.70 of 24 V: 16.8 V, and 10.5 W at 24 V, 0.4375 A, make a resistance of 7.2 / 0.4375 = 16.46 ohm.
    # Behind 2 x 200 ft of 16 AWG, 4.99 ohm/kft: 1.996 ohm. I = 7.2 / (16.46 + 1.996) = 0.3902 A, 24 V x I = 9.36 W.
    found = only(RULE, built(lamp(10.5, "resistor"), feet=200), "driver")
    assert found.value == pytest.approx(9.36, abs=0.01)
    assert found.outcome is Outcome.FAIL
    unknown = only(RULE, built(lamp(10.5, None), feet=200), "driver")
    assert (unknown.outcome, unknown.needs) == (Outcome.UNDETERMINED, ("low_voltage_load.lamp.kind",))


def test_what_the_wires_lose_is_no_load_to_rely_on():
    found = only(RULE, built(lamp(10, "constant power"), feet=200, least=10.05), "driver")
    assert (found.outcome, found.value) == (Outcome.FAIL, pytest.approx(10))


def test_behind_wires_that_serve_nothing_only_lights_that_keep_their_draw_are_counted():
    """20,000 ft of 16 AWG have 199.6 ohm, so no more than 24 x 24 / (4 x 199.6) = 0.72 W arrive of the 10 W asked.

    What a light with resistors draws beside it nobody can say: that no voltage serves them is told by another check.
    """
    unserved = built(lamp(10, "constant power"), *RESISTORS_BESIDE, feet=20000)
    found = only(RULE, unserved, "driver")
    assert (found.outcome, found.value, found.needs) == (Outcome.UNDETERMINED, None, ())
    assert found.ask
    assert {found.outcome for found in findings(LOW_VOLTAGE_DROP, unserved)} == {Outcome.FAIL}
    assert only(RULE, built(lamp(10, "constant power"), feet=20000), "driver").value == pytest.approx(10)


@pytest.mark.parametrize(("least", "outcome"), [(15, Outcome.UNDETERMINED), (15.1, Outcome.FAIL)])
def test_lights_that_no_voltage_serves_may_be_too_few_at_their_rating(least, outcome):
    """10 W and 5 W are rated for 15 W together, however long the wires are."""
    found = only(RULE, built(lamp(10, "constant power"), *RESISTORS_BESIDE, feet=20000, least=least), "driver")
    assert (found.outcome, found.value, found.low) == (outcome, None, None)
    assert ("are rated for only 15 W" in found.says) is (outcome is Outcome.FAIL)


def test_lights_that_no_voltage_serves_may_be_enough_even_so():
    """Of two with resistors over 199.6 ohm: 7.2 V / (17.28 || 34.56 + 199.6) = 0.0341 A, and 24 V x that = 0.819 W."""
    found = only(RULE, built(lamp(10, "constant power"), *RESISTORS_BESIDE, feet=20000, least=0.8), "driver")
    assert (found.outcome, found.value) == (Outcome.PASS, None)
    assert only(RULE, built(lamp(10, "constant power"), *RESISTORS_BESIDE, feet=20000, least=0.83), "driver").ask


def test_a_cable_that_may_be_too_long_to_serve_them_hides_no_shorter_one_that_fails():
    """10 W and 5 W draw 15 W over no wire at all, and over 20,000 ft no voltage serves them.

    Over 500 ft of 16 AWG, 4.99 ohm, 21.02 V arrive: 10 W / 21.02 V and (21.02 - 16.8) V / 34.56 ohm are 0.4758 A and
    0.1220 A, and 24 V less 4.99 ohm x 0.5978 A are 21.02 V. The strip then takes 24 V x 0.1220 A = 2.93 W of its 5 W.
    """
    lights = (lamp(10, "constant power"), *RESISTORS_BESIDE)
    found = only(RULE, built(*lights, feet=500, least=14), "driver")
    assert (found.outcome, found.value) == (Outcome.FAIL, pytest.approx(12.93, abs=0.01))
    known = built(*lights, feet=1, least=14)
    assert only(RULE, known, "driver").outcome is Outcome.PASS
    for length in (None, between(1 * FOOT, 20000 * FOOT)):
        cables = tuple(replace(each, length_m=length) if each.id == "lead" else each for each in known.cables)
        found = only(RULE, replace(known, cables=cables), "driver")
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.lead.length",))


def test_a_kind_with_which_no_voltage_serves_sets_no_end_of_the_watts():
    """60 W of unknown kind and 20 W of resistors behind 2 x 1,000 ft of 16 AWG, 9.98 ohm.

    What keeps its 2.5 A would lose 24.95 of 24 V: none serves. Of two with resistors, 7.2 V / 2.5 A = 2.88 ohm and
    7.2 V / 0.8333 A = 8.64 ohm above their diodes' 16.8 V, together 2.16 ohm: I = 7.2 / (2.16 + 9.98) = 0.5931 A, and
    24 V x I = 14.23 W.
    """
    onward = cable("on", "lamp", "second", size="10 AWG", stranding="stranded", length_m=0.001)
    second = low_voltage_load("second", power_w=20, kind="resistor")
    found = only(RULE, built(lamp(60, None), onward, second, feet=1000, least=30), "driver")
    assert (found.outcome, found.low, found.high) == (Outcome.UNDETERMINED, pytest.approx(14.23, abs=0.01), None)
    assert "low_voltage_load.lamp.kind" in found.needs


def test_where_it_is_short_the_cure_is_another_driver():
    assert any("driver" in line for line in only(RULE, built(lamp(5)), "driver").to_do)


def test_the_sentence_says_only_where_it_is_short():
    assert "draw 12 W" in only(RULE, built(lamp(12)), "driver").says
    assert "draw only 5 W" in only(RULE, built(lamp(5)), "driver").says


def test_two_strips_in_a_row_draw_what_each_gets():
    """Two strips of 10.5 W with resistors behind 200 ft of 16 AWG, 1.996 ohm, the second beside the first.

    Each has 16.46 ohm above its diodes' 16.8 V: together 8.229 ohm. I = 7.2 / (8.229 + 1.996) = 0.7042 A, and
    24 V x I = 16.90 W; what goes on to the second does not count for the first as well.
    """
    onward = cable("on", "lamp", "second", size="10 AWG", stranding="stranded", length_m=0.001)
    second = low_voltage_load("second", power_w=10.5, kind="resistor")
    found = only(RULE, built(lamp(10.5, "resistor"), onward, second, feet=200), "driver")
    assert found.value == pytest.approx(16.90, abs=0.01)


def test_which_way_a_strip_draws_less():
    """Of watts by length a longer strip draws more; of watts in all it only loses more. A light at a point has none."""
    strip = {"kind": "resistor", "length_m": 1, "resistance_per_length_ohm_per_m": 0.1, "fed_from": "one end"}
    by_length = low_voltage_load("lamp", power_per_length_w_per_m=5, **strip)
    in_all = low_voltage_load("lamp", power_w=5, **strip)
    longer = direction(RULE, built(by_length), "low_voltage_load.length", "lamp")
    assert longer(2.0) < longer(1.0)
    longer = direction(RULE, built(in_all), "low_voltage_load.length", "lamp")
    assert longer(2.0) > longer(1.0)


def test_its_limit_is_the_least_that_is_allowed():
    case = case_of(built(lamp(12)), book())
    assert RULE.answer(case.drivers[0], case, book()).at_least
