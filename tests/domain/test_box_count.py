"""What stands in a box, line by line by hand: NFPA 70, 314.16(B).

Table 314.16(B)(1), in^3: 18 AWG 1.50, 16 AWG 1.75, 14 AWG 2.00, 12 AWG 2.25, 10 AWG 2.50, 8 AWG 3.00, 6 AWG 5.00. Table
314.16(A): 4 x 1-1/2 octagon 15.5, FS box for each gang 13.5. 314.16(A): a divider 1/2 of metal, else 1.0.
"""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.circuit.model import OtherCable
from circuitcheck.domain.box_count import UnlistedSizeError, box_count, box_room, place_of, thickness
from tests.domain.closed import is_closed
from tests.rules.build import CUBIC_INCH, book, box, cable, circuit, device, driver, fixture_wires, unbroken

TWO = cable("in", "panel", "b"), cable("out", "b", "far", size="12 AWG", conductors=3)


def case_with(*parts, cables=TWO, edition="nec-2023", **given):
    case = case_of(circuit(box("b", **given), box("far"), *cables, *parts, edition=edition), book(edition))
    return case, case.tree.box["b"]


def counted(*parts, **given):
    """The lines but those of the two cables: name, conductors, size."""
    lines = box_count(*case_with(*parts, **given)).lines
    return [(line.name, line.count, line.size) for line in lines if not line.subject and "grounds" not in line.name]


def test_cables_with_their_grounds():
    """Two 14 and three 12 AWG, and the grounds together as one 12 AWG: 2 x 2.00 + 3 x 2.25 + 2.25 = 13 in^3."""
    count = box_count(*case_with())
    assert [(line.name, line.count, line.size, line.subject) for line in count.lines] == [
        ("insulated conductors of in", 2, "14 AWG", "in"),
        ("insulated conductors of out", 3, "12 AWG", "out"),
        ("equipment grounds (2 together)", 1, "12 AWG", ""),
    ]
    assert count.needed_m3 == pytest.approx(13 * CUBIC_INCH)
    assert count.doubtful_m3 == 0
    assert all(line.sources and is_closed(line) for line in count.lines)


@pytest.mark.parametrize(
    ("given", "lines"),
    [
        ({}, []),
        ({"internal_clamps": True}, [("internal clamps", 1, "12 AWG")]),
        ({"fittings": ("stud", "stud", "hickey")}, [("stud", 1, "12 AWG"), ("hickey", 1, "12 AWG")]),
        ({"devices": (device(),)}, [("switch (1 gang)", 2, "12 AWG")]),
        ({"devices": (device(size="10 AWG", gangs=2),)}, [("switch (2 gang)", 4, "10 AWG")]),
        ({"terminal_blocks": 2}, [("terminal blocks", 2, "12 AWG")]),
        ({"terminal_blocks": 2, "edition": "nec-2017"}, []),  # clause (6) is new in 2020
        (
            {"other_cables": (OtherCable(size="10 AWG", conductors=2, ground=True),), "internal_clamps": True},
            [("conductors of another circuit's cable", 2, "10 AWG"), ("internal clamps", 1, "10 AWG")],
        ),
        ({"fixture_wires": (fixture_wires("18 AWG", 2),)}, [("luminaire wires", 2, "18 AWG")]),
        (
            {"fixture_wires": (fixture_wires("10 AWG", 2),), "internal_clamps": True},
            [("luminaire wires", 2, "10 AWG"), ("internal clamps", 1, "10 AWG")],
        ),
        ({"fixture_wires": (fixture_wires("10 AWG", 0),), "internal_clamps": True}, [("internal clamps", 1, "12 AWG")]),
        (
            {"unbroken": (unbroken("10 AWG", 2, other_circuit=True),), "internal_clamps": True},
            [("conductors running through unbroken", 2, "10 AWG"), ("internal clamps", 1, "10 AWG")],
        ),
        ({"unbroken": (unbroken("10 AWG", 0),), "internal_clamps": True}, [("internal clamps", 1, "12 AWG")]),
        ({"unbroken": (unbroken("14 AWG", 1, loop=True),)}, [("unbroken loops", 2, "14 AWG")]),
        ({"devices": (device(size="10 AWG"),), "internal_clamps": True},
         [("internal clamps", 1, "10 AWG"), ("switch (1 gang)", 2, "10 AWG")]),
    ],
)  # fmt: skip
def test_each_further_line(given, lines):
    assert counted(**given) == lines


def test_an_empty_box_takes_the_thinnest_of_a_usual_circuit():
    assert counted(cables=(), internal_clamps=True) == [("internal clamps", 1, "14 AWG")]
    none = cable("in", "panel", "b", size="10 AWG", conductors=0)
    assert counted(cables=(none,), internal_clamps=True) == [("internal clamps", 1, "14 AWG")]


@pytest.mark.parametrize(
    ("edition", "sizes", "own", "grounds"),
    [
        # 314.16(B)(5): up to four together one, each more a quarter from 2020 on; all at the largest of them
        ("nec-2023", ["14 AWG"] * 4, "none", [(1, "14 AWG")]),
        ("nec-2023", ["14 AWG", "10 AWG", "14 AWG", "14 AWG", "14 AWG", "14 AWG"], "none",
         [(1, "10 AWG"), (0.5, "10 AWG")]),
        ("nec-2017", ["14 AWG"] * 6, "none", [(1, "14 AWG")]),
        ("nec-2023", ["14 AWG"] * 4, "12 AWG", [(1, "12 AWG"), (0.25, "12 AWG")]),
        ("nec-2023", [], "14 AWG", [(1, "14 AWG")]),
        ("nec-2023", [], "none", []),
    ],
)  # fmt: skip
def test_equipment_grounds(edition, sizes, own, grounds):
    cables = [cable(f"c{place}", "b", f"b{place}", size=size) for place, size in enumerate(sizes)]
    bare = cable("bare", "b", "bare", size="8 AWG", ground=False)
    boxes = [box(each.to_id) for each in (*cables, bare)]
    case, there = case_with(*boxes, cables=(*cables, bare), edition=edition, fixture_ground=own)
    lines = [line for line in box_count(case, there).lines if "grounds" in line.name]
    assert [(line.count, line.size) for line in lines] == grounds
    assert not lines or lines[0].name == f"equipment grounds ({len(sizes) + (own != 'none')} together)"
    assert len(lines) < 2 or lines[1].name == "equipment grounds past the first 4"


def test_grounds_of_another_circuit_count_with_them():
    for ground, together in ((True, 3), (False, 2)):
        count = box_count(*case_with(other_cables=(OtherCable(size="14 AWG", conductors=2, ground=ground),)))
        assert f"equipment grounds ({together} together)" in [line.name for line in count.lines]


@pytest.mark.parametrize(
    ("wires", "canopy", "left", "doubtful"),
    [
        # exception to 314.16(B)(1): up to four wires smaller than 14 AWG are let out under a canopy
        ({"18 AWG": 4}, True, [], 0),
        ({"18 AWG": 4}, False, [(4, "18 AWG")], 0),
        ({"18 AWG": 3, "14 AWG": 2}, True, [(2, "14 AWG")], 0),
        ({"16 AWG": 1, "18 AWG": 3}, True, [], 0),
        # more than four: all count, and what four take is read both ways: 4 x 1.50; 3 x 1.75 + 1.50
        ({"18 AWG": 5}, True, [(5, "18 AWG")], 6),
        ({"18 AWG": 2, "16 AWG": 3}, True, [(3, "16 AWG"), (2, "18 AWG")], 6.75),
        ({"18 AWG": 5, "14 AWG": 2}, True, [(2, "14 AWG"), (5, "18 AWG")], 6),
        ({"18 AWG": 5}, False, [(5, "18 AWG")], 0),
    ],
)
def test_luminaire_wires_under_a_canopy(wires, canopy, left, doubtful):
    held = tuple(fixture_wires(size, count) for size, count in wires.items())
    count = box_count(*case_with(fixture_wires=held, canopy=canopy))
    assert [(line.count, line.size) for line in count.lines if line.name == "luminaire wires"] == left
    assert count.doubtful_m3 == pytest.approx(doubtful * CUBIC_INCH)


def test_a_canopy_lets_out_the_ground_of_the_luminaire_and_nothing_of_a_driver():
    def there(*parts, **given):
        names = [line.name for line in box_count(*case_with(*parts, fixture_ground="14 AWG", **given)).lines]
        return "equipment grounds (3 together)" in names, "luminaire wires" in names

    wires = {"fixture_wires": (fixture_wires("18 AWG", 2),)}
    assert there(**wires) == (True, True)
    assert there(canopy=True, **wires) == (False, False)
    assert there(driver("d", "b"), canopy=True, **wires) == (True, True)


@pytest.mark.parametrize(
    ("runs", "ends"),
    [
        # an unbroken conductor takes one end of the cable that comes in and one of a cable that leaves
        ([unbroken("14 AWG", 2)], {"in": 1, "one": 0, "two": 2}),
        ([unbroken("14 AWG", 3)], {"in": 0, "one": 0, "two": 1}),
        ([unbroken("14 AWG", 1)], {"in": 2, "one": 1, "two": 2}),
        ([unbroken("14 AWG", 1), unbroken("14 AWG", 2, loop=True)], {"in": 0, "one": 0, "two": 1}),
        ([unbroken("14 AWG", 9)], {"in": 0, "one": 0, "two": 1}),
        ([unbroken("12 AWG", 2)], {"in": 3, "one": 2, "two": 2}),  # none of that size comes in
        ([unbroken("14 AWG", 2, other_circuit=True)], {"in": 3, "one": 2, "two": 2}),
    ],
)
def test_what_runs_through_is_not_counted_at_its_ends_too(runs, ends):
    cables = (
        cable("in", "panel", "b", conductors=3), cable("one", "b", "far"), cable("two", "b", "c"),
        cable("other", "b", "d", size="12 AWG"),
    )  # fmt: skip
    case, there = case_with(box("c"), box("d"), cables=cables, unbroken=tuple(runs))
    lines = {line.subject: line.count for line in box_count(case, there).lines if line.subject}
    assert lines == {name: count for name, count in ({**ends, "other": 2}).items() if count}


@pytest.mark.parametrize(
    ("given", "room"),
    [
        ({"volume_m3": 18 * CUBIC_INCH, "trade_size": None}, [("marked on the box", 18)]),
        ({}, [("by the table for 4 x 1-1/2 octagon", 15.5)]),
        ({"gangs": 2}, [("by the table for 4 x 1-1/2 octagon", 15.5)]),
        ({"trade_size": "FS 1-3/4 single", "gangs": 1}, [("by the table for FS 1-3/4 single", 13.5)]),
        ({"trade_size": "FS 1-3/4 single", "gangs": 0}, [("by the table for FS 1-3/4 single", 13.5)]),
        (
            {"trade_size": "FS 1-3/4 single", "gangs": 2},
            [("by the table for FS 1-3/4 single, for each of 2 gangs", 27)],
        ),
        (
            {"extensions_m3": (6 * CUBIC_INCH,), "class_2_barrier": True, "material": "metal"},
            [
                ("by the table for 4 x 1-1/2 octagon", 15.5),
                ("marked on an extension", 6),
                ("taken by the barrier", -0.5),
            ],
        ),
        (
            {"class_2_barrier": True, "material": "plastic"},
            [("by the table for 4 x 1-1/2 octagon", 15.5), ("taken by the barrier", -1)],
        ),
        ({"trade_size": None, "class_2_barrier": True}, []),
    ],
)
def test_the_space_of_a_box(given, room):
    case, there = case_with(**({"gangs": 1, "class_2_barrier": False, "material": "metal"} | given))
    with case.reading.at(lambda entry: None):
        told = [(each.name, pytest.approx(each.volume_m3 / CUBIC_INCH)) for each in box_room(case, there)]
    assert told == room


@pytest.mark.parametrize(
    ("size", "place"),
    [
        ("18 AWG", 0), ("14 AWG", 2), ("6 AWG", 6),
        ("20 AWG", 0),  # thinner than the table: as its thinnest
        ("0.75 mm^2", 0), ("1 mm^2", 1), ("2.5 mm^2", 3), ("10 mm^2", 6),  # the AWG above the stand-in
        ("16 mm^2", None), ("4 AWG", None), ("1/0 AWG", None), ("250 kcmil", None), ("25 mm^2", None),
    ],
)  # fmt: skip
def test_where_a_size_stands(size, place):
    case, _ = case_with()
    if place is None:
        with pytest.raises(UnlistedSizeError, match=size.replace("^", ".")):
            place_of(case, size)
    else:
        assert place_of(case, size) == place
    assert thickness(case, size) == (7 if place is None else place)
    assert thickness(case, None) < 0


@pytest.mark.parametrize(
    ("gangs", "count"),
    [
        # 314.16(B)(4): two for each yoke; a wide device two for each gang. In a book that says three for each gang of
        # a wide one, and five for a yoke: one gang 5, two gangs 2 x 3.
        (1, 5),
        (2, 6),
    ],
)
def test_a_wide_device_goes_by_a_number_of_its_own(gangs, count):
    plain = book("nec-2023")
    other = {"box-fill-device": 5.0, "box-fill-device-each-gang": 3.0}
    values = {**plain.values, **{name: replace(plain.value(name), number=number) for name, number in other.items()}}
    built = circuit(box("b", devices=(device(size="10 AWG", gangs=gangs),)), box("far"), *TWO)
    case = case_of(built, replace(plain, values=values))
    assert [line.count for line in box_count(case, case.tree.box["b"]).lines if "gang" in line.name] == [count]
