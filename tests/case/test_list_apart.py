"""The list of loads once more: the same circuit, whose open entries are entries of their own."""

import pytest

from circuitcheck.case import LESS, MORE
from circuitcheck.case.case import Gone
from circuitcheck.case.choice import bits_of
from circuitcheck.case.list_apart import (
    MOTOR,
    RATED,
    SHARING,
    gone_apart,
    gone_less,
    kinds_apart,
    list_apart,
    listed_less,
)
from circuitcheck.case.making import case_of
from circuitcheck.case.waiting import open_entries
from circuitcheck.refs import Ref
from tests.rules.build import book, box, cable, circuit, driver, load, supply

APART = RATED, MOTOR, SHARING


@pytest.fixture(scope="module")
def case():
    loads = load("l", "b", current_a=(1, 3)), load("known", "b", power_w=60), load("bare", "b", power_w=None)
    parts = supply(voltage_v=(110, 125)), box("b"), cable("f", "panel", "b", length_m=(5, 9))
    return case_of(circuit(*parts, *loads, driver("d", "b", input_current_a=(0.2, 0.6))), book())


def test_it_is_made_once(case):
    assert list_apart(case) is list_apart(case) is not case


def test_supply_loads_and_drivers_are_entries_of_their_own_and_nothing_else(case):
    apart = list_apart(case)
    assert apart.cables is case.cables
    assert apart.boxes is case.boxes
    least = {"listed load.current": 1, "listed supply.voltage": 110, "listed driver.input_current": 0.2}
    most = {"load.current": 3, "supply.voltage": 125, "driver.input_current": 0.6, "cable.length": 9}
    with case.reading.at(lambda entry: {**least, **most}.get(entry.kind)):
        assert (apart.loads[0].current_a, case.loads[0].current_a) == (1, 3)
        assert (apart.supply.voltage_v, case.supply.voltage_v) == (110, 125)
        assert (apart.drivers[0].input_current_a, case.drivers[0].input_current_a) == (0.2, 0.6)
        assert apart.cables[0].length_m == 9
    assert apart.loads[1].power_w == 60
    assert apart.loads[0].id == "l"


def test_each_asks_for_what_a_person_would_find_out(case):
    here, there = (open_entries(each.loads[0])["current_a"] for each in (case, list_apart(case)))
    assert (there.ref, there.title, there.attribute) == (here.ref, here.title, here.attribute)
    assert there.possible == here.possible
    assert there.bit != here.bit
    loads = (*list_apart(case).loads, *case.loads)
    entries = {id(each): each.bit for part in loads for each in open_entries(part).values()}
    assert len(set(entries.values())) == len(entries)


def test_each_stands_right_behind_what_a_person_would_find_out():
    lamp = load("l", "b", kind=None, fan=None, power_w=None, current_a=None)
    case = case_of(circuit(box("b"), cable("f", "panel", "b"), lamp), book())
    parts = case.loads[0], list_apart(case).loads[0], *(kinds_apart(case, word)[case.loads[0]] for word in APART)
    entries = {entry: None for part in parts for entry in open_entries(part).values()}
    kinds = [entry.kind for entry in case.reading.entries_of(bits_of(entries))]
    at = kinds.index("load.kind")
    words = "", "listed ", "rated ", "motor ", "sharing "
    assert kinds[at : at + 5] == [f"{word}load.kind" for word in words]
    assert kinds[:at] == []
    others = [kind.removeprefix("listed ") for kind in kinds[at + 5 :]]
    assert others[::2] == others[1::2]
    assert "load.power" in others


def test_of_a_load_that_goes_too():
    case, found = (case_of(circuit(box("b"), *each), book()) for each in ((), [load("went", "b", kind=None, fan=None)]))
    case.gone, case.reading = (Gone(found.loads[0], has_watts=True),), found.reading
    parts = found.loads[0], *gone_apart(case).values()
    entries = {entry: None for part in parts for entry in open_entries(part).values()}
    kinds = [entry.kind for entry in found.reading.entries_of(bits_of(entries))]
    assert kinds[:3] == ["load.kind", "gone load.kind", "load.fan"]


def test_what_has_no_bound_has_one_there(case):
    """What is left of a reading is never more than the reading."""
    here, there = (open_entries(each.loads[2])["power_w"] for each in (case, list_apart(case)))
    assert not here.possible.bounded
    assert there.possible.bounded
    assert there.possible.assumed == ""
    assert there.possible.options == here.possible.options


def test_what_is_worse_is_turned_round(case):
    def by_half(value, part, case):
        return value / 2

    turned = listed_less({"load.power": MORE, "supply.voltage": LESS, "load.fitted": by_half})
    assert turned["listed load.power"] is LESS
    assert turned["listed supply.voltage"] is MORE
    assert turned["listed load.fitted"](6, None, case) == -3
    assert set(turned) == {"listed load.power", "listed supply.voltage", "listed load.fitted"}


def test_what_a_load_is_stands_apart_for_each_question():
    case = case_of(circuit(box("b"), load("l", "b", kind=None, current_a=(1, 3)), load("lamp", "b", power_w=9)), book())
    rated, motor = kinds_apart(case, "rated"), kinds_apart(case, "motor")
    assert kinds_apart(case, "rated") is rated is not motor
    assert rated[case.loads[1]] is case.loads[1]
    chosen = {"load.kind": "light", "load.current": 2}
    for kinds, own in ((rated, "receptacle"), (motor, "fan")):
        apart = kinds[case.loads[0]]
        entry = open_entries(apart)["kind"]
        with case.reading.at(lambda each, entry=entry, own=own: own if each is entry else chosen.get(each.kind)):
            assert (apart.kind, apart.current_a, case.loads[0].kind) == (own, 2, "light")


def test_whether_a_load_shares_the_circuit_stands_apart_with_its_connection():
    case = case_of(circuit(box("b"), load("l", "b", kind=None, connection=None, current_a=(1, 3))), book())
    apart = kinds_apart(case, SHARING)[case.loads[0]]
    own = {open_entries(apart)[name]: value for name, value in (("kind", "fan"), ("connection", "cord"))}
    assert [entry.kind for entry in own] == ["sharing load.kind", "sharing load.connection"]
    chosen = {"load.kind": "light", "load.connection": "hardwired", "load.current": 2}
    with case.reading.at(lambda entry: own.get(entry) or chosen.get(entry.kind)):
        assert (apart.kind, apart.connection, apart.current_a) == ("fan", "cord", 2)
        assert (case.loads[0].kind, case.loads[0].connection) == ("light", "hardwired")


def test_what_a_load_that_goes_drew_stands_apart_and_nothing_else():
    loads = load("went", "b", kind=None, power_w=(5, 9), on_at_reading=None), load("turned", "b", power_w=(5, 9))
    case, found = (case_of(circuit(box("b"), *each), book()) for each in ((), loads))
    case.gone, case.reading = tuple(Gone(each, has_watts=True) for each in found.loads), found.reading
    case.replaced = frozenset({Ref("load", "turned")})  # what that one drew is none of the new one's entries
    apart = gone_apart(case)
    assert gone_apart(case) is apart
    assert list(apart) == list(found.loads)
    went = apart[found.loads[0]]
    chosen = {"gone load.power": 5, "load.power": 9, "gone load.kind": "light", "load.kind": "fan"}
    with found.reading.at(lambda entry: chosen.get(entry.kind, True)):
        assert (went.power_w, went.kind, went.on_at_reading) == (5, "light", True)
        assert (found.loads[0].power_w, found.loads[0].kind) == (9, "fan")
    assert {str(entry.ref) for entry in open_entries(went).values() if entry.kind.startswith("gone ")} == {
        "load.went.power", "load.went.kind",
    }  # fmt: skip
    assert gone_less({"load.power": LESS}) == {"gone load.power": LESS}


@pytest.mark.parametrize(
    ("given", "most"),
    [({"power_w": 60}, 60), ({"power_w": (40, 60)}, 60), ({"power_w": 60, "fitted_w": 9}, None),
     ({"power_w": 60, "kind": "heater"}, None), ({"power_w": 60, "kind": None}, None), ({"current_a": 1}, None)],
)  # fmt: skip
def test_of_a_light_that_goes_the_lamp_is_open_up_to_its_label(given, most):
    went = load("went", "b", **{"kind": "light", "power_w": None, "on_at_reading": True} | given)
    case = case_of(circuit(box("b"), went), book())
    case.gone = (Gone(case.loads[0], has_watts=went.power_w is not None),)
    lamp = open_entries(gone_apart(case)[case.loads[0]]).get("fitted_w")
    assert (lamp and lamp.possible.options) == (None if most is None else (0.0, most))
    assert lamp is None or (lamp.kind, lamp.path) == ("gone load.fitted", "load.went.fitted")
    assert "fitted_w" not in open_entries(case.loads[0])
