"""Directions that random circuits hardly ever show, each in a circuit made by hand: as declared nothing becomes better,
and turned round it is noticed.
"""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking import case_rules
from circuitcheck.circuit.change import Change
from circuitcheck.circuit.model import Device
from circuitcheck.circuit.planning import as_planned
from circuitcheck.quantities import to_si
from circuitcheck.refs import Ref
from tests.checking.directions import REASONS, try_in, turned
from tests.checking.shown import is_wrong
from tests.rules.build import (
    FOOT,
    between,
    book,
    box,
    cable,
    circuit,
    control,
    driver,
    load,
    low_voltage_load,
    site,
    supply,
)

RULES = {rule.name: rule for rule in case_rules()}


def garage():
    light = load("lamp", "new", origin="added")
    return circuit(
        supply(serves="garage"),
        site(room="garage", wired=2024, garage_bays=None),
        box("new", origin="added", room="garage"),
        cable("run", "panel", "new"),
        light,
    )


def stair(kind="switch", **up):
    return circuit(
        site(room="stairway", stair_risers=13),
        box("low"),
        box("new", origin="added"),
        cable("feed", "panel", "low", origin="existing", carries="feed"),
        cable("up", "low", "new", origin="existing", **({"carries": "switched", "switched_by": "one"} | up)),
        control("one", "low", origin="existing", kind=kind, ways="three-way" if up else "single-pole"),
        load("lamp", "new", origin="added"),
    )


def joists(**given):
    run = cable("run", "panel", "new", run="across framing", concealed=False, **given)
    return circuit(box("new", origin="added", room="basement"), run)


def ceiling(conductors, hangs):
    return circuit(
        box("new", origin="added", room="bedroom", mounting="framing", made_for="luminaire", fan_could_hang=hangs),
        cable("run", "panel", "new", conductors=conductors),
        load("lamp", "new", origin="added", mounting="ceiling", weight_kg=2),
    )


def reading(loaded, amperes=12, unloaded=120, breaker=15, **way):
    return circuit(
        supply(
            loaded_at="end",
            measured_voltage_v=unloaded,
            loaded_voltage_v=loaded,
            loaded_current_a=amperes,
            breaker_a=breaker,
        ),
        box("end"),
        cable("run", "panel", "end", origin="existing", **({"length_m": 52 * FOOT} | way)),
    )


def low_voltage(**lead):
    given = {"type": "UF-B", "size": "14 AWG", "ambient_c": 50, "length_m": 3} | lead
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic"),
        driver("driver", "attic", output_voltage_v=12, output_power_w=60, class_2=True),
        cable("lead", "driver", "lamp", **given),
        low_voltage_load("lamp", power_w=12, kind="constant current"),
    )


def lamp_taken_away(reading_a=14):
    """14 A were read; nobody knows whether a lamp of 5 A that goes was on."""
    old, new = (
        load("old", "there", origin="existing", power_w=None, current_a=5, on_at_reading=None),
        load("lamp", "there", origin="added", power_w=600),
    )
    there = cable("run", "panel", "there", origin="existing", type="NM-B", size="14 AWG")
    found = circuit(supply(measured_current_a=reading_a), box("there"), there, old, new)
    return as_planned(replace(found, changes=(Change(part=Ref("load", "old", ""), action="remove"),)))


def read_before(**given):
    """10 A are added at the end; 9 A were read beside, and none of it flows to what is only added.

    12 AWG may carry 20 A (240.4(D)): 10 A where all is added, up to 10 + 1.25 x 9 = 21.25 A where something was there.
    """
    guessed = {"origin": "added", "known_by": {"origin": "guess"}}
    return circuit(
        supply(measured_current_a=9), box("a", origin="existing"), cable("feed", "panel", "a", origin="existing"),
        box("b", **(guessed if "box" in given else {"origin": "added"})),
        cable("new", "a", "b", size="12 AWG", **(guessed if "cable" in given else {"origin": "added"})),
        load("lights", "b", current_a=10, origin="added"),
    )  # fmt: skip


def lit_strip():
    """2 m at 30 to 70 W/m: 60 to 140 W, and a class 2 source of 24 V may give 100."""
    strip = low_voltage_load("strip", power_w=None, power_per_length_w_per_m=between(30, 70), length_m=2)
    source = driver("driver", "attic", output_voltage_v=24, output_power_w=96, class_2=True)
    return circuit(box("attic"), cable("feed", "panel", "attic"), source, cable("lead", "driver", "strip"), strip)


def dimmed(volts=120, **draws):
    """A dimmer for 30 to 150 W of LED, and one lamp behind it."""
    return circuit(
        supply(voltage_v=volts),
        box("wall"),
        cable("feed", "panel", "wall"),
        control("dimmer", "wall", kind="dimmer", rated_led_w=150, min_load_w=30),
        load("lamp", "wall", lamp="LED", switched_by="dimmer", **draws),
    )


def many_switches():
    """Five sensors without a neutral are allowed on a circuit; the sixth control may be one more."""
    sensors = [control(f"s{number}", "wall", kind="sensor", origin="added", needs_neutral=False) for number in range(5)]
    more = control("more", "wall", kind=None, origin="existing", needs_neutral=False)
    feed = cable("feed", "panel", "wall", origin="existing")
    return circuit(site(room="garage"), box("wall", neutral=False), feed, *sensors, more)


def dimmed_stair(kind="light", **up):
    """A dimmer below, its partner above only switches; the light is fed from below."""
    return circuit(
        site(room="stairway", stair_risers=13),
        box("below"),
        box("above"),
        box("new", origin="added"),
        cable("feed", "panel", "below", origin="existing", carries="feed"),
        cable("across", "below", "above", origin="existing", conductors=3, carries="travelers"),
        cable("up", "below", "new", origin="existing", switched_by="low", **({"carries": "switched"} | up)),
        control("low", "below", origin="existing", kind="dimmer", ways="three-way", with_id="high"),
        control("high", "above", origin="existing", kind="switch", ways="three-way"),
        load("lamp", "new", origin="added", kind=kind),
    )


def last_light():
    """The one light of a bedroom goes; nobody says whether it is a dwelling's."""
    old, new = load("old", "there", origin="existing", mounting="ceiling"), load("lamp", "hall", origin="added")
    found = circuit(
        site(room="bedroom", dwelling=None),
        box("there", room="bedroom"),
        box("hall", origin="added", room="hallway"),
        cable("run", "panel", "there", origin="existing"),
        cable("on", "there", "hall"),
        old,
        new,
    )
    return as_planned(replace(found, changes=(Change(part=Ref("load", "old", ""), action="remove"),)))


def fitted():
    guessed = {"fittings": "guess"}
    new = box("new", origin="added", volume_m3=to_si(18, "in^3"), fittings=("stud",), known_by=guessed)
    return circuit(new, cable("run", "panel", "new"), load("lamp", "new", origin="added"))


def two_receptacles(breaker, **run):
    """Two receptacles, or none: with more than one the next standard rating up may not be taken."""
    given = {"type": "NM-B", "length_m": 3} | run
    held = box("b", devices=(Device(kind="receptacle"),) * 2, known_by={"devices": "guess"})
    return circuit(supply(breaker_a=breaker), held, cable("run", "panel", "b", **given), load("lamp", "b", power_w=600))


def equipment_and(**given):
    """A fan of 8 A, which is too much of 15 A once something shares the circuit, and a thing that may do so."""
    fan, thing = (
        load("fan", "b", kind="fan", current_a=8),
        load("thing", "b", **({"kind": "fan", "power_w": 60} | given)),
    )
    return circuit(box("b"), fan, thing)


def before_its_switch(**lamp):
    """A light that is perhaps new, on a box from which two wires that are called a feed go down to its switch."""
    feeds = cable("feed", "panel", "b", origin="existing"), cable("down", "b", "s", origin="existing", carries="feed")
    light = load("lamp", "b", **({"switched_by": "one", "replaces": False} | lamp))
    return circuit(box("b"), box("s"), *feeds, control("one", "s", origin="existing", ways="single-pole"), light)


def alarm_behind(switch, **alarm):
    """An alarm that the switch at the door turns off."""
    feed, up = (
        cable("feed", "panel", "door", origin="existing", carries="feed"),
        cable("up", "door", "b", origin="existing", carries="switched", switched_by="one"),
    )
    smoke = load("smoke", "b", **({"kind": "alarm", "power_w": 5} | alarm))
    return circuit(box("door"), box("b"), feed, up, control("one", "door", **switch), smoke)


LONG = 150 * FOOT
#: The check, the entry, the circuit, and the edition of the code.
SHOWN = [
    ("dimmer-rating", "load.power", dimmed(power_w=between(60, 240)), "nec-2023"),
    ("dimmer-rating", "load.apparent", dimmed(apparent_va=between(60, 240)), "nec-2023"),
    ("dimmer-rating", "load.current", dimmed(current_a=between(0.5, 2)), "nec-2023"),
    ("dimmer-rating", "load.fitted", dimmed(power_w=60, fitted_w=between(60, 240)), "nec-2023"),
    # 0.25 A x 110 to 127 V is 27.5 to 31.75 VA; 1.25 A is 137.5 to 158.75 VA
    ("dimmer-least-load", "supply.voltage", dimmed((110, 127), current_a=0.25), "nec-2023"),
    ("dimmer-rating", "supply.voltage", dimmed((110, 127), current_a=1.25), "nec-2023"),
    ("neutral-at-switch", "control.kind", many_switches(), "nec-2023"),
    ("extend-circuit", "site.garage_bays", garage(), "nec-2023"),
    ("stair-switch", "control.kind", stair(kind=None), "nec-2023"),
    ("stair-switch", "cable.carries", stair(carries="feed", known_by={"carries": "guess"}), "nec-2023"),
    ("cable-under-joists", "cable.conductors", joists(size="8 AWG", conductors=None), "nec-2023"),
    ("cable-under-joists", "cable.size", joists(size="6 AWG", known_by={"size": "guess"}), "nec-2023"),
    ("box-support", "cable.conductors", ceiling(conductors=None, hangs=True), "nec-2017"),
    ("ampacity", "load.on_at_reading", lamp_taken_away(), "nec-2023"),
    ("ampacity", "cable.origin", read_before(cable=True), "nec-2023"),
    ("ampacity", "box.origin", read_before(box=True), "nec-2023"),
    ("load-share", "load.on_at_reading", lamp_taken_away(), "nec-2023"),
    ("measured-current", "load.on_at_reading", lamp_taken_away(5.5), "nec-2023"),
    ("class-2", "low_voltage_load.power_per_length", lit_strip(), "nec-2023"),
    ("low-voltage-cable", "cable.place", low_voltage(insulation_temperature_c=90, place=None), "nec-2023"),
    ("stair-dimmer", "load.kind", dimmed_stair(kind=None), "nec-2023"),
    ("stair-dimmer", "cable.carries", dimmed_stair(carries="feed", known_by={"carries": "guess"}), "nec-2023"),
    ("switched-lighting", "site.dwelling", last_light(), "nec-2023"),
    ("box-fill", "box.fittings", fitted(), "nec-2023"),
    # 10 AWG in 60 degC air: 40 x 0.71 = 28.4 A, the next rating is 30 A. 6 AWG: 55 A, the next is 60 A.
    ("ampacity", "box.devices", two_receptacles(30, size="10 AWG", ambient_c=60), "nec-2023"),
    ("breaker-vs-wire", "box.devices", two_receptacles(60, size="6 AWG", ambient_c=30), "nec-2023"),
    ("switch-wires", "load.origin", before_its_switch(origin="added", known_by={"origin": "guess"}), "nec-2023"),
    ("alarm-switch", "load.origin",
     alarm_behind({"origin": "existing"}, origin="added", known_by={"origin": "guess"}), "nec-2023"),
    ("alarm-switch", "control.origin", alarm_behind({"origin": "added", "known_by": {"origin": "guess"}}), "nec-2023"),
    ("fixed-equipment-share", "sharing load.kind", equipment_and(kind=None), "nec-2023"),
    ("fixed-equipment-share", "sharing load.connection", equipment_and(connection=None), "nec-2023"),
    ("loaded-voltage", "supply.loaded_current", reading(115, amperes=between(4, 14)), "nec-2023"),
    ("loaded-voltage", "supply.measured_voltage", reading(115, unloaded=between(119, 124)), "nec-2023"),
    ("loaded-voltage", "cable.length", reading(115, length_m=between(30 * FOOT, LONG)), "nec-2023"),
    ("loaded-voltage", "cable.material", reading(115, material=None, size="12 AWG", type="NM"), "nec-2023"),
    ("loaded-voltage", "cable.size", reading(115, size=None), "nec-2023"),
    ("loaded-voltage", "cable.stranding", reading(115, stranding=None, type="AC", length_m=LONG), "nec-2023"),
    ("loaded-voltage", "cable.conductor_temperature",
     reading(115, conductor_temperature_c=between(20, 75), length_m=LONG), "nec-2023"),
]  # fmt: skip


@pytest.mark.parametrize(("check", "kind", "built", "edition"), SHOWN, ids=[f"{each[0]}: {each[1]}" for each in SHOWN])
def test_the_direction_is_declared_right(check, kind, built, edition):
    case = case_of(built, book(edition))
    assert not is_wrong(try_in(case, RULES[check], 0, kind))
    assert is_wrong(try_in(case, turned(RULES[check], kind), 0, kind))


def test_what_is_shown_here_is_not_listed_as_unseen():
    """The list of what no random case tells apart names this file where a case by hand does."""
    by_hand = {(each[0], each[1]) for each in SHOWN}
    for each in REASONS["unseen"]:
        named = {(check, kind) for check in each["checks"] for kind in each["kinds"]}
        assert not named & by_hand or (named <= by_hand and "test_directions_by_hand" in each["why"])
