"""``circuitcheck box`` against pages that print the count, and against sums in a comment."""

import json

import pytest


def answer(run, *words):
    ran = run("box", "--json", *words)
    document = json.loads(ran.out)
    (finding,) = document["findings"]
    return ran.status, finding, document


def test_a_receptacle_box_that_is_just_full(run):
    # diychatroom.com/threads/box-fill-calculations.102858: three 14/2 and a receptacle make 9 x 2 = 18 in an 18 box
    status, finding, document = answer(
        run, "--volume", "18 in^3", "--cable", "3 x 14/2 with ground", "--no-clamps", "--device", "receptacle"
    )
    assert (status, finding["outcome"], finding["value"], finding["limit"]) == (0, "pass", 18.0, 18.0)
    assert {room["size"]: room["amount"] for room in document["room_left"]} == {"14 AWG": 0, "12 AWG": 0, "10 AWG": 0}


def test_a_switch_box_with_twelves(run):
    # joshthesparky.com/sparkys-journal/boxfill-qotw: eleven No. 12, 24.75 needed in a 21.0 box; 25.5 is the next square
    words = ("--size", "4 x 1-1/2 square", "--cable", "12/2", "--cable", "12/2", "--cable", "12/3")
    status, finding, document = answer(run, *words, "--ground", "--clamps", "--device", "switch")
    assert (status, finding["outcome"], finding["value"], finding["limit"]) == (1, "fail", 24.75, 21.0)
    assert document["smallest"] == "4-11/16 x 1-1/4 square"
    assert document["verdict"] == "does not fit"


def test_a_light_with_stud_clamps_and_leads(run):
    # ecmweb.com/content/quizzes-code-26, question 2: two 12/2, stud, clamps, two No. 18: a 4 x 2-1/8 octagonal box
    words = ("--cable", "12/2", "12/2", "--ground", "--clamps", "--fitting", "stud", "--leads", "2 x 18 AWG")
    status, _, document = answer(run, *words, "--lead-ground", "18 AWG", "--no-canopy")
    assert document["smallest"] == "4 x 2-1/8 octagon"
    assert status == 3  # no box was named


def test_room_left_by_hand(run):
    # 4 x 2.00 + a switch at 2 x 2.00 + grounds 2.00 = 14.00 of 30.3: 16.3 / 2.00 leaves 8.
    # A 12 AWG makes the switch 4.50: (30.3 - 14.5) / 2.25 leaves 7. A 10 AWG 5.00: (30.3 - 15) / 2.50 leaves 6.
    words = ("--size", "4 x 2-1/8 square", "--cable", "2 x 14/2", "--ground", "--no-clamps", "--device", "switch")
    _, _, document = answer(run, *words)
    assert {room["size"]: room["amount"] for room in document["room_left"]} == {"14 AWG": 8, "12 AWG": 7, "10 AWG": 6}
    assert document["room_left"][0] == {
        "of": "box.4 x 2-1/8 square",
        "kind": "conductors",
        "amount": 8,
        "unit": None,
        "check": "box-fill",
        "then": "fail",
        "if_listed": False,
        "size": "14 AWG",
    }


def test_what_is_left_out_is_unknown_and_the_flag_for_it_is_named(run):
    # Three 14/2: 6 x 2.00 + grounds 2.00 = 14 in 15.5; clamps make 16, leads of the light make it more.
    ran = run("box", "--size", "4 x 1-1/2 octagon", "--cable", "3 x 14/2", "--ground", "--leads", "none")
    assert ran.status == 3
    assert "--clamps or --no-clamps" in ran.out
    assert "--leads" not in ran.out
    assert "--leads" in run("box", "--size", "4 x 1-1/2 octagon", "--cable", "3 x 14/2", "--ground", "--no-clamps").out
    assert run("box", "--volume", "14 in^3", "--cable", "3 x 14/2", "--no-clamps", "--leads", "none").status == 0


def test_a_ground_bar_of_many_grounds_counts_by_edition(run):
    # Five grounds: 2017 counts one conductor; 2020 and 2023 count 1 + 1/4. 8 x 2.00 + 2.00 = 18, or 18.5.
    words = ("--volume", "18.2 in^3", "--cable", "14/2 with ground", "--cable", "3 x 14/2 with ground", "--no-clamps")
    words += ("--leads", "none")
    assert answer(run, *words, "--rulebook", "nec-2017")[1]["value"] == 18.0
    more = ("--cable", "14/2 with ground")
    assert answer(run, *words, *more, "--rulebook", "nec-2017")[1]["value"] == 22.0
    assert answer(run, *words, *more, "--rulebook", "nec-2023")[1]["value"] == 22.5


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--size", "4 octagon", "--cable", "14/2"), "several depths"),
        (("--size", "4 x 1-1/2 octogon", "--cable", "14/2"), "4 x 1-1/2 octagon"),
        (("--volume", "18", "--cable", "14/2"), "18 in^3"),
        (("--cable", "fourteen two"), "size and its number of conductors"),
        (("--device", "swich"), "switch"),
        (("--cable", "14/2", "--rulebook", "nec-1999"), "nec-2023"),
        (("--leads", "2 x 19 AWG"), "no conductor of 19 AWG"),
        ((), "say what is in the box"),
    ],
)
def test_what_is_wrong_is_told_with_what_was_meant(run, words, says):
    ran = run("box", *words)
    assert ran.status == 2
    assert ran.out == ""
    assert says in " ".join(ran.err.split())


def test_the_page_shows_the_sum_and_ends_with_the_caution(run):
    ran = run("box", "--volume", "18 in^3", "--cable", "2 x 14/2", "--ground", "--device", "switch", "--no-clamps")
    lines = [line.split() for line in ran.out.splitlines()]
    assert ["needed", "14.00"] in lines  # 4 x 2.00 + 2 x 2.00 + 2.00
    assert ["room", "in", "the", "box", "18.00"] in lines
    assert "dead" in ran.out


def test_a_canopy_leaves_the_leads_out_and_a_ring_adds_its_mark(run):
    # 4 x 2.00, grounds 2.00, two 18 AWG leads 2 x 1.50 (Table 314.16(B)): 13.00; under a canopy leads are left out
    # (314.16(B)(1) exception); an octagon of 15.5 in^3 with a ring marked 4.0 has 19.5 (314.16(A))
    words = ("box", "--json", "--size", "4 x 1-1/2 octagon", "--cable", "14/2", "14/2", "--ground", "--no-clamps")
    light = ("--leads", "2 x 18 AWG", "--lead-ground", "none")
    for more, needed, room in (
        (("--no-canopy",), 13.0, 15.5),
        (("--canopy",), 10.0, 15.5),
        (("--no-canopy", "--extension", "4.0 in^3"), 13.0, 19.5),
    ):
        (finding,) = json.loads(run(*words, *light, *more).out)["findings"]
        assert (finding["outcome"], finding["value"], finding["limit"]) == ("pass", needed, room)


@pytest.mark.parametrize("volume", [["--volume", "30 in^3"], []])
def test_what_is_beyond_the_table_is_never_counted_as_nothing(run, volume):
    """Table 314.16(B)(1) ends with 6 AWG: a 2 AWG conductor has no volume there, so no sum and no least box."""
    ran = run("box", "--cable", "2/2", *volume)
    assert ran.status == 3
    assert "2 AWG is beyond the table" in ran.out.replace("\n  ", " ")
    assert "Nothing is added up: the box cannot be counted." in ran.out
    assert "How big a box it needs cannot be said until it is counted." in ran.out
    assert "at least" not in ran.out
    assert "0.00" not in ran.out
    told = json.loads(run("box", "--json", "--cable", "2/2", *volume).out)
    assert told["room_left"] == []
    assert told["smallest"] is None
