"""Room left: sums in comments, then on whole circuits that so many pass and one more does not."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from circuitcheck.advice.asking_again import outcomes
from circuitcheck.advice.conductors_left import most_that_passes
from circuitcheck.advice.room_left import load_left, room_left_at, room_left_of
from circuitcheck.advice.room_words import room_sentences
from circuitcheck.checking import check
from circuitcheck.checking.would_do import changed
from circuitcheck.circuit.model import Unbroken
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import SEVERITY, Outcome
from circuitcheck.quantities import Interval, in_unit, to_si
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.generating.dice import Dice, Shares
from tests.generating.opening import opened
from tests.rules.build import FOOT, box, cable, circuit, load

ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.xdist_group("room-left")


def rooms_of(built):
    rulebook = load_rulebook(built.job.rulebook)
    rooms = room_left_of(check(built, rulebook), built, rulebook)
    return {(room.of, room.kind, room.size): room for room in rooms}


def one_light(watts, **cable_entries):
    lamp = load("lamp", "b", power_w=watts, origin="added", weight_kg=0.01)
    return rooms_of(circuit(box("b"), cable("feed", "panel", "b", **cable_entries), lamp))


def test_the_breaker_by_hand():
    # 600 W / 120 V = 5 A of 15 A, not continuous: 10 A more, or 10 / 1.25 = 8 A that stays on
    rooms = one_light(600, length_m=1.0)
    assert (rooms["supply", "load", None].amount, rooms["supply", "load", None].check) == (10.0, "load-share")
    assert rooms["supply", "continuous load", None].amount == 8.0


def test_the_length_to_a_light_by_hand():
    # 3 % of 120 V is 3.6 V; at 116.4 V 600 W draw 5.155 A; 3.6 / 5.155 = 0.6984 ohm; two conductors of 3.07 ohm per
    # 1000 ft (NFPA 70, chapter 9, Table 8, 14 AWG solid at 75 degC): 0.6984 / 0.00614 = 113.7 ft, of which 30 are there
    room = one_light(600, length_m=30 * FOOT)["cable.feed", "length", None]
    assert (room.amount, room.unit, room.check) == (83.0, "ft", "voltage-drop")


class NoLongerWantedError(Exception):
    """Something else is asked for."""


@pytest.mark.parametrize("last", [1, 5, 40, 60])
def test_a_search_that_is_no_longer_wanted_ends_before_the_next_rule(last):
    """Sixty rules are asked what far too many lights of this kind would do: between any two it can be ended."""
    lamp = load("lamp", "b", power_w=60, origin="added")
    built = circuit(box("b"), cable("feed", "panel", "b", length_m=1.0), lamp)
    rulebook = load_rulebook(built.job.rulebook)
    calls = []

    def go_on():
        calls.append(1)
        if len(calls) == last:
            raise NoLongerWantedError

    with pytest.raises(NoLongerWantedError):
        list(room_left_at(Ref("load", "lamp"), check(built, rulebook), built, rulebook, progress=go_on))
    assert len(calls) == last


def test_warmer_air_by_hand():
    # 14 AWG of 90 degC: 25 A (Table 310.16). At 76 to 80 degC x 0.41 = 10.25 A: the next rating up is 15 A (240.4(B)).
    # At 81 to 85 degC x 0.29 = 7.25 A: the next is 10 A (240.6(A) of 2023). 30 degC are 86 degF, 80 degC 176 degF.
    room = one_light(600)["cable.feed", "warmer air", None]
    assert (room.amount, room.unit, room.check) == (90.0, "degF", "ampacity")


def test_cables_alongside_by_hand():
    # Table 310.15(C)(1): up to 30 conductors together x 0.45, 25 A x 0.45 = 11.25 A, next rating 15 A; from 31 on
    # x 0.40 makes 10 A, a rating of its own. Each other cable may have three: 2 + 9 x 3 = 29, 2 + 10 x 3 = 32.
    room = one_light(600, in_insulation=False)["cable.feed", "cables alongside", None]
    assert (room.amount, room.check) == (9.0, "ampacity")


def test_what_is_too_full_has_no_room():
    # 2 x 2.00 and grounds 2.00 = 6 in^3 in a box of 5
    lamp = load("lamp", "b", power_w=60, origin="added")
    full = box("b", trade_size=None, volume_m3=5 * 0.0254**3)
    room = rooms_of(circuit(full, cable("feed", "panel", "b"), lamp))["box.b", "conductors", "14 AWG"]
    assert (room.amount, room.check) == (0.0, "box-fill")


def words_of(built):
    rulebook = load_rulebook(built.job.rulebook)
    return tuple(room_sentences(room_left_of(check(built, rulebook), built, rulebook)))


def test_of_a_breaker_whose_load_is_open_nobody_can_tell():
    """A heater of which no label was read: 0 A are known of it, and it may draw all of the 15 A."""
    lamp = load("lamp", "b", power_w=60, origin="added", weight_kg=0.01)
    heater = load("heater", "b", kind="heater", origin="existing")
    built = circuit(box("b"), cable("feed", "panel", "b", length_m=1.0, origin="added"), lamp, heater)
    rooms = rooms_of(built)
    for about in (("supply", "load"), ("supply", "continuous load"), ("load.lamp", "more of this")):
        room = rooms[(*about, None)]
        assert (room.amount, room.check, room.then) == (None, "load-share", None)
    breaker, light, *others = words_of(built)
    assert breaker == "Breaker: cannot tell how much more load until load share is settled."
    assert light == 'Load "lamp": cannot tell how many more of this until load share is settled.'
    assert "no more" not in " ".join((breaker, light, *others))


@pytest.mark.parametrize(
    ("complete", "says"),
    [
        (True, "Breaker: 10 A more, or 8 A more that stays on for 3 hours or more."),
        (None, "Breaker: 10 A more, or 8 A more that stays on for 3 hours or more, if every load on it is listed."),
        (False, "Breaker: cannot tell how much more load until complete list of loads is settled."),
    ],
)
def test_what_is_left_on_the_breaker_rests_on_a_complete_list(complete, says):
    # 600 W / 120 V = 5 A of 15 A, as above
    lamp = load("lamp", "b", power_w=600, origin="added", weight_kg=0.01)
    built = circuit(box("b"), cable("feed", "panel", "b", length_m=1.0), lamp)
    built = replace(built, supply=replace(built.supply, loads_complete=complete))
    assert words_of(built)[0] == says
    rulebook = load_rulebook(built.job.rulebook)
    assert load_left(check(built, rulebook), built, rulebook) == (None if complete is False else 10.0)


def test_a_breaker_that_is_overloaded_has_no_room_whatever_else_is_unknown():
    # 2400 W / 120 V = 20 A on 15 A, and what else is on it makes it no better
    lamp = load("lamp", "b", power_w=2400, origin="added")
    built = circuit(box("b"), cable("feed", "panel", "b", length_m=1.0), lamp)
    built = replace(built, supply=replace(built.supply, loads_complete=False))
    assert words_of(built)[0] == "Breaker: no more load."


def test_of_a_box_that_is_known_in_part():
    # 2 x 2.00 and perhaps 2.00 for clamps; a ground makes 2.00: 6 or 8 in^3, in a box of 7, of 8 and of 10 in^3.
    # 14 AWG take 2.00, 12 AWG 2.25 (314.16(B)(1)), so of 10 in^3 one more of 14 AWG passes whatever the clamps are.
    def told(volume):
        lamp = load("lamp", "b", power_w=60, origin="added", weight_kg=0.01)
        held = box("b", trade_size=None, volume_m3=volume * 0.0254**3, internal_clamps=None, material="metal")
        return next(each for each in words_of(circuit(held, cable("feed", "panel", "b"), lamp)) if "Box" in each)

    assert told(7) == 'Box "b": cannot tell how many more conductors until box fill is settled.'
    assert told(8) == 'Box "b": one more conductor: box fill cannot tell yet.'
    assert told(10.01) == 'Box "b": more conductors: at least 1 of 14 AWG.'


def test_no_room_where_the_work_stops():
    built = read_file(ROOT / "examples" / "old-house.circuit.toml", vocabulary())
    assert rooms_of(built) == {}


@pytest.mark.parametrize("limit", [0, 1, 2, 3, 7, 8, 9, 31, 32, 63, 64])
@pytest.mark.parametrize("most", [1, 8, 64, 99])
def test_the_search_agrees_with_counting(limit, most):
    assert most_that_passes(lambda count: count <= limit, most) == min(limit, most)


def with_more(built, room, steps):
    """The circuit with so much more of what a room is for, as the file would say it."""
    section, _, name = room.of.partition(".")
    if room.kind == "more of this":
        held = next(each for each in built.loads if each.id == name)
        return changed(built, Ref("load", name, "quantity"), (held.quantity or 1) + steps)
    if room.kind == "conductors":
        run = Unbroken(size=room.size, count=steps, other_circuit=True)
        boxes = [
            replace(each, unbroken=(*(each.unbroken or ()), run)) if each.id == name else each for each in built.boxes
        ]
        return replace(built, boxes=tuple(boxes))
    held = next(each for each in built.cables if each.id == name)
    if room.kind == "cables alongside":
        return changed(built, Ref(section, name, "bundled_with"), held.bundled_with + steps)
    key, value = ("length", held.length_m) if room.kind == "length" else ("ambient", held.ambient_c)
    longer = [to_si(in_unit(end, room.unit) + steps, room.unit) for end in (value.low, value.high)]
    return changed(built, Ref(section, name, key), Interval(*longer))


def worse(built, rulebook, base):
    told = outcomes(check(built, rulebook).findings)
    return {
        check for (check, subject), outcome in told.items()
        if SEVERITY[outcome] < SEVERITY[base.get((check, subject), Outcome.PASS)]
    }  # fmt: skip


@cache
def with_rooms(example):
    built = read_file(ROOT / "examples" / f"{example}.circuit.toml", vocabulary())
    rulebook = load_rulebook(built.job.rulebook)
    report = check(built, rulebook)
    return built, rulebook, report, room_left_of(report, built, rulebook)


@pytest.mark.parametrize(
    ("example", "kind", "of"),
    [
        ("hallway", "more of this", "load.wall light 1"),
        ("hallway", "length", "cable.to wall 3"),
        ("hallway", "conductors", "box.landing switch"),
        ("hallway", "cables alongside", "cable.to landing outlet"),
        ("bedroom", "more of this", "load.left light"),
        ("bedroom", "conductors", "box.door switch"),
        ("shelf-strip", "length", "cable.to driver"),
    ],
)
def test_so_many_pass_and_one_more_does_not(example, kind, of):
    """Asked of the whole check, not of the answers that the search looked at."""
    built, rulebook, report, rooms = with_rooms(example)
    base = outcomes(report.findings)
    room = next(each for each in rooms if (each.of, each.kind) == (of, kind))
    steps = round(room.amount)
    assert steps > 0
    assert not worse(with_more(built, room, steps), rulebook, base)
    assert room.check in worse(with_more(built, room, steps + 1), rulebook, base)


@pytest.mark.parametrize("seed", [1, *(pytest.param(seed, marks=pytest.mark.long) for seed in range(2, 30))])
def test_so_many_pass_of_a_circuit_that_is_known_in_part(seed):
    known = with_rooms(("bedroom", "shelf-strip")[seed % 2])[0]
    built = opened(known, Dice(seed), Shares(left_out=0.04, ranges=0.2))
    rulebook = load_rulebook(built.job.rulebook)
    report = check(built, rulebook)
    base = outcomes(report.findings)
    rooms = [
        room for room in room_left_of(report, built, rulebook) if room.amount and room.kind in ("length", "conductors")
    ]
    for room in rooms[:: max(1, len(rooms) // 3)]:
        assert not worse(with_more(built, room, round(room.amount)), rulebook, base), room
        assert room.check in worse(with_more(built, room, round(room.amount) + 1), rulebook, base), room


def test_a_light_and_a_cable_of_unknown_origin_count_as_added_here_too():
    # As with the added ones above: 83 ft more of cable; and so many more of the light as were it told that it is new.
    lamp = load("lamp", "b", power_w=600, weight_kg=0.01)
    feed = cable("feed", "panel", "b", length_m=30 * FOOT)
    told = rooms_of(circuit(box("b"), replace(feed, origin="added"), replace(lamp, origin="added")))
    open_ = rooms_of(circuit(box("b"), replace(feed, origin=None), replace(lamp, origin=None)))
    assert open_["cable.feed", "length", None].amount == 83.0
    for about in (("cable.feed", "length", None), ("load.lamp", "more of this", None)):
        assert open_[about].amount == told[about].amount
