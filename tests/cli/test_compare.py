"""``circuitcheck compare``: what differs between files and editions, and one job on several circuits."""

import json
from dataclasses import replace

import pytest

from circuitcheck.advice.placing import placed
from tests.rules.build import box, cable, circuit

#: Two added lights of 9 W, the first from wherever it may start: 20 ft and 6 ft of new cable.
LIGHTS = """\
format = 1
[job]
title = "Two shelf lights"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"
[[light]]
id = "shelf light 1"
from = "?"
cable = "14/2 NM-B with ground"
length = "20 ft"
power = "9 W"
power_factor = 1.0
continuous = false
[[light]]
id = "shelf light 2"
from = "shelf light 1"
cable = "14/2 NM-B with ground"
length = "6 ft"
power = "9 W"
power_factor = 1.0
continuous = false
"""

PLAIN = ('kind = "light"', 'kind = "light"\npower_factor = 1.0\ncontinuous = false')


@pytest.fixture
def lights(tmp_path):
    path = tmp_path / "lights.circuit.toml"
    path.write_text(LIGHTS, "utf-8")
    return path


def compared(run, *words):
    ran = run("compare", "--json", *words)
    assert ran.status == 0, ran.err
    return json.loads(ran.out)


def test_only_what_differs(run, circuit_file):
    # 2 x 2.00 and grounds 2.00 = 6 in^3 and no more than two leads at 1.50: 20 in^3 do, 5 in^3 do not
    roomy = circuit_file(('origin = "existing"\nkind', 'origin = "added"\nkind'))
    tight = circuit_file(
        ('origin = "existing"\nkind', 'origin = "added"\nkind'), ('"20 in^3"', '"5 in^3"'), name="tight.circuit.toml"
    )
    document = compared(run, roomy, tight)
    assert [report["verdict"] for report in document["reports"]][1] == "does not fit"
    (line,) = [line for line in document["differ"] if line["check"] == "box-fill"]
    assert [(each["outcome"], each["limit"]) for each in line["answers"]] == [("pass", 20.0), ("fail", 5.0)]
    assert {line["check"] for line in document["differ"]} == {"box-fill"}  # nothing else reads the volume
    assert document["same"] > 5


def test_a_file_beside_itself_differs_in_nothing(run, circuit_file):
    document = compared(run, circuit_file(), circuit_file(name="again.circuit.toml"))
    assert document["differ"] == []
    assert document["only_passing"] == 0


def test_one_column_an_edition(run, circuit_file):
    # Five grounds: 10 conductors x 2.00 and one more for all grounds is 22 in^3 in 2017; since 2020 the fifth adds a
    # quarter, 0.50 (314.16(B)(5)): 22.5 in^3. A box of 22.2 in^3 fits by the one and not by the others.
    out = "".join(
        f'[[box]]\nid = "out {number}"\norigin = "existing"\n[[cable]]\nid = "out {number} cable"\nfrom = "hall"\n'
        f'to = "out {number}"\norigin = "added"\ntype = "NM-B"\nsize = "14 AWG"\nconductors = 2\nground = true\n'
        'length = "10 ft"\n'
        for number in range(4)
    )
    file = circuit_file(
        ('"20 in^3"', '"22.2 in^3"'),
        (
            "internal_clamps = false",
            'internal_clamps = false\ndevices = []\nfixture_wires = []\nfixture_ground = "none"',
        ),
        ('[[load]]\nid = "hall lamp"', f'{out}[[load]]\nid = "hall lamp"'),
    )
    document = compared(run, "--rulebooks", file)
    assert [report["rulebook"] for report in document["reports"]] == ["nec-2017", "nec-2020", "nec-2023"]
    (line,) = [line for line in document["differ"] if (line["check"], line["subject"]) == ("box-fill", "hall")]
    assert [(each["outcome"], each["value"]) for each in line["answers"]] == [
        ("pass", 22.0), ("fail", 22.5), ("fail", 22.5)
    ]  # fmt: skip


class TestOn:
    def test_the_best_first(self, run, circuit_file, lights):
        # 60 W and twice 9 W at 120 V are 0.65 A: 14.3 A and a little more are left. A box of 5 in^3 is too full.
        good = circuit_file(PLAIN, name="hall.circuit.toml")
        tight = circuit_file(PLAIN, ('"20 in^3"', '"5 in^3"'), name="den.circuit.toml")
        document = compared(run, lights, "--on", tight, "--on", good)
        first, last = document["places"]
        assert (first["file"], first["box"], first["load_left"]) == (str(good), "hall", {"amount": 14.3, "unit": "A"})
        assert first["new_cable"] == {"amount": 26.0, "unit": "ft"}
        assert last["file"] == str(tight)
        assert last["verdict"] == "does not fit"
        assert any("too full" in says for says in last["fails"])

    def test_what_is_left_is_unknown_where_nobody_knows_what_is_on_the_breaker(self, run, circuit_file, lights):
        # 1800 W of 15 A x 120 V are on the one, so that nothing is left; of the other the watts are left out.
        full = circuit_file(PLAIN, ('power = "60 W"', 'power = "1800 W"'), name="full.circuit.toml")
        unread = circuit_file(PLAIN, ('power = "60 W"\n', ""), name="unread.circuit.toml")
        first, last = compared(run, lights, "--on", full, "--on", unread)["places"]
        assert (first["file"], first["load_left"]) == (str(unread), None)
        assert (last["file"], last["load_left"]) == (str(full), {"amount": 0.0, "unit": "A"})
        page = run("compare", lights, "--on", unread).out
        assert " unknown " in next(line for line in page.splitlines() if "CANNOT TELL" in line)

    def test_every_box_that_is_there_is_tried(self, run, circuit_file, lights):
        more = '[[box]]\nid = "den"\norigin = "existing"\nvolume = "20 in^3"\n[[cable]]\nid = "on"\nfrom = "hall"\n'
        more += 'to = "den"\norigin = "existing"\ntype = "NM-B"\nsize = "14 AWG"\nconductors = 2\n'
        house = circuit_file(('[[load]]\nid = "hall lamp"', f'{more}[[load]]\nid = "hall lamp"'))
        assert {place["box"] for place in compared(run, lights, "--on", house)["places"]} == {"hall", "den"}

    def test_a_box_without_a_neutral_is_ruled_out_with_the_reason(self, run, circuit_file, lights):
        # 404.2, 410: a light needs a neutral, and a two-wire switch loop brings none
        house = circuit_file(
            (
                "[[load]]",
                '[[box]]\nid = "loop end"\norigin = "existing"\nneutral = false\n'
                '[[cable]]\nid = "loop"\nfrom = "hall"\nto = "loop end"\norigin = "existing"\n'
                'carries = "switch loop"\nconductors = 2\n\n[[load]]',
            ),
            PLAIN,
        )
        document = compared(run, lights, "--on", house)
        assert [place["box"] for place in document["places"]] == ["hall"]
        assert [each["box"] for each in document["ruled_out"]] == ["loop end"]
        assert "no neutral" in document["ruled_out"][0]["says"]
        page = " ".join(run("compare", lights, "--on", house).out.split())
        assert "Nothing new may start here" in page

    def test_the_way_of_a_cable_that_starts_elsewhere_is_unknown(self, run, circuit_file):
        plan = circuit_file(
            ('[[load]]\nid = "hall lamp"', '[[light]]\nid = "new"\nfrom = "hall"\ncable = "14/2 NM-B with ground"\n'
             'length = "20 ft"\npower = "9 W"\n[[load]]\nid = "hall lamp"'), name="plan.circuit.toml"
        )  # fmt: skip
        (place,) = compared(run, plan, "--on", circuit_file(name="hall.circuit.toml"))["places"]
        assert place["new_cable"] is None

    def test_nothing_is_known_of_the_way_of_a_cable_that_starts_elsewhere(self):
        """What lies along it, and what it goes through, is another matter from another box; what it is stays."""
        way = {
            "length_m": 6, "place": "inside", "ambient_c": 25, "bundled_with": 0, "sealed_hole_with": 0,
            "current_carrying": 2, "conductor_temperature_c": 60, "run": "through framing", "concealed": True,
            "exposed_to_damage": False, "plates": True, "edge_distance_m": 0.1, "support_spacing_m": 1,
            "support_from_box_m": 0.1, "near_hatch": False, "guard_strips": True, "in_insulation": False,
        }  # fmt: skip
        new = cable("new", "attic", "b", free_length_m=0.2, **way)
        job = circuit(box("attic"), box("b", origin="added"), new, cable("feed", "panel", "attic", origin="existing"))
        house = circuit(box("hall"), cable("house feed", "panel", "hall", origin="existing"))
        (moved,) = [each for each in placed(job, house, "hall").cables if each.id == "new"]
        assert moved == replace(new, from_id="hall", **dict.fromkeys(way))

    def test_what_cannot_be_tried_is_refused(self, run, circuit_file, lights):
        nothing = circuit_file()
        ran = run("compare", nothing, "--on", circuit_file(name="b.circuit.toml"))
        assert (ran.status, ran.out) == (2, "")
        assert "nothing in it is added" in ran.err
        in_an_old_box = circuit_file(
            ('origin = "existing"\nkind', 'origin = "added"\nkind'), ('"hall lamp"', '"new"'), name="c.circuit.toml"
        )
        assert "already there" in run("compare", in_an_old_box, "--on", nothing).err
        same_name = circuit_file(('"hall lamp"', '"shelf light 1"'), name="d.circuit.toml")
        assert "rename" in run("compare", lights, "--on", same_name).err


def test_text_markdown_and_html(run, circuit_file, tmp_path):
    files = (circuit_file(), circuit_file(('"20 in^3"', '"21 in^3"'), name="b.circuit.toml"))
    text = run("compare", *files)
    assert "What differs" in text.out
    assert "dead" in text.out
    for ending, sign in ((".md", "|:--"), (".html", "<table"), (".txt", "What differs")):
        ran = run("compare", *files, "-o", tmp_path / f"out{ending}")
        assert ran.status == 0
        assert sign.replace(" ", "") in (tmp_path / f"out{ending}").read_text("utf-8").replace(" ", "")
    assert run("compare", *files, "-o", files[0]).status == 2


@pytest.mark.parametrize("words", [(), ("--rulebooks", "second")])
def test_how_many_files(run, circuit_file, words):
    file = circuit_file()
    names = [file if word == "second" else word for word in words]
    ran = run("compare", file, *names)
    assert (ran.status, ran.out) == (2, "")
