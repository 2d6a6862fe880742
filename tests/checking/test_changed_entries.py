"""What became another in a circuit, and which rules that concerns; ``check`` asks all of them and is the measure."""

import random
from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking import check
from circuitcheck.checking.changed_entries import State, concerned, entries_changed, is_named_by_readers
from circuitcheck.checking.check_again import check_again
from circuitcheck.circuit.change import Change
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.planning import as_planned
from circuitcheck.errors import CircuitFileError
from circuitcheck.refs import Ref
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import load_rulebook
from tests.checking.test_check_again import EXAMPLES, another, contradictions, from_file, places, value_at, with_entry
from tests.generating.dice import Shares
from tests.generating.planned import draw_changed
from tests.rules.build import book, box, cable, circuit, exact, load, site, supply


def state(built):
    planned = as_planned(built)
    return State(planned, case_of(planned, book()))


def changed(built, other):
    """The kinds of entry that became others; None where these do not tell who reads them."""
    there = entries_changed(state(built), state(other))
    return None if there is None or not there.are_named else {place.kind for place in there.places}


def asked_anew(built, other):
    """What is told of the second circuit after the first, which is what ``check`` tells; the rules that were asked."""
    told = check_again(other, book(), check_again(built, book()))
    assert told.report == check(other, book())
    return {rule.name for rule in ALL_RULES} - told.planned.standing


def hallway(length_m=10, **given):
    lamp = load("lamp", "a", power_w=60, origin="added") if not given else load("lamp", "a", origin="added", **given)
    return circuit(site(), box("a"), cable("run", "panel", "a", length_m=length_m), lamp)


def test_where_nothing_changed_only_rules_are_asked_that_look_at_entries_as_they_are_written():
    assert changed(hallway(), hallway()) == frozenset()
    assert not {"load-share", "voltage-drop", "box-fill"} & asked_anew(hallway(), hallway())
    assert "loads-complete" in asked_anew(hallway(), hallway())


def test_of_two_entries_changed_at_once_each_has_its_rules_asked():
    """The length alone concerns no load share, and the power alone does."""
    other = hallway(12, power_w=600)
    assert changed(hallway(), other) == {"cable.length", "load.power"}
    assert {"load-share", "voltage-drop"} <= asked_anew(hallway(), other)
    title = replace(other, job=replace(other.job, title="another"))
    assert changed(hallway(), title) == {"cable.length", "load.power", "job.title"}
    assert {"load-share", "voltage-drop"} <= asked_anew(hallway(), title)


def test_a_word_that_becomes_a_guess_of_the_same_word_is_another():
    lamp = hallway().loads[0]
    guessed = replace(hallway(), loads=(replace(lamp, known_by={**lamp.known_by, "connection": "guess"}),))
    assert changed(hallway(), guessed) == {"load.connection"}


def test_where_parts_are_more_or_fewer_nobody_knows_who_reads_that():
    fewer = replace(hallway(), loads=())
    assert changed(hallway(), fewer) is None
    assert changed(fewer, hallway()) is None


def test_an_entry_that_is_never_open_tells_nobody_who_reads_it():
    renamed = replace(hallway(), loads=(replace(hallway().loads[0], id="other"),))
    assert changed(hallway(), renamed) is None
    both = replace(renamed, cables=(replace(renamed.cables[0], length_m=exact(12.0)),))
    assert changed(hallway(), both) is None


def of_a_luminaire(grounding):
    """A box of which nobody told how the luminaire in it is grounded."""
    box_of_it = box("a", origin="added", fixture_ground=None)
    lamp = load("lamp", "a", power_w=60, origin="added", grounding=grounding)
    return circuit(site(), box_of_it, cable("run", "panel", "a"), lamp)


@pytest.mark.parametrize(("before", "now"), [(None, "double-insulated"), ("wire", "double-insulated")])
def test_what_follows_for_another_entry_has_its_rules_asked(before, now):
    """A luminaire that is double-insulated brings no grounding conductor into its box, whose count has none then."""
    assert "box-fill" in asked_anew(of_a_luminaire(before), of_a_luminaire(now))


def test_a_place_that_follows_from_how_a_light_hangs_has_its_rules_asked():
    house = from_file(next(path for path in EXAMPLES if path.name.startswith("old-house")))
    place = next(each for each in places(house, "load.mounting") if value_at(house, each) == "wall")
    assert "location" in asked_anew(house, with_entry(house, place, "outdoors"))


def one_goes(action="remove", new=None, **given):
    """A bedroom with two existing lights, of which one goes."""
    lights = load("old", "a", **({"current_a": 0.5} | given)), load("other", "b", current_a=0.5)
    made = circuit(
        supply(measured_current_a=2), site(room="bedroom"), box("a", room="bedroom"), box("b", room="hallway"),
        cable("in", "panel", "a", origin="existing"), cable("on", "a", "b", origin="existing"), *lights,
    )  # fmt: skip
    return replace(made, changes=(Change(part=Ref("load", "old", ""), action=action, new=new or {}),))


def test_what_a_light_was_that_goes_has_its_rules_asked():
    """A bedroom keeps a light with a wall switch, NFPA 70, 210.70(A)(1): a receptacle that goes was none."""
    before, now = one_goes(), one_goes(kind="receptacle")
    assert {each.subject for each in check(before, book()).findings if each.check == "switched-lighting"} == {"old"}
    assert not [each for each in check(now, book()).findings if each.check == "switched-lighting"]
    assert changed(before, now) == {"load.kind"}
    assert "switched-lighting" in asked_anew(before, now)
    assert "switched-lighting" in asked_anew(now, before)


@pytest.mark.parametrize("action", ["remove", "replace"])
def test_what_a_load_drew_that_goes_or_is_replaced_is_an_entry_like_any_other(action):
    new = {"kind": "light", "current_a": exact(0.5)} if action == "replace" else {}

    def drew(amperes):
        return one_goes(action, new, current_a=amperes, on_at_reading=True)

    assert changed(drew(0.5), drew(0.7)) == {"load.current"}
    assert "load-share" in asked_anew(drew(0.5), drew(0.7))


def test_of_a_light_that_goes_it_matters_whether_watts_are_given():
    """Then they are the largest lamp's, and what the fitted one drew came off the reading."""
    with_watts = one_goes(power_w=60, current_a=None, on_at_reading=True)
    assert changed(with_watts, one_goes(on_at_reading=True)) is None
    assert "load-share" in asked_anew(with_watts, one_goes(power_w=600, current_a=None, on_at_reading=True))


def alter(name):
    """The same circuit but for the box that is opened: a light is changed for one as strong."""
    found = replace(one_goes(), changes=())
    return replace(found, changes=(Change(part=Ref("load", name, ""), action="alter", new={"current_a": exact(0.5)}),))


def test_which_box_is_opened_stands_in_no_entry():
    assert changed(alter("old"), alter("other")) is None
    assert changed(alter("old"), alter("old")) == frozenset()
    assert "box-fill" in asked_anew(alter("old"), alter("other"))
    assert "box-fill" in asked_anew(replace(alter("old"), changes=()), alter("old"))


def test_with_changes_all_is_asked_at_first_and_little_afterwards():
    first = check_again(one_goes(), book())
    assert first.is_whole
    assert first.found is not None
    longer = replace(one_goes(), cables=(replace(one_goes().cables[0], length_m=exact(12.0)), *one_goes().cables[1:]))
    again = check_again(longer, book(), first)
    assert not again.is_whole
    assert again.found is not None
    assert "box-fill" in again.found.standing & again.planned.standing
    assert again.report == check(longer, book())
    for planned, found in ((again.planned, first.found), (first.planned, again.found)):
        assert not replace(again, planned=planned, found=found).is_whole
    assert not replace(again, found=None).is_whole


def test_where_nothing_was_to_change_before_what_is_there_now_is_asked_of_every_rule():
    first = check_again(replace(one_goes(), changes=()), book())
    assert first.found is None
    again = check_again(alter("old"), book(), first)
    assert again.found is not None
    assert not again.found.standing
    assert again.report == check(alter("old"), book())


@pytest.mark.parametrize("last", [3, pytest.param(100, marks=pytest.mark.long)])
def test_random_circuits_with_changes_of_which_entries_change(last):
    stood = 0
    for seed in range(last):
        try:
            circuit = draw_changed(f"again {seed}", Shares(left_out=0.1))
        except CircuitFileError:
            continue
        stood += contradictions(circuit, random.Random(seed), 2)
    assert stood > 10 * last


@pytest.mark.parametrize("last", [3, pytest.param(100, marks=pytest.mark.long)])
def test_examples_of_which_several_entries_change_at_once(last):
    for seed in range(last):
        dice = random.Random(f"several {seed}")
        built = from_file(dice.choice(EXAMPLES))
        rulebook = load_rulebook(built.job.rulebook)
        told = check_again(built, rulebook)
        given = [place for place in places(built) if value_at(built, place) is not None]
        for place in dice.sample(given, 3):
            built = with_entry(built, place, another(dice, place[2], value_at(built, place)))
        assert check_again(built, rulebook, told).report == check(built, rulebook), seed


@pytest.mark.parametrize(
    ("kind", "is_named"),
    [
        # numbers, and text that no rule reads
        ("cable.length", True), ("load.power", True), ("job.title", True), ("box.product", True),
        # words, counts and yes or no of which there are several
        ("cable.place", True), ("cable.concealed", True), ("supply.poles", True), ("site.dwelling_units", True),
        ("site.stair_risers", True), ("cable.conductors", True), ("cable.bundled_with", True),
        # of these one is presumed
        ("cable.carries", False), ("load.quantity", False), ("box.terminal_blocks", False),
        # only one, or nothing that can be open
        ("supply.device", False), ("load.metal_parts", False), ("box.ground", False), ("driver.outputs", False),
        ("job.rulebook", False), ("box.id", False), ("load.box", False), ("box.origin", False),
        # what another entry settles wholly
        ("cable.type", False), ("box.gangs", False), ("box.covered", False),
        # lists and sizes
        ("box.devices", False), ("cable.size", False), ("box.extensions", False), ("box.fittings", False),
    ],
)  # fmt: skip
def test_of_which_entries_those_who_read_them_are_known(kind, is_named):
    section, _, key = kind.partition(".")
    assert is_named_by_readers(kind, SECTIONS[section].keys[key]) is is_named


@pytest.mark.parametrize(
    ("rule", "kinds", "is_concerned"),
    [
        ("load-share", {"load.power"}, True),
        ("load-share", {"cable.length"}, False),
        ("load-share", {"cable.length", "load.power"}, True),
        ("load-share", set(), False),
        ("wire-size", set(), True),
        ("stop-first", set(), True),
    ],
)
def test_whom_a_change_concerns(rule, kinds, is_concerned):
    (found,) = (each for each in ALL_RULES if each.name == rule)
    assert concerned(found, frozenset(kinds)) is is_concerned


def test_an_entry_that_stands_apart_is_the_entry_itself():
    """The draw of the list is open a second time as ``listed load.power``: who reads only that is concerned too."""
    apart = {"listed load.power"}
    readers = {each.name for each in ALL_RULES if apart & {*getattr(each, "worse", ())}}
    assert readers
    assert all(concerned(each, frozenset({"load.power"})) for each in ALL_RULES if each.name in readers)
