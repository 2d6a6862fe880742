"""The generated circuits: valid, the same for a seed, of every entry that a user can write, and quickly made."""

import time
from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.circuit.keys.change import CHANGEABLE
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.tables.rulebook import vocabulary
from tests.generating import states
from tests.generating.circuits import circuit_of, draw_circuit, draw_document
from tests.generating.dice import KNOWN, Shares
from tests.generating.entries import open_entries
from tests.generating.planned import draw_changed
from tests.generating.toml_form import toml_text

#: In so many circuits everything stands that can be written; mostly in far fewer.
SEEDS = 4000

pytestmark = pytest.mark.xdist_group("generating")


document_of_seed = cache(draw_document)


@cache
def circuit_of_seed(seed):
    return circuit_of(document_of_seed(seed), f"{seed}.circuit.toml")


@pytest.mark.parametrize("seeds", [400, pytest.param(SEEDS, marks=pytest.mark.long)])
def test_the_reader_accepts_every_one(seeds):
    for seed in range(seeds):
        circuit_of_seed(seed)


@pytest.mark.parametrize("seeds", [100, pytest.param(400, marks=pytest.mark.long)])
def test_the_text_says_what_the_model_says(seeds):
    for seed in range(seeds):
        text = toml_text(document_of_seed(seed))
        assert read_circuit(text, f"{seed}.circuit.toml", vocabulary()) == circuit_of_seed(seed)


def test_every_key_in_every_way_and_every_word_is_written():
    missing = {(key, way) for key, all_ways in states.all_ways().items() for way in all_ways}
    wanted, strange = len(missing), set()
    for seed in range(SEEDS):
        for pair in states.shown(document_of_seed(seed)):
            missing.discard(pair)
            strange |= {pair} if not is_a_way(*pair) else set()
        if not missing:
            break
    assert not missing, f"of {wanted} ways to write a key these are in none of {SEEDS} circuits: {sorted(missing)}"
    assert not strange


def is_a_way(key, way):
    """Whether the list of ways knows this one; free text and names are any."""
    return way in states.all_ways()[key] or way.startswith('"')


def test_the_ways_are_counted_by_what_is_written():
    document = {
        "supply": {"breaker": "15 A to 20 A", "terminals": "about 60 degC", "device": "fuse"},
        "box": [{"id": "a", "devices": [{"kind": "switch"}], "extensions": [], "known_by": {"devices": "guess"}}],
    }
    ways = set(states.shown(document))
    assert {
        ("supply.breaker", "known"),
        ("supply.breaker", "range"),
        ("supply.terminals", "guess"),
        ("supply.device", '"fuse"'),
        ("supply.impedance", "absent"),
        ("box.devices", "known_by guess"),
        ("box.devices.kind", '"switch"'),
        ("box.devices.gangs", "absent"),
        ("box.extensions", "empty list"),
    } <= ways
    assert ("supply.terminals", "range") not in ways


def test_the_same_seed_gives_the_same_circuit():
    assert all(draw_document(seed) == draw_document(seed) for seed in range(50))
    assert draw_document(1) != draw_document(2)


def test_what_hangs_together_is_among_them():
    circuits = [circuit_of_seed(seed) for seed in range(400)]
    fed = [Counter(cable.to_id for cable in circuit.cables) for circuit in circuits]
    boxes = [{box.id for box in circuit.boxes} for circuit in circuits]
    assert sum(any(count[box] == 2 for box in ids) for count, ids in zip(fed, boxes, strict=True)) >= 5, "double-fed"
    assert sum(any(control.with_id for control in circuit.controls) for circuit in circuits) >= 20
    for carries in ("switch loop", "travelers", "switched", "feed"):
        assert sum(any(cable.carries == carries for cable in circuit.cables) for circuit in circuits) >= 15, carries
    lights = [{light.id for light in circuit.low_voltage_loads} for circuit in circuits]
    chains = sum(any(c.from_id in ids for c in circuit.cables) for circuit, ids in zip(circuits, lights, strict=True))
    assert chains >= 10
    assert sum(any(count[light] == 2 for light in ids) for count, ids in zip(fed, lights, strict=True)) >= 5, "strips"
    assert sum(any(driver.paralleled_with for driver in circuit.drivers) for circuit in circuits) >= 3
    assert sum(circuit.supply.shared_neutral is True for circuit in circuits) >= 20
    assert {circuit.job.rulebook for circuit in circuits} == set(vocabulary()["job.rulebook"])


#: Entries that a known circuit leaves out where another entry tells of them, and that another reading opens again.
FOLLOWING = {"box.devices", "box.fixture_ground", "cable.current_carrying", "cable.insulation_temperature"}


def test_changes_of_what_is_there_are_drawn_too():
    """Every action, on every kind of part that can be changed; what the reader refuses is left out."""
    changes = [change for seed in range(80) for change in draw_changed(seed).changes]
    assert {change.action for change in changes} == {"replace", "remove", "move", "alter"}
    assert {change.part.section for change in changes} == set(CHANGEABLE)
    assert len({(change.part.section, change.action) for change in changes}) >= 16


def test_a_known_circuit_leaves_nothing_open():
    for seed in range(100):
        left = {entry.name for entry in open_entries(draw_circuit(seed, KNOWN))}
        assert left <= FOLLOWING, "what is left out where another entry tells it"


@given(st.integers(), st.floats(0, 1), st.floats(0, 1))
@settings(max_examples=40, deadline=None)
def test_any_seed_and_any_shares_give_a_circuit(seed, left_out, ranges):
    assert draw_circuit(seed, Shares(left_out, ranges)).job.title


def test_the_shares_do_what_they_say():
    def opened(shares):
        return sum(len(list(open_entries(draw_circuit(seed, shares)))) for seed in range(60))

    few, many = opened(Shares(left_out=0.1, ranges=0.0)), opened(Shares(left_out=0.6, ranges=0.0))
    assert 3 * few < many
    assert opened(Shares(left_out=0.1, ranges=0.5)) > 1.3 * few


def test_thousands_a_minute():
    start = time.process_time()
    for seed in range(100):
        draw_circuit(seed)
    assert time.process_time() - start < 3, "2,000 circuits a minute at least, on a slow machine too"
