"""What ``check`` tells people to find out first, and that a file of which little is known answers in one page."""

import json

LITTLE = (
    ('size = "14 AWG"\n', ""),
    ('volume = "20 in^3"\ninternal_clamps = false\n', ""),
    ('power = "60 W"\n', ""),
    ('origin = "existing"\nkind = "light"', 'origin = "added"\nkind = "light"'),
)


def test_much_that_is_open_is_told_on_one_page(run, circuit_file):
    ran = run("check", circuit_file(*LITTLE))
    assert ran.status == 3
    lines = ran.out.splitlines()
    assert len(lines) <= 66  # a sheet of letter paper at six lines an inch, with the safety text
    assert ran.out.count("? CANNOT TELL") == 1
    assert "Find out first:" in lines
    assert "With one box open, once, breaker off and tested dead" in ran.out
    assert [line[:3] for line in lines if line[:3] in ("1. ", "2. ", "3. ")] == ["1. ", "2. ", "3. "]  # three visits


SPARSE = """format = 1
[job]
title = "Two wall lights"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "%s"
[[box]]
id = "ceiling"
origin = "existing"
[[cable]]
id = "feed"
from = "panel"
to = "ceiling"
origin = "existing"
""" + "".join(
    f"""
[[box]]
id = "wall {place}"
origin = "added"
[[cable]]
id = "to wall {place}"
from = "{start}"
to = "wall {place}"
origin = "added"
size = "14 AWG"
[[load]]
id = "light {place}"
box = "wall {place}"
origin = "added"
kind = "light"
"""
    for place, start in ((1, "ceiling"), (2, "wall 1"))
)


def test_a_file_of_which_nearly_nothing_is_known_answers_on_one_page(run, tmp_path):
    """Also where something fails already (14 AWG behind 20 A): then nobody is sent anywhere."""
    for breaker, status, says in (("15 A", 3, "Where to go"), ("20 A", 1, "Nothing you can find out")):
        path = tmp_path / f"{status}.circuit.toml"
        path.write_text(SPARSE % breaker, encoding="utf-8")
        ran = run("check", path)
        assert ran.status == status
        assert len(ran.out.splitlines()) <= (66 if status == 3 else 100)
        assert ran.out.count("? CANNOT TELL") == 1
        assert says in ran.out
        assert "box-fill" not in ran.out  # the names of checks are words


def test_json_says_what_each_entry_can_do(run, circuit_file):
    # 2 x 2.00 and grounds 2.00 = 6 in^3, and nothing else in the box
    bare = 'devices = []\nfixture_wires = []\nfixture_ground = "none"\nother_cables = []\ninternal_clamps = false'
    changes = (('"20 in^3"', '"5 in^3 to 20 in^3"'), ("internal_clamps = false", bare), *LITTLE[-1:])
    document = json.loads(run("check", "--json", circuit_file(*changes)).out)
    unknown = next(each for each in document["unknowns"] if each["key"] == "box.hall.volume")
    assert (unknown["alone"], unknown["settles"], unknown["ends"]) == (True, "at least 6 in³", "at most 5.99 in³")
    assert unknown["visit"] == "box"
    assert ["box-fill", "hall"] in unknown["checks"]


def test_several_files_are_advised_only_when_asked(run, circuit_file):
    open_file = circuit_file(('size = "14 AWG"\n', ""), *LITTLE[-1:])
    other = circuit_file(name="other.circuit.toml")
    plain = [json.loads(line) for line in run("check", "--json", open_file, other).out.splitlines()]
    asked = [json.loads(line) for line in run("check", "--json", "--advice", open_file, other).out.splitlines()]
    alone = json.loads(run("check", "--json", open_file).out)
    assert all(each["alone"] is None for each in plain[0]["unknowns"])
    assert any(each["decides"] and each["alone"] for each in asked[0]["unknowns"])
    assert asked[0]["unknowns"] == alone["unknowns"]


def test_after_a_failure_nobody_is_sent_to_find_out(run, circuit_file):
    # 2 x 2.00 and grounds 2.00 = 6 in^3 in a box of 5
    full = circuit_file(('"20 in^3"', '"5 in^3"'), *LITTLE[-1:])
    ran = run("check", full)
    assert ran.status == 1
    assert "Nothing you can find out changes this answer" in " ".join(ran.out.split())


def test_room_left_is_in_json_and_on_the_page_where_it_is_asked_for(run, circuit_file):
    # 60 W / 120 V = 0.5 A of 15 A: 14.5 A more; 11.6 A (14.5 / 1.25) that stays on
    whole = circuit_file(('kind = "light"', 'kind = "light"\npower_factor = 1.0\ncontinuous = false'))
    rooms = json.loads(run("check", "--json", whole).out)["room_left"]
    breaker = {room["kind"]: room for room in rooms if room["of"] == "supply"}
    assert breaker["load"] == {"of": "supply", "kind": "load", "amount": 14.5, "unit": "A",
                               "check": "load-share", "then": "fail", "if_listed": False}  # fmt: skip
    assert breaker["continuous load"]["amount"] == 11.6
    assert "Breaker: 14.5 A more, or 11.6 A more that stays on" in " ".join(run("check", "--advice", whole).out.split())
    assert "Room left" not in run("check", whole).out
