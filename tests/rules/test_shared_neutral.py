"""Shared neutral: breakers open together since 2008 (210.4(B)); no neutral through a device (300.13(B))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.shared_neutral import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only, supply

FAIL, CAUTION, UNDETERMINED = Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED


def shared(**given):
    return circuit(supply(shared_neutral=True, **given))


def from_panel(conductors=3, more=(), **given):
    run = cable("feed", "panel", "a", origin="existing", conductors=conductors, **given)
    return circuit(supply(poles=1), box("a"), run, load("lamp", "a", power_w=60), *more)


def test_a_neutral_of_its_own_says_nothing():
    assert findings(RULE, circuit(supply(shared_neutral=False))) == []


@pytest.mark.parametrize("edition", EDITIONS)
def test_tied_breakers_on_opposite_legs_are_a_caution_to_turn_off_both(edition):
    found = only(RULE, shared(handle_tie=True, volts_between_hots_v=240), "circuit", edition)
    assert found.outcome is CAUTION
    assert "both breakers" in " ".join(found.to_do)


@pytest.mark.parametrize("edition", EDITIONS)
def test_breakers_that_open_alone_fail(edition):
    assert only(RULE, shared(handle_tie=False, poles=1), "circuit", edition).outcome is FAIL


def test_breakers_that_open_alone_fail_whatever_the_meter_shows():
    """210.4(B): a reading that fits nothing (120 V between hots of 120 V) is taken again, and the tie is missing."""
    for volts in (None, 120, 240):
        found = only(RULE, shared(handle_tie=False, poles=1, volts_between_hots_v=volts), "circuit")
        assert (found.outcome, found.stop) == (FAIL, False)
    found = only(RULE, shared(handle_tie=False, poles=1, volts_between_hots_v=120), "circuit")
    assert "120 V between the hots fits neither" in found.says


def test_a_reading_that_tells_the_legs_at_one_end_of_the_voltage_only_is_open():
    """180 V between hots: 1.5 times 120 V is neither two legs nor one, 1.64 times 110 V two of three phases."""
    built = circuit(supply(shared_neutral=None, poles=2, voltage_v=(110, 126), volts_between_hots_v=189))
    assert only(RULE, built, "circuit").outcome is UNDETERMINED


def test_both_hots_on_one_leg_stop_the_job_tie_or_not():
    """Alternating currents of one leg are in step, so the neutral carries their sum: 9 A read + 60 W / 120 V + 10 A."""
    for tie in (True, False):
        given = {"handle_tie": tie, "poles": 1, "measured_current_a": 9, "other_leg_current_a": 10}
        built = circuit(
            supply(shared_neutral=True, volts_between_hots_v=0, **given),
            box("a"), cable("feed", "panel", "a", conductors=3), load("new", "a", power_w=60, origin="added"),
        )  # fmt: skip
        found = only(RULE, built, "circuit")
        assert (found.outcome, found.stop) == (FAIL, True)
        assert "19.5 A" in found.says
        assert "A tie alone does not mend this." in " ".join(found.to_do)


@pytest.mark.parametrize(
    ("volts", "outcome"), [(0, FAIL), (20, FAIL), (120, UNDETERMINED), (208, CAUTION), (240, CAUTION)]
)
def test_what_the_volts_between_the_hots_tell(volts, outcome):
    # twice the voltage on the two legs of a house, 1.73 times (208 V) on two of three phases, none on one leg
    found = only(RULE, shared(poles=2, volts_between_hots_v=volts), "circuit")
    assert (found.outcome, found.stop) == (outcome, outcome is FAIL)
    if outcome is UNDETERMINED:
        assert found.needs == ("supply.volts_between_hots",)


def test_legs_that_nobody_read_are_asked_and_stop_nothing():
    found = only(RULE, shared(handle_tie=True, poles=1), "circuit")
    assert (found.outcome, found.needs, found.stop) == (UNDETERMINED, ("supply.volts_between_hots",), False)


def test_what_is_unknown_is_asked():
    found = only(RULE, shared(), "circuit")
    assert set(found.needs) == {"supply.volts_between_hots", "supply.poles", "supply.handle_tie"}
    found = only(RULE, circuit(supply(shared_neutral=None)), "circuit")
    assert (found.outcome, found.needs) == (UNDETERMINED, ("supply.shared_neutral",))


def test_both_legs_on_the_neutral_are_shown():
    # Opposite legs cancel, so the neutral carries at most the larger; on one leg they add: 15 A + 12 A = 27 A.
    found = only(RULE, shared(handle_tie=True, other_leg_current_a=12), "circuit")
    assert "27 A" in " ".join(found.working)


def test_with_the_other_leg_unknown_both_breakers_may_load_the_neutral():
    # Two 15 A breakers on one leg: 15 A + 15 A = 30 A on the neutral.
    assert "30 A" in " ".join(only(RULE, shared(handle_tie=True), "circuit").working)


@pytest.mark.parametrize("poles", [2, 3])
def test_a_breaker_of_two_or_three_poles_opens_all(poles):
    found = only(RULE, shared(poles=poles), "circuit")
    assert found.outcome is CAUTION
    assert found.needs == ()


def test_a_third_wire_from_the_panel_is_settled_by_what_it_is_for():
    assert findings(RULE, from_panel(carries="feed and switched")) == []
    assert findings(RULE, from_panel(carries="travelers")) == []
    found = only(RULE, from_panel(carries="two circuits"), "circuit")
    assert found.outcome is UNDETERMINED  # one pole, and nobody said whether the handles are tied
    assert set(found.needs) == {"supply.handle_tie", "supply.volts_between_hots"}


def test_a_third_wire_of_unknown_use_is_asked_about():
    found = only(RULE, from_panel(), "circuit")
    assert (found.outcome, found.needs) == (UNDETERMINED, ("cable.feed.carries",))


def test_a_third_wire_beside_a_feed_and_a_guess_settle_nothing():
    found = only(RULE, from_panel(carries="feed"), "circuit")
    assert (found.outcome, found.needs) == (UNDETERMINED, ("supply.shared_neutral",))
    guessed = from_panel(carries="feed and switched", known_by={"carries": "guess"})
    found = only(RULE, guessed, "circuit")
    assert (found.outcome, found.needs) == (UNDETERMINED, ("cable.feed.carries",))


def test_two_wires_settle_nothing():
    """Another circuit may have borrowed the neutral, so the question stays."""
    assert only(RULE, from_panel(2), "circuit").needs == ("supply.shared_neutral",)


def test_on_one_leg_the_current_of_this_circuit_is_what_is_there_and_what_is_added():
    """A reading covers what is there, not what is to come: 600 W / 120 V = 5 A listed and 240 W / 120 V = 2 A added.

    Read 6 A: 6 + 2 = 8 A; read 4 A: 5 + 2 = 7 A. The other circuit sends 3 A: 11 A and 10 A together.
    """
    for read, own, together in ((6, "8 A", "11 A"), (4, "7 A", "10 A"), (None, "7 A", "10 A")):
        on_it = supply(
            shared_neutral=True, handle_tie=True, volts_between_hots_v=0, other_leg_current_a=3, measured_current_a=read
        )
        lamps = load("old", "a", power_w=600), load("new", "a", power_w=240, origin="added")
        found = only(RULE, circuit(on_it, box("a"), *lamps), "circuit")
        assert found.stop
        assert f"the neutral carries {own} and 3 A together, {together}" in found.says


def test_what_the_lights_draw_is_looked_at_only_where_currents_add_up():
    """On opposite legs the neutral carries no more than the larger of the two currents, whatever the lights draw."""
    unknown = load("lamp", "a", power_w=None)
    parts = box("a"), cable("feed", "panel", "a", origin="existing"), unknown
    for volts, told in ((240, False), (3, True)):
        built = circuit(supply(shared_neutral=True, handle_tie=True, volts_between_hots_v=volts), *parts)
        found = only(RULE, built, "circuit")
        assert any("lamp" in key for key in found.assumed_keys) is told


def test_what_is_asked_and_where_to_look_follows_the_answer():
    told = only(RULE, shared(handle_tie=True, volts_between_hots_v=240), "circuit")
    assert len(told.ask) == 1
    assert told.keys[0] == "supply.handle_tie"
    alone = only(RULE, shared(handle_tie=False, poles=1, volts_between_hots_v=240), "circuit")
    assert len(alone.ask) == 2  # breakers that open alone were allowed once
    unread = only(RULE, shared(handle_tie=True, volts_between_hots_v=150), "circuit")
    assert (unread.keys, unread.ask) == (("supply.volts_between_hots",), ())
    assert "breakers open together: yes" in told.working
    assert "breakers open together: no" in alone.working


def test_an_odd_reading_is_told_beside_breakers_that_open_alone():
    odd = "150 V between the hots fits neither opposite legs nor one leg of 120 V"
    alone = only(RULE, shared(handle_tie=False, poles=1, volts_between_hots_v=150), "circuit")
    assert alone.outcome is FAIL
    assert odd in alone.says
    assert odd not in only(RULE, shared(handle_tie=False, poles=1, volts_between_hots_v=240), "circuit").says


def test_the_working_adds_what_is_read_or_taken_of_the_other_circuit():
    """Opposite legs: the larger of 15 A and 12 A (or 20 A); one leg: 15 + 12 = 27 A, 15 + 20 = 35 A, 15 + 15 = 30 A."""
    for other, larger, guess, together in (
        (12, "15 A", "12 A", "27 A"),
        (20, "20 A", "20 A", "35 A"),
        (None, "15 A", "15 A (as much as this one, since nobody measured it)", "30 A"),
    ):
        found = only(RULE, shared(poles=2, volts_between_hots_v=240, other_leg_current_a=other), "circuit")
        assert found.working[1] == (
            f"neutral, hots on different legs: at most the larger of the two, {larger}; hots on one leg: up to 15 A + "
            f"{guess} = {together} on a wire that no breaker protects from overload"
        )


def test_whoever_looks_turns_off_both_breakers_first():
    assert (
        only(RULE, shared(poles=2, volts_between_hots_v=150), "circuit")
        .to_do[-1]
        .startswith("Turn off both breakers, and test every conductor")
    )


@pytest.mark.parametrize(("poles", "outcome"), [(1, FAIL), (2, CAUTION)])
def test_two_poles_open_together(poles, outcome):
    assert only(RULE, shared(poles=poles, handle_tie=False, volts_between_hots_v=240), "circuit").outcome is outcome
