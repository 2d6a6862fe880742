"""A circuit in which the sizes of cables are chosen: as if the file had each of them, and what follows from it."""

from dataclasses import fields, replace
from functools import cache

import pytest

from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.making import case_of
from circuitcheck.case.sizes_apart import SizesApart
from circuitcheck.case.waiting import entry_of
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.judging import finding_about
from circuitcheck.checking.other_sizes import Sizes
from circuitcheck.findings import Finding
from circuitcheck.quantities import How
from circuitcheck.rules.capacity.ampacity import RULE as AMPACITY
from circuitcheck.rules.capacity.breaker_vs_wire import RULE as BREAKER
from circuitcheck.rules.capacity.voltage_drop import RULE as DROP
from tests.checking.test_size_scope import hallway
from tests.generating.circuits import circuit_of, draw_document
from tests.rules.build import book, box, cable, circuit, load, supply

SIZES = ("14 AWG", "12 AWG", "1/0 AWG")


def with_size(built, names, size):
    """The circuit in whose file these cables have this size, surely; copper as thick as 1/0 AWG is never solid."""
    return replace(built, cables=tuple(resized(each, size) if each.id in names else each for each in built.cables))


def resized(each, size):
    how = {key: word for key, word in each.known_by.items() if key != "size"}
    stranding = "stranded" if size == "1/0 AWG" and each.stranding == "solid" else each.stranding
    return replace(each, size=size, known_by=how, stranding=stranding)


def apart(built):
    @cache
    def in_file(place):
        return with_size(built, {each.id for each in built.cables}, SIZES[place])

    def told(name, place):
        return in_file(place).tree.cable[name], in_file(place)

    return SizesApart(case_of(built, book()), {each.id: 1 for each in built.cables}, told)


def read(chosen_in, sizes, attribute):
    """An entry of each cable, by its id, and the kinds of what was read, where these sizes are chosen."""

    def choose(entry: OpenEntry):
        return sizes.get(entry, entry.possible.options[-1])

    with chosen_in.case.reading.at(choose) as reading:
        return {each.id: getattr(each, attribute) for each in chosen_in.case.cables}, {e.kind for e in reading.reads}


def two(**given):
    return circuit(
        supply(), box("a"), box("b"), cable("one", "panel", "a", size="12 AWG", **given),
        cable("two", "a", "b", size="12 AWG", **given), load("lamp", "b"),
    )  # fmt: skip


def test_of_what_metal_a_cable_can_be_follows_from_the_size_that_is_chosen():
    """NM-B of 12 AWG is copper by its print; NFPA 70, Table 310.16 has 1/0 AWG in aluminum as well."""
    made = apart(two(material=None, stranding=None))
    thick = {made.of_cable["two"]: 2}
    assert read(made, thick, "material")[0] == {"one": "copper", "two": "aluminum"}
    metals, kinds = read(made, {}, "material")
    assert metals == {"one": "copper", "two": "copper"}
    assert kinds == {"chosen cable.size", "cable.material"}


def test_what_hangs_on_no_size_is_the_entry_of_the_planned_cable():
    built = two(ambient_c=(20, 40))
    planned = case_of(built, book())
    made = SizesApart(planned, {"one": 1}, lambda name, place: pytest.fail("no size is looked at"))
    entries = [entry_of(each, "ambient_c") for each in (planned.tree.cable["one"], made.case.tree.cable["one"])]
    assert entries[0] is entries[1] is not None
    assert read(made, {}, "ambient_c") == ({"one": 40, "two": 40}, {"cable.ambient"})
    assert made.case.tree.cable["two"] is planned.tree.cable["two"]


def test_the_thinnest_counts_where_a_cable_is_planned_thicker_and_has_no_size_of_its_own():
    made = apart(two())
    thinned = {made.thinnest: 0}
    assert read(made, thinned, "size")[0] == {"one": "14 AWG", "two": "14 AWG"}
    assert read(made, {**thinned, made.of_cable["one"]: 2}, "size")[0] == {"one": "1/0 AWG", "two": "14 AWG"}
    assert read(made, {made.thinnest: 1}, "size")[0] == {"one": "12 AWG", "two": "12 AWG"}


BUILT = {
    **{f"hallway {seed}": lambda seed=seed: hallway(seed) for seed in range(4)},
    **{f"drawn {seed}": lambda seed=seed: circuit_of(draw_document(f"sizes apart {seed}")) for seed in range(8)},
    "guessed": lambda: two(
        material="aluminum", known_by=dict.fromkeys(("material", "size", "origin"), How.GUESS), origin="existing"
    ),
}


def told(finding):
    names = [each.name for each in fields(Finding) if each.name != "working"]
    return None if finding is None else {name: getattr(finding, name) for name in names}


def asked_about(case, cables):
    """Each of three rules with some parts that it speaks about."""
    fed = [part for part in (*case.loads[:2], *case.drivers[:1]) if part.box in case.tree.order]
    branch = [cable for cable in case.tree.branch_cables if cable.id in cables]
    return [(DROP, part) for part in fed] + [(rule, cable) for rule in (BREAKER, AMPACITY) for cable in branch]


@pytest.mark.parametrize("name", BUILT)
def test_each_answer_is_the_one_about_a_file_with_that_size(name):
    built = BUILT[name]()
    names = [each.id for each in built.tree.branch_cables][:3]
    tried = Sizes(built, case_of(built, book()), SIZES, dict.fromkeys(names, 1))
    ways = [({each.id}, place, tried.alone(each, place)) for each in built.tree.branch_cables[:3] for place in range(3)]
    for changed, place, chosen in [*ways, (set(names), 0, tried.thinned(0))]:
        in_file = case_of(with_size(built, changed, SIZES[place]), book())
        for (rule, part), (_, same) in zip(asked_about(in_file, names), asked_about(tried.case, names), strict=True):
            expected = finding_about(Asker(rule, in_file), part, named=False)
            assert told(tried.about(rule, chosen, same)) == told(expected), (changed, place, rule.name, part.id)
