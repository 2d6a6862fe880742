"""Kinds and runs of cable that are alike for a rule: it answers the same of each, and otherwise of those told apart."""

from dataclasses import replace
from itertools import combinations

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking import case_rules
from circuitcheck.checking.asking import Asker, subjects_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.rules.build import INCH, box, cable, circuit, device, load, site

BOOK = load_rulebook("nec-2023")
WORDS = {"cable.type": vocabulary()["cable.type"], "cable.run": SECTIONS["cable"].keys["run"].words}
RULES = {rule.name: rule for rule in case_rules() if WORDS.keys() & rule.alike.keys()}
#: Held every 60 in. and 10 in. from the box: metal-clad cable may be (330.30), armored cable too far apart (320.30),
#: and nonmetallic cable too far from this box without clamps besides (334.30, 314.17(B)).
HELD = {"support_spacing_m": 60 * INCH, "support_from_box_m": 10 * INCH}
PLASTIC = {"material": "nonmetallic", "devices": (device(),)}
#: An old cable: only where it lies open does it matter how it is held.
OLD = {"origin": "existing", "concealed": False}
CIRCUITS = {
    "cable-support": [
        circuit(box("b", origin=origin, **PLASTIC), cable("c", "panel", "b", **HELD, **given), load("l", "b", **light))
        for origin, given in (("added", {"run": "through framing"}), ("added", {"run": "fished"}), ("existing", OLD))
        for light in ({"origin": "added", "power_w": 9},)
    ],
    "cable-place": [
        circuit(box("b", room=room, location=wet), cable("c", "panel", "b", place=place, wet_marked=marked))
        for place, room, wet in (
            ("outdoors", "outdoors", "damp"),
            ("outdoors", "outdoors", "wet"),
            ("underground", None, None),
            ("crawl space", None, None),
        )
        for marked in (True, False)
    ]
    + [  # open in a damp room: NM-B where it is normally dry, armored cable nowhere (334.12(B), 320.12)
        circuit(
            box("b", room="basement", location=wet),
            cable("c", "panel", "b", place="inside", run="on a surface", concealed=False, wet_marked=marked),
        )
        for wet in ("damp", "wet")
        for marked in (True, False)
    ],
    "air-space": [
        circuit(site(dwelling=dwelling), box("b"), cable("c", "panel", "b", air_space=way, plenum_marked=marked))
        for dwelling in (True, False)
        for way in ("crossed", "followed")
        for marked in (True, False)
    ],
}


def said_of_each(rule, kind, built):
    """What a rule answers of a circuit whose cable has each word, all else being the same."""
    key = kind.partition(".")[2]
    built = replace(built, cables=tuple(replace(each, **{key: None}) for each in built.cables))
    case = case_of(built, BOOK)
    entry = next(entry for entry in case.entries if entry.kind == kind)
    asker = Asker(replace(rule, alike={}), case)
    return {
        word: [
            answer and (answer.outcome, answer.value, answer.limit)
            for answer in (asker.ask(each, worst=True, moved={entry: word}).answer for each in subjects_of(rule, case))
        ]
        for word in WORDS[kind]
    }


def test_each_rule_is_tried():
    assert set(RULES) == set(CIRCUITS)


@pytest.mark.parametrize(
    ("name", "kind"), [(name, kind) for name in CIRCUITS for kind in WORDS if kind in RULES[name].alike]
)
def test_of_what_is_alike_the_answer_is_the_same_and_of_others_it_differs_somewhere(name, kind):
    rule = RULES[name]
    said = [said_of_each(rule, kind, built) for built in CIRCUITS[name]]
    for one, other in combinations(WORDS[kind], 2):
        same = all(each[one] == each[other] for each in said)
        assert same == (rule.alike[kind](one, BOOK) == rule.alike[kind](other, BOOK)), (one, other)
