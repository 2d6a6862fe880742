"""Two entries that cannot both be true are both named, and neither is dropped."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.rules.evidence.contradicting_entries import RULE
from tests.rules.build import box, cable, circuit, driver, findings, load, low_voltage_load, site, supply


def asked(*parts):
    return [(found.subject, found.outcome, found.needs) for found in findings(RULE, circuit(*parts))]


@pytest.mark.parametrize(
    ("nominal", "read", "contradicts"),
    [
        # ANSI C84.1, service voltage, range B: 110 to 127 V at 120 V, twice that at 240 V
        (120, 110, False),
        (120, 127, False),
        (240, 220, False),
        (240, 254, False),
        (240, 121, True),
        (120, 241, True),
        (240, 208, True),
        (120, (100, 120), False),
    ],
)
def test_a_reading_of_another_nominal_voltage(nominal, read, contradicts):
    told = asked(supply(voltage_v=nominal, measured_voltage_v=read))
    keys = ("supply.voltage", "supply.measured_voltage")
    assert told == ([("circuit", Outcome.UNDETERMINED, keys)] if contradicts else [])


@pytest.mark.parametrize(("loaded", "contradicts"), [(115, False), (118.5, False), (121, True), ((116, 121), False)])
def test_a_load_never_raises_the_voltage(loaded, contradicts):
    """Current through wire loses volts (U = R x I); a loose neutral shared with another circuit can raise them."""
    found = findings(RULE, circuit(supply(measured_voltage_v=118, loaded_voltage_v=loaded)))
    assert [each.needs for each in found] == (
        [("supply.loaded_voltage", "supply.measured_voltage")] if contradicts else []
    )
    assert all("neutral" in each.to_do[-1] for each in found)


def panel_cable(conductors, **given):
    return asked(supply(**given), box("a"), cable("feed", "panel", "a", conductors=conductors))


def test_two_poles_and_three_wires_look_like_a_shared_neutral():
    """NFPA 70, Article 100: a multiwire circuit has two hots with a voltage between them, and one neutral."""
    keys = ("supply.poles", "supply.shared_neutral", "cable.feed.conductors")
    assert panel_cable(3, poles=2, shared_neutral=False) == [("circuit", Outcome.UNDETERMINED, keys)]
    assert panel_cable(2, poles=2, shared_neutral=False) == []
    assert panel_cable(3, poles=1, shared_neutral=False) == []
    assert panel_cable(3, poles=2, shared_neutral=True) == []
    assert panel_cable(3, poles=2, shared_neutral=None) == []
    assert panel_cable(3, poles=2, shared_neutral=False, voltage_v=240) == []
    assert panel_cable(3, poles=2, shared_neutral=False, known_by={"poles": How.GUESS}) == []


def test_a_branch_cable_has_a_wire_there_and_one_back():
    """NFPA 70, 300.3(B): all conductors of a circuit in one cable; with one alone no current flows."""

    def told(**more):
        return asked(
            box("a"),
            box("new", origin="added"),
            cable("feed", "panel", "a", origin="existing", **more),
            cable("run", "a", "new"),
            load("lamp", "new", origin="added"),
        )

    assert told(conductors=1) == [("feed", Outcome.UNDETERMINED, ("cable.feed.conductors",))]
    assert told(conductors=2) == told(conductors=None) == told(conductors=1, known_by={"conductors": How.GUESS}) == []


def test_a_light_on_120_volts_needs_a_neutral_in_its_box():
    """NFPA 70, 300.3(B), 250.6: its current returns through the neutral, never through the equipment ground."""

    def told(run="added", lamp="added", voltage_v=120, **more):
        return asked(
            supply(voltage_v=voltage_v),
            box("a"),
            box("end", origin=run, **{"neutral": False, **more}),
            cable("feed", "panel", "a", origin="existing"),
            cable("run", "a", "end", origin=run, carries="switched"),
            load("lamp", "end", origin=lamp),
        )

    question = [("end", Outcome.UNDETERMINED, ("box.end.neutral", "load.lamp.box"))]
    assert told() == told(run="existing") == told(run="existing", lamp="existing") == question
    assert told(neutral=True) == told(neutral=None) == told(known_by={"neutral": How.GUESS}) == []
    assert told(voltage_v=240) == []
    # a new cable to an old box brings one
    assert (
        asked(
            box("end", origin="existing", neutral=False),
            cable("run", "panel", "end", origin="added"),
            load("lamp", "end", origin="added"),
        )
        == []
    )


def grounded(feed=None, on=None, **first):
    """A ground is said to be in box b, which the added light hangs on."""
    return asked(
        box("a", **first),
        box("b", ground=True),
        box("new", origin="added", ground=True),
        cable("feed", "panel", "a", origin="existing", **(feed or {})),
        cable("on", "a", "b", origin="existing", **(on or {})),
        cable("run", "b", "new"),
        load("lamp", "new", origin="added"),
    )


def test_a_ground_in_a_box_comes_with_a_cable():
    """NFPA 70, 250.130(C): else by a wire of its own, from one of the points that the code lists."""
    assert grounded() == []
    assert grounded(on={"ground": False}) == [("b", Outcome.UNDETERMINED, ("box.b.ground", "cable.on.ground"))]
    assert grounded(feed={"ground": False}) == [("b", Outcome.UNDETERMINED, ("box.b.ground", "cable.feed.ground"))]
    assert grounded(ground=False) == [("b", Outcome.UNDETERMINED, ("box.b.ground", "box.a.ground"))]
    # told where it is said first; what comes after it starts from there
    assert grounded(feed={"ground": False}, ground=True) == [
        ("a", Outcome.UNDETERMINED, ("box.a.ground", "cable.feed.ground"))
    ]
    assert grounded(on={"ground": False, "known_by": {"ground": How.GUESS}}) == []


def test_armored_cable_brings_a_ground_by_its_kind():
    """Old armored cable without a bonding strip brings none (the table of cable types); AC does without a wire."""
    assert grounded(on={"type": "AC", "ground": False}) == []
    kind = ("b", Outcome.UNDETERMINED, ("box.b.ground", "cable.on.type"))
    assert grounded(on={"type": "BX", "ground": None}) == [kind]
    assert grounded(on={"type": None, "sheath": "metal armor", "ground": None}) == [kind]
    assert grounded(on={"type": None, "sheath": "metal armor", "ground": False}) == [kind]
    assert grounded(on={"type": None, "ground": None}) == []


def test_a_box_that_the_work_does_not_lead_through_is_not_asked_about():
    assert (
        asked(
            box("a"),
            box("side", ground=True),
            box("new", origin="added"),
            cable("feed", "panel", "a", origin="existing"),
            cable("off", "a", "side", origin="existing", ground=False),
            cable("run", "a", "new"),
        )
        == []
    )


@pytest.mark.parametrize(
    ("given", "key"),
    [
        ({"input_power_w": 50, "input_current_a": None}, "input_power"),
        ({"input_power_w": 60, "input_current_a": None}, ""),
        ({"input_current_a": 0.4}, "input_current"),  # 0.4 A x 120 V = 48 VA, less than the 60 W that come out
        ({"input_current_a": 0.5}, ""),
        ({"input_current_a": (0.4, 0.6)}, ""),
    ],
)
def test_a_driver_gives_no_more_than_it_takes(given, key):
    told = asked(box("a"), driver("d", "a", **given))
    assert [needs for _, _, needs in told] == ([(f"driver.d.{key}", "driver.d.output_power")] if key else [])


def test_a_lamp_above_the_label_is_told_as_a_caution():
    """NFPA 70, 110.3(B): used as it is marked."""
    keys = ("load.lamp.fitted", "load.lamp.power")
    assert asked(box("a"), load("lamp", "a", power_w=60, fitted_w=100)) == [("lamp", Outcome.CAUTION, keys)]
    assert asked(box("a"), load("lamp", "a", power_w=60, fitted_w=60)) == []
    assert asked(box("a"), load("lamp", "a", current_a=0.5, fitted_w=75))[0][2][1] == "load.lamp.current"
    assert asked(box("a"), load("lamp", "a", apparent_va=60, fitted_w=75))[0][2][1] == "load.lamp.apparent"


@pytest.mark.parametrize(("volts", "conductors", "count"), [(240, 2, 1), (240, 3, 0), (120, 2, 0), (240, None, 0)])
def test_a_two_wire_circuit_of_240_v_has_no_neutral(volts, conductors, count):
    """Both wires come from a pole of the breaker."""
    parts = (box("a", neutral=True), cable("in", "panel", "a", conductors=conductors))
    found = findings(RULE, circuit(supply(voltage_v=volts, poles=2), *parts))
    named = [each for each in found if "box.a.neutral" in each.needs]
    assert len(named) == count
    assert all("supply.voltage" in each.needs for each in named)


def two_wires_of_240_v(conductors=2, neutral=True, volts=240, box_known=None, **given):
    return asked(
        supply(voltage_v=volts),
        box("a", neutral=neutral, known_by=box_known or {}),
        cable("feed", "panel", "a", conductors=conductors, **given),
    )


def test_a_neutral_of_a_circuit_whose_two_wires_are_both_hot():
    """240 V between two wires of one cable leave no conductor for a neutral."""
    keys = ("box.a.neutral", "supply.voltage", "cable.feed.conductors")
    assert two_wires_of_240_v() == [("a", Outcome.UNDETERMINED, keys)]
    assert two_wires_of_240_v(conductors=3) == []
    assert two_wires_of_240_v(neutral=False) == []
    assert two_wires_of_240_v(neutral=None) == []
    assert two_wires_of_240_v(volts=120) == []
    assert two_wires_of_240_v(known_by={"conductors": How.GUESS}) == []
    assert two_wires_of_240_v(box_known={"neutral": How.GUESS}) == []
    assert asked(supply(voltage_v=240), box("a", neutral=True)) == []  # no cable, so no two wires
    other = cable("other", "panel", "b", conductors=3)
    assert asked(supply(voltage_v=240), box("a", neutral=True), box("b"), cable("feed", "panel", "a"), other) == []


def test_two_poles_are_needed_for_the_question():
    assert panel_cable(3, poles=None, shared_neutral=False) == []
    assert panel_cable(None, poles=2, shared_neutral=False) == []


def test_the_volt_amperes_that_stand_against_the_output_are_told():
    """0.4 A x 120 V = 48 VA; 0.5 A x 120 V = 60 VA."""
    (found,) = findings(RULE, circuit(box("a"), driver("d", "a", input_current_a=0.4)))
    assert "an output of 60 W and an input of only 48 VA." in found.says
    (found,) = findings(RULE, circuit(box("a"), load("lamp", "a", current_a=0.5, fitted_w=75)))
    assert "has a 75 W lamp in it, more than the 60 VA of its label." in found.says


def test_the_watts_of_a_label_go_before_its_volt_amperes_and_amperes():
    for more in ({"current_a": 0.9}, {"apparent_va": 108}, {"current_a": 0.9, "apparent_va": 108}):
        (found,) = findings(RULE, circuit(box("a"), load("lamp", "a", power_w=60, fitted_w=100, **more)))
        assert found.needs == ("load.lamp.fitted", "load.lamp.power")
    assert asked(box("a"), load("lamp", "a", fitted_w=100)) == []


def test_a_load_of_the_branch_circuit_is_fed_by_no_low_voltage_cable():
    """NFPA 70, 110.3(B): a load is used at the voltage of its label, which is the circuit's and not the driver's."""
    way = box("near"), box("far"), box("beside"), cable("feed", "panel", "near"), driver("d", "near")
    thin = cable("thin", "d", "far", type="class 2 cable")
    on = cable("on", "far", "beside", type="class 2 cable")
    keys = ("load.lamp.box", "cable.thin.to")
    for origin in ("added", "existing"):
        assert asked(*way, thin, on, load("lamp", "far", origin=origin)) == [("lamp", Outcome.UNDETERMINED, keys)]
    found = asked(*way, thin, on, driver("e", "beside"))
    assert found == [("e", Outcome.UNDETERMINED, ("driver.e.box", "cable.on.to"))]
    for part, named in ((load("lamp", "far"), 'Load "lamp"'), (driver("e", "far"), 'Driver "e"')):
        (told,) = findings(RULE, circuit(*way, thin, on, part))
        assert told.says.startswith(f'{named} is listed on the branch circuit, but only low-voltage cable "thin" feeds')
    assert asked(*way, thin, on, load("lamp", "near"), driver("e", "near")) == []
    # both kinds of cable lead to the box: it is on the branch circuit, and another check asks how they stay apart
    assert asked(*way, thin, on, cable("run", "near", "far"), load("lamp", "far")) == []


@pytest.mark.parametrize(
    ("carries", "conductors", "shared", "contradicts"),
    [
        ("two circuits", 3, False, True),
        ("two circuits", 2, False, True),
        ("two circuits", None, False, True),
        ("two circuits", 3, True, False),
        ("two circuits", 3, None, False),
        ("two circuits", 4, False, False),  # 14/2/2: two hots, and a neutral for each
        ("feed and switched", 3, False, False),
    ],
)
def test_a_cable_of_two_circuits_shares_a_neutral(carries, conductors, shared, contradicts):
    """NFPA 70, Article 100, Branch Circuit, Multiwire: two hots and one neutral that both return through."""
    parts = box("a"), cable("feed", "panel", "a", conductors=conductors, carries=carries)
    keys = ("cable.feed.carries", "supply.shared_neutral")
    told = [("circuit", Outcome.UNDETERMINED, keys)] if contradicts else []
    assert asked(supply(shared_neutral=shared, poles=1), *parts) == told
    assert asked(supply(shared_neutral=shared, poles=1, known_by={"shared_neutral": How.GUESS}), *parts) == []


def test_a_cable_of_two_circuits_farther_on_shares_one_too():
    parts = box("a"), box("b"), cable("feed", "panel", "a"), cable("on", "a", "b", carries="two circuits")
    (found,) = asked(supply(shared_neutral=False), *parts)
    assert found[2] == ("cable.on.carries", "supply.shared_neutral")
    guess = cable("on", "a", "b", carries="two circuits", known_by={"carries": How.GUESS})
    assert asked(supply(shared_neutral=False), *parts[:3], guess) == []


def outdoors(room, location="dry", mounting=None, origin="added", site_room=None, guess=None):
    return asked(
        site(room=site_room),
        box("b", room=room, location=location, known_by={guess: How.GUESS} if guess else {}),
        cable("run", "panel", "b"),
        load("lamp", "b", origin=origin, mounting=mounting),
    )


def test_no_place_outdoors_is_dry():
    """NFPA 70, Article 100, Location, Damp: roofed open porches are damp; unprotected places are wet (text
    read at thebuildingcodeforum.com, thread 38781, and in Mike Holt forum, thread 12991)."""
    by_room = [("b", Outcome.UNDETERMINED, ("box.b.location", "box.b.room"))]
    by_light = [("b", Outcome.UNDETERMINED, ("box.b.location", "load.lamp.mounting"))]
    assert outdoors("porch") == outdoors("outdoors") == by_room
    assert outdoors("living room", mounting="outdoors") == outdoors(None, mounting="outdoors") == by_light
    assert outdoors("sunroom") == outdoors("garage") == outdoors("living room", mounting="wall") == []
    assert outdoors("porch", location="damp") == outdoors("porch", location="wet") == outdoors("porch", None) == []
    assert outdoors("porch", origin="existing") == []
    assert outdoors("porch", guess="location") == outdoors("porch", guess="room") == []
    assert outdoors(None, site_room="porch") == []  # an old box may be in any room


def test_a_low_voltage_light_outdoors_is_not_dry_either():
    def told(**given):
        parts = (
            box("b"),
            cable("feed", "panel", "b", origin="existing"),
            driver("d", "b"),
            cable("to", "d", "strip", type="class 2 cable"),
        )
        return asked(site(room="porch"), *parts, low_voltage_load("strip", **given))

    assert told(location="dry") == [("strip", Outcome.UNDETERMINED, ("low_voltage_load.strip.location", "site.room"))]
    assert told(location="dry", room="bedroom") == told(location="damp") == told() == []
