"""``tidy``: the same circuit in either form, no comment lost, and how many keys the short one takes."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.checking import check
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.short.count import keys_in
from circuitcheck.circuit.short.tidy_long import long_text
from circuitcheck.circuit.short.tidy_short import short_text
from circuitcheck.circuit.written.pieces import comments_of
from circuitcheck.errors import CircuitFileError
from circuitcheck.findings import Report, Verdict
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

TOP = Path(__file__).parents[2]
EXAMPLES = sorted((TOP / "examples").glob("*.circuit.toml"))
SHORT = Path(__file__).with_name("short")
BY_NAME = {"ids": lambda path: path.name.removesuffix(".circuit.toml")}


def circuit(text: str):
    return read_circuit(text, "some.circuit.toml", vocabulary())


def parts(text: str) -> dict[str, object]:
    """The parts by name: in which order a file lists them means nothing."""
    read = circuit(text)
    return {
        section.name: {part.id: part for part in getattr(read, section.attribute)}
        if section.many
        else getattr(read, section.attribute)
        for section in SECTIONS.values()
    }


def report(text: str) -> Report:
    read = circuit(text)
    return check(read, load_rulebook(read.job.rulebook))


def sorted_report(text: str) -> Report:
    """The report with its lists in an order of their own, and the amounts of a finding by name."""
    found = report(text)
    by_words = {"key": repr}
    findings = [
        replace(one, parts=tuple(sorted(one.parts, **by_words)), working=tuple(sorted(one.working)))
        for one in found.findings
    ]
    return replace(
        found,
        findings=tuple(sorted(findings, **by_words)),
        cautions=tuple(sorted(found.cautions)),
        unknowns=tuple(sorted(found.unknowns, **by_words)),
        guesses=tuple(sorted(found.guesses, **by_words)),
    )


@pytest.mark.parametrize("path", EXAMPLES, **BY_NAME)
def test_an_example_and_its_short_form_are_one_circuit_with_one_report(path):
    text = path.read_text("utf-8")
    short = short_text(text, vocabulary())
    assert keys_in(short) < keys_in(text)
    assert parts(short) == parts(text)
    assert sorted_report(short) == sorted_report(text)
    assert set(comments_of(short)) == set(comments_of(text))
    assert short_text(short, vocabulary()) == short


@pytest.mark.parametrize("path", [*EXAMPLES, *sorted(SHORT.glob("*.circuit.toml"))], **BY_NAME)
def test_the_long_form_is_the_same_circuit_with_all_comments(path):
    text = path.read_text("utf-8")
    for written in (text, short_text(text, vocabulary())):
        long = long_text(written, vocabulary())
        assert circuit(long) == circuit(written)
        assert set(comments_of(long)) >= set(comments_of(written))
        assert not any(word in long for word in ("[[light]]", "like =", "[defaults", '\ncable = "1'))
        assert long_text(long, vocabulary()) == long


def test_the_hallway_takes_220_keys_and_has_the_same_report():
    """The report that is asked for: every finding, caution and unknown alike, in the same order."""
    short = (SHORT / "hallway.circuit.toml").read_text("utf-8")
    long = (TOP / "examples" / "hallway.circuit.toml").read_text("utf-8")
    assert keys_in(long) == 392
    assert keys_in(short) <= 220
    assert report(short) == report(long)


def test_one_light_takes_28_keys_to_an_answer():
    text = (SHORT / "one-light.circuit.toml").read_text("utf-8")
    assert keys_in(text) <= 28
    assert report(text).verdict is not Verdict.UNDETERMINED


COMMENTED = """\
format = 1   # first
[job]
title = "a"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"

[[box]]
id = "attic"
origin = "existing"

# the feed
[[cable]]   # behind a header
id = "feed"
from = "panel"
to = "attic"
origin = "existing"
type = "NM-B"   # read on the jacket
# between two
size = "14 AWG"   # and the size
conductors = 2
ground = true
[cable.known_by]
type = "label"   # inside a table
size = "label"
conductors = "label"
ground = "label"

# ---- added ----

# the cable
[[cable]]
id = "wall cable"
from = "attic"   # the near end
to = "wall box"   # the far end
origin = "added"
length = "10 ft"
[[box]]   # its box
id = "wall box"
origin = "added"   # new
volume = '16 in^3'   # "a # in quotes"
devices = [
  { kind = "switch" },   # by the door
]
known_by.devices = "guess"   # with a dot
# last of the box
[[load]]
id = "wall"
box = "wall box"
kind = "light"   # a light
origin = "added"
connection = "hardwired"   # wired in
power = "60 W"
listed = true
known_by = { listed = "label" }   # how
# the end
"""


def test_no_comment_is_lost_whatever_it_stands_beside():
    short = short_text(COMMENTED, vocabulary())
    assert "[[light]]" in short
    assert 'cable = "label 14/2 NM-B with ground"' in short
    assert set(comments_of(short)) == set(comments_of(COMMENTED))
    assert set(comments_of(long_text(short, vocabulary()))) >= set(comments_of(COMMENTED))
    assert parts(long_text(short, vocabulary())) == parts(COMMENTED)


@pytest.mark.parametrize(
    "change",
    [
        ('kind = "light"', 'kind = "fan"'),  # no light
        ('{ listed = "label" }', '{ listed = "label", kind = "guess" }'),  # nothing says so of a light
        ('id = "wall box"\norigin = "added"', 'id = "wall box"\norigin = "existing"'),  # a new light in an old box
    ],
)
def test_what_is_no_light_of_its_own_stays_apart(change):
    short = short_text(COMMENTED.replace(*change), vocabulary())
    assert "[[light]]" not in short
    assert parts(short) == parts(COMMENTED.replace(*change))


def test_like_is_not_written_where_it_would_bring_something_along():
    """The second box has no room: calling it like the first would give it one."""
    box = '[[box]]\nid = "{0}"\norigin = "added"\nmaterial = "metal"\nlocation = "dry"\nmounting = "framing"\n'
    cable = '[[cable]]\nid = "to {0}"\nfrom = "attic"\nto = "{0}"\norigin = "added"\n'
    plain = "".join((box + cable).format(name) for name in "ab") + '[[box]]\nid = "c"\norigin = "existing"\n'
    plain += '[[cable]]\nid = "to c"\nfrom = "attic"\nto = "c"\n'
    other = '[[box]]\nid = "d"\norigin = "added"\nlocation = "wet"\n' + cable.format("d")
    head = COMMENTED.partition("# ---- added")[0]
    assert 'like = "a"' in short_text(head + plain + other, vocabulary())
    roomed = head + plain.replace('location = "dry"\n', 'location = "dry"\nroom = "attic"\n', 1) + other
    assert "like" not in short_text(roomed, vocabulary())
    assert parts(short_text(roomed, vocabulary())) == parts(roomed)


def test_the_counting_script_runs():
    ran = subprocess.run(
        [sys.executable, TOP / "benchmarks" / "count_keys.py"], capture_output=True, text=True, check=True
    )
    assert "hallway.circuit.toml" in ran.stdout


def test_what_is_unknown_is_called_as_the_file_writes_it():
    read = circuit((SHORT / "one-light.circuit.toml").read_text("utf-8"))
    unknowns = {one.key: one.written for one in check(read, load_rulebook(read.job.rulebook)).unknowns}
    assert unknowns["cable.ceiling cable.material"] == "light.ceiling.cable_material"
    assert unknowns["supply.device"] == "supply.device"


CASES = sorted((TOP / "tests" / "cases").glob("*.circuit.toml"))[::8]


@pytest.mark.parametrize("path", CASES, **BY_NAME)
def test_a_circuit_of_the_cases_stays_what_it_is_in_both_forms(path):
    text = path.read_text("utf-8")
    try:
        wanted = parts(text)
    except CircuitFileError:
        pytest.skip("this case asks for keys that the file does not have yet")
    short = short_text(text, vocabulary())
    assert parts(short) == parts(long_text(short, vocabulary())) == wanted
    assert set(comments_of(short)) >= set(comments_of(text))
