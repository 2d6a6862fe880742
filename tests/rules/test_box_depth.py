"""Depth of boxes: 1/2 in plain, 15/16 in with a device on 14 AWG, 1-3/16 in on 12 or 10 AWG (314.24)."""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.findings import Outcome
from circuitcheck.rules.site.box_depth import RULE
from tests.rules.build import EDITIONS, INCH, book, box, cable, circuit, control, device, findings, only


def built(depth_m, *devices, size="14 AWG", **given):
    return circuit(
        box("new", **({"origin": "added", "depth_m": depth_m, "devices": devices} | given)),
        cable("run", "panel", "new", size=size),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("inches", "devices", "size", "outcome"),
    [
        (0.5, (), "12 AWG", Outcome.PASS),
        (0.49, (), "12 AWG", Outcome.FAIL),
        (0.9375, (device(),), "14 AWG", Outcome.PASS),
        (0.93, (device(),), "14 AWG", Outcome.FAIL),
        (1.1875, (device(),), "12 AWG", Outcome.PASS),
        (1.18, (device(),), "12 AWG", Outcome.FAIL),
        (1.18, (device(size="10 AWG"),), "14 AWG", Outcome.FAIL),
    ],
)
def test_the_depths(edition, inches, devices, size, outcome):
    assert only(RULE, built(inches * INCH, *devices, size=size), "new", edition).outcome is outcome


def test_an_unknown_conductor_size_decides_between_the_two():
    found = only(RULE, built(1.0 * INCH, device(), size=None), "new")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.size",))


def test_a_range_across_the_limit_cannot_tell():
    found = only(RULE, built((0.4 * INCH, 0.6 * INCH)), "new")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.new.depth",))


def test_it_says_nothing_without_a_depth_and_about_boxes_left_alone():
    assert findings(RULE, built(None)) == []
    assert findings(RULE, circuit(box("old", depth_m=0.3 * INCH), cable("f", "panel", "old", origin="existing"))) == []


@pytest.mark.parametrize(
    ("cubic_inches", "gangs", "told"), [(12.5, 1, True), (18, 1, False), (18, 3, True), (30.1, 3, False)]
)
def test_a_small_box_of_unknown_depth_is_taken_to_be_deep_enough_and_told(cubic_inches, gangs, told):
    """18 / 4^2 = 1.125 in is more than 15/16 in; 12.5 / 4^2 = 0.78 in is not, nor 18 / (2 x 4^2) = 0.56 in of three."""
    made = built(None, device(gangs=gangs), trade_size=None, volume_m3=cubic_inches * INCH**3)
    found = findings(RULE, made)
    assert [each.outcome for each in found] == ([Outcome.PASS] if told else [])
    assert all(each.assumed_keys == ("box.new.depth",) for each in found)


def test_a_box_without_a_device_or_with_a_trade_size_says_nothing_of_its_depth():
    assert findings(RULE, built(None, trade_size=None, volume_m3=6 * INCH**3)) == []
    assert findings(RULE, built(None, device())) == []


@pytest.mark.parametrize(
    ("devices", "size", "inches"),
    [
        ((device(size="14 AWG"), device(size="10 AWG")), "14 AWG", 1.1875),  # the largest conductor on a device counts
        ((device(size="14 AWG"), device()), "12 AWG", 1.1875),  # of one without a size, that of the cables
        ((device(size="14 AWG"), device()), "14 AWG", 0.9375),
        ((device(size="14 AWG"),), "12 AWG", 0.9375),
        ((device(size="14 AWG"), device(size="14 AWG")), "12 AWG", 0.9375),
    ],
)
def test_the_largest_conductor_on_a_device_decides(devices, size, inches):
    """314.24(B)(3) to (5): by the conductors that go to the device."""
    found = only(RULE, built(1.0 * INCH, *devices, size=size), "new")
    assert found.limit == pytest.approx(inches)
    assert found.outcome is (Outcome.PASS if inches < 1 else Outcome.FAIL)


def test_the_sentence_says_what_the_box_holds():
    with_device = only(RULE, built(1.0 * INCH, device()), "new")
    assert (
        with_device.says == 'Box "new" is 1 in deep and holds a switch or receptacle: at least 0.9375 in is required.'
    )
    plain = only(RULE, built(0.4 * INCH), "new")
    assert plain.says == 'Box "new" is 0.4 in deep and holds only wires: at least 0.5 in is required.'


def test_of_a_range_the_shallow_end_is_told():
    found = only(RULE, built((0.4 * INCH, 0.6 * INCH)), "new")
    assert (found.value, found.low, found.high) == pytest.approx((0.4, 0.4, 0.6))


def test_the_depth_must_not_be_under_its_limit():
    """Of what may turn either way the end nearer to the limit is the worse one, and that is the shallow one."""
    case = case_of(built(1.0 * INCH, device()), book())
    told = RULE.answer(case.boxes[0], case, book())
    assert told is not None
    assert told.at_least


def test_a_guess_at_a_device_for_thick_conductors_may_be_right():
    """12 AWG on the device asks for 1-3/16 in; on 14 AWG, as in the cable, 15/16 in would do."""
    guessed = {"origin": "existing", "known_by": {"devices": "guess"}}
    open_box = built(1.04 * INCH, device(kind="dimmer", size="12 AWG"), **guessed)
    open_circuit = replace(open_box, controls=(control("s", "new", origin="added"),))
    found = only(RULE, open_circuit, "new")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.new.devices",))
