"""Words that are alike for a rule: it answers the same of each, and otherwise of each that it tells apart."""

from dataclasses import replace
from itertools import combinations

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking import case_rules
from circuitcheck.checking.asking import Asker, subjects_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.tables.rulebook import load_rulebook
from tests.generating.circuits import draw_circuit
from tests.generating.dice import Shares
from tests.rules.build import box, cable, circuit, control, load, supply

KINDS = SECTIONS["load"].keys["kind"].words
RULES = {rule.name: rule for rule in case_rules() if "load.kind" in rule.alike}
#: Little else is open in these, so that it shows what a load is.
KNOWN = Shares(left_out=0.0, ranges=0.0, guesses=0.0)


def said_of_each_kind(name, built, place=0):
    """What a rule answers of a circuit of which one load is of each kind, all else being the same."""
    if place >= len(built.loads):
        return dict.fromkeys(KINDS)
    unknown = replace(built.loads[place], kind=None)
    built = replace(built, loads=(*built.loads[:place], unknown, *built.loads[place + 1 :]))
    case = case_of(built, load_rulebook(built.job.rulebook))
    entry = next(entry for entry in case.entries if entry.kind == "load.kind")
    asker = Asker(replace(RULES[name], alike={}), case)
    said = {
        kind: [asker.ask(subject, worst=True, moved={entry: kind}).answer for subject in subjects_of(asker.rule, case)]
        for kind in KINDS
    }
    return {kind: [answer and (answer.outcome, answer.value, answer.limit) for answer in said[kind]] for kind in KINDS}


def told_apart(name, one, other):
    key, book = RULES[name].alike["load.kind"], load_rulebook("nec-2023")
    return key(one, book) != key(other, book)


@pytest.mark.parametrize("seeds", [range(5), pytest.param(range(5, 300), marks=pytest.mark.long)], ids=["few", "many"])
def test_of_what_is_alike_the_answer_is_the_same(seeds):
    for seed in seeds:
        built = draw_circuit(seed, KNOWN)
        for name in RULES:
            said = said_of_each_kind(name, built)
            for one, other in combinations(KINDS, 2):
                assert told_apart(name, one, other) or said[one] == said[other], (name, seed, one, other)


def added(room="hallway", **given):
    return box("b", room=room), load("x", "b", origin="added", **given)


OLD_FEED = cable("feed", "panel", "b", origin="existing", ground=False)

#: In these circuits each kind that a rule tells apart is seen to matter.
SHOWN = {
    "fixed-equipment-share": [circuit(*added(power_w=1500), load("lamp", "b", power_w=60))],
    "cord-load-share": [circuit(*added(power_w=1500))],
    "box-fill": [
        circuit(box("b", volume_m3=None, trade_size=None), load("x", "b", mounting="recessed", origin="added"))
    ],
    "extend-circuit": [
        circuit(supply(breaker_a=10), *added("bathroom", fan="exhaust")),
        circuit(supply(breaker_a=10), *added("bathroom", fan="paddle")),
        circuit(*added("kitchen")),
    ],
    "ground-fault": [circuit(*added("crawl space")), circuit(*added("bathroom"))],
    "bath-zone": [
        circuit(*added("bathroom", over_bath=True, height_over_bath_m=1.0)),
        circuit(*added("bathroom", over_bath=True, height_over_bath_m=1.0, fan="exhaust")),
    ],
    "equipment-ground": [
        circuit(*added(grounding="none")),
        circuit(*added(connection="cord")),
        # Where no ground is, a light alone may take another's place behind ground-fault protection (410.44).
        circuit(supply(protection="ground-fault"), OLD_FEED, *added(replaces=True)),
    ],
    "switched-feed": [circuit(*added())],
    "alarm-switch": [circuit(*added(switched_by="s"), control("s", "b"))],
    "cord-connected": [
        circuit(*added(connection="cord")),
        circuit(box("b"), load("x", "b"), load("lamp", "b", connection="cord", origin="added")),
    ],
    "dimmer-rating": [draw_circuit(7, KNOWN)],
    "dimmer-least-load": [draw_circuit(7, KNOWN)],
    "through-wiring": [draw_circuit(76, KNOWN)],
}


def test_each_rule_is_shown():
    # What a light was that goes is asked by switched-lighting: it is in the circuit as it was found.
    assert set(RULES) == {*SHOWN, "switched-lighting"}


@pytest.mark.parametrize("name", SHOWN)
def test_of_what_is_told_apart_the_answer_differs(name):
    said = [said_of_each_kind(name, built) for built in SHOWN[name]]
    for one, other in combinations(KINDS, 2):
        assert not told_apart(name, one, other) or any(each[one] != each[other] for each in said), (one, other)
