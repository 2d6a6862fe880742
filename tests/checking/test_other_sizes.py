"""Which size of a cable would do, asked of the rules themselves."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking import other_sizes
from circuitcheck.checking.other_sizes import Sizes, first_that_does
from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.ampacity import RULE as AMPACITY
from circuitcheck.rules.capacity.breaker_vs_wire import RULE as BREAKER
from circuitcheck.rules.capacity.wire_size import RULE, sizes
from tests.rules.build import book, box, cable, circuit, findings, load, only, supply


def built_with(breaker, watts=60, **given):
    run = cable("run", "panel", "end", **given)
    return circuit(box("end"), run, load("lamp", "end", power_w=watts), supply(breaker_a=breaker))


def tried_in(built, sizes, places):
    return Sizes(built, case_of(built, book()), sizes, places)


def read(tried, chosen, attribute):
    """An entry of every cable with these sizes, by the ids of the cables."""
    case = tried.case
    with case.reading.at(lambda entry: chosen.get(entry, entry.possible.options[0])):
        return {each.id: getattr(each, attribute) for each in case.cables}


@pytest.mark.parametrize("first", range(12))
def test_the_first_that_does_is_found_and_few_are_asked(first):
    asked = []

    def does(place):
        asked.append(place)
        return place >= first

    assert first_that_does(12, does) == first
    assert len(asked) <= 8
    assert len(asked) == len(set(asked))


def test_where_none_does_a_few_are_asked():
    asked = []
    assert first_that_does(12, lambda place: asked.append(place)) is None
    assert asked == [0, 1, 3, 7, 11]


def test_the_sizes_start_with_the_thinnest_for_a_branch_circuit():
    """NFPA 70, Table 210.24: 14 AWG is the least for a 15 A circuit."""
    assert sizes(book())[:4] == ("14 AWG", "12 AWG", "10 AWG", "8 AWG")


@pytest.mark.parametrize(("breaker", "fits"), [(15, True), (20, False), (30, False)])
def test_what_14_awg_may_have(breaker, fits):
    # NFPA 70, 240.4(D) and Table 210.24
    tried = tried_in(built_with(breaker, size="10 AWG"), ("14 AWG", "12 AWG"), {"run": 1})
    assert (tried.about_cable(BREAKER, cable("run", "panel", "end"), 0).outcome is Outcome.PASS) is fits


def test_what_a_thinner_size_does_not_meet():
    # 10 AWG copper 40 x 0.50 x 0.71 = 14.2 A; 12 AWG 10.65 A, next rating 15 A, for 10 A; 14 AWG 8.9 A
    hot = built_with(15, watts=1200, ambient_c=60, bundled_with=5, current_carrying=12)
    tried = tried_in(hot, ("14 AWG", "12 AWG"), {"run": 0})
    outcomes = [tried.about_cable(AMPACITY, hot.cables[0], place).outcome for place in (0, 1)]
    assert outcomes == [Outcome.FAIL, Outcome.PASS]


def test_a_thick_wire_is_stranded_where_the_table_has_none_solid():
    """NFPA 70, Chapter 9, Table 8 as printed has solid wire up to 8 AWG only."""
    planned = built_with(15)
    tried = tried_in(planned, ("8 AWG", "6 AWG"), {"run": -1})
    assert [read(tried, tried.alone(planned.cables[0], place), "stranding") for place in (0, 1)] == [
        {"run": "solid"}, {"run": "stranded"},
    ]  # fmt: skip


def test_every_cable_thinner_at_once_stands_for_each_of_them():
    """12 AWG on a 15 A circuit with little load: one circuit with all in 14 AWG answers for both cables."""
    built = circuit(
        box("a"), box("b"), cable("one", "panel", "a", size="12 AWG"), cable("two", "a", "b", size="12 AWG"),
        load("lamp", "b", power_w=60),
    )  # fmt: skip
    assert [finding.smallest for finding in findings(RULE, built)] == ["14 AWG", "14 AWG"]


def test_thinned_no_added_cable_is_thicker_than_the_size_and_the_rest_stay_as_they_are():
    planned = {"old": "10 AWG", "thick": "10 AWG", "thin": "14 AWG", "same": "12 AWG"}
    runs = [cable(name, "panel", name, size=size) for name, size in planned.items()]
    built = circuit(*map(box, planned), *runs)
    tried = tried_in(built, ("14 AWG", "12 AWG", "10 AWG"), {"thick": 2, "thin": 0, "same": 1})
    thinned = {"old": "10 AWG", "thick": "12 AWG", "thin": "14 AWG", "same": "12 AWG"}
    assert read(tried, tried.thinned(1), "size") == thinned
    alone = tried.alone(runs[2], 2)
    assert read(tried, alone, "size") == {**planned, "thin": "10 AWG"}
    assert read(tried, {**tried.thinned(1), **alone}, "size") == {**thinned, "thin": "10 AWG"}
    assert read(tried, {}, "size") == planned


def test_a_cable_is_tried_alone_where_all_thinner_at_once_do_not_do():
    """Both thinner lose too much, each alone does not; 10 A over 40 m each.

    R there and back by Table 8: 14 AWG 3.07 ohm/kft, 12 AWG 1.93, 10 AWG 1.21: 80 m are 0.2625 kft, so 0.806, 0.507
    and 0.318 ohm. 3.6 V are 3 percent: at 3.6 A 0.806 + 0.318 = 1.12 ohm lose 4.0 V, 0.806 x 2 = 1.61 ohm 5.8 V,
    0.507 + 0.318 = 0.825 ohm 2.97 V and 0.507 x 2 = 1.01 ohm 3.65 V.
    """
    built = circuit(
        box("a"), box("b"),
        cable("one", "panel", "a", size="10 AWG", length_m=40), cable("two", "a", "b", size="10 AWG", length_m=40),
        load("lamp", "b", current_a=3.6),
    )  # fmt: skip
    assert [finding.smallest for finding in findings(RULE, built)] == ["12 AWG", "12 AWG"]


def test_past_so_many_parts_no_drop_is_tried_and_that_is_said(monkeypatch):
    monkeypatch.setattr(other_sizes, "MOST_PARTS", 0)
    found = only(RULE, built_with(15, watts=1400, length_m=60), "run")
    assert (found.outcome, found.smallest) == (Outcome.CAUTION, "14 AWG")
    assert "too many added cables" in found.says


def test_where_too_much_is_open_no_other_size_is_tried_and_that_is_said(monkeypatch):
    monkeypatch.setattr(other_sizes, "MOST_TRIES", -1)
    found = only(RULE, built_with(20), "run")
    assert (found.outcome, found.smallest) == (Outcome.FAIL, None)  # 14 AWG on 20 A, as breaker-vs-wire says
    assert "too much of the circuit is unknown" in found.says
