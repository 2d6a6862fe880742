"""What is said of a subject without reading an entry stands whatever the entry becomes; all else is asked again."""

from dataclasses import replace

import pytest

from circuitcheck.case import EACH, Answer, once, said
from circuitcheck.case.case import Case
from circuitcheck.case.making import case_of
from circuitcheck.checking import check, out_of_reach
from circuitcheck.checking.changed_entries import Place
from circuitcheck.checking.check_again import check_again, made_ready
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.checking.out_of_reach import Reads, said_of_the_rest, untouched
from circuitcheck.circuit.guide import entry_ref
from circuitcheck.refs import Ref
from tests.checking.trial_rules import PASS, rule
from tests.rules.build import book as rulebook
from tests.rules.build import box, cable, circuit, exact, load

WATTS = Place("load", 0, "power_w", "load.power")
READS = Reads.ONE_OF_THEM
BOOK = rulebook()


def three_lights(**first):
    """Lights a, b and c on one box after the other."""
    return circuit(
        *(box(name) for name in "xyz"),
        cable("1", "panel", "x"),
        cable("2", "x", "y"),
        cable("3", "y", "z"),
        load("a", "x", **{"power_w": 10.0, **first}),
        load("b", "y", power_w=20.0),
        load("c", "z", power_w=30.0),
    )


def answering(watts, working=lambda light, case: ()):
    """A rule about each light that says how many watts there are by ``watts``."""

    def answer(light, case, book):
        return Answer(
            part=light,
            outcome=PASS,
            says=said("{watts}", watts=str(watts(light, case))),
            working=lambda: working(light, case),
        )

    return rule(answer, subjects=lambda case: case.loads)


def stands(watching, *, now=None, changed=frozenset({WATTS}), followers=()):
    """Of each light whether what the rule says stands; None where nothing does."""
    kept = untouched(changed, frozenset(followers), case_of(now or three_lights(), BOOK), [watching], lambda: None)
    if watching.name not in kept.by_rule:
        return None
    return [told is not READS for told in kept.by_rule[watching.name]]


def test_of_a_light_whose_own_watts_are_read_the_others_stand():
    assert stands(answering(lambda light, case: light.power_w)) == [False, True, True]


def test_where_each_answer_reads_them_nothing_stands():
    assert stands(answering(lambda light, case: sum(each.power_w for each in case.loads))) is None


def test_what_was_worked_out_with_them_for_another_subject_is_read_too():
    @once
    def first(case: Case) -> float:
        return case.loads[0].power_w

    def watts(light, case):
        return light.power_w if light.id == "b" else first(case)

    assert stands(answering(watts)) == [False, True, False]


def test_what_only_the_working_reads_counts():
    def working(light, case):
        return [said("{watts}", watts=str(case.loads[0].power_w))] if light.id == "b" else []

    assert stands(answering(lambda light, case: light.id, working)) == [True, False, True]


def test_what_a_direction_reads_counts_for_whoever_reads_the_entry_that_it_is_of():
    lights = three_lights()
    last = replace(lights.loads[2], current_a=replace(exact(1.0), high=2.0))
    lights = replace(lights, loads=(*lights.loads[:2], last))
    watching = rule(
        lambda light, case, book: answer_of_current(light if light.id == "b" else case.loads[2]),
        subjects=lambda case: case.loads,
        worse={"load.current": lambda value, part, case: value * case.loads[0].power_w},
    )
    assert stands(watching, now=lights) == [False, True, False]


def answer_of_current(light):
    return Answer(part=light, outcome=PASS, value=0.0 if light.id == "b" else light.current_a, says=said("it fits"))


def test_finding_subjects_by_them_leaves_nothing():
    watching = rule(
        lambda light, case, book: Answer(part=light, outcome=PASS, says=said("it fits")),
        subjects=lambda case: [light for light in case.loads if light.power_w],
    )
    assert stands(watching) is None


def test_where_no_way_turns_out_to_be_always_worse_all_are_asked_about():
    """It counts for the subjects that are asked about afterwards, so that what is said of them hangs on others."""
    lights = three_lights(current_a=(1.0, 2.0))
    watching = rule(
        lambda light, case, book: answer_of_current(case.loads[0]),
        subjects=lambda case: case.loads[1:],
        worse={"load.current": lambda value, part, case: EACH if value > 1.5 else value},
    )
    second = Place("load", 1, "power_w", "load.power")
    assert stands(watching, now=lights, changed=frozenset({second})) is None
    case = case_of(lights, BOOK)
    without = [*findings_of_rule(watching, case)]
    assert [*said_of_the_rest(watching, case_of(lights, BOOK), (None, READS))] == without


@pytest.mark.parametrize("watts", [(5.0, 10.0), None])
def test_an_entry_that_is_open_counts_as_known_as_it_will_be(watts):
    """The draw of a light of which the watts are open is open too; what does not read them stands all the same."""
    open_now = three_lights(power_w=watts)
    assert stands(answering(lambda light, case: light.power_w), now=open_now) == [False, True, True]
    assert stands(answering(lambda light, case: len(case.entries_of("load", "power"))), now=open_now) == [True] * 3


def test_of_what_may_follow_it_nobody_may_ask_even_whether_it_is_known():
    factor = Place("load", 2, "power_factor", "load.power_factor")
    watching = answering(
        lambda light, case: light.id if light.id != "b" else len(case.entries_of("load", "power_factor"))
    )
    assert stands(watching) == [True, True, True]
    assert stands(watching, followers=[factor]) == [True, False, True]


def test_the_entry_is_there_again_afterwards():
    case = case_of(three_lights(current_a=(1.0, 2.0)), BOOK)
    untouched(frozenset({WATTS}), frozenset(), case, [answering(lambda light, case: light.power_w)], lambda: None)
    with case.reading.at(lambda entry: entry.possible.options[0]):
        assert case.loads[0].power_w == 10.0
        assert case.loads[0].current_a == 1.0
    assert type(case.loads[0]) is type(case_of(three_lights(current_a=(1.0, 2.0)), BOOK).loads[0])


def test_what_the_rest_says_stands_in_its_order():
    watching = answering(lambda light, case: light.power_w)
    case = case_of(three_lights(), BOOK)
    kept = untouched(frozenset({WATTS}), frozenset(), case, [watching], lambda: None)
    now = case_of(three_lights(power_w=11.0), BOOK)
    again = [*said_of_the_rest(watching, now, kept.by_rule[watching.name])]
    assert [finding.says for finding in again] == ["11.0", "20.0", "30.0"]
    assert again == [*findings_of_rule(watching, now)]


def test_of_the_room_in_a_box_only_that_box_is_asked_about_from_the_second_key_on(monkeypatch):
    asked = []

    def asking(asker, subject, *, named):
        asked.append((asker.rule.name, getattr(subject, "id", "")))
        return about(asker, subject, named=named)

    about = out_of_reach.finding_about
    monkeypatch.setattr(out_of_reach, "finding_about", asking)
    told = check_again(rooms(18.0), BOOK)
    told = check_again(rooms(20.0), BOOK, told)
    asked.clear()
    told = check_again(rooms(22.0), BOOK, told)
    assert [subject for name, subject in asked if name == "box-fill"] == ["x"]
    assert told.report == check(rooms(22.0), BOOK)


def rooms(cubic_inches):
    lights = three_lights()
    changed = replace(lights.boxes[0], volume_m3=exact(cubic_inches * 0.0254**3))
    return replace(lights, boxes=(changed, *lights.boxes[1:]))


def test_another_entry_is_looked_for_anew():
    told = check_again(rooms(18.0), BOOK)
    told = check_again(rooms(20.0), BOOK, told)
    first = told.planned.untouched
    assert {place.kind for place in first.known} == {"box.volume"}
    other = rooms(20.0)
    other = replace(other, cables=(replace(other.cables[0], length_m=exact(3.0)), *other.cables[1:]))
    told = check_again(other, BOOK, told)
    assert {place.kind for place in told.planned.untouched.known} == {"cable.length"}
    assert told.report == check(other, BOOK)


def test_made_ready_the_first_other_value_is_told_as_by_a_whole_check(monkeypatch):
    asked = []

    def asking(asker, subject, *, named):
        asked.append((asker.rule.name, getattr(subject, "id", "")))
        return about(asker, subject, named=named)

    about = out_of_reach.finding_about
    told = made_ready(check_again(rooms(18.0), BOOK), Ref("box", "x", "volume"))
    assert told.report == check(rooms(18.0), BOOK)
    monkeypatch.setattr(out_of_reach, "finding_about", asking)
    told = check_again(rooms(22.0), BOOK, told)
    assert [subject for name, subject in asked if name == "box-fill"] == ["x"]
    assert told.report == check(rooms(22.0), BOOK)


@pytest.mark.parametrize(
    "entry",
    [
        Ref("box", "x", "volume"),
        Ref("box", "x", "origin"),
        Ref("box", "nowhere", "volume"),
        Ref("supply", "", "voltage"),
        Ref("site", "", "room"),
        Ref("nothing", "at", "all"),
    ],
    ids=str,
)
def test_nothing_else_is_told_by_what_is_made_ready(entry):
    before = check_again(rooms(18.0), BOOK)
    told = made_ready(before, entry)
    assert told.report == before.report
    assert check_again(rooms(18.0), BOOK, told).report == before.report


@pytest.mark.parametrize(
    ("entry", "attribute", "values"),
    [
        ("cable.2.size", "size", ("10 AWG", "14 AWG")),
        ("cable.2.type", "type", ("UF-B", "AC")),
        ("load.b.kind", "kind", ("heater", "light")),
        ("load.b.quantity", "quantity", (3, 1)),
        ("box.y.material", "material", ("steel", "plastic")),
    ],
)
def test_of_what_rules_read_without_naming_it_much_stands_too(entry, attribute, values):
    ref, lights = entry_ref(entry), three_lights()
    told = check_again(lights, BOOK)
    for value in values:
        told = made_ready(told, ref)
        lights = with_value(lights, ref, attribute, value)
        told = check_again(lights, BOOK, told)
        assert told.report == check(lights, BOOK), value
        assert not told.is_whole, value


def with_value(lights, ref, attribute, value):
    name = {"cable": "cables", "load": "loads", "box": "boxes"}[ref.section]
    parts = [replace(each, **{attribute: value}) if each.id == ref.id else each for each in getattr(lights, name)]
    return replace(lights, **{name: tuple(parts)})
