"""``[[change]]``: what a slip in it is answered with, and what the circuit is once changes are carried out."""

import pytest

from circuitcheck.api import check, read_text
from circuitcheck.circuit.planning import as_found, as_planned, is_of_what_was_found
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.short.tidy_long import long_text
from circuitcheck.circuit.short.tidy_short import short_text
from circuitcheck.circuit.short.written_key import written_key
from circuitcheck.errors import CircuitFileError
from circuitcheck.refs import Ref

HEAD = """format = 1
[job]
title = "Changes"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"
protection = "none"
[[box]]
id = "attic"
origin = "existing"
trade_size = "4 x 1-1/2 octagon"
internal_clamps = true
material = "metal"
room = "attic"
fixture_wires = [{ size = "18 AWG", count = 2 }]
canopy = true
[[box]]
id = "hall"
origin = "existing"
volume = "20 in^3"
devices = [{ kind = "switch" }]
[[cable]]
id = "feed"
from = "panel"
to = "attic"
origin = "existing"
size = "14 AWG"
length = "30 ft"
[[cable]]
id = "to hall"
from = "attic"
to = "hall"
origin = "existing"
size = "14 AWG"
conductors = 2
length = "20 ft"
carries = "switched"
[[load]]
id = "lamp"
box = "attic"
origin = "existing"
kind = "light"
power = "label 60 W"
fitted = "9 W"
over_bath = false
weight = "2 lb"
[[load]]
id = "fan"
box = "hall"
origin = "existing"
kind = "fan"
power = "60 W"
[[control]]
id = "switch"
box = "hall"
origin = "existing"
kind = "switch"
ways = "single-pole"
[[load]]
id = "new"
box = "hall"
origin = "added"
kind = "light"
power = "10 W"
"""


def circuit(text: str, vocabulary):
    return read_circuit(HEAD + text, "some.circuit.toml", vocabulary)


def planned(text: str, vocabulary):
    return as_planned(circuit(text, vocabulary))


def part(circuit, name):
    parts = (*circuit.boxes, *circuit.cables, *circuit.loads, *circuit.controls)
    return next((part for part in parts if part.id == name), None)


@pytest.mark.parametrize(
    ("text", "key", "words", "near"),
    [
        ('part = "box.atic"\naction = "remove"', "change.#1.part", "there is no part of this name", "box.attic"),
        ('part = "attic"\naction = "remove"', "change.#1.part", "there is no part of this name", "box.attic"),
        ('part = "load.new"\naction = "remove"', "change.#1.part", "still to be added", None),
        ('part = "site"\naction = "replace"', "change.#1.part", "there is no part of this name", None),
        ('part = "box.attic"\naction = "replaced"', "change.#1.action", "not one of the words", "replace"),
        ('part = "box.attic"', "change.#1.action", "action is missing", None),
        ('action = "remove"', "change.#1.part", "part is missing", None),
        ('part = "supply"\naction = "remove"', "change.#1.action", "only ever changed in its protection", None),
        (
            'part = "supply"\naction = "replace"\nnew = { breaker = "20 A" }',
            "change.#1.new.breaker",
            "a change does not touch this",
            None,
        ),
        (
            'part = "box.attic"\naction = "replace"\nnew = { trade_sise = "4 x 2-1/8 square" }',
            "change.#1.new.trade_sise",
            "there is no such key",
            "trade_size",
        ),
        (
            'part = "box.attic"\naction = "replace"\nnew = { volume = "30" }',
            "change.#1.new.volume",
            "unit",
            "30 in^3",
        ),
        (
            'part = "box.attic"\naction = "replace"\nnew = { internal_clamps = "no" }',
            "change.#1.new.internal_clamps",
            "another kind of value",
            None,
        ),
        (
            'part = "box.attic"\naction = "alter"\nnew = { volume = "30 in^3" }',
            "change.#1.new.volume",
            "a change does not touch this",
            None,
        ),
        ('part = "load.lamp"\naction = "move"', "change.#1.new", "box is missing: say where it goes", None),
        (
            'part = "load.lamp"\naction = "move"\nnew = { box = "hal" }',
            "change.#1.new.box",
            "nothing that this can name",
            "hall",
        ),
        ('part = "load.lamp"\naction = "remove"\nnew = { power = "9 W" }', "change.#1.new", "no entries", None),
        ('part = "load.lamp"\naction = "remove"\nhow = "by hand"', "change.#1.how", "no such key", None),
        # "new" hangs in the box that goes with the cable.
        (
            'part = "cable.to hall"\naction = "remove"',
            "load.new",
            "is fed through a part that a change takes away",
            None,
        ),
    ],
)
def test_a_slip_is_named_with_its_place(text, key, words, near, vocabulary):
    with pytest.raises(CircuitFileError) as caught:
        circuit("[[change]]\n" + text + "\n", vocabulary)
    problem = caught.value.problems[0]
    assert (problem.key, problem.nearest) == (key, near)
    assert words in problem.says
    assert problem.line is not None


def test_a_part_has_one_change_only(vocabulary):
    text = '[[change]]\npart = "load.lamp"\naction = "remove"\n' * 2
    with pytest.raises(CircuitFileError) as caught:
        circuit(text, vocabulary)
    assert "a change already" in caught.value.problems[0].says


def test_a_section_in_single_brackets_is_told(vocabulary):
    with pytest.raises(CircuitFileError) as caught:
        circuit('[change]\npart = "load.lamp"\naction = "remove"\n', vocabulary)
    assert "double brackets" in caught.value.problems[0].says


def test_a_new_box_keeps_its_place_and_loses_what_belongs_to_the_thing(vocabulary):
    text = '[[change]]\npart = "box.attic"\naction = "replace"\nnew = { trade_size = "4 x 2-1/8 square" }\n'
    box = part(planned(text, vocabulary), "attic")
    # The place: the room and the wires that come in. The thing: clamps and material, which nobody gave.
    assert (box.room, box.fixture_wires[0].count, box.canopy) == ("attic", 2, True)
    assert (box.trade_size, box.internal_clamps, box.material) == ("4 x 2-1/8 square", None, None)
    assert box.origin == "added"


def test_a_new_cable_keeps_its_ends_and_has_no_length_before_it_is_given(vocabulary):
    text = '[[change]]\npart = "cable.to hall"\naction = "replace"\nnew = { cable = "12/2 NM-B with ground" }\n'
    cable = part(planned(text, vocabulary), "to hall")
    assert (cable.from_id, cable.to_id, cable.carries) == ("attic", "hall", "switched")
    assert (cable.size, cable.conductors, cable.ground, cable.length_m) == ("12 AWG", 2, True, None)


def test_a_new_light_is_no_new_outlet_and_its_leads_are_unknown_until_given(vocabulary):
    text = '[[change]]\npart = "load.lamp"\naction = "replace"\nnew = { power = "label 40 W"%s }\n'
    changed = planned(text % "", vocabulary)
    lamp, box = part(changed, "lamp"), part(changed, "attic")
    assert (lamp.kind, lamp.replaces, lamp.weight_kg, lamp.fitted_w, lamp.over_bath) == (
        "light",
        True,
        None,
        None,
        False,
    )
    assert (box.fixture_wires, box.canopy, box.internal_clamps) == (None, None, True)
    given = planned(text % ", fixture_wires = []", vocabulary)
    assert part(given, "attic").fixture_wires == ()


def test_a_moved_light_stays_the_thing_that_it_is(vocabulary):
    text = '[[change]]\npart = "load.lamp"\naction = "move"\nnew = { box = "hall" }\n'
    lamp = part(planned(text, vocabulary), "lamp")
    assert (lamp.box, lamp.weight_kg.low, lamp.power_w.low) == ("hall", pytest.approx(0.90718474), 60)
    assert (lamp.over_bath, lamp.origin) == (None, "added")


def test_what_is_altered_stays_and_is_not_added(vocabulary):
    text = '[[change]]\npart = "box.attic"\naction = "alter"\nnew = { internal_clamps = false }\n'
    box = part(planned(text, vocabulary), "attic")
    assert (box.origin, box.internal_clamps, box.trade_size) == ("existing", False, "4 x 1-1/2 octagon")


def test_what_hung_on_a_removed_part_goes_with_it(vocabulary):
    without_new = HEAD.replace('box = "hall"\norigin = "added"', 'box = "attic"\norigin = "added"')
    text = without_new + '[[change]]\npart = "box.hall"\naction = "remove"\n'
    left = as_planned(read_circuit(text, "some.circuit.toml", vocabulary))
    assert [each.id for each in left.boxes] == ["attic"]
    assert [each.id for each in left.cables] == ["feed"]
    assert [each.id for each in left.loads] == ["lamp", "new"]
    assert left.controls == ()


def test_a_box_that_an_added_cable_feeds_stays(vocabulary):
    text = """[[change]]
part = "cable.to hall"
action = "remove"
[[cable]]
id = "another way"
from = "attic"
to = "hall"
origin = "added"
"""
    left = planned(text, vocabulary)
    assert [each.id for each in left.boxes] == ["attic", "hall"]
    assert left.tree.feed["hall"].id == "another way"
    assert circuit(text, vocabulary).tree.feed["hall"].id == "another way"  # nobody has to think of it
    with pytest.raises(CircuitFileError) as caught:
        circuit("[[cable]]" + text.split("[[cable]]")[1], vocabulary)
    assert "both feed" in caught.value.problems[0].says


def test_as_found_has_nothing_of_what_is_added(vocabulary):
    before = as_found(planned('[[change]]\npart = "load.lamp"\naction = "remove"\n', vocabulary))
    assert [each.id for each in before.loads] == ["lamp", "fan"]
    assert before.changes == ()


def test_changes_are_carried_out_once(vocabulary):
    once = planned('[[change]]\npart = "load.lamp"\naction = "remove"\n', vocabulary)
    assert as_planned(once) is once
    plain = circuit("", vocabulary)
    assert as_planned(plain) is plain


@pytest.mark.parametrize(
    ("change", "key", "as_found"),
    [
        ('action = "remove"', "fitted", True),
        ('action = "replace"\nnew = { kind = "light", power = "9 W" }', "power", True),
        ('action = "replace"\nnew = { kind = "light", current = "1 A" }', "power", True),  # it says what it draws so
        ('action = "replace"\nnew = { kind = "light", power = "5 W to 9 W" }', "power", False),
        ('action = "replace"\nnew = { kind = "light", power = "about 9 W" }', "power", False),
        ('action = "replace"\nnew = { kind = "light" }', "power", False),
        ('action = "replace"\nnew = { kind = "light" }', "on_at_reading", True),
        ('action = "alter"\nnew = { fitted = "8 W" }', "fitted", False),
    ],
)
def test_what_is_asked_is_of_the_part_as_found_where_the_plan_gives_it(change, key, as_found, vocabulary):
    held = planned(f'[[change]]\npart = "load.lamp"\n{change}\n', vocabulary)
    assert is_of_what_was_found(Ref("load", "lamp", key), held) is as_found
    written = f"load.lamp.{key}"
    new = f"change.load.lamp.new.{key}"
    assert written_key(written, held) == (new if "replace" in change and not as_found else written)


def test_tidy_keeps_a_change_and_its_comment(vocabulary):
    text = HEAD + '# out it goes\n[[change]]\npart = "load.lamp"   # the old one\naction = "remove"\n'
    for tidied in (short_text(text, vocabulary), long_text(text, vocabulary)):
        assert "# out it goes\n[[change]]" in tidied
        assert 'part = "load.lamp"   # the old one' in tidied
        assert read_circuit(tidied, "", vocabulary).changes == circuit(text[len(HEAD) :], vocabulary).changes


def test_python_sees_a_change_as_the_file_writes_it():
    text = HEAD + '[[change]]\npart = "box.attic"\naction = "alter"\nnew = { internal_clamps = false }\n'
    document = read_text(text).to_dict()
    assert document["change"] == [{"part": "box.attic", "action": "alter", "new": {"internal_clamps": False}}]


# 4 x 1-1/2 octagon: 15.5 in^3 (NFPA 70, Table 314.16(A)). Four 14/2 cables without clamps: 8 x 2.00 and the grounds as
# one 2.00 (up to four) = 18.0: too full as found, and too full still when another light hangs there.
CROWDED = """
[[cable]]
id = "%s"
from = "attic"
to = "%s"
origin = "existing"
type = "NM-B"
size = "14 AWG"
conductors = 2
ground = true
[[box]]
id = "%s"
origin = "existing"
volume = "20 in^3"
"""


def test_a_fault_from_before_the_work_is_told_as_such():
    head = HEAD.replace('size = "14 AWG"', 'size = "14 AWG"\nground = true\ntype = "NM-B"')
    head = head.replace('to = "attic"\n', 'to = "attic"\nconductors = 2\n')
    crowd = "".join(CROWDED % (f"run {end}", end, end) for end in ("one", "two"))
    change = '[[change]]\npart = "load.lamp"\naction = "replace"\nnew = { power = "9 W" }\n'
    report = check(read_text(head + crowd + change))
    fill = next(each for each in report.findings if (each.check, each.subject) == ("box-fill", "attic"))
    assert fill.outcome == "fail"
    assert fill.says.startswith("Already so before the work: ")
    document = next(each for each in report.to_dict()["findings"] if each["says"] == fill.says)
    assert document["already_so"] is True
    # Without a change the file tells nothing about before, and no sentence says so.
    plain = check(read_text(head + crowd))
    assert not any("Already so" in each.says for each in plain.findings)
