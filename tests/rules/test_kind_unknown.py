"""A load of which nobody says what it is may be anything: it is not a light."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.ampacity import RULE as AMPACITY
from circuitcheck.rules.capacity.box_fill import RULE as BOX_FILL
from circuitcheck.rules.capacity.load_share import RULE as LOAD_SHARE
from circuitcheck.rules.site.extend_circuit import RULE as EXTEND_CIRCUIT
from tests.rules.build import CUBIC_INCH, box, cable, circuit, findings, load, only, supply


def unknown(**given):
    return load("x", "b", **({"kind": None, "power_w": 1500} | given))


def test_a_heater_that_is_fastened_in_place_is_continuous():
    # 1500 W at 120 V are 12.5 A; of a space heater a quarter more counts, 15.6 A (424.4(B)): over 15 A.
    found = only(LOAD_SHARE, circuit(box("b"), unknown()), "circuit")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.x.kind",))
    assert (found.low, found.high) == (pytest.approx(12.5), pytest.approx(15.625))
    assert (
        only(LOAD_SHARE, circuit(box("b"), unknown(connection="cord")), "circuit").outcome is not Outcome.UNDETERMINED
    )


@pytest.mark.parametrize("kind", [None, "light"])
def test_a_fan_that_is_fastened_in_place_is_a_motor(kind):
    # 8 A at 120 V are 960 W, over 1/8 hp: a quarter more in the conditions of use of its cable (430.24), 10 A.
    found = only(AMPACITY, circuit(box("b"), cable("run", "panel", "b"), unknown(kind=kind, power_w=960)), "run")
    assert (found.low, found.high) == (pytest.approx(8.0), pytest.approx(8.0 if kind else 10.0))


def test_of_two_that_may_be_fans_the_larger_alone_counts_more():
    # 8 A and 2 A: 10 A and a quarter of 8 A.
    parts = unknown(power_w=960), load("y", "b", kind=None, power_w=240)
    found = only(AMPACITY, circuit(box("b"), cable("run", "panel", "b"), *parts), "run")
    assert (found.low, found.high) == (pytest.approx(10.0), pytest.approx(12.0))


def test_receptacles_forbid_the_next_standard_rating():
    # 10 AWG in air at 140 degF: 40 A x 0.71 = 28.4 A in the 90 degC column; 30 A may protect it but for receptacles.
    hot = cable("run", "panel", "b", size="10 AWG", ambient_c=60)
    built = circuit(supply(breaker_a=30), box("b"), hot, unknown(power_w=60, connection="cord"))
    found = only(AMPACITY, built, "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.x.kind",))


def test_what_does_not_hang_may_bring_the_three_leads_of_a_fan():
    # Three leads of 18 AWG are 4.5 in^3 more than none (314.16(B): 1.5 in^3 each).
    def needs(kind):
        b = box("b", volume_m3=20 * CUBIC_INCH, origin="added", fixture_wires=None)
        it = unknown(kind=kind, mounting="surface", origin="added")
        return only(BOX_FILL, circuit(b, cable("run", "panel", "b"), it), "b")

    fan = needs("fan")
    assert fan.high - fan.low == pytest.approx(4.5)
    assert needs(None).high >= fan.high
    assert needs(None).low == fan.low


def test_a_ten_ampere_circuit_feeds_no_more_than_lights_and_some_fans():
    # NFPA 70-2023, 210.23(A)
    built = circuit(
        supply(breaker_a=10), box("b", room="bathroom"), unknown(power_w=60, origin="added", replaces=False)
    )
    still_open = [found for found in findings(EXTEND_CIRCUIT, built) if found.outcome is Outcome.UNDETERMINED]
    assert [found.needs for found in still_open] == [("load.x.kind",)]
