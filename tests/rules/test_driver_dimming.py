"""Dimmer and driver that are compatible (makers' instructions, 110.3(B))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.driver_dimming import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, control, driver, findings, only


def built(matched=None, dimming=None, kind="dimmer", switched_by="knob"):
    return circuit(
        box("wall"),
        box("attic"),
        box("shelf"),
        cable("feed", "panel", "wall"),
        cable("up", "wall", "attic", switched_by=switched_by),
        cable("on", "attic", "shelf"),
        control("knob", "wall", kind=kind, matched=matched),
        driver("driver", "shelf", dimming=dimming),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("dimming", ["phase", "0-10 V"])
def test_a_pair_that_the_maker_names_passes(edition, dimming):
    assert only(RULE, built(matched=True, dimming=dimming), "driver", edition).outcome is Outcome.PASS


@pytest.mark.parametrize(
    ("matched", "dimming"),
    [(True, "none"), (None, "none"), (False, "phase"), (False, None), (False, "0-10 V"), (False, "pulse width")],
)
def test_a_pair_that_does_not_fit_fails(matched, dimming):
    assert only(RULE, built(matched=matched, dimming=dimming), "driver").outcome is Outcome.FAIL


@pytest.mark.parametrize(
    ("matched", "dimming", "needs"),
    [
        (None, "phase", ("control.knob.matched",)),
        (None, "0-10 V", ("control.knob.matched",)),
        (None, "pulse width", ("control.knob.matched",)),
        (None, None, ("driver.driver.dimming", "control.knob.matched")),
        (True, None, ("driver.driver.dimming",)),
    ],
)
def test_what_is_not_known_is_asked(matched, dimming, needs):
    found = only(RULE, built(matched=matched, dimming=dimming), "driver")
    assert found.outcome is Outcome.UNDETERMINED
    assert set(found.needs) == set(needs)


def test_a_control_of_unknown_kind_may_be_a_dimmer():
    found = only(RULE, built(matched=False, dimming="phase", kind=None), "driver")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("control.knob.kind",))


@pytest.mark.parametrize("given", [{"kind": "switch"}, {"switched_by": None}])
def test_without_a_dimmer_in_front_nothing_is_said(given):
    assert findings(RULE, built(**given)) == []


def test_the_drivers_own_word_about_its_dimmer_counts():
    parts = (box("wall"), cable("feed", "panel", "wall"), control("knob", "wall", kind="dimmer"))
    built = circuit(*parts, driver("driver", "wall", dimming="none", switched_by="knob"))
    assert only(RULE, built, "driver").outcome is Outcome.FAIL


@pytest.mark.parametrize("first", ["matched", "other"])
def test_of_two_dimmers_in_front_the_one_that_does_not_suit_decides(first):
    second = "other" if first == "matched" else "matched"
    made = circuit(
        box("wall"),
        box("attic"),
        cable("feed", "panel", "wall"),
        cable("up", "wall", "attic", switched_by=first),
        control("matched", "wall", kind="dimmer", matched=True),
        control("other", "wall", kind="dimmer", matched=False),
        driver("driver", "attic", dimming="phase", switched_by=second),
    )
    found = only(RULE, made, "driver")
    assert (found.outcome, found.says) == (Outcome.FAIL, 'Dimmer "other" and driver "driver" are not compatible.')


def test_a_driver_that_dims_otherwise_is_told_how():
    found = only(RULE, built(matched=False, dimming="0-10 V"), "driver")
    assert found.says.startswith('Driver "driver" dims by 0-10 V, not by a dimmer in its feed')
