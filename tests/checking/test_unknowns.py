"""The keys that a report had to do without: what decides first, what most answers name, and where one goes for it."""

from circuitcheck.checking.unknowns import most_named_first, unknowns_of
from circuitcheck.circuit.guide import how_to_find, visit_of
from circuitcheck.findings import Finding, Outcome
from tests.rules.build import box, cable, circuit, load

OPEN, CAUTION = Outcome.UNDETERMINED, Outcome.CAUTION
SIZE, WEIGHT = "cable.run.size", "load.lamp.weight"


def finding(*needs, outcome=OPEN, assumed=()):
    return Finding(check="trial", subject="circuit", outcome=outcome, says="so", needs=needs, assumed_keys=assumed)


def built(origin):
    return circuit(box("b"), cable("run", "panel", "b", origin=origin), load("lamp", "b", origin=origin))


def test_what_the_most_answers_name_comes_first_and_of_as_many_what_stands_alone():
    assert list(most_named_first([finding("a", "b"), finding("b", "c"), finding("c", "b")])) == ["b", "c", "a"]
    assert list(most_named_first([finding("a", "b"), finding("c")])) == ["c", "a", "b"]
    assert most_named_first([finding("a", "b"), finding("b")]) == {"b": 2, "a": 1}


def test_what_decides_comes_before_what_decides_nothing():
    told = unknowns_of(
        [finding(WEIGHT, outcome=CAUTION, assumed=("box.b.room",)), finding(SIZE), finding(SIZE, WEIGHT)],
        built("added"),
    )
    assert [(each.key, each.decides) for each in told] == [(SIZE, True), (WEIGHT, True), ("box.b.room", False)]


def test_of_what_is_planned_it_is_said_where_it_will_be_found():
    there, planned = ({each.key: each for each in unknowns_of([finding(SIZE, WEIGHT)], built(origin))} for origin in
                      ("existing", "added"))  # fmt: skip
    assert how_to_find(SIZE, planned=True) != how_to_find(SIZE)
    for key in (SIZE, WEIGHT):
        assert there[key].how_to_find == how_to_find(key)
        assert planned[key].how_to_find == how_to_find(key, planned=True)
        assert there[key].visit == visit_of(key)
        assert planned[key].visit == visit_of(key, planned=True)
    assert planned[WEIGHT].visit != there[WEIGHT].visit
