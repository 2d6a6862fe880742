"""Reading whole files: what is read, what is refused, and that every problem is told at once."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from circuitcheck.circuit.model import Device, FixtureWires, Unbroken
from circuitcheck.circuit.reader import circuit_in, read_bytes, read_circuit, read_file
from circuitcheck.circuit.toml_text import LARGEST_FILE
from circuitcheck.errors import CircuitFileError
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import vocabulary as shipped_vocabulary

DESCRIBED = Path(__file__).with_name("described.circuit.toml")
TEXT = DESCRIBED.read_text(encoding="utf-8")
CUBIC_INCH = 1.6387064e-5
FOOT = 0.3048

SMALL = """format = 1
[job]
title = "Two lights"
rulebook = "nec-2020"
[supply]
voltage = "120 V"
breaker = "15 A"
"""


def problems(text: str, vocabulary) -> list[tuple[int | None, str]]:
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(text, "some.circuit.toml", vocabulary)
    return [(problem.line, problem.key) for problem in caught.value.problems]


def test_the_described_file_is_read_with_the_shipped_words():
    circuit = read_file(DESCRIBED, shipped_vocabulary())
    assert circuit.job.title == "Stair gallery picture lights"
    assert circuit.job.date == "2026-03-14"
    assert circuit.supply.voltage_v.low == 120.0
    assert circuit.supply.shared_neutral is False
    assert circuit.supply.poles is None
    attic, gallery = circuit.boxes
    assert attic.fittings == ("stud",)
    assert attic.devices == (Device(kind="switch", gangs=1, size="14 AWG"),)
    assert attic.fixture_wires == (FixtureWires(size="18 AWG", count=2),)
    assert attic.unbroken == (Unbroken(size="14 AWG", count=2, loop=False),)
    assert attic.extensions_m3[0].low == pytest.approx(4 * CUBIC_INCH)
    assert gallery.volume_m3 is not None
    assert gallery.volume_m3.how is How.LABEL
    assert gallery.internal_clamps is None
    feed, lead, added = circuit.cables
    assert (feed.from_id, feed.to_id) == ("panel", "attic")
    assert feed.length_m is not None
    assert (feed.length_m.low, feed.length_m.high) == (pytest.approx(35 * FOOT), pytest.approx(60 * FOOT))
    assert feed.ambient_c is not None
    assert feed.ambient_c.low == 50.0
    assert (added.size, added.conductors) == ("14 AWG", 2)
    assert lead.ground is None
    assert circuit.tree.driver_of == {"shelf lead": "shelf driver"}
    assert [cable.id for cable in circuit.tree.branch_cables] == ["feed", "to gallery 3"]


def test_a_parsed_document_is_read_the_same(vocabulary):
    assert circuit_in(tomllib.loads(TEXT), TEXT, "same", vocabulary) == read_circuit(TEXT, "same", vocabulary)
    wrong = TEXT.replace("nec-2023", "none")
    with pytest.raises(CircuitFileError) as caught:
        circuit_in(tomllib.loads(wrong), wrong, "some", vocabulary)
    assert [(problem.line, problem.key) for problem in caught.value.problems] == problems(wrong, vocabulary)


def read_with(converted, text, vocabulary):
    return circuit_in(tomllib.loads(text), text, "same", vocabulary, converted)


def test_parts_that_were_read_before_are_the_same_and_others_are_read_anew(vocabulary):
    converted = {}
    first = read_with(converted, TEXT, vocabulary)
    assert first == read_circuit(TEXT, "same", vocabulary)
    other = TEXT.replace('length = "about 22 ft"', 'length = "about 23 ft"')
    assert other != TEXT
    second = read_with(converted, other, vocabulary)
    assert second == read_circuit(other, "same", vocabulary)
    assert [old is new for old, new in zip(first.cables, second.cables, strict=True)].count(False) == 1
    assert read_with(converted, TEXT, vocabulary) == first


@pytest.mark.parametrize(("right", "wrong"), [("ground = true", "ground = 1"), ("conductors = 2", "conductors = 2.0")])
def test_a_value_that_only_looks_like_one_read_before_is_told(right, wrong, vocabulary):
    converted = {}
    read_with(converted, TEXT, vocabulary)
    other = TEXT.replace(right, wrong)
    assert other != TEXT
    for _ in range(2):
        with pytest.raises(CircuitFileError) as told:
            read_with(converted, other, vocabulary)
        with pytest.raises(CircuitFileError) as plainly:
            read_circuit(other, "same", vocabulary)
        assert told.value.problems == plainly.value.problems


def test_a_file_with_only_what_is_required(vocabulary):
    circuit = read_circuit(SMALL, "small", vocabulary)
    assert circuit.site.signs is None
    assert circuit.boxes == circuit.loads == ()
    assert circuit.tree.order == ("panel",)


def test_looking_and_seeing_nothing_is_not_the_same_as_not_looking(vocabulary):
    assert read_circuit(f"{SMALL}[site]\nsigns = []\n", "small", vocabulary).site.signs == ()


def test_words_are_taken_whatever_their_case(vocabulary):
    text = TEXT.replace('type = "NM-B"', 'type = "nm-b"').replace('"4 x 1-1/2 octagon"', '"4 X 1-1/2  Octagon"')
    circuit = read_circuit(text, "some", vocabulary)
    assert circuit.cables[0].type == "NM-B"
    assert circuit.boxes[0].trade_size == "4 x 1-1/2 octagon"


def test_how_entries_are_known(vocabulary):
    text = TEXT.replace("internal_clamps = true", 'internal_clamps = true\nknown_by = { internal_clamps = "guess" }')
    assert read_circuit(text, "some", vocabulary).boxes[0].known_by == {"internal_clamps": "guess"}


@pytest.mark.parametrize(
    ("size", "conductors", "ground"), [("14/2", 2, None), ("14/3", 3, None), ("12/2 with ground", 2, True)]
)
def test_what_a_sheath_says_about_conductors(size, conductors, ground, vocabulary):
    text = f"""{SMALL}
[[box]]
id = "a"
[[cable]]
id = "feed"
from = "panel"
to = "a"
size = "{size}"
"""
    cable = read_circuit(text, "some", vocabulary).cables[0]
    assert (cable.conductors, cable.ground) == (conductors, ground)


def test_two_defects_in_one_file_are_both_told(vocabulary):
    text = TEXT.replace('length = "35 ft to 60 ft"', "length = 38").replace('\npower = "60 W"', '\npower = "60 VA"')
    lines = text.splitlines()
    expected = [
        (1 + next(i for i, line in enumerate(lines) if line.startswith("length = 38")), "cable.feed.length"),
        (1 + next(i for i, line in enumerate(lines) if line.startswith('power = "60 VA"')), "load.attic lamp.power"),
    ]
    assert problems(text, vocabulary) == expected


def test_problems_of_every_stage_are_told_together_in_file_order(vocabulary):
    text = """format = 1
[job]
title = "Many slips"
rulebook = "nec-2019"
[supply]
voltage = "120 V"
breaker = 15
colour = "white"
[[box]]
id = "a"
volume = "18 ft"
[[box]]
id = "b"
canopy = "yes"
[[cable]]
id = "feed"
from = "panel"
to = "a"
[[cable]]
id = "feed"
from = "a"
to = "c"
[[load]]
box = "a"
"""
    assert problems(text, vocabulary) == [
        (4, "job.rulebook"),
        (7, "supply.breaker"),
        (8, "supply.colour"),
        (11, "box.a.volume"),
        (14, "box.b.canopy"),
        (20, "cable.feed.id"),
        (22, "cable.feed.to"),
        (23, "load.#1.id"),
    ]


def test_a_box_may_have_a_branch_feed_and_a_low_voltage_feed(vocabulary):
    text = f"""{SMALL}
[[box]]
id = "a"
[[box]]
id = "b"
[[driver]]
id = "d"
box = "a"
[[low_voltage_load]]
id = "strip"
[[cable]]
id = "feed"
from = "panel"
to = "a"
[[cable]]
id = "on"
from = "a"
to = "b"
[[cable]]
id = "lead"
from = "d"
to = "b"
[[cable]]
id = "last"
from = "b"
to = "strip"
"""
    tree = read_circuit(text, "some", vocabulary).tree
    assert [cable.id for cable in tree.branch_cables] == ["feed", "on"]
    assert [cable.id for cable in tree.low_voltage_cables] == ["lead", "last"]


STRIP = f"""{SMALL}
[[box]]
id = "a"
[[cable]]
id = "feed"
from = "panel"
to = "a"
[[driver]]
id = "d"
box = "a"
[[driver]]
id = "e"
box = "a"
[[low_voltage_load]]
id = "strip"
fed_from = "both ends"
[[cable]]
id = "one"
from = "d"
to = "strip"
[[cable]]
id = "other"
from = "d"
to = "strip"
"""


def test_a_strip_fed_at_both_ends_may_have_two_cables_from_one_place_and_no_more(vocabulary):
    circuit = read_circuit(STRIP, "strip", vocabulary)
    assert [cable.id for cable in circuit.tree.low_voltage_cables] == ["one", "other"]
    assert problems(STRIP.replace("both ends", "one end"), vocabulary) == [(31, "cable.other.to")]
    assert problems(STRIP + '[[cable]]\nid = "third"\nfrom = "d"\nto = "strip"\n', vocabulary) == [
        (35, "cable.third.to")
    ]
    assert problems(STRIP.replace('id = "other"\nfrom = "d"', 'id = "other"\nfrom = "e"'), vocabulary) == [
        (31, "cable.other.to")
    ]


def ring(count: int) -> str:
    parts = [
        f'[[box]]\nid = "b{i}"\n[[cable]]\nid = "c{i}"\nfrom = "b{(i - 1) % count}"\nto = "b{i}"\n'
        for i in range(count)
    ]
    return SMALL + "".join(parts)


@pytest.mark.parametrize("count", [2, 3, 50])
def test_a_loop_is_one_problem_that_names_its_cables(count, vocabulary):
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(ring(count), "ring", vocabulary)
    assert len(caught.value.problems) == 1
    assert caught.value.problems[0].says.startswith('a loop: cable "c0", cable "c1"')


def test_what_hangs_behind_a_loop_or_behind_an_unreachable_box_is_not_told_again(vocabulary):
    behind = '[[box]]\nid = "x"\n[[cable]]\nid = "cx"\nfrom = "b0"\nto = "x"\n'
    assert len(problems(ring(3) + behind, vocabulary)) == 1
    apart = '[[box]]\nid = "b0"\n' + behind
    assert problems(SMALL + apart, vocabulary) == [(8, "box.b0")]


def test_a_very_long_loop_and_a_very_long_chain_are_no_trouble(vocabulary):
    assert len(problems(ring(3000), vocabulary)) == 1
    chain = ring(3000).replace('from = "b2999"\nto = "b0"', 'from = "panel"\nto = "b0"')
    assert len(read_circuit(chain, "chain", vocabulary).tree.path("b2999")) == 3000


def test_windows_line_ends_and_a_byte_order_mark(vocabulary):
    plain = read_bytes(TEXT.encode(), "same", vocabulary)
    assert read_bytes(TEXT.replace("\n", "\r\n").encode(), "same", vocabulary) == plain
    assert read_bytes(b"\xef\xbb\xbf" + TEXT.encode(), "same", vocabulary) == plain


def file_problem(path: Path, vocabulary) -> str:
    with pytest.raises(CircuitFileError) as caught:
        read_file(path, vocabulary)
    assert len(caught.value.problems) == 1
    assert caught.value.problems[0].file == str(path)
    assert caught.value.problems[0].line is None
    return caught.value.problems[0].says


def test_what_is_no_readable_file(tmp_path, vocabulary):
    assert file_problem(tmp_path, vocabulary) == "this is a folder, not a circuit file"
    assert file_problem(tmp_path / "none.circuit.toml", vocabulary) == "there is no such file"
    assert file_problem(Path("nul\0byte"), vocabulary) == "this file cannot be read: its name cannot be used"
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert file_problem(tmp_path / "loop", vocabulary).startswith("this file cannot be read: ")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the super-user may read everything")
def test_a_file_without_permission(tmp_path, vocabulary):
    path = tmp_path / "locked.circuit.toml"
    path.write_text(SMALL)
    path.chmod(0)
    assert file_problem(path, vocabulary) == "this file cannot be read: Permission denied"


def test_a_far_too_large_file_is_refused_before_it_is_read(tmp_path, vocabulary, monkeypatch):
    path = tmp_path / "large.circuit.toml"
    with path.open("wb") as opened:
        opened.truncate(50_000_000)
    with monkeypatch.context() as patched:
        patched.delattr(Path, "open")
        assert file_problem(path, vocabulary) == "this file has 50 MB or more; a circuit file has at most 10 MB"
    with pytest.raises(CircuitFileError):
        read_circuit("#" * (LARGEST_FILE + 1), "large", vocabulary)


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 100_000,
        "a = " + "{a=" * 100_000,
        "a = " + "9" * 100_000,
        "[" + ".".join("a" * 5_000) + "]",
        SMALL + '[site]\nroom = "' + "x" * 1_000_000 + '"\n',
        SMALL + "[[box]]\n" * 2_000,
        SMALL + '[[load]]\nid = "a"\nbox = "a"\n' * 2_000,
    ],
    ids=["deep lists", "deep tables", "long number", "deep header", "long word", "many nameless", "many unknown"],
)
def test_hostile_text_ends_in_a_message(text, vocabulary):
    with pytest.raises(CircuitFileError):
        read_circuit(text, "hostile", vocabulary)


@pytest.mark.parametrize("name", ["[/red]", "<b>&amp;", "\u202eabc", "名前", "a.b.c", "x" * 300, "#1", "'\"\\"])
def test_any_name_is_a_name(name, vocabulary):
    quoted = name.replace("\\", "\\\\").replace('"', '\\"')
    text = f'{SMALL}[[box]]\nid = "{quoted}"\n[[cable]]\nid = "feed"\nfrom = "panel"\nto = "{quoted}"\n'
    assert read_circuit(text, "some", vocabulary).boxes[0].id == name


VOCABULARY = {
    "job.rulebook": ("nec-2017", "nec-2020", "nec-2023"),
    "box.trade_size": ("4 x 1-1/2 octagon",),
    "cable.type": ("NM-B", "class 2 cable"),
    "size": ("18 AWG", "14 AWG"),
}


def reads_or_tells(content: bytes) -> None:
    try:
        circuit = read_bytes(content, "any", VOCABULARY)
    except CircuitFileError as error:
        told = error.problems
        assert_told(told)
    else:
        assert circuit.tree.order[0] == "panel"


def assert_told(told) -> None:
    assert told
    assert all(problem.says and problem.file == "any" for problem in told)


@given(st.binary(max_size=300))
@example(b"")
@example(b"\xff\xfe")
@example(b"\x00")
@settings(max_examples=200, deadline=None)
def test_any_bytes_are_read_or_told(content):
    reads_or_tells(content)


TOKENS = st.sampled_from(
    [
        *"[]{}=\"'\n.,#\\ ",
        '"""',
        "'''",
        "[[box]]\n",
        "[job]\n",
        "id",
        "true",
        "1e999",
        "nan",
        "2026-02-30",
        "\r",
        "\t",
        "é",
        "\0",
    ]
)


@given(st.integers(0, len(TEXT)), st.integers(0, 40), st.lists(TOKENS, max_size=4))
@settings(max_examples=500, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_changed_file_is_read_or_told(place, cut, tokens):
    reads_or_tells((TEXT[:place] + "".join(tokens) + TEXT[place + cut :]).encode())


LINES = TEXT.splitlines(keepends=True)


@given(st.lists(st.sampled_from(LINES), max_size=60))
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_shuffled_lines_are_read_or_told(lines):
    reads_or_tells("".join(["format = 1\n", *lines]).encode())


VALUES = st.sampled_from(
    [
        "1",
        "-1",
        "1.5",
        "nan",
        "true",
        '""',
        '"x"',
        "[]",
        "[1]",
        '["a"]',
        "{}",
        "{a=1}",
        "[{}]",
        "2026-01-01",
        "07:32:00",
        "[[1]]",
    ]
)
KEY_LINES = [i for i, line in enumerate(LINES) if "=" in line and not line.startswith("#")]


@given(st.sampled_from(KEY_LINES), VALUES)
@settings(max_examples=400, deadline=None)
def test_any_kind_of_value_under_any_key_is_read_or_told(index, value):
    lines = list(LINES)
    lines[index] = f"{lines[index].partition('=')[0]}= {value}\n"
    reads_or_tells("".join(lines).encode())


@given(st.sampled_from(["job", "supply", "site", "box", "cable", "load", "driver", "format", "framing"]), VALUES)
@settings(max_examples=150, deadline=None)
def test_any_kind_of_value_for_a_section_is_read_or_told(name, value):
    reads_or_tells(f"{name} = {value}\n{TEXT}".encode())
    reads_or_tells(f"{name} = {value}\n{SMALL}".encode())


def test_reading_a_file_starts_neither_the_screen_nor_the_registry():
    code = (
        "import sys\nfrom circuitcheck.circuit.reader import read_file\n"
        "from circuitcheck.tables.rulebook import vocabulary\n"
        f"read_file({str(DESCRIBED)!r}, vocabulary())\n"
        "print([name for name in ('textual', 'jinja2', 'pint', 'pydantic', 'typst') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_thousands_of_slips_are_all_told(vocabulary):
    """With a search of all names for each of them this would take minutes."""
    loads = "".join(f'[[load]]\nid = "l{i}"\nbox = "nowhere"\nkind = "lite"\n' for i in range(4_000))
    boxes = "".join(f'[[box]]\nid = "b{i}"\n' for i in range(4_000))
    assert len(problems(SMALL + boxes + loads, vocabulary)) == 12_000


BOX_FED = (
    SMALL
    + """loaded_at = "hall"
loads_complete = false
[[box]]
id = "hall"
[[cable]]
id = "feed"
from = "panel"
to = "hall"
"""
)


def test_the_supply_says_where_it_was_read_under_load_and_whether_the_list_is_whole(vocabulary):
    supply = read_circuit(BOX_FED, "some.circuit.toml", vocabulary).supply
    assert (supply.loaded_at, supply.loads_complete) == ("hall", False)
    plain = read_circuit(SMALL, "some.circuit.toml", vocabulary).supply
    assert (plain.loaded_at, plain.loads_complete) == (None, None)


@pytest.mark.parametrize("target", ["hal", "feed", "panel"])
def test_a_reading_under_load_names_a_box_that_there_is(target, vocabulary):
    assert problems(BOX_FED.replace('loaded_at = "hall"', f'loaded_at = "{target}"'), vocabulary) == [
        (8, "supply.loaded_at")
    ]


@pytest.mark.parametrize(
    ("written", "line"),
    [
        (".".join(["a"] * 30_000) + " = 1", 1),
        ("[" + ".".join(["a"] * 30_000) + "]", 1),
        ("x = 1\ny = { b = 1, 'c' . \"d\".e.f.g.h.i.j.k = 1 }", 2),
    ],
)
def test_a_name_of_thousands_of_keys_is_refused_before_it_is_parsed(written, line, vocabulary, monkeypatch):
    # The parser would take over 3 GB for 60 KB of such a name.
    monkeypatch.setattr(tomllib, "loads", None)
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(written, "dots", vocabulary)
    assert [problem.line for problem in caught.value.problems] == [line]
    assert "joined by dots" in caught.value.problems[0].says


def test_dots_in_texts_and_comments_are_no_names(vocabulary):
    texts = (
        'title = "a.b.c.d.e.f.g.h.i.j.k.l"',
        "title = 'a.b.c.d.e.f.g.h.i.j.k.l'",
        'title = """\na.b.c.d.e.f.g.h.i.j.k.l"""',
        "title = '''\na.b.c.d.e.f.g.h.i.j.k.l'''",
        'title = "x" # a.b.c.d.e.f.g.h.i.j.k.l',
    )
    for title in texts:
        assert read_circuit(SMALL.replace('title = "Two lights"', title), "dots", vocabulary).job.title


@pytest.mark.parametrize("text", ["x" * 3_000_000 + "." * 9, "." * 9 + '"\\"' * 1_000_000, "'." * 1_000_000])
def test_looking_for_such_names_takes_time_in_step_with_the_text(text, vocabulary):
    # Looking at the rest of the line again from each letter would take hours.
    with pytest.raises(CircuitFileError):
        read_circuit(text, "long", vocabulary)


@pytest.mark.parametrize(
    ("old", "new", "key", "most"),
    [
        ("Two lights", "x" * 2001, "job.title", "2,000"),
        ("nec-2020", "x" * 301, "job.rulebook", "300"),
        ("120 V", "1" * 3_000_000, "supply.voltage", "300"),
    ],
)
def test_a_text_of_any_length_is_refused_in_a_short_sentence(old, new, key, most, vocabulary):
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(SMALL.replace(old, new), "long", vocabulary)
    (problem,) = caught.value.problems
    assert problem.key == key
    assert problem.allowed == f"at most {most} characters"
    assert len(problem.given) < 80


def test_a_long_id_is_told_in_a_short_sentence(vocabulary):
    text = SMALL + '[[box]]\nid = "' + "q" * 100_000 + '"\norigin = "existing"\n' + "z" * 100_000 + " = 1\n"
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(text, "long", vocabulary)
    assert {len(problem.key) + len(problem.says) + len(problem.given) < 900 for problem in caught.value.problems} == {
        True
    }
