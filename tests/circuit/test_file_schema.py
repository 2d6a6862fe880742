"""The schema of the circuit file takes whatever the reader takes, and marks each broken file that a schema can see.

That schemas in real editors do the same is tried by `make doors` with two language servers.
"""

import json
import re
import tomllib
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitcheck.circuit.file_schema import DRAFT, file_schema
from circuitcheck.circuit.guide import entry_guide
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.short.cable_print import read_cable_print
from circuitcheck.errors import CircuitFileError
from circuitcheck.quantities import KINDS, QuantityError, read_designation, read_interval, read_size
from circuitcheck.quantities.patterns import cable_print_pattern, designation_pattern, physical_pattern, size_pattern
from circuitcheck.quantities.units import SPELLINGS
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.starting.file import starting_text

jsonschema = pytest.importorskip("jsonschema", reason="in the dev group of pyproject.toml")

ROOT = Path(__file__).parents[2]
SCHEMA = file_schema(vocabulary())
VALIDATOR = jsonschema.Draft7Validator(SCHEMA, format_checker=jsonschema.Draft7Validator.FORMAT_CHECKER)
WHOLE = sorted([*ROOT.glob("examples/*.circuit.toml"), *ROOT.glob("tests/circuit/*.circuit.toml")])

#: Files of tests/broken whose fault lies between parts, in the size of a number, or in its digits.
BEYOND_A_SCHEMA = {
    "names and ends": {
        "box-names-nothing", "cable-from-itself", "cable-into-panel", "cable-to-a-driver", "cable-to-a-load",
        "control-unknown", "control-with-itself", "driver-paralleled-with-nothing", "end-names-nothing",
        "framing-cable-unknown", "id-twice", "id-twice-in-one-section", "load-in-a-cable", "load-in-panel",
        "start-names-nothing",
    },
    "the tree": {
        "loop", "strip-behind-no-driver", "strip-fed-twice", "strip-without-feed", "two-feeds", "unreachable-box",
    },
    "two keys that disagree": {"size-against-conductors"},
    "how much": {
        "size-not-in-tables", "value-absurd-breaker", "value-absurd-length", "value-absurd-volume",
        "value-inches-over-a-foot", "value-low-voltage-supply", "value-odd-fraction", "value-range-reversed",
        "value-toml-nan", "value-too-many-digits",
    },
}  # fmt: skip


def plain(value):
    """A document as JSON has it: dates are text there."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, date) else value


def problems(text):
    """What the schema says about a circuit file."""
    return [error.message for error in VALIDATOR.iter_errors(plain(tomllib.loads(text)))]


def readable(path):
    try:
        return tomllib.loads(path.read_text("utf-8")) is not None
    except ValueError:
        return False


BROKEN = {
    path.name.removesuffix(".circuit.toml"): path
    for path in sorted(ROOT.glob("tests/broken/*.circuit.toml"))
    if readable(path)
}


def test_the_schema_is_draft_7_and_stands_alone():
    jsonschema.Draft7Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == DRAFT
    assert "$ref" not in json.dumps(SCHEMA)


def test_the_file_is_current():
    written = json.loads((ROOT / "docs" / "circuit-file.schema.json").read_text("utf-8"))
    assert written == SCHEMA, "run: make docs"


@pytest.mark.parametrize("path", WHOLE, ids=lambda path: path.name)
def test_a_whole_file_is_accepted(path):
    assert problems(path.read_text("utf-8")) == []


@pytest.mark.parametrize("name", ["small.circuit.toml", "circuit-file-example.toml"])
def test_a_file_shown_on_the_page_is_accepted(name):
    assert problems((ROOT / "making" / name).read_text("utf-8")) == []


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_is_marked_where_a_schema_can_see_it(name):
    beyond = any(name in names for names in BEYOND_A_SCHEMA.values())
    assert bool(problems(BROKEN[name].read_text("utf-8"))) is not beyond


def test_what_is_beyond_a_schema_is_still_there():
    assert set().union(*BEYOND_A_SCHEMA.values()) <= BROKEN.keys()


def test_a_file_that_the_screens_start_names_the_schema():
    text = starting_text({"rulebook": "nec-2023", "breaker": "15 A", "room": "hallway"})
    assert text.splitlines()[0] == "#:schema circuit-file.schema.json"
    assert problems(text) == []


@pytest.mark.parametrize("section", SECTIONS)
def test_every_key_is_described_from_the_guide(section):
    table = SCHEMA["properties"][section]
    table = table["items"] if SECTIONS[section].many else table
    for key in SECTIONS[section].keys.values():
        described = table["properties"][key.name]
        assert described["description"].startswith(entry_guide(section, key.name).what)
        assert described["title"] == key.title
        assert (key.name in table["required"]) is key.required


def any_case(draw, text):
    return draw(st.sampled_from([text, text.upper(), text.capitalize()]))


@st.composite
def written_values(draw):
    """Texts much as people write values: not all of them are taken."""
    kind = KINDS[draw(st.sampled_from(sorted(KINDS)))]
    spellings = sorted(spelling for spelling, unit in SPELLINGS.items() if unit in kind.units)
    numbers = st.sampled_from(["1", "2.5", ".5", "1-1/2", "1 1/2", "1/2", "½", "2½", "60", "0", "15.25", "-5", "−5"])

    def amount(*, bare=False):
        unit = "" if bare or not spellings else any_case(draw, draw(st.sampled_from(spellings)))
        unit = unit.translate(draw(st.sampled_from([{}, str.maketrans("'\"/", "′″⁄"), str.maketrans("3", "³")])))
        dot = draw(st.sampled_from(["", "."])) if unit[-1:].isalpha() else ""
        return draw(numbers) + draw(st.sampled_from(["", " ", "  ", "\u00a0"])) + unit + dot

    words = ["", "about ", "About ", "approx. ", "~", "~ ", "measured ", "label ", "LABEL  "]
    form = draw(st.sampled_from(["one", "range", "short range", "dash", "both units", "several"]))
    text = {
        "one": amount,
        "range": lambda: f"{amount()} to {amount()}",
        "short range": lambda: f"{amount(bare=True)} TO {amount()}",
        "dash": lambda: f"{amount(bare=True)}–{amount()}",
        "several": lambda: draw(st.sampled_from(["3 x ", "12x", "2 × "])) + amount(),
        "both units": lambda: draw(st.sampled_from(["5 ft 6 in", "5'6\"", "5’ 6-1/2”", "2 lb 3 oz", "5 ft - 6 in"])),
    }[form]()
    return kind, draw(st.sampled_from(["", " "])) + draw(st.sampled_from(words)) + text


@given(written_values())
def test_what_the_reader_takes_as_a_value_is_never_marked(value):
    kind, text = value
    wide = kind.within(-1e9 if kind.least < 0 else 0, 1e9)
    try:
        read_interval(text, wide)
    except QuantityError:
        return
    assert re.search(physical_pattern(wide), text)


def test_values_are_tried_that_the_reader_takes_and_that_it_refuses():
    assert re.search(physical_pattern(KINDS["length"]), "about 5 ft 6-1/2 in to 20′")
    for refused in ("38", "38 W", "1,5 m", "2**9 ft", "-3 ft", "not very far", "inf ft", "1_000 ft", "35 ft to 60 W"):
        assert not re.search(physical_pattern(KINDS["length"]), refused)


@given(
    st.sampled_from(["", "#", "no. ", "No ", "AWG ", "awg #"]),
    st.sampled_from(["14", "1/0", "00", "250", "2.5", "14/2", "14-2", "12 / 3", "14 AWG/2"]),
    st.sampled_from(["", " AWG", "awg", " gauge", " ga.", " kcmil", " MCM", " mm^2", "mm²", " sq mm", " with ground"]),
)  # fmt: skip
def test_what_the_reader_takes_as_a_size_is_never_marked(before, number, after):
    text = before + number + after
    if read_designation(text):
        assert re.search(designation_pattern(), text)
        return
    try:
        read_size(text)
    except QuantityError:
        return
    assert re.search(size_pattern(), text)
    assert re.search(designation_pattern(), text)


SHORT = """\
format = 1
[job]
title = "t"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"
[defaults.cable]
cable = "14/2 NM-B with ground"
[[box]]
id = "attic"
origin = "existing"
[[cable]]
id = "feed"
from = "panel"
to = "attic"
origin = "existing"
cable = "14-2 NM-B"
known_by = { cable = "label" }
[[light]]
id = "wall 1"
from = "attic"
length = "17 ft"
box_material = "nonmetallic"
volume = "label 16 in^3"
power = "60 W"
known_by = { box_material = "label" }
[[light]]
id = "wall 2"
from = "wall 1"
like = "wall 1"
cable = "12/2 NM-B"
[[box]]
id = "more"
like = "wall 1 box"
[[cable]]
id = "to more"
from = "attic"
to = "more"
like = "wall 1 cable"
"""


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("", ""),
        ('from = "attic"\nlength', "length"),
        ('id = "wall 2"\n', ""),
        ("box_material", "material"),
        ("like = ", "alike = "),
        ('cable = "14-2 NM-B"', 'cable = "NM-B"'),
        ('cable = "14-2 NM-B"', 'cable = "14-2 NM-B"\nsize = "14 AWG"'),
        ('power = "60 W"', 'power = "60 W"\napparent = "60 VA"'),
        ('volume = "label', 'trade_size = "4 x 1-1/2 octagon"\nvolume = "label'),
        ('{ box_material = "label" }', '{ box_material = "seen" }'),
        ('{ box_material = "label" }', '{ power = "label" }'),
        ("[defaults.cable]\n", '[defaults.cable]\nlength = "3 ft"\n'),
        ("[defaults.cable]", "[defaults.supply]"),
        ('[[light]]\nid = "wall 1"', '[light]\nid = "wall 1"'),
    ],
)
def test_short_forms_are_taken_and_marked_as_the_reader_does(old, new):
    text = SHORT.replace(old, new, 1) if old else SHORT
    assert (text != SHORT) is bool(old)
    try:
        marked = problems(text)
    except tomllib.TOMLDecodeError:
        return
    try:
        read_circuit(text, "t", vocabulary())
    except CircuitFileError:
        assert marked
    else:
        assert marked == []


@given(
    st.sampled_from(["", "TYPE NM-B ", "NM-B "]),
    st.sampled_from(["14/2", "12-3", "14 AWG-2", "1/0-3", "12 / 2", "14–2"]),
    st.sampled_from(["", "G", " with ground", " w/g", " NM-B 600 V", " aluminum stranded"]),
)
def test_what_the_reader_takes_as_a_print_is_never_marked(before, designation, after):
    try:
        read_cable_print(before + designation + after, vocabulary()["cable.type"])
    except QuantityError:
        return
    assert re.search(cable_print_pattern(), before + designation + after)


@pytest.mark.parametrize("spelled", ["NM-B", "nm-b", " Nm-B ", "thhn  in Raceway"])
def test_a_word_is_taken_whatever_its_case(spelled):
    described = SCHEMA["properties"]["cable"]["items"]["properties"]["type"]
    assert jsonschema.Draft7Validator(described).is_valid(spelled)


@pytest.mark.parametrize("path", sorted(ROOT.glob("examples/*.circuit.toml")), ids=lambda path: path.name)
def test_an_example_names_the_schema_and_it_is_there(path):
    first = path.read_text("utf-8").splitlines()[0]
    assert first.startswith("#:schema ")
    assert (path.parent / first.removeprefix("#:schema ")).is_file()
