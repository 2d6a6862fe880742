"""The materials of the hallway example, counted by hand from its file and the drawing at its top.

Four new runs of 14/2: 26, 17, 15 and 15 ft. Five boxes are opened: three wall boxes and the hall switch are new, the
attic box is there.
"""

import pytest

from circuitcheck.advice.cutting import cut_list
from circuitcheck.advice.item import Group
from circuitcheck.advice.materials import materials_of
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.findings import Status
from circuitcheck.quantities import in_unit
from tests.advice.build import example


@pytest.fixture(scope="module")
def cuts():
    built, _, book = example("hallway")
    return cut_list(built, book)


@pytest.fixture(scope="module")
def items():
    built, report, book = example("hallway")
    cuts = cut_list(built, book)
    return materials_of(built, report, book, cuts, wiring_of(built))


def lines(items, group):
    return {item.what: item.amount for item in items if item.group is group}


def test_pieces_of_cable(cuts):
    """Each run and at both ends 8 in of free conductor, as the file has it (NFPA 70-2023, 300.14 asks for 6 in),
    and 1/4 in of sheath in the box (314.17(B)(2)): 2 x 8.25 in = 16.5 in more than box to box.

    26 ft + 16.5 in = 328.5 in, 17 ft: 220.5 in, 15 ft: 196.5 in, twice.
    """
    pieces = {cut.cable.id: in_unit(cut.piece.high, "in") for cut in cuts.cuts}
    expected = {"to hall switch": 328.5, "to wall 1": 220.5, "to wall 2": 196.5, "to wall 3": 196.5}
    assert pieces == pytest.approx(expected)


def test_cable_to_buy(items):
    """328.5 + 220.5 + 196.5 + 196.5 = 942 in = 78.5 ft; a tenth more for waste (trade practice, a page on estimating
    branch wiring): 86.35 ft, so 87 ft. One kind only."""
    assert lines(items, Group.CABLE) == {"NM-B 14 AWG, 2 conductors and ground, copper": "87 ft"}


def test_staples(items):
    """The file wants the first staple 10 in from each box and 4 ft between (334.30, IRC Table E3802.1: up to 12 in and
    4-1/2 ft). Between the two outer ones lie 312 - 20 = 292 in, six whole spans of 48 in and a bit: 7 spans, 8 staples.

    17 ft: 184 in, 4 spans, 5 staples. 15 ft: 160 in, 4 spans, 5 staples, twice. 8 + 5 + 5 + 5 = 23.
    """
    assert lines(items, Group.SUPPORTS)["staple or strap for this cable"] == "23"


def test_boxes(items):
    """By 314.16(B) at 2 in^3 for each 14 AWG (Table 314.16(B)(1)); the luminaires' wires are let out by their canopies.

    Hall switch: 4 conductors, a clamp, 2 for the switch, 1 for all grounds = 8 x 2 = 16. Wall 1 and 2: 4 + 1 + 1 = 12.
    Wall 3: 2 + 1 + 1 = 8, for which the size of the other two does. Attic: 6 + 1 + 1 = 16 of 15.5, so half a cubic
    inch is short and a deeper octagon is named.
    """
    boxes = lines(items, Group.BOXES)
    assert boxes == {
        "retrofit box, nonmetallic, marked for a device, at least 16 in^3": "1",
        "retrofit box, nonmetallic, marked for a luminaire that holds 3 lb, at least 12 in^3": "3",
        "box of at least 16 in^3, trade size 4 x 2-1/8 octagon or larger, or a ring marked with 0.5 in^3 or more": "1",
    }


def test_connectors(items):
    """Three splices in each of five boxes, but the two hot ones of the switch box go straight to its screws: 14.

    Wall 3: three of 1 + 1. Wall 1 and 2: six of 2 + 1. Switch: neutrals 2, grounds 2 and a pigtail. Attic: hot and
    neutral 3 cables and a pigtail, grounds 3 cables, the box and perhaps the lampholder.
    """
    connectors = {what: n for what, n in lines(items, Group.CONNECTORS).items() if what.startswith("connector")}
    assert connectors == {
        "connector listed for 1 x 14 AWG + 1 x 18 AWG, copper": "3",
        "connector listed for 2 x 14 AWG + 1 x 18 AWG, copper": "6",
        "connector listed for 2 x 14 AWG, copper": "1",
        "connector listed for 3 x 14 AWG, copper": "1",
        "connector listed for 4 x 14 AWG, copper": "2",
        "connector listed for 4 x 14 AWG + perhaps 1 of unknown size more, copper": "1",
        # the switch's two hot conductors, where it has leads and no screws
        "connector listed for 1 x 14 AWG + the lead of a device or fixture": "0 to 2",
    }
    assert sum(int(count) for count in list(connectors.values())[:-1]) == 3 + 6 + 1 + 1 + 2 + 1


def test_caps_for_what_waits(items):
    """In the attic one new 14-2 with ground waits: three conductors. Its lampholder perhaps leaves a ground behind."""
    caps = [(what, n) for what, n in lines(items, Group.CONNECTORS).items() if "to use as a cap" in what]
    assert caps == [("wire connector that may close off one conductor, to use as a cap", "3 to 4")]


def test_the_rest(items):
    """One pigtail for the new yoke; a switch; three lights; a plate and three canopies; protection as checked."""
    assert lines(items, Group.CONNECTORS)["pigtail 14 AWG, bare or green, 6 in each"] == "1"
    assert lines(items, Group.DEVICES) == {"single-pole switch": "1"}
    assert lines(items, Group.LUMINAIRES) == {"light, rated 60 W": "3"}
    assert lines(items, Group.COVERS) == {"device plate for 1 gang": "1", "canopy or pan": "3"}
    assert list(lines(items, Group.PROTECTION).values()) == ["1"]
    assert not lines(items, Group.GROUNDING)  # every new box is plastic
    assert not lines(items, Group.FITTINGS)  # every box has clamps of its own


def test_every_line_with_a_number_of_a_book_names_it(items):
    for item in items:
        if item.group in (Group.CABLE, Group.BOXES, Group.SUPPORTS, Group.CONNECTORS, Group.COVERS, Group.PROTECTION):
            assert item.sources, item.what
            assert all(source.place or source.status is Status.COMMON_PRACTICE for source in item.sources)
