"""Paths such as ``cable.feed.length``: read in one place, since ids may hold dots of their own."""

import ast
from pathlib import Path

import pytest

from circuitcheck.circuit.guide import entry_ref
from circuitcheck.refs import Ref

PACKAGE = Path(__file__).parents[1] / "circuitcheck"

#: Files that may take a text apart at its dots, and what they take apart.
AT_DOTS = {
    "refs.py": "the one place for the path of a part",
    "circuit/guide.py": "the one place for the path of an entry",
    "circuit/products.py": "names of the vocabulary: a word of a section",
    "circuit/short/sections.py": "the name of a section: defaults.cable",
    "circuit/written/block.py": "the name of a table of TOML, which has no ids",
}


def takes_apart_at_dots(tree):
    return any(
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in ("partition", "rpartition", "split", "rsplit")
        and node.args
        and isinstance(node.args[0], ast.Constant)
        and node.args[0].value == "."
        for node in ast.walk(tree)
    )


def test_paths_are_taken_apart_in_one_place():
    files = {path.relative_to(PACKAGE).as_posix(): path for path in PACKAGE.rglob("*.py")}
    apart = {name for name, path in files.items() if takes_apart_at_dots(ast.parse(path.read_text("utf-8")))}
    assert apart == AT_DOTS.keys()


@pytest.mark.parametrize(
    ("path", "ref"),
    [
        ("cable.feed.length", Ref("cable", "feed", "length")),
        ("supply.breaker", Ref("supply", "", "breaker")),
        ("box.hall.east.volume", Ref("box", "hall.east", "volume")),
        ("box.volume.volume", Ref("box", "volume", "volume")),  # a box may be called so
        ("box.2.0..volume", Ref("box", "2.0.", "volume")),
        ("box.hall.devices.#1.size", Ref("box", "hall", "devices")),
        ("box.hall.extensions.#2", Ref("box", "hall", "extensions")),
        ("box.devices.devices.#1.size", Ref("box", "devices", "devices")),
        ("cable.feed.known_by", Ref("cable", "feed", "known_by")),
        ("low_voltage_load.strip.length", Ref("low_voltage_load", "strip", "length")),
    ],
)
def test_the_path_of_an_entry(path, ref):
    assert entry_ref(path) == ref


@pytest.mark.parametrize("path", ["box.hall.east", "supply", "nothing.here"])
def test_the_path_of_a_part(path):
    section, _, part_id = path.partition(".")
    assert entry_ref(path) == Ref.of_part(path) == Ref(section, part_id)
    assert str(Ref.of_part(path)) == path
