"""Values typed as people write them, shown back plainly; what is none is told in a sentence, with a guess near by."""

import pytest

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.entry import read_typed, split_how, value_text, with_how
from circuitcheck.ui.starting.loads import read_load


def typed(section: str, key: str, text: str):
    return read_typed(SECTIONS[section].keys[key], text, vocabulary())


@pytest.mark.parametrize(
    ("section", "key", "text", "value"),
    [
        ("cable", "length", "38ft", "38 ft"),
        ("cable", "length", "11.5 m", "11.5 m"),
        ("cable", "length", "35-60 ft", "35 ft to 60 ft"),
        ("cable", "length", "about 60 feet", "about 60 ft"),
        ("cable", "length", "5' 6\"", "5 ft 6 in"),
        ("load", "power", "9W", "9 W"),
        ("cable", "ambient", "125F", "125 degF"),
        ("box", "volume", "15.5 cu in", "15.5 in^3"),
        ("cable", "size", "14 awg", "14 AWG"),
        ("site", "room", "HALLWAY", "hallway"),
        ("box", "internal_clamps", "Yes", True),
        ("site", "wired", "1978", 1978),
        ("box", "fittings", "stud, hickey", ["stud", "hickey"]),
    ],
)
def test_accepted_and_normalised(section: str, key: str, text: str, value: object) -> None:
    result = typed(section, key, text)
    assert result.problem == ""
    assert result.value == value


@pytest.mark.parametrize(
    ("section", "key", "text", "says", "suggestion"),
    [
        ("load", "power", "1,5 W", "comma", "1.5 W"),
        ("supply", "breaker", "15", "without a unit", "15 A"),
        ("load", "power", "75 VA", "apparent power", ""),
        ("cable", "length", "nan ft", "", ""),
        ("cable", "length", "9 W", "this key takes a length", ""),
        ("cable", "size", "14", "without AWG", "14 AWG"),
        ("site", "room", "hall", "Not one of the words", "hallway"),
        ("site", "wired", "78", "outside", ""),
        ("site", "wired", "nineteen", "whole number", ""),
        ("box", "internal_clamps", "perhaps", "yes or no", ""),
        ("job", "date", "14.3.2026", "year, month, day", ""),
    ],
)
def test_refused_in_words(section: str, key: str, text: str, says: str, suggestion: str) -> None:
    result = typed(section, key, text)
    assert result.value is None
    assert says in result.problem
    assert result.suggestion == suggestion


def test_a_printed_designation_tells_size_and_conductors() -> None:
    result = typed("cable", "size", "14/2")
    assert result.value == "14 AWG"
    assert result.also == {"conductors": 2}


def test_how_a_physical_value_is_known_stands_before_it() -> None:
    key = SECTIONS["cable"].keys["length"]
    assert split_how(key, "measured 38 ft", None) == ("38 ft", "measured")
    assert split_how(key, "about 38 ft", None) == ("38 ft", "guess")
    assert split_how(SECTIONS["cable"].keys["size"], "14 AWG", {"size": "label"}) == ("14 AWG", "label")
    assert with_how("38 ft", "guess") == "about 38 ft"
    assert typed("cable", "length", with_how("38 ft", "measured")).problem == ""


def test_lists_are_shown_in_words() -> None:
    assert value_text([{"size": "18 AWG", "count": 2}]) == "18 AWG x 2"
    assert value_text([]) == "none"
    assert value_text(True) == "yes"


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("hall light 60 W", {"id": "hall light", "kind": "light", "power": "60 W"}),
        ("2 wall lights 40W each", {"id": "wall lights", "kind": "light", "quantity": 2, "power": "40 W"}),
        ("outlet", {"id": "outlet", "kind": "receptacle"}),
        ("bath fan 0.6 A", {"id": "bath fan", "kind": "fan", "current": "0.6 A"}),
        ("smoke alarm 5 VA", {"id": "smoke alarm", "kind": "alarm", "apparent": "5 VA"}),
        ("12 V lamp", {"id": "12 V lamp", "kind": "light"}),
        ("[/b] lamp 5 W", {"id": "[/b] lamp", "kind": "light", "power": "5 W"}),
    ],
)
def test_a_thing_that_goes_dark_in_one_line(line: str, entries: dict) -> None:
    assert read_load(line).value == entries


def test_a_comma_in_a_line_is_asked_about_and_never_read_as_fifteen() -> None:
    result = read_load("lamp 1,5 W")
    assert result.value is None
    assert "1.5" in result.problem
