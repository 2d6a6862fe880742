"""Narrowing: facts lie inside what was possible, a settled entry stays, and in the end nothing is open."""

from functools import cache
from pathlib import Path

import pytest

from circuitcheck.circuit.change import Change
from circuitcheck.circuit.model import Box, Cable, Circuit, Job, Load, Supply
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import read_file
from circuitcheck.quantities import How, Interval
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.generating.circuits import circuit_of, draw_circuit
from tests.generating.dice import Dice, Shares
from tests.generating.entries import all_entries, is_open, only_narrows, open_entries
from tests.generating.model_form import document_of
from tests.generating.narrowing import Narrowing
from tests.generating.opening import opened
from tests.generating.possible import Options, anything

ALL_SEEDS = 120
drawn = cache(draw_circuit)


@pytest.fixture(params=[40, pytest.param(ALL_SEEDS, marks=pytest.mark.long)])
def seeds(request):
    return range(request.param)


def narrowing(seed, circuit):
    return Narrowing(Dice(f"narrow {seed}"), load_rulebook(circuit.job.rulebook))


@cache
def narrowed(seed, share):
    """The circuit of this seed with this share of what is open found out."""
    return narrowing(seed, drawn(seed)).narrowed(drawn(seed), share)


@pytest.mark.parametrize("share", [0.3, 0.7, 1.0])
def test_what_is_settled_stays_and_ranges_only_grow_narrower(share, seeds):
    for seed in seeds:
        before = drawn(seed)
        after = narrowed(seed, share)
        for entry in all_entries(before):
            old, new = entry.value(before), entry.value(after)
            if isinstance(old, Interval):
                assert old.low <= new.low <= new.high <= old.high, entry.path(before)
            elif isinstance(old, tuple) and old:
                assert len(old) == len(new), entry.path(before)
            elif old not in (None, ()) and not is_open(entry, before):
                assert old == new, entry.path(before)


def test_only_what_was_open_differs(seeds):
    for seed in seeds:
        before = drawn(seed)
        after = narrowed(seed, 0.5)
        assert only_narrows(before, after)
        if before != after:
            assert not only_narrows(after, before)


def test_in_the_end_nothing_is_open_and_a_user_could_write_it(seeds):
    for seed in seeds:
        after = narrowed(seed, 1.0)
        assert [entry.path(after) for entry in open_entries(after)] == []
        assert not list(open_entries(circuit_of(document_of(after))))


def test_facts_are_those_that_the_key_accepts(seeds):
    seen = 0
    for seed in seeds:
        before = drawn(seed)
        after = narrowed(seed, 1.0)
        for entry in open_entries(before):
            may, fact = anything(entry.section, entry.key), entry.value(after)
            if isinstance(may, Options) and fact is not None and not isinstance(fact, tuple):
                assert fact in may.options
                seen += 1
            elif entry.value(before) is None and isinstance(fact, Interval):
                assert may.low <= fact.low <= fact.high <= may.high
                seen += 1
    assert seen > 2000 * len(seeds) / ALL_SEEDS


def test_both_ends_of_a_range_and_every_word_are_met():
    supply = Supply(voltage_v=Interval(120, 120), breaker_a=Interval(10, 20), serves=None)
    circuit = Circuit(file="", job=Job(title="a", rulebook="nec-2023"), supply=supply)
    known = [narrowing(seed, circuit).narrowed(circuit, 1.0).supply for seed in range(200)]
    assert {one.breaker_a.low for one in known} == {10, 15, 20}
    assert {one.protection for one in known} == {"none", "arc-fault", "ground-fault", "both"}
    assert {one.shared_neutral for one in known} == {False, True}


def test_what_was_forgotten_can_be_found_out_again():
    file = Path(__file__).parents[2] / "examples" / "hallway.circuit.toml"
    example = read_file(file, vocabulary())
    for seed in range(40):
        forgotten = opened(example, Dice(seed), Shares(left_out=0.3, ranges=0.3))
        assert only_narrows(forgotten, example)
        assert sum(1 for _ in open_entries(forgotten)) > sum(1 for _ in open_entries(example)) + 20
        circuit_of(document_of(forgotten))


def test_a_guess_is_open_until_it_is_found_out():
    lamp = Load(id="lamp", box="a", kind="light", power_w=Interval(45, 75, How.GUESS, "about 60 W"), quantity=2)
    lamp = Load(**{name: getattr(lamp, name) for name in Load.__slots__} | {"known_by": {"quantity": "guess"}})
    supply = Supply(voltage_v=Interval(120, 120), breaker_a=Interval(15, 15))
    circuit = Circuit(
        file="", job=Job(title="a", rulebook="nec-2023"), supply=supply, boxes=(Box(id="a"),), loads=(lamp,)
    )
    paths = {entry.path(circuit) for entry in open_entries(circuit)}
    assert {"load.lamp.power", "load.lamp.quantity", "load.lamp.weight"} <= paths
    assert "load.lamp.apparent" not in paths, "the power is there already"
    assert "load.lamp.fitted" not in paths, "what is fitted today may be left out for good"
    after = narrowing(1, circuit).narrowed(circuit, 1.0).loads[0]
    assert after.quantity in (2, 3)
    assert after.known_by == {}
    assert 45 <= after.power_w.low == after.power_w.high <= 75


def going(action):
    """A heater of which nothing is known but the kind, and that somebody guessed to be there, goes."""
    heater = Load(id="heater", box="box", kind="heater", origin="existing", known_by={"origin": How.GUESS})
    run = Cable(id="run", from_id="panel", to_id="box", origin="existing")
    change = Change(part=Ref("load", "heater"), action=action, new={} if action == "remove" else {"kind": "light"})
    found = Circuit(
        file="a", job=Job(title="heater", rulebook="nec-2023"),
        supply=Supply(voltage_v=Interval(120, 120), breaker_a=Interval(15, 15)),
        boxes=(Box(id="box", origin="existing"),), cables=(run,),
        loads=(heater,), changes=(change,),
    )  # fmt: skip
    return as_planned(found)


def test_of_a_load_that_goes_it_is_found_out_as_it_was():
    planned = going("remove")
    assert planned.loads == ()
    gone = [entry for entry in open_entries(planned) if entry.gone]
    assert {"load.heater.power", "load.heater.on_at_reading"} <= {entry.path(planned) for entry in gone}
    assert "load.heater.origin" not in {entry.path(planned) for entry in gone}
    known = narrowing(0, planned).narrowed(planned, 1.0)
    assert [entry.path(known) for entry in open_entries(known)] == []
    assert known.before.circuit.loads[0].on_at_reading is not None
    assert known.before.circuit.loads[0].kind == "heater"


def test_of_a_load_that_another_stands_for_it_is_not_found_out_what_it_drew():
    paths = {entry.key.name for entry in open_entries(going("replace")) if entry.gone}
    assert "on_at_reading" in paths
    assert not paths & {"kind", "quantity", "power", "apparent", "current", "fitted", "origin"}
