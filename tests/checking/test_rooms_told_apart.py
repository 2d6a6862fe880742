"""Rooms that are alike for a rule: it answers the same of each, and otherwise of those told apart."""

from dataclasses import replace
from itertools import combinations
from operator import attrgetter

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking import case_rules
from circuitcheck.checking.asking import Asker, subjects_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.tables.rulebook import load_rulebook
from tests.rules.build import EDITIONS, box, cable, circuit, driver, load, site, supply

ROOMS = SECTIONS["box"].keys["room"].words
USES = SECTIONS["supply"].keys["serves"].words
RULES = {rule.name: rule for rule in case_rules() if "box.room" in rule.alike}


#: Its sentences name the room that they are about.
NAMES_ITS_ROOM = "ground-fault"


def light(**given):
    return load("x", "b", origin="added", power_w=9, **given)


#: What each question of the rule asks of a room: whose receptacles want a circuit of their own (210.11(C), 210.52),
#: what such a circuit may feed besides, fans on 10 A (210.23(A)), lights on over 120 V in a dwelling unit (210.6(A)).
CIRCUITS = {
    "extend-circuit": [
        *(circuit(supply(serves=use), box("b"), light(), site(wired=2022, garage_bays=1)) for use in USES),
        *(circuit(supply(serves=use), box("b"), load("x", "b", kind="receptacle", origin="added")) for use in USES),
        circuit(supply(breaker_a=10), box("b"), light(kind="fan", fan="exhaust")),
        circuit(supply(voltage_v=240), box("b"), light(), site(dwelling_units=1)),
        circuit(supply(voltage_v=240), box("b"), light(), site(dwelling_units=4)),
    ],
    # What is outdoors is beyond the wall; in a crawl space the cable is as wet as its end.
    "cable-place": [
        circuit(
            box("b", location=wet),
            cable("c", "panel", "b", type=kind, place=place, run="on a surface", concealed=False),
        )
        for place in ("inside", "crawl space")
        for wet in ("dry", "damp", "wet")
        for kind in ("NM-B", "UF-B")
    ],
    # Lights, receptacles, equipment and drivers have lists of rooms of their own, in dwellings and elsewhere.
    "ground-fault": [
        circuit(supply(protection="none"), box("b", location="dry"), part, site(dwelling=dwelling))
        for part in (
            light(),
            *(load("x", "b", kind=kind, origin="added") for kind in ("receptacle", "heater")),
            driver("x", "b", origin="added"),
        )
        for dwelling in (True, False)
    ],
}


def said_of_each(rule, built, book):
    """What a rule answers of a circuit whose box is in each room, all else being the same."""
    built = replace(built, boxes=tuple(replace(each, room=None) for each in built.boxes))
    case = case_of(built, book)
    entry = next((entry for entry in case.entries if entry.kind == "box.room"), None)
    asker = Asker(replace(rule, alike={}), case)
    words = attrgetter("template") if rule.name == NAMES_ITS_ROOM else str
    return {
        room: [
            answer and (answer.outcome, answer.value, answer.limit, words(answer.says))
            for answer in (
                asker.ask(each, worst=True, moved={} if entry is None else {entry: room}).answer
                for each in subjects_of(rule, case)
            )
        ]
        for room in ROOMS
    }


def test_each_rule_is_tried():
    assert set(RULES) == set(CIRCUITS)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", CIRCUITS)
def test_of_what_is_alike_the_answer_is_the_same_and_of_others_it_differs_somewhere(name, edition):
    rule, book = RULES[name], load_rulebook(edition)
    said = [said_of_each(rule, built, book) for built in CIRCUITS[name]]
    differ = 0
    for one, other in combinations(ROOMS, 2):
        same = all(each[one] == each[other] for each in said)
        alike = rule.alike["box.room"](one, book) == rule.alike["box.room"](other, book)
        assert same or not alike, (one, other)
        differ += not same
    assert differ
