"""Which value of an entry would do, asked of the rules themselves."""

from dataclasses import replace

import pytest

from circuitcheck.checking.would_do import changed, tried
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.rules.capacity.ampacity import RULE as AMPACITY
from circuitcheck.rules.capacity.breaker_vs_wire import RULE as BREAKER
from tests.rules.build import book, box, cable, circuit, load, supply

SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG")
SIZE = Ref("cable", "run", "size")


def sizes_for(built):
    return tried(built, book(), SIZE, SIZES, (BREAKER, AMPACITY), frozenset({"run"}))


def built_with(breaker, watts=60, **given):
    run = cable("run", "panel", "end", **given)
    return circuit(box("end"), run, load("lamp", "end", power_w=watts), supply(breaker_a=breaker))


@pytest.mark.parametrize(("breaker", "size"), [(15, "14 AWG"), (20, "12 AWG"), (30, "10 AWG")])
def test_the_breaker_sets_the_least_size(breaker, size):
    # NFPA 70, 240.4(D) and Table 210.24
    assert next(each.value for each in sizes_for(built_with(breaker)) if each.does) == size


def test_what_a_thinner_size_does_not_meet():
    # 10 AWG copper 40 x 0.50 x 0.71 = 14.2 A; 12 AWG 10.65 A, next rating 15 A, for 10 A; 14 AWG 8.9 A
    hot = built_with(15, watts=1200, ambient_c=60, bundled_with=5, current_carrying=12)
    thin, enough, *_ = sizes_for(hot)
    assert (thin.value, thin.checks(Outcome.FAIL)) == ("14 AWG", ("ampacity",))
    assert (enough.value, enough.does) == ("12 AWG", True)


def test_nothing_does_where_the_insulation_does_not_stand_the_air():
    assert not any(each.does for each in sizes_for(built_with(15, type="NM", ambient_c=60)))


def test_a_value_that_is_tried_is_a_fact_and_the_circuit_stays():
    guessed = built_with(20, size="14 AWG", known_by={"size": "guess"})
    other = changed(guessed, SIZE, "12 AWG")
    assert (other.cables[0].size, dict(other.cables[0].known_by)) == ("12 AWG", {})
    assert guessed.cables[0].size == "14 AWG"
    two = replace(guessed, cables=(guessed.cables[0], replace(guessed.cables[0], id="other")))
    assert [each.size for each in changed(two, SIZE, "12 AWG").cables] == ["12 AWG", "14 AWG"]
    assert changed(guessed, Ref("supply", "", "device"), "fuse").supply.device == "fuse"


def test_a_part_that_is_not_there_is_an_error():
    with pytest.raises(KeyError):
        changed(built_with(15), Ref("cable", "nowhere", "size"), "12 AWG")
