"""Every entry of the table while nothing is said about it: by the form of its key, and where it is less, by reason.

What a key takes at all is told by the file format (``circuitcheck/circuit/keys``), so that nothing an electrician may
find is left out. Where an entry can be less than that, or is told by another one, the reason stands beside it.
"""

from datetime import date

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import (
    Box,
    Cable,
    Circuit,
    Control,
    Device,
    Driver,
    Framing,
    Job,
    Load,
    LowVoltageLoad,
    Site,
    Supply,
)
from circuitcheck.findings import Status
from circuitcheck.possible.entry import Later
from circuitcheck.possible.table import declared
from circuitcheck.tables.rulebook import vocabulary
from tests.rules.build import INCH, POUND, book, exact


def bare(origin="added", **given):
    """One part of each kind of which nothing is said but how they hang together, and what ``given`` says by section."""

    def made(kind, section, name, **more):
        return kind(**({"id": name, "origin": origin} | more | given.get(section, {}) | given.get(name, {})))

    boxes = made(Box, "box", "b"), made(Box, "box", "empty")
    cables = (
        made(Cable, "cable", "feed", from_id="panel", to_id="b"),
        made(Cable, "cable", "on", from_id="b", to_id="empty"),
        made(Cable, "cable", "low", from_id="driver", to_id="strip"),
        *given.get("more", ()),
    )
    return Circuit(
        file="bare.circuit.toml",
        job=Job(title="bare", rulebook="nec-2023"),
        supply=Supply(voltage_v=exact(120.0), breaker_a=exact(15.0), **given.get("supply", {})),
        site=Site(**given.get("site", {})),
        boxes=boxes,
        cables=cables,
        loads=(made(Load, "load", "thing", box="b"),),
        drivers=(made(Driver, "driver", "driver", box="b"),),
        low_voltage_loads=(made(LowVoltageLoad, "low_voltage_load", "strip"),),
        controls=(made(Control, "control", "switch", box="b"),),
        framing=(made(Framing, "framing", "stud"),),
    )


#: The part that is looked at, where it is not the first of its section.
NAMES = {"box.neutral": "empty", "box.reachable": "empty", "box.class_2_barrier": "empty", "cable.carries": "on"}


def looked_at(kind, origin="added", part=None, **given):
    """What an entry of one part can be, None where it is settled; and its value then."""
    section, _, name = kind.partition(".")
    case = case_of(bare(origin, **given), book())
    part = part or NAMES.get(kind)
    held = getattr(case, SECTIONS[section].attribute)
    if SECTIONS[section].many:
        held = next(each for each in held if part in (None, each.id))
    entry = next((each for each in case.entries if each.kind == kind and each.part is held), None)
    return (None, getattr(held, SECTIONS[section].keys[name].attribute)) if entry is None else (entry.possible, None)


def options(kind, origin="added", part=None, **given):
    """What an entry can be; what it is where that is settled."""
    possible, value = looked_at(kind, origin, part, **given)
    return (value,) if possible is None else possible.options


def of_form(*forms):
    """The rows of keys of these forms that can be open."""
    for kind, row in declared().items():
        section, _, name = kind.partition(".")
        key = SECTIONS[section].keys[name]
        if key.form in forms and (row.may_be is not None or row.infer):
            yield kind, key


# -- what can be less than the key takes ---------------------------------------------------------------------------

LESS = {
    # The work is what is added; what is there already the file has to say.
    **{f"{name}.origin": ("added",) for name, section in SECTIONS.items() if "origin" in section.keys},
    # The key that holds its rating is called breaker.
    "supply.device": ("breaker",),
    # NFPA 70, 110.14(C)(1)(a): of 60 and 75 °C the lower, for circuits of 100 A or less.
    "supply.terminals": (60.0,),
    # A branch circuit of a house has 120 V from one pole or 240 V from two; three are for three phases.
    "supply.poles": (1, 2),
    # One, two, more: one- and two-family dwellings are what the standard names.
    "site.dwelling_units": (1, 2, 3),
    # 210.52(G)(1): a receptacle for each vehicle bay; one or more than one.
    "site.garage_bays": (1, 2),
    # One more is looked at, and none presumed: each takes the room of one conductor or more (314.16(B)).
    "box.fittings": ((), ("stud",)),
    "box.terminal_blocks": (0, 1),
    "box.extensions": ((),),
    "load.quantity": (1, 2),
    # Cable for lighting is sold with two insulated conductors and with three.
    "cable.conductors": (2, 3),
    # Common practice: none to two others lie alongside.
    "cable.bundled_with": (0, 2),
    # 334.80: more than two cables in a hole that is sealed count; with three others there are four.
    "cable.sealed_hole_with": (0, 3),
    # Chapter 9, Table 8 is printed for 75 °C.
    "cable.conductor_temperature": (75.0,),
    # Of two wires; both at once, travelers and two circuits need a third.
    "cable.carries": ("feed", "switched", "switch loop"),
    # 410.44: what has metal that can be touched has to be grounded.
    "load.metal_parts": (True,),
    # 410.16(C): without the mark the distances count.
    "load.closet_marked": (False,),
    "low_voltage_load.closet_marked": (False,),
    # Wire of houses is rated 60 °C (before about 1985) or 90 °C (NM-B): what a label may ask for.
    "load.supply_temperature": (60.0, 90.0),
    # Common practice: from plain electronics to a corrected input.
    "load.power_factor": (0.5, 1.0),
    "driver.power_factor": (0.5, 1.0),
    "driver.efficiency": (0.7, 1.0),
}
#: What else has to be said so that the entry is open, or so that it is the table that tells what it can be.
SAID = {
    "load.fan": {"load": {"kind": "fan"}},
    "load.hardwire_in_instructions": {"load": {"converted": True}},
    "load.insulation_contact": {"load": {"mounting": "recessed"}},
    "load.in_insulation": {"load": {"mounting": "recessed"}},
    "load.replaces": {"b": {"origin": "existing"}},
    "box.class_2_barrier": {"more": (Cable(id="through", from_id="driver", to_id="empty"),)},
    "driver.efficiency": {"driver": {"output_power_w": exact(60.0)}},
}
#: Those that are open only beside what is there already.
EXISTING = {"cable.carries", "box.neutral"}


def said_of(kind):
    origin = None if kind.endswith(".origin") else "existing" if kind in EXISTING else "added"
    return {"origin": origin, **SAID.get(kind, {})}


def test_less_than_the_key_takes():
    for kind, expected in LESS.items():
        found = options(kind, **said_of(kind))
        assert found == pytest.approx(expected) if isinstance(expected[0], float) else found == expected, kind


def test_ends_of_what_is_counted():
    """House wiring began about 1880, and a cable may be from this year; stairs and labels go to what the file takes."""
    first, last = options("site.wired")
    assert first == SECTIONS["site"].keys["wired"].least == 1880
    assert 2026 <= last <= date.today().year
    assert options("site.stair_risers") == (0, SECTIONS["site"].keys["stair_risers"].greatest)
    assert options("load.through_wiring_count") == (0, SECTIONS["load"].keys["through_wiring_count"].greatest)


def test_yes_or_no_is_either():
    kinds = [kind for kind, _ in of_form(Form.YES_NO) if kind not in LESS]
    assert len(kinds) > 50
    for kind in kinds:
        possible, _ = looked_at(kind, **said_of(kind))
        assert (set(possible.options), possible.bounded) == ({False, True}, True), kind


def test_what_is_common_practice_is_cited_and_that_a_question_has_two_answers_is_not():
    practice = {kind for kind, row in declared().items() if row.source and row.source.status is Status.COMMON_PRACTICE}
    assert {"box.fittings", "load.quantity", "cable.sealed_hole_with", "cable.bundled_with"} < practice
    for kind in ("box.fittings", "load.quantity", "cable.sealed_hole_with", "cable.bundled_with"):
        assert [source.status for source in looked_at(kind)[0].sources] == [Status.COMMON_PRACTICE], kind
    for kind in ("box.internal_clamps", "cable.plates", "load.listed"):
        assert looked_at(kind)[0].sources == (), kind


#: Sizes are told by others: of a cable below, of a light's own ground in ``test_boxes``.
SIZES = {"cable.size", "box.fixture_ground"}


def test_a_word_is_any_word_that_the_file_takes():
    kinds = [(kind, key) for kind, key in of_form(Form.WORD, Form.SIZE) if kind not in LESS and kind not in SIZES]
    assert len(kinds) > 30
    for kind, key in kinds:
        if kind != "cable.type":
            words = (*key.words, *vocabulary().get(key.vocabulary, ()))
            assert sorted(options(kind, **said_of(kind))) == sorted(words), kind


def test_a_cable_is_of_any_type_and_for_120_v_of_none_that_is_made_for_less():
    """725: class 2 cable, cords and bell wire are no wiring of a branch circuit."""
    every = set(vocabulary()["cable.type"])
    assert set(options("cable.type", part="low")) == every
    branch = set(options("cable.type", part="feed"))
    assert "class 2 cable" in every - branch
    of_houses = ("NM", "UF", "AC", "MC", "BX")
    assert {word for word in every if "raceway" in word or word.startswith(of_houses)} <= branch


def test_a_cable_of_a_branch_circuit_is_of_a_usual_size():
    """240.4(D): 14, 12 and 10 AWG belong to breakers of 15, 20 and 30 A."""
    assert options("cable.size") == ("14 AWG", "12 AWG", "10 AWG")
    assert {"18 AWG", "0.5 mm^2"} <= set(options("cable.size", part="low"))


def test_a_number_without_a_bound_is_anything_that_the_file_takes():
    unbound = {
        "cable": ("length", "edge_distance", "support_spacing", "support_from_box", "free_length"),
        "load": ("power", "weight", "closet_distance", "combustible_distance"),
        "driver": ("output_voltage", "output_power", "input_current"),
        "low_voltage_load": ("power", "closet_distance"),
        "control": ("rated_led", "rated_incandescent"),
        "framing": ("depth", "diameter", "edge_distance", "notch_depth", "notch_length"),
    }
    for section, names in unbound.items():
        for name in names:
            possible, _ = looked_at(f"{section}.{name}")
            kind = SECTIONS[section].keys[name].kind
            # A driver of 0.1 W takes less than the least that a label says in amperes: its watts may be found instead.
            least = 0.0 if name == "input_current" else kind.least_si
            assert (possible.options, possible.bounded) == ((least, kind.greatest_si), False), (section, name)


# -- what is settled later, or presumed ----------------------------------------------------------------------------

#: What whoever does the work still does, buys or leaves undone: nothing of it is there yet.
STILL_TO_DO = {
    "box": {"bonded", "reachable", "covered", "neutral"},
    "cable": {
        *("white_remarked", "exposed_to_damage", "plates", "guard_strips"),
        *("edge_distance", "support_spacing", "support_from_box", "free_length"),
    },
    "load": {"grounding", "listed", "tamper_resistant", "ground_fault", "closet_distance", "combustible_distance"},
    "driver": {"reachable", "listed"},
    "low_voltage_load": {"listed", "closet_distance"},
    "framing": {"edge_distance", "notch_length", "plates"},
}
#: Of that, what is done in a minute on what is there too.
DONE_ON_OLD_WORK = {"box.covered", "cable.white_remarked"}


def kinds_later(origin, later):
    entries = case_of(bare(origin), book()).entries
    return {entry.kind for entry in entries if entry.possible.later is later and entry.part.__dict__.get("id") != "b"}


def test_what_is_still_to_be_done_is_work_to_come_and_what_is_there_is_not():
    to_do = {f"{section}.{name}" for section, names in STILL_TO_DO.items() for name in names}
    assert kinds_later("added", Later.WORK_TO_COME) == to_do
    assert kinds_later("existing", Later.WORK_TO_COME) == DONE_ON_OLD_WORK


def test_how_long_it_is_on_depends_on_people():
    for origin in ("added", "existing"):
        assert kinds_later(origin, Later.DURATION) == {"load.continuous", "driver.continuous"}


#: What is seldom there and takes room or calls for a look where it is: none counts until somebody names it.
PRESUMED = {
    "box.fittings": (),
    "box.terminal_blocks": 0,
    "box.unbroken": (),
    "cable.sealed_hole_with": 0,
    "cable.air_space": "none",
    "load.quantity": 1,
    "cable.carries": "feed",
}


def test_what_is_presumed_counts_first():
    entries = case_of(bare("existing"), book()).entries
    first = {entry.kind: entry.possible.options[0] for entry in entries if entry.possible.presumed}
    assert first == PRESUMED


def test_what_is_presumed_is_told_on_the_front_page():
    """The page lists the rows that say so."""
    told = {kind for kind, row in declared().items() if row.presumed}
    assert told == {*PRESUMED, "box.depth"}


# -- what another entry tells --------------------------------------------------------------------------------------

DEVICE = (Device(kind="switch"),)
LIT = exact(60.0)
#: The entry; what is said beside it; what it is then.
FOLLOWS = [
    # 314.16(A): a box is known by its trade size or by the volume in it; of one with neither nobody knows it.
    ("box.volume", {}, (None,)),
    ("box.volume", {"box": {"trade_size": "4 x 1-1/2 octagon"}}, (None,)),
    # 314.24(A): half an inch at the least.
    ("box.depth", {"box": {"devices": DEVICE}}, (None, 0.5 * INCH)),
    ("box.depth", {}, (None,)),
    # 314.27(A): a box that the wall finish holds carries 6 lb, a luminaire box 50 lb.
    ("box.support_limit", {}, (6 * POUND, 50 * POUND)),
    ("box.support_limit", {"box": {"mounting": "framing"}}, (None,)),
    # A new box is in the room of the job.
    ("box.room", {"site": {"room": "hallway"}}, ("hallway",)),
    ("box.gangs", {"box": {"devices": (*DEVICE, *DEVICE)}}, (2,)),
    # 725.136: a barrier parts power from class 2 wires; where there are none there is nothing to part.
    ("box.class_2_barrier", {}, (False,)),
    # The equipment ground ends at the driver: class 2 cable has none.
    ("cable.ground", {"part": "low"}, (False,)),
    # Trade: NM-B in 14, 12 and 10 AWG is solid copper, under a plastic sheath.
    ("cable.stranding", {"cable": {"type": "NM-B", "size": "12 AWG"}}, ("solid",)),
    ("cable.material", {"cable": {"type": "NM-B", "size": "12 AWG"}}, ("copper",)),
    ("cable.sheath", {"cable": {"type": "NM-B"}}, ("plastic",)),
    # Two to three of its own, and up to two cables of three alongside.
    ("cable.current_carrying", {}, (2, 9)),
    # 340.80 and 340.112: 60 °C, or 90 °C indoors.
    ("cable.insulation_temperature", {"cable": {"type": "UF-B", "place": "attic"}}, (60.0, 90.0)),
    ("cable.insulation_temperature", {}, (None,)),
    # Old cable that nobody describes is inside a wall or a ceiling.
    ("cable.concealed", {"origin": "existing"}, (True,)),
    ("load.fan", {"load": {"kind": "light"}}, (None,)),
    # Filaments are resistors.
    ("load.power_factor", {"load": {"lamp": "halogen"}}, (1.0,)),
    # Nothing with a plug is set into a ceiling.
    ("load.converted", {"load": {"mounting": "recessed"}}, (False,)),
    # Of a light that was not made to plug in nobody needs it.
    ("load.hardwire_in_instructions", {}, (False,)),
    # Nothing hung on a new box before.
    ("load.replaces", {}, (False,)),
    # Of a light that is not known to be recessed the mark does not count, and contact is taken for granted.
    ("load.insulation_contact", {}, (False,)),
    ("load.in_insulation", {}, (True,)),
    # Amperes, watts, or watts out with an efficiency: one says the others.
    ("driver.input_current", {"driver": {"output_power_w": LIT}}, (None,)),
    ("driver.efficiency", {}, (None,)),
    ("driver.efficiency", {"driver": {"output_power_w": LIT, "input_current_a": exact(0.6)}}, (None,)),
    # 314.29: what hangs on a box out of reach is out of reach.
    ("driver.reachable", {"b": {"reachable": False}}, (False,)),
    ("low_voltage_load.power", {"low_voltage_load": {"power_per_length_w_per_m": LIT}}, (None,)),
    # A hole is no notch.
    ("framing.diameter", {"framing": {"cut": "notch"}}, (None,)),
    ("framing.notch_depth", {"framing": {"cut": "hole"}}, (None,)),
    ("framing.notch_length", {"framing": {"cut": "hole"}}, (None,)),
    # No tub stands in a hallway.
    ("low_voltage_load.over_bath", {"site": {"room": "hallway"}}, (False,)),
    ("load.over_bath", {"site": {"room": "hallway"}}, (False,)),
]


@pytest.mark.parametrize(("kind", "given", "expected"), FOLLOWS, ids=[f"{kind} {given}" for kind, given, _ in FOLLOWS])
def test_what_another_entry_tells(kind, given, expected):
    found = options(kind, **given)
    assert found == (pytest.approx(expected) if isinstance(expected[-1], float) else expected)


def test_what_nobody_knows_of_a_box_is_told():
    """Neither the mark nor the trade size: no number stands for it, and the paper says that it is unknown."""
    possible, _ = looked_at("box.volume")
    assert possible.assumed
    assert looked_at("box.volume", box={"trade_size": "4 x 1-1/2 octagon"}) == (None, None)


def test_what_runs_above_ground_is_not_buried():
    words = SECTIONS["cable"].keys["run"].words
    assert set(options("cable.run", cable={"place": "attic"})) == {*words} - {"buried"}


def test_a_box_behind_a_light_is_reached_by_taking_that_off():
    """314.29: to keep it so is work to come, on an old box too; an empty one is covered by whatever hides it."""
    assert looked_at("box.reachable", "existing", "b")[0].later is Later.WORK_TO_COME
    assert looked_at("box.reachable", "existing", "empty")[0].later is None


def test_away_from_attics_insulation_is_kept_clear_of():
    possible, _ = looked_at("driver.in_insulation", cable={"place": "inside"})
    assert possible.later is Later.WORK_TO_COME
    assert looked_at("driver.in_insulation", cable={"place": "attic"})[0].later is None


@pytest.mark.parametrize("section", ["load", "driver", "low_voltage_load"])
def test_in_a_room_that_is_perhaps_damp_the_mark_is_still_to_be_bought(section):
    """Article 100 names basements among damp locations by example; some are dry."""
    wall = {"over_bath": False, "mounting": "wall"}
    given = {"load": wall, "low_voltage_load": wall}
    kind = f"{section}.location_marked"
    assert looked_at(kind, site={"room": "basement"}, **given)[0].later is Later.WORK_TO_COME
    assert looked_at(kind, "existing", site={"room": "basement"}, **given)[0].later is None


def test_a_strip_has_a_length_and_conductors_of_its_own():
    given = {"low_voltage_load": {"power_per_length_w_per_m": LIT}}
    possible, _ = looked_at("low_voltage_load.length", **given)
    key = SECTIONS["low_voltage_load"].keys["length"].kind
    assert (possible.options, possible.bounded) == ((key.least_si, key.greatest_si), False)
    least, most = options("low_voltage_load.resistance_per_length", **given)
    assert least == 0 < most
    at_one_point = {"low_voltage_load": {"power_w": LIT}}
    for name in ("length", "resistance_per_length"):
        assert options(f"low_voltage_load.{name}", **at_one_point) == (None,)
    # of which nobody says any power it may be either
    assert options("low_voltage_load.length") == (None, key.least_si, key.greatest_si)
    assert options("low_voltage_load.resistance_per_length") == (least, most)
