"""Whatever a paper says to buy, entered as it was said, passes the check that asked for it."""

import re
from dataclasses import replace
from functools import cache

import pytest

from circuitcheck.advice.cutting import cut_list
from circuitcheck.advice.item import Group
from circuitcheck.advice.materials import materials_of
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.checking import check, findings_of
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.findings import Outcome
from circuitcheck.quantities import read_interval
from circuitcheck.quantities.kinds import KINDS
from circuitcheck.rules.capacity.box_fill import RULE as BOX_FILL
from circuitcheck.rules.low_voltage.low_voltage_drop import RULE as LOW_VOLTAGE_DROP
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.oracle.circuits import random_circuit
from tests.oracle.reading import written
from tests.rules.build import CUBIC_INCH, box, cable, circuit, device, load

ALL_SEEDS = range(150)
FEW_SEEDS = ALL_SEEDS[:50]
SEEDS = (*FEW_SEEDS, *(pytest.param(seed, marks=pytest.mark.long) for seed in ALL_SEEDS[len(FEW_SEEDS) :]))
VOLUME = re.compile(r"at least ([\d.]+) in\^3")
SMALLEST = re.compile(r"the smallest that would do is ([^.]+(?:\.\d[^.]*)*)\.$")
RING = re.compile(r"a ring marked with ([\d.]+) in\^3")
NEEDS = re.compile(r"(?:needs|:) (?:[\d.]+ to )?([\d.]+) in³")
LONGEST = re.compile(r'The longest cable "(.+)" of (.+) that would do is ([\d.]+ ft)')


@cache
def random_built(seed):
    sections = random_circuit(seed)
    for number, part in enumerate(sections["box"]):
        if (seed + number) % 3 == 0:
            part["class_2_barrier"] = True
    return read_circuit(written(sections), f"seed {seed}", vocabulary())


@cache
def bought_at(seed):
    """What ``bought`` says of a random circuit."""
    return bought(random_built(seed))


@cache
def fills_of(seed):
    """The room in the boxes of a random circuit."""
    built = random_built(seed)
    return findings_of(built, load_rulebook(built.job.rulebook), (BOX_FILL,))


def bought(built):
    """The lines about boxes on the list of materials, with the boxes they are for."""
    book = load_rulebook(built.job.rulebook)
    report = check(built, book)
    items = materials_of(built, report, book, cut_list(built, book), wiring_of(built))
    return [item for item in items if item.group is Group.BOXES]


def with_box(built, box_id, **changed):
    boxes = tuple(replace(one, **changed) if one.id == box_id else one for one in built.boxes)
    return replace(built, boxes=boxes)


def volume(text):
    return read_interval(f"{text} in^3", KINDS["volume"])


def fill_of(built, box_id):
    found = findings_of(built, load_rulebook(built.job.rulebook), (BOX_FILL,))
    return next(one for one in found if one.subject == box_id)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_box_bought_as_the_list_says_passes(seed):
    built = random_built(seed)
    ids = {one.id for one in built.boxes}
    for item in bought_at(seed):
        said = VOLUME.search(item.what)
        for box_id in ids & set(re.findall(r"b\d+", item.where)) if said else ():
            entered = with_box(built, box_id, volume_m3=volume(said[1]), trade_size=None)
            assert fill_of(entered, box_id).outcome is Outcome.PASS, (seed, box_id, item.what)
        ring = RING.search(item.what)
        if ring:
            (box_id,) = set(re.findall(r"b\d+", item.where))
            own = next(one for one in built.boxes if one.id == box_id)
            entered = with_box(built, box_id, extensions_m3=(*(own.extensions_m3 or ()), volume(ring[1])))
            assert fill_of(entered, box_id).outcome is Outcome.PASS, (seed, box_id, item.what)


@pytest.mark.parametrize("seeds", [FEW_SEEDS, pytest.param(ALL_SEEDS, marks=pytest.mark.long)], ids=["few", "all"])
def test_enough_boxes_and_rings_were_bought(seeds):
    items = [item for seed in seeds for item in bought_at(seed)]
    assert sum(bool(VOLUME.search(item.what)) for item in items) > len(seeds)
    assert sum(bool(RING.search(item.what)) for item in items) > 0.1 * len(seeds)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_smallest_trade_size_of_a_sentence_passes(seed):
    built = random_built(seed)
    for found in fills_of(seed):
        said = SMALLEST.search(found.says)
        if said:
            entered = with_box(built, found.subject, trade_size=said[1], volume_m3=None)
            assert fill_of(entered, found.subject).outcome is Outcome.PASS, (seed, found.says)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_a_sentence_says_is_needed_is_enough(seed):
    """Without extensions or a divider, which add to and take from what the box itself is marked with."""
    built = random_built(seed)
    for found in fills_of(seed):
        own = next(one for one in built.boxes if one.id == found.subject)
        said = NEEDS.search(found.says) if found.outcome is not Outcome.PASS else None
        if said and not own.extensions_m3 and not own.class_2_barrier:
            entered = with_box(built, found.subject, trade_size=None, volume_m3=volume(said[1]))
            assert fill_of(entered, found.subject).outcome is Outcome.PASS, (seed, found.says)


def test_the_longest_cable_of_a_sentence_still_does():
    tried = 0
    for seed in range(400):
        built = random_built(seed)
        book = load_rulebook(built.job.rulebook)
        for found in check(built, book, (LOW_VOLTAGE_DROP,)).findings if built.drivers else ():
            said = next((match for line in found.to_do if (match := LONGEST.search(line))), None)
            if said is None:
                continue
            length = read_interval(said[3], KINDS["length"])
            cables = tuple(replace(one, length_m=length) if one.id == said[1] else one for one in built.cables)
            (entered,) = findings_of(replace(built, cables=cables), book, (LOW_VOLTAGE_DROP,))
            assert entered.outcome is Outcome.PASS, (seed, said[0], entered.says)
            tried += 1
    assert tried > 10


def test_a_box_that_is_a_hair_too_small_is_told_with_two_numbers():
    """By hand, NFPA 70 2020 314.16(B): seven cables 12-2 with ground are 14 x 2.25 = 31.5; seven grounds, 2.25 + 3 x
    0.5625 = 3.9375; together 35.4375 in^3."""
    parts = [box("a", volume_m3=35.4 * CUBIC_INCH, internal_clamps=False)]
    parts += [cable("c0", "panel", "a", size="12 AWG")]
    for number in range(1, 7):
        parts += [box(f"b{number}"), cable(f"c{number}", "a", f"b{number}", size="12 AWG")]
    built = circuit(*parts, load("lamp", "b1", power_w=5))
    (found,) = (one for one in findings_of(built, load_rulebook("nec-2023"), (BOX_FILL,)) if one.subject == "a")
    assert found.value == pytest.approx(35.4375)
    assert "it needs 35.44 in³ and has 35.4 in³" in found.says


def test_a_device_counts_for_the_list_too():
    built = circuit(
        box("a", origin="added", devices=(device(),), internal_clamps=False),
        cable("c", "panel", "a", size="12 AWG"),
        load("lamp", "a", power_w=5),
    )
    # 2 x 2.25 for the conductors, 2.25 for the ground, 2 x 2.25 for the yoke
    (item,) = bought(built)
    assert "at least 11.25 in^3" in item.what
