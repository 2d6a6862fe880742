"""The declared keys, the model and the key guide say the same."""

import dataclasses
import typing

import pytest

from circuitcheck.circuit import model
from circuitcheck.circuit.conversion import CLASSES, TABLE_CLASSES
from circuitcheck.circuit.entries import KNOWN_BY_KEY
from circuitcheck.circuit.guide import entry_guide, how_to_find, key_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.quantities import Interval, read_interval

ALL_KEYS = [(section, key) for section in SECTIONS.values() for key in section.keys.values()]
IDS = [f"{section.name}.{key.name}" for section, key in ALL_KEYS]

#: What the model holds for each form, None apart.
HELD = {
    Form.PHYSICAL: Interval,
    Form.PHYSICAL_LIST: tuple[Interval, ...],
    Form.WORD: str,
    Form.WORD_LIST: tuple[str, ...],
    Form.TEXT: str,
    Form.ID: str,
    Form.REFERENCE: str,
    Form.SIZE: str,
    Form.YES_NO: bool,
    Form.WHOLE: int,
    Form.DATE: str,
}


@pytest.mark.parametrize("section", SECTIONS.values(), ids=lambda section: section.name)
def test_sections_and_model_have_the_same_keys(section):
    fields = {field.name for field in dataclasses.fields(CLASSES[section.name])}
    assert {key.attribute for key in section.keys.values()} | {KNOWN_BY_KEY} == fields


@pytest.mark.parametrize(("section", "key"), ALL_KEYS, ids=IDS)
def test_keys_and_model_agree_on_type_and_requirement(section, key):
    held = typing.get_type_hints(CLASSES[section.name])[key.attribute]
    kinds = {kind for kind in (typing.get_args(held) if "|" in str(held) else (held,)) if kind is not type(None)}
    expected = tuple[TABLE_CLASSES[key.name], ...] if key.form is Form.TABLES else HELD[key.form]
    assert kinds == {expected}
    field = {field.name: field for field in dataclasses.fields(CLASSES[section.name])}[key.attribute]
    assert key.required == (field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING)


@pytest.mark.parametrize(("name", "made"), TABLE_CLASSES.items())
def test_small_tables_and_model_have_the_same_keys(name, made):
    parts = SECTIONS["box"].keys[name].parts
    assert set(parts) == {field.name for field in dataclasses.fields(made)}
    for field in dataclasses.fields(made):
        assert parts[field.name].required == (field.default is dataclasses.MISSING)


def test_nothing_that_is_left_out_has_a_value():
    """Whatever else is left out is None, never zero and never False."""
    empty = {
        f"{name}.{field.name}": field.default
        for name, made in CLASSES.items()
        for field in dataclasses.fields(made)
        if field.default is not dataclasses.MISSING and field.default is not None
    }
    assert empty == {}


@pytest.mark.parametrize(("section", "key"), ALL_KEYS, ids=IDS)
def test_a_key_says_what_it_takes(section, key):
    assert key.title
    if key.form in (Form.PHYSICAL, Form.PHYSICAL_LIST):
        assert key.kind is not None
        assert key.kind.unit in key.kind.units
        assert key.kind.least < key.kind.greatest
        example = read_interval(key.kind.example, key.kind)
        assert key.kind.least_si <= example.low <= key.kind.greatest_si
    if key.form in (Form.WORD, Form.WORD_LIST):
        assert key.words or key.vocabulary
        assert len(set(key.words)) == len(key.words)
    if key.form is Form.WHOLE:
        assert key.least < key.greatest
    if key.form is Form.REFERENCE:
        assert set(key.refers) <= {*SECTIONS, model.PANEL}


def test_references_name_sections_with_ids():
    for _, key in ALL_KEYS:
        for name in key.refers:
            assert name == model.PANEL or "id" in SECTIONS[name].keys


GUIDED = [(section.name, key.name) for section, key in ALL_KEYS] + [
    (section.name, f"{key.name}.{part}") for section, key in ALL_KEYS for part in key.parts
]


@pytest.mark.parametrize(("section", "key"), GUIDED, ids=lambda name: name)
def test_every_key_has_its_guide(section, key):
    guide = entry_guide(section, key)
    assert guide.title
    assert guide.what.endswith((".", ")"))
    assert guide.read
    assert all(way for way in guide.read)
    assert guide.if_unknown.endswith((".", ")"))
    assert len(guide.picture) <= 12
    assert all(len(line) <= 64 and line.isprintable() for line in guide.picture)
    assert how_to_find(f"{section}.some id.{key}" if SECTIONS[section].many else f"{section}.{key}")


def test_no_guide_is_left_over():
    from circuitcheck.circuit import guide

    texts = {
        (section, key)
        for section, keys in guide._texts().items()
        if section not in ("cautions", "visits")
        for key in keys
    }
    assert texts == {*GUIDED, ("box", KNOWN_BY_KEY)}


def test_whatever_asks_to_look_into_a_box_or_a_panel_says_to_turn_it_off():
    for section, key in GUIDED:
        guide = entry_guide(section, key)
        words = " ".join(guide.read).lower()
        if "open box" in words or "bare end" in words or "dead test" in words:
            assert "Turn off the breaker" in guide.caution, (section, key)
        if "at the panel" in words or "panel with its door" in words or "panel door open" in words:
            assert "panel" in guide.caution, (section, key)


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("cable.feed.length", ("cable", "length")),
        ("cable.a.b.length", ("cable", "length")),
        ("cable.#2.length", ("cable", "length")),
        ("supply.breaker", ("supply", "breaker")),
        ("box.hall.devices.#1.size", ("box", "devices.size")),
        ("box.hall.extensions.#2", ("box", "extensions")),
        ("box.hall.devices", ("box", "devices")),
        ("cable.feed.from", ("cable", "from")),
        ("nothing.at.all", None),
        ("cable", None),
        ("cable.feed.colour", None),
    ],
)
def test_key_paths(path, expected):
    assert key_of(path) == expected
    assert bool(how_to_find(path)) == (expected is not None)


def test_nobody_is_sent_to_open_what_is_not_there_yet():
    assert how_to_find("cable.new.material", planned=True).startswith("It is still to be bought")
    assert how_to_find("box.new.bonded", planned=True) == "It is still to be done: say how you plan it."
    assert how_to_find("cable.new.length", planned=True) == how_to_find("cable.new.length")
    for section, key in GUIDED:
        path = f"{section}.new.{key}" if SECTIONS[section].many else f"{section}.{key}"
        assert "open box" not in how_to_find(path, planned=SECTIONS[section].many)
