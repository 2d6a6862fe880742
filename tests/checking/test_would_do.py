"""Which value of an entry would do, asked of the rules themselves."""

from dataclasses import replace

import pytest

from circuitcheck.checking import check
from circuitcheck.checking.would_do import answers_about, changed
from circuitcheck.findings import Outcome
from circuitcheck.refs import Ref
from circuitcheck.rules import ALL_RULES
from circuitcheck.rules.capacity.ampacity import RULE as AMPACITY
from circuitcheck.rules.capacity.breaker_vs_wire import RULE as BREAKER
from tests.rules.build import FOOT, book, box, cable, circuit, load, supply

SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG")
SIZE = Ref("cable", "run", "size")


def sizes_for(built):
    """Each size with the checks that it does not meet."""
    for size in SIZES:
        found = answers_about(changed(built, SIZE, size), book(), (BREAKER, AMPACITY), frozenset({"run"}), named=False)
        yield size, [each.check for each in found if each.outcome in (Outcome.FAIL, Outcome.UNDETERMINED)]


def built_with(breaker, watts=60, **given):
    run = cable("run", "panel", "end", **given)
    return circuit(box("end"), run, load("lamp", "end", power_w=watts), supply(breaker_a=breaker))


@pytest.mark.parametrize(("breaker", "size"), [(15, "14 AWG"), (20, "12 AWG"), (30, "10 AWG")])
def test_the_breaker_sets_the_least_size(breaker, size):
    # NFPA 70, 240.4(D) and Table 210.24
    assert next(each for each, unmet in sizes_for(built_with(breaker)) if not unmet) == size


def test_what_a_thinner_size_does_not_meet():
    # 10 AWG copper 40 x 0.50 x 0.71 = 14.2 A; 12 AWG 10.65 A, next rating 15 A, for 10 A; 14 AWG 8.9 A
    hot = built_with(15, watts=1200, ambient_c=60, bundled_with=5, current_carrying=12)
    assert list(sizes_for(hot))[:2] == [("14 AWG", ["ampacity"]), ("12 AWG", [])]


def test_nothing_does_where_the_insulation_does_not_stand_the_air():
    assert all(unmet for _, unmet in sizes_for(built_with(15, type="NM", ambient_c=60)))


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


def test_the_size_of_a_cable_goes_by_all_that_it_feeds_though_few_are_asked_about():
    """12 A over 28 ft and 28 ft more: Chapter 9, Table 8, 14 AWG 3.07 ohm per 1000 ft, 12 AWG 1.93. The first 28 ft of
    14 AWG lose 2.1 V (1.7 %), all of it 4.1 V (3.4 %); with 12 AWG before it 3.4 V (2.8 %). At most 3 % are advised.
    """
    built = circuit(
        box("a"), box("b"),
        cable("run", "panel", "a", length_m=28 * FOOT),
        cable("on", "a", "b", length_m=28 * FOOT, origin="existing"),
        load("near", "a", current_a=0.1), load("far", "b", current_a=12),
    )  # fmt: skip
    about = frozenset({"run", "near"})
    asked = answers_about(built, book(), ALL_RULES, about)
    assert {(each.check, each.subject): each for each in asked} == {
        (each.check, each.subject): each for each in check(built, book()).findings if each.subject in about
    }
    (size,) = (each for each in asked if each.check == "wire-size")
    assert (size.outcome, size.smallest) == (Outcome.CAUTION, "12 AWG")
