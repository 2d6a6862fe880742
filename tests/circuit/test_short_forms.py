"""Short forms: each stands for exactly the long form written beside it, and nothing that was found out is passed on."""

import pytest

from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.short.cable_print import read_cable_print
from circuitcheck.circuit.short.light_keys import AMBIGUOUS, LIGHT_KEYS
from circuitcheck.errors import CircuitFileError
from circuitcheck.quantities import QuantityError

HEAD = """format = 1
[job]
title = "Two lights"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"
[[box]]
id = "attic"
origin = "existing"
"""
FEED = """[[cable]]
id = "feed"
from = "panel"
to = "attic"
origin = "existing"
"""


def circuit(text: str, vocabulary):
    return read_circuit(HEAD + text, "some.circuit.toml", vocabulary)


def problems(text: str, vocabulary) -> list[tuple[int | None, str, str, str | None]]:
    with pytest.raises(CircuitFileError) as caught:
        circuit(text, vocabulary)
    return [(problem.line, problem.key, problem.says, problem.nearest) for problem in caught.value.problems]


# What stands on sheaths, typed from the markings of common cables: size, conductors, then kind and ground in any order.
@pytest.mark.parametrize(
    ("printed", "expected"),
    [
        ("14/2 NM-B with ground", ("NM-B", "14 AWG", 2, True)),
        ("12-3 UF-B", ("UF-B", "12 AWG", 3, None)),
        ("14-2 WITH GROUND TYPE NM-B 600 V", ("NM-B", "14 AWG", 2, True)),
        ("TYPE NM-B 14 AWG-2 w/g", ("NM-B", "14 AWG", 2, True)),
        ("14/2G nm-b", ("NM-B", "14 AWG", 2, True)),
        ("14/2 NM without ground", ("NM", "14 AWG", 2, False)),
        ("14/2", (None, "14 AWG", 2, None)),
        ("12/2 AC", ("AC", "12 AWG", 2, None)),
        ("1/0-3 MC", ("MC", "1/0 AWG", 3, None)),
    ],
)
def test_what_a_sheath_says(printed, expected, vocabulary):
    entries = read_cable_print(printed, vocabulary["cable.type"])
    assert tuple(entries.get(key) for key in ("type", "size", "conductors", "ground")) == expected


def test_metal_and_strands_only_where_they_are_said(vocabulary):
    entries = read_cable_print("12/2 NM-B aluminum stranded with ground", vocabulary["cable.type"])
    assert (entries["material"], entries["stranding"]) == ("aluminum", "stranded")
    assert {"material", "stranding"}.isdisjoint(read_cable_print("12/2 NM-B", vocabulary["cable.type"]))


@pytest.mark.parametrize(
    ("printed", "near"),
    [
        ("NM-B with ground", None),
        ("14 AWG NM-B", None),
        ("1/0", None),
        ("14/0 NM-B", None),
        ("14/2/2 NM-B", None),
        ("14.5/2 NM-B", None),
        ("14/2 NM-C", None),
        ("14/2 NMB", "NM-B"),
        ("14/2 UF B", "UF-B"),
        ("14/2 NM-B with groud", None),
        ("14/2 NM-B with ground without ground", None),
        ("", None),
    ],
)
def test_what_is_no_cable(printed, near, vocabulary):
    with pytest.raises(QuantityError) as caught:
        read_cable_print(printed, vocabulary["cable.type"])
    assert caught.value.nearest == near


def test_a_cable_print_is_the_long_form(vocabulary):
    short = circuit(FEED + 'cable = "14/2 NM-B with ground"\nknown_by = { cable = "label" }\n', vocabulary)
    long = circuit(
        FEED + 'type = "NM-B"\nsize = "14 AWG"\nconductors = 2\nground = true\n'
        'known_by = { type = "label", size = "label", conductors = "label", ground = "label" }\n',
        vocabulary,
    )
    assert short == long
    assert short.reasons["cable.feed.size"] == '"14/2 NM-B with ground"'
    assert not long.reasons


def test_a_cable_print_says_nothing_twice(vocabulary):
    told = problems(FEED + 'cable = "14/2 NM-B"\nsize = "12 AWG"\n', vocabulary)
    assert told == [(17, "cable.feed.size", "cable says the size already: keep one", None)]


def test_a_size_that_no_table_has_points_at_the_print(vocabulary):
    assert problems(FEED + 'cable = "13/2 NM-B"\n', vocabulary) == [
        (16, "cable.feed.cable", "the tables have no conductor of 13 AWG", None)
    ]


LIGHTS = (
    FEED
    + """[[light]]
id = "wall 1"
from = "attic"
cable = "14/2 NM-B with ground"
length = "measured 17 ft"
volume = "label 16 in^3"
box_material = "nonmetallic"
box_ground = true
power = "label 60 W"
weight = "measured 3 lb"
listed = true
metal_parts = true
known_by = { listed = "label", metal_parts = "guess", box_material = "label" }

[[light]]
id = "wall 2"
from = "wall 1"
like = "wall 1"
cable_id = "to wall 2"
length = "15 ft"
"""
)

LIGHTS_IN_FULL = (
    FEED
    + """[[load]]
id = "wall 1"
box = "wall 1 box"
origin = "added"
kind = "light"
connection = "hardwired"
power = "label 60 W"
weight = "measured 3 lb"
listed = true
metal_parts = true
known_by = { listed = "label", metal_parts = "guess" }
[[load]]
id = "wall 2"
box = "wall 2 box"
origin = "added"
kind = "light"
connection = "hardwired"
power = "60 W"
listed = true
[[box]]
id = "wall 1 box"
origin = "added"
volume = "label 16 in^3"
material = "nonmetallic"
ground = true
known_by = { material = "label" }
[[box]]
id = "wall 2 box"
origin = "added"
material = "nonmetallic"
[[cable]]
id = "wall 1 cable"
from = "attic"
to = "wall 1 box"
origin = "added"
type = "NM-B"
size = "14 AWG"
conductors = 2
ground = true
length = "measured 17 ft"
[[cable]]
id = "to wall 2"
from = "wall 1 box"
to = "wall 2 box"
origin = "added"
type = "NM-B"
size = "14 AWG"
conductors = 2
ground = true
length = "15 ft"
"""
)


def test_a_light_is_load_box_and_cable_and_its_like_takes_over_the_plan_only(vocabulary):
    """The second light has no weight (measured on the first), no metal parts (a guess), no volume and no length."""
    short = circuit(LIGHTS, vocabulary)
    assert short == circuit(LIGHTS_IN_FULL, vocabulary)
    assert short.reasons["load.wall 2.power"] == "as wall 1"
    assert short.reasons["box.wall 2 box.material"] == "as wall 1"
    assert short.reasons["cable.to wall 2.size"] == "as wall 1"
    assert short.written_in["box.wall 2 box"] == "light.wall 2"


@pytest.mark.parametrize("name", sorted(AMBIGUOUS))
def test_a_key_that_two_parts_own_asks_whose(name, vocabulary):
    told = problems(FEED + f'[[light]]\nid = "a"\nfrom = "attic"\n{name} = "x"\n', vocabulary)
    assert len(told) == 1
    line, key, says, near = told[0]
    assert (line, key, near) == (19, f"light.a.{name}", None)
    assert all(whole in says for whole in AMBIGUOUS[name])


def test_only_keys_with_two_owners_have_a_prefix():
    assert set(AMBIGUOUS) == {"mounting", "switched_by", "in_insulation", "material", "ground", "product"}
    prefixed = {name for name in LIGHT_KEYS if name.startswith(("box_", "cable_", "load_"))}
    assert prefixed == {"box_id", "cable_id"} | {
        f"{owner}_{name}"
        for name, owners in {
            "mounting": ("load", "box"),
            "switched_by": ("load", "cable"),
            "in_insulation": ("load", "cable"),
            "material": ("box", "cable"),
            "ground": ("box", "cable"),
            "product": ("load", "box", "cable"),
        }.items()
        for owner in owners
    }


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ('volum = "16 in^3"', ("light.a.volum", "there is no such key here", "volume")),
        ('box_volume = "16 in^3"', ("light.a.box_volume", "there is no such key here", "volume")),
        ('kind = "light"', ("light.a.kind", "a [[light]] is a light: leave it out", None)),
        ('origin = "new"', ("light.a.origin", "this is not one of the words for this key", "added")),
        ('volume = "16 ft"', ("light.a.volume", "ft is a unit for a length, and this key takes a volume", None)),
        ('box_material = "metl"', ("light.a.box_material", "this is not one of the words for this key", "metal")),
        ('load_switched_by = "hal"', None),
        ('like = "b"', ("light.a.like", "there is no light of this name", None)),
        ('like = "a"', ("light.a.like", "like leads back to the part itself", None)),
        ("known_by = { power = 3 }", None),
        (
            'known_by = { box_mounting = "seen" }',
            ("light.a.known_by.box_mounting", "this does not say how the entry is known", None),
        ),
    ],
)
def test_what_is_wrong_with_a_light_points_at_what_was_written(entries, expected, vocabulary):
    told = problems(FEED + f'[[light]]\nid = "a"\nfrom = "attic"\n{entries}\n', vocabulary)
    assert [line for line, *_ in told] == [19]
    assert told[0][1].startswith("light.a.")
    if expected is not None:
        assert told[0][1:] == expected


def test_a_light_that_lacks_its_start_or_its_name_says_so_once(vocabulary):
    assert problems(FEED + '[[light]]\nid = "a"\n', vocabulary) == [(16, "light.a.from", "from is missing", None)]
    assert problems(FEED + '[[light]]\nfrom = "attic"\n', vocabulary) == [(16, "light.#1.id", "id is missing", None)]


def test_two_likes_in_a_circle_are_told_once(vocabulary):
    told = problems(
        FEED + '[[light]]\nid = "a"\nfrom = "attic"\nlike = "b"\n[[light]]\nid = "b"\nfrom = "attic"\nlike = "a"\n',
        vocabulary,
    )
    assert told == [(19, "light.a.like", "like leads back to the part itself", None)]


def test_a_wrong_word_that_three_lights_share_is_told_once(vocabulary):
    more = "".join(f'[[light]]\nid = "{name}"\nfrom = "attic"\nlike = "a"\n' for name in "bcd")
    told = problems(FEED + '[[light]]\nid = "a"\nfrom = "attic"\nbox_material = "metl"\n' + more, vocabulary)
    assert told == [(19, "light.a.box_material", "this is not one of the words for this key", "metal")]


BOXES = (
    FEED
    + """[[box]]
id = "a"
origin = "added"
trade_size = "4 x 1-1/2 octagon"
material = "metal"
room = "hallway"
ground = true
neutral = true
[[box]]
id = "b"
like = "a"
[[box]]
id = "c"
like = "b"
volume = "16 in^3"
room = "attic"
"""
    + "".join(
        f'[[cable]]\nid = "to {name}"\nfrom = "attic"\nto = "{name}"\norigin = "added"\n{more}'
        for name, more in (("a", ""), ("b", 'like = "to a"\n'), ("c", 'size = "12 AWG"\n'))
    )
)


def test_like_leads_from_part_to_part_and_own_entries_win(vocabulary):
    """A volume of its own keeps the trade size of another box away: both would say how large it is."""
    boxes = {box.id: box for box in circuit(BOXES, vocabulary).boxes}
    assert (boxes["b"].origin, boxes["b"].trade_size, boxes["b"].room) == ("added", "4 x 1-1/2 octagon", "hallway")
    assert (boxes["b"].ground, boxes["b"].neutral) == (None, None)
    assert (boxes["c"].trade_size, boxes["c"].room, boxes["c"].material) == (None, "attic", "metal")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('like = "a"', 'like = "attic"', "this part is already there: like takes over a plan, so name an added part"),
        (
            'id = "b"\n',
            'id = "b"\norigin = "existing"\n',
            "only a part that is to be added can be like another: look at this part itself",
        ),
        ('like = "a"', 'like = "z"', "there is no box of this name"),
        ('like = "a"', "like = 3", "like names another part"),
    ],
)
def test_like_names_another_added_part(old, new, says, vocabulary):
    assert says in [told[2] for told in problems(BOXES.replace(old, new), vocabulary)]


DEFAULTS = '[defaults.cable]\ncable = "14/2 NM-B with ground"\nmaterial = "copper"\nrun = "fished"\n'


def test_defaults_are_for_added_parts_only_and_give_way(vocabulary):
    cables = {cable.id: cable for cable in circuit(DEFAULTS + BOXES, vocabulary).cables}
    assert (cables["feed"].type, cables["feed"].run) == (None, None)
    assert (cables["to b"].type, cables["to b"].size, cables["to b"].ground) == ("NM-B", "14 AWG", True)
    # A size of its own: the print does not fit this cable, so its type and ground stay unknown.
    assert (cables["to c"].size, cables["to c"].type, cables["to c"].ground) == ("12 AWG", None, None)
    assert cables["to c"].run == "fished"
    assert circuit(DEFAULTS + BOXES, vocabulary).reasons["cable.to b.run"] == "default for an added cable"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('[defaults.cable]\nlength = "3 ft"\n', ("defaults.cable.length", None)),
        ('[defaults.box]\nvolume = "3 in^3"\n', ("defaults.box.volume", None)),
        ('[defaults.box]\nknown_by = { room = "label" }\n', ("defaults.box.known_by", None)),
        ("[defaults.box]\nmaterail = 3\n", ("defaults.box.materail", "material")),
        ("[defaults.supply]\npoles = 1\n", ("defaults.supply", None)),
        ("[defaults]\nx = 1\n", ("defaults.x", None)),
        ('[defaults.cable]\nrun = "flying"\n', ("defaults.cable.run", None)),
        ('[defaults.cable]\ncable = "flying"\n', ("defaults.cable.cable", None)),
    ],
)
def test_what_is_no_default(text, expected, vocabulary):
    told = problems(text + BOXES, vocabulary)
    assert [(key, near) for _, key, _, near in told] == [expected]
    assert told[0][0] in (11, 12)


def test_a_long_row_of_likes_is_followed(vocabulary):
    count = 3000
    text = "".join(f'[[box]]\nid = "n{i}"\nlike = "n{i + 1}"\n' for i in range(count))
    text += f'[[box]]\nid = "n{count}"\norigin = "added"\nmaterial = "metal"\n'
    text += "".join(f'[[cable]]\nid = "c{i}"\nfrom = "attic"\nto = "n{i}"\n' for i in range(count + 1))
    assert circuit(FEED + text, vocabulary).boxes[1].material == "metal"


def test_a_light_on_a_box_of_its_own_is_hardwired_unless_it_says_otherwise(vocabulary):
    text = FEED + '[[light]]\nid = "a"\nfrom = "attic"\n[[light]]\nid = "b"\nfrom = "a"\nconnection = "cord"\n'
    text += '[[light]]\nid = "c"\nfrom = "b"\nlike = "b"\n'
    read = circuit(text, vocabulary)
    assert [load.connection for load in read.loads] == ["hardwired", "cord", "cord"]
    assert "wired to it" in read.reasons["load.a.connection"]
