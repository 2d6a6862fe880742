"""Suggestions: the trade's other names, slips of the pen, and nothing where a guess could make an answer wrong."""

import pytest

from circuitcheck.circuit import meant
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.meant import sizes_meant, synonym
from circuitcheck.errors import nearest
from circuitcheck.tables.rulebook import vocabulary

SIZES = vocabulary()["box.trade_size"]
KINDS = SECTIONS["load"].keys["kind"].words
ROOMS = SECTIONS["site"].keys["room"].words
WORDS = {word for section in SECTIONS.values() for key in section.keys.values() for word in key.words} | {
    word for section in SECTIONS.values() for key in section.keys.values() for part in key.parts.values()
    for word in part.words
}  # fmt: skip


@pytest.mark.parametrize(
    ("word", "known", "expected"),
    [
        ("lamp", KINDS, "light"),
        ("Fixture", KINDS, "light"),
        ("bulbs", KINDS, "light"),
        ("sconce", KINDS, "light"),
        ("outlet", KINDS, "receptacle"),
        ("plug", KINDS, "receptacle"),
        ("landing", ROOMS, "hallway"),
        ("corridor", ROOMS, "hallway"),
        ("study", ROOMS, "den"),
        ("landing", KINDS, None),
        ("octagon", KINDS, None),
    ],
)
def test_the_trades_other_names(word, known, expected):
    assert synonym(word, known, "words") == expected


@pytest.mark.parametrize(
    ("word", "known", "expected"),
    [
        ("lenght", SECTIONS["cable"].keys, "length"),
        ("exsiting", ("existing", "added"), "existing"),
        ("NMB", ("NM-B", "NM", "UF-B"), "NM-B"),
        ("crawlspace", ROOMS, "crawl space"),
        ("wall ligt 1", ("wall light 1", "wall light 2"), "wall light 1"),
        # Two are about as near.
        ("wall", ("wall a", "wall b"), None),
        ("nonmetal", ("metal", "nonmetallic"), None),
        ("metalic", ("metal", "nonmetallic"), None),
        # Other numbers: another light, another edition, another size, another cable.
        ("wall light 3", ("wall light 1", "wall light 2"), None),
        ("nec-2022", ("nec-2017", "nec-2020", "nec-2023"), None),
        ("nec-2032", ("nec-2023",), None),
        ("4 x 1-3/4 octagon", SIZES, None),
        ("4 octagon", SIZES, None),
        ("13 AWG", ("14 AWG", "12 AWG"), None),
        ("xyz", SIZES, None),
        ("", SIZES, None),
    ],
)
def test_a_slip_of_the_pen_or_nothing(word, known, expected):
    assert nearest(word, known) == expected


def test_two_spellings_of_one_meaning_are_no_rivals():
    assert nearest("fete", ("ft", "feet", "foot"), {"ft": "ft", "feet": "ft", "foot": "ft"}) is not None
    assert nearest("fete", ("feet", "fete1", "fets"), {}) is None


@pytest.mark.parametrize("size", [size for size in SIZES if " x " in size])
def test_no_size_is_taken_for_a_larger_one(size):
    """Whatever is left out or wrong of a size: nothing with other numbers is suggested, so never a deeper box."""
    shape = size.rpartition(" ")[2]
    width = size.partition(" x ")[0]
    for typed in (f"{width} {shape}", f"{width} x {shape}", size.replace("1/2", "5/8"), size.replace("1/4", "3/8")):
        assert typed in SIZES or nearest(typed, SIZES) is None, typed


def test_an_octagon_box_is_asked_for_its_depth():
    """Table 314.16(A) of NFPA 70 has three: 1-1/4, 1-1/2 and 2-1/8 in."""
    three = ["4 x 1-1/4 octagon", "4 x 1-1/2 octagon", "4 x 2-1/8 octagon"]
    assert sizes_meant("4 octagon", SIZES) == three
    assert sizes_meant("4 in octagon box", SIZES) == three
    assert sizes_meant("octagon 4 x", SIZES) == three
    assert sizes_meant("4 x 1-1/2 octagon", SIZES) == ["4 x 1-1/2 octagon"]
    assert sizes_meant("round thing", SIZES) == []


def test_every_synonym_leads_somewhere_and_is_no_word_itself():
    tables = meant._synonyms()
    assert {word for words in tables["words"].values() for word in words} <= WORDS | {"luminaire"}
    assert {word for words in tables["sections"].values() for word in words} <= {*SECTIONS, "light"}
    keys = {key for section in SECTIONS.values() for key in section.keys}
    assert {word for words in tables["keys"].values() for word in words} <= keys
    assert not keys.intersection(tables["keys"])
    assert all(word == word.casefold() for kind in tables.values() for word in kind)
