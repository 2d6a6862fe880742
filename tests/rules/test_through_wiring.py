"""Recessed lights pass the circuit on only as their label says (410.64, 410.21)."""

from dataclasses import replace

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.through_wiring import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only


def built(allowed, conductors=2, onward=True, mounting="recessed", trade_size=None, **given):
    """The wiring box of a recessed light has no volume and no trade size of its own."""
    parts = [
        box("first", **({"origin": "added", "trade_size": trade_size} | given)),
        box("second", origin="added"),
        cable("in", "panel", "first", conductors=conductors),
        load("can", "first", origin="added", mounting=mounting, through_wiring_count=allowed),
    ]
    if onward:
        parts.append(cable("out", "first", "second"))
    return circuit(*parts)


@pytest.mark.parametrize(("allowed", "outcome"), [(4, Outcome.PASS), (3, Outcome.FAIL), (None, Outcome.UNDETERMINED)])
def test_two_in_and_two_out(allowed, outcome):
    assert only(RULE, built(allowed), "can").outcome is outcome


@pytest.mark.parametrize("allowed", [None, 0, 2])
def test_a_label_for_fewer_than_enter_says_nothing_of_a_box_beside_the_light(allowed):
    found = only(RULE, built(allowed, trade_size="4 x 2-1/8 octagon"), "can")
    assert (found.outcome, len(found.ask)) == (Outcome.CAUTION, 1)


def test_unknown_conductors_ask():
    assert only(RULE, built(4, conductors=None), "can").needs == ("cable.in.conductors",)


def test_a_box_of_its_own_leaves_a_reminder():
    for mounting in (None, "recessed"):
        assert (
            only(RULE, built(None, mounting=mounting, trade_size="4 x 2-1/8 octagon"), "can").outcome is Outcome.CAUTION
        )


def test_a_light_of_unknown_mounting_in_a_box_of_unknown_volume_is_asked_about():
    found = only(RULE, built(None, mounting=None), "can")
    assert found.outcome is Outcome.UNDETERMINED
    assert set(found.needs) == {"load.can.mounting", "load.can.through_wiring_count"}


@pytest.mark.parametrize("allowed", [None, 0, 2, 8])
def test_the_last_light_has_its_own_supply(allowed):
    """410.21: a mark is for what goes on through it. Its own supply may enter, of three conductors too."""
    assert only(RULE, built(allowed, conductors=3, onward=False), "can").outcome is Outcome.PASS


def test_other_mountings_say_nothing():
    assert findings(RULE, built(None, mounting="wall")) == []


@pytest.mark.parametrize(("marked", "outcome"), [("12 AWG", Outcome.PASS), ("14 AWG", Outcome.FAIL)])
def test_the_marked_size_counts_too(marked, outcome):
    first = box("first", origin="added", trade_size=None)
    parts = (first, box("second", origin="added"), cable("in", "panel", "first", size="12 AWG"))
    lamp = load("can", "first", origin="added", mounting="recessed", through_wiring_count=4, through_wiring_size=marked)
    assert only(RULE, circuit(*parts, cable("out", "first", "second"), lamp), "can").outcome is outcome


def test_the_relief_for_lights_joined_together_is_asked_about():
    """410.21 and 410.64(C): two-wire circuits that only supply luminaires connected together."""
    assert only(RULE, built(None), "can").ask


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_edition_says_so(edition):
    assert only(RULE, built(3), "can", edition).outcome is Outcome.FAIL


def test_whether_the_lights_are_only_joined_together_is_asked_where_no_mark_decides():
    """410.21: only an unmarked box that the circuit goes on through leaves a question to an inspector."""
    assert only(RULE, built(0), "can").ask
    assert not only(RULE, built(3), "can").ask  # the count on its label decides
    assert not only(RULE, built(4), "can").ask
    assert not only(RULE, built(0, onward=False), "can").ask
    assert "marked size: none" in only(RULE, built(4), "can").working


def test_of_several_cables_the_one_with_thicker_wire_is_named():
    # Chapter 9, Table 8: 12 AWG has 6530 circular mils, 14 AWG 4110
    parts = [
        box("first", origin="added", trade_size=None), box("second", origin="added"),
        cable("in", "panel", "first"), cable("out", "first", "second", size="12 AWG"),
        load("can", "first", origin="added", mounting="recessed", through_wiring_count=4, through_wiring_size="14 AWG"),
    ]  # fmt: skip
    found = only(RULE, circuit(*parts), "can")
    assert found.outcome is Outcome.FAIL
    assert '"out" has thicker wire than the 14 AWG' in found.says


def test_a_light_on_a_box_of_its_own_is_spoken_of_only_where_the_work_hangs_it_and_the_circuit_goes_on():
    own = {"trade_size": "4 x 2-1/8 octagon"}
    assert only(RULE, built(None, **own), "can").outcome is Outcome.CAUTION
    assert findings(RULE, built(None, onward=False, **own)) == []
    there = built(None, **own)
    assert findings(RULE, replace(there, loads=(replace(there.loads[0], origin="existing"),))) == []


def test_another_light_in_the_same_wiring_box_hides_nothing():
    """Its mark is for fewer conductors than enter, whatever hangs beside it."""
    first, second = box("first", origin="added", trade_size=None), box("second", origin="added")
    runs = (cable("in", "panel", "first"), cable("out", "first", "second"))
    lights = [
        load(name, "first", origin="added", mounting=mounting, through_wiring_count=2)
        for name, mounting in (("beside", None), ("can", "recessed"))
    ]
    assert only(RULE, circuit(first, second, *runs, *lights), "can").outcome is Outcome.FAIL


def test_its_own_supply_may_enter_a_box_marked_for_none_however_thick_it_is():
    """410.21: the mark is about what goes on through it. Chapter 9, Table 8: 12 AWG has more metal than 14 AWG."""
    first = box("first", origin="added", trade_size=None)
    marked = {"mounting": "recessed", "through_wiring_count": 0, "through_wiring_size": "14 AWG"}
    built = circuit(first, cable("in", "panel", "first", size="12 AWG"), load("can", "first", origin="added", **marked))
    found = only(RULE, built, "can")
    assert (found.outcome, found.value, found.limit) == (Outcome.PASS, 2, None)


@pytest.mark.parametrize(
    ("allowed", "size", "outcome"),
    [
        (4, None, Outcome.PASS),
        (4, "12 AWG", Outcome.PASS),
        (4, "14 AWG", Outcome.CAUTION),  # 12 AWG goes through it
        (3, None, Outcome.CAUTION),
    ],
)
def test_of_a_light_on_a_box_of_its_own_its_mark_counts_where_that_is_its_wiring_box(allowed, size, outcome):
    parts = [
        box("first", origin="added", trade_size="4 x 2-1/8 octagon"), box("second", origin="added"),
        cable("in", "panel", "first", size="12 AWG"), cable("out", "first", "second", size="12 AWG"),
        load("can", "first", origin="added", mounting="recessed", through_wiring_count=allowed,
             through_wiring_size=size),
    ]  # fmt: skip
    found = only(RULE, circuit(*parts), "can")
    assert (found.outcome, found.value, found.limit) == (outcome, 4, allowed)


def test_a_mark_is_a_limit_only_where_there_is_one_and_the_circuit_goes_on():
    assert only(RULE, built(4), "can").limit == 4
    assert only(RULE, built(0), "can").limit is None
    assert only(RULE, built(4, onward=False), "can").limit is None


@pytest.mark.parametrize(
    ("marked", "size", "outcome"),
    [
        ("2.5 mm^2", "14 AWG", Outcome.PASS),  # 2.08 mm^2 (Chapter 9, Table 8)
        ("2.5 mm^2", "12 AWG", Outcome.FAIL),  # 3.31 mm^2
        ("2.5 mm^2", "2.5 mm^2", Outcome.PASS),
        ("14 AWG", "2.5 mm^2", Outcome.FAIL),
        ("12 AWG", "2.5 mm^2", Outcome.PASS),
        ("12 AWG", "4 mm^2", Outcome.FAIL),
        ("6 AWG", "4 AWG", Outcome.FAIL),
    ],
)
def test_metric_sizes_are_compared_with_the_others(marked, size, outcome):
    circuit = built(4)
    cables = tuple(replace(each, size=size) for each in circuit.cables)
    loads = tuple(replace(each, through_wiring_size=marked) for each in circuit.loads)
    assert only(RULE, replace(circuit, cables=cables, loads=loads), "can").outcome is outcome
