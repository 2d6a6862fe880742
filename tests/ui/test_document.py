"""The file as it is edited: nothing but the entry that changed is another text afterwards, and undo has no end."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.circuit.written.block import blocks_of, data_of, text_of
from circuitcheck.circuit.written.entry_text import with_entry, without_entry
from circuitcheck.errors import CircuitFileError
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.parts.adding import DRIVER_IN_BOX, LIGHT_ON_BOX, add
from circuitcheck.ui.parts.copying import copied, duplicate, paste
from circuitcheck.ui.parts.naming import rename
from circuitcheck.ui.parts.removing import move, take_out

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.circuit.toml"))

COMMENTED = """\
# what this file is about
format = 1   # the only one

[job]
title = "a"  # called so
rulebook = "nec-2023"

# the panel is in the cellar
[supply]
breaker = "15 A"   # read on the handle
voltage = "120 V"

[[box]]
# inside the table
id = "at#tic"            # a hash in the text, and one here
devices = [
  { kind = "switch" },   # by the door
]
volume = '15.5 in^3'

[box.known_by]
devices = "guess"

# a remark of its own

[[cable]]
id = "feed"
from = "panel"
to = "at#tic"
"""


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_blocks_are_the_file_letter_by_letter(path: Path) -> None:
    text = path.read_text("utf-8")
    document = Document.opened(path)
    assert document.text == text
    assert data_of(document.blocks) == tomllib.loads(text)
    assert not document.changed
    assert not document.rearranged


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_an_edit_leaves_every_other_letter_alone(ending: str) -> None:
    text = COMMENTED.replace("\n", ending)
    document = Document(Path("x.circuit.toml"), text, on_disk=text)
    assert document.text == text
    supply = document.first("supply")
    assert supply is not None
    document.rewrite("breaker", {supply.number: lambda t: with_entry(t, "breaker", "20 A", ("voltage", "breaker"))})
    assert document.text == text.replace('"15 A"', '"20 A"')
    document.undo()
    assert document.text == text


def test_values_of_every_form_are_replaced_in_place() -> None:
    box = blocks_of(COMMENTED, tomllib.loads(COMMENTED))[3]
    assert box.id == "at#tic"
    renamed = with_entry(box.text, "id", 'a "quoted" [/name]', ("id",))
    assert 'id = "a \\"quoted\\" [/name]"            # a hash in the text, and one here\n' in renamed
    listed = with_entry(box.text, "devices", [{"kind": "receptacle", "gangs": 2}], ("id", "devices"))
    assert 'devices = [{ kind = "receptacle", gangs = 2 }]\nvolume' in listed
    known = with_entry(box.text, "known_by", {"volume": "label"}, ("id", "known_by"))
    assert "[box.known_by]" not in known
    assert tomllib.loads(known)["box"][0]["known_by"] == {"volume": "label"}
    assert "# inside the table" in without_entry(box.text, "id")
    assert "id" not in tomllib.loads(without_entry(box.text, "id"))["box"][0]


def test_a_new_entry_stands_where_the_file_order_puts_it() -> None:
    text = '[[box]]\nid = "a"\n# about the clamps\ninternal_clamps = true\n\n'
    order = ("id", "origin", "internal_clamps")
    assert with_entry(text, "origin", "added", order) == (
        '[[box]]\nid = "a"\norigin = "added"\n# about the clamps\ninternal_clamps = true\n\n'
    )
    assert with_entry("[site]", "room", "attic", ("room",)) == '[site]\nroom = "attic"\n'


@settings(max_examples=60, deadline=None)
@given(st.text(st.characters(blacklist_categories=["Cs"]), max_size=40))
def test_any_text_survives_being_written(value: str) -> None:
    text = with_entry('[[box]]\nid = "x"   # kept\nroom = "attic"\n\n', "id", value, ("id", "room"))
    assert tomllib.loads(text) == {"box": [{"id": value, "room": "attic"}]}
    assert text.endswith('   # kept\nroom = "attic"\n\n')
    again = with_entry(text, "id", "short", ("id", "room"))
    assert again == '[[box]]\nid = "short"   # kept\nroom = "attic"\n\n'


def test_tables_laid_out_in_another_way_are_rewritten_with_the_same_entries() -> None:
    text = (
        'format = 1\njob = { title = "t", rulebook = "nec-2023" }\nsupply.breaker = "15 A"\nsupply.voltage = "120 V"\n'
    )
    document = Document(Path("x"), text, on_disk=text)
    assert document.rearranged
    assert document.changed
    assert tomllib.loads(document.text) == tomllib.loads(text)


def test_a_file_that_is_no_toml_is_refused_with_its_line() -> None:
    with pytest.raises(CircuitFileError) as wrong:
        Document(Path("x"), "format = 1\n[job\n", on_disk=None)
    assert wrong.value.problems[0].line == 2


def test_undo_goes_through_everything_and_redo_comes_back() -> None:
    path = next(path for path in EXAMPLES if path.name == "hallway.circuit.toml")
    document = Document.opened(path)
    before = document.text
    texts = [before]

    def named(section: str, name: str):
        block = document.named(section, name)
        assert block is not None
        return block

    steps = (
        lambda: add(document, LIGHT_ON_BOX, named("box", "attic")),
        lambda: add(document, DRIVER_IN_BOX, named("light", "lamp 1")),
        lambda: rename(document, named("box", "attic"), "roof [/x]"),
        lambda: duplicate(document, named("box", "wall 3")),
        lambda: move(document, named("box", "wall 3"), -1),
        lambda: paste(document, copied(document, named("load", "wall light 1")), named("box", "wall 2")),
        lambda: take_out(document, named("box", "wall 1")),
        lambda: document.rewrite(
            "breaker", {document.first("supply").number: lambda text: with_entry(text, "breaker", "20 A", ())}
        ),
    )
    for step in steps:
        assert step() is not None
        tomllib.loads(document.text)
        assert document.text not in texts
        texts.append(document.text)
    for text in reversed(texts[:-1]):
        assert document.undo() is not None
        assert document.text == text
    assert document.undo() is None
    assert not document.changed
    for text in texts[1:]:
        assert document.redo() is not None
        assert document.text == text
    assert document.redo() is None
    assert document.changed


def test_a_name_is_changed_everywhere_it_is_used() -> None:
    document = Document.opened(next(path for path in EXAMPLES if path.name == "hallway.circuit.toml"))
    rename(document, document.named("box", "attic"), "loft")
    data = data_of(document.blocks)
    ends = [cable[end] for cable in data["cable"] for end in ("from", "to")]
    assert "attic" not in ends
    assert "loft" in ends
    assert all(load["box"] != "attic" for load in data["load"])
    assert text_of(document.blocks).count('"loft"') >= 4


def test_taking_a_control_out_takes_its_name_out_of_what_it_switched() -> None:
    text = (
        'format = 1\n[[box]]\nid = "b"\n[[control]]\nid = "s"\nbox = "b"\n'
        '[[load]]\nid = "l"\nbox = "b"\nswitched_by = "s"   # by the door\npower = "9 W"\n'
    )
    document = Document(Path("x"), text, on_disk=text)
    take_out(document, document.named("control", "s"))
    assert "switched_by" not in document.text
    document.undo()
    assert document.text == text


def test_saving_keeps_what_undo_knows(tmp_path: Path) -> None:
    path = tmp_path / "a.circuit.toml"
    path.write_text(COMMENTED, "utf-8")
    document = Document.opened(path)
    add(document, LIGHT_ON_BOX, document.named("box", "at#tic"))
    assert document.changed
    document.save()
    assert not document.changed
    document.undo()
    assert document.changed
    document.redo()
    assert not document.changed
    assert path.read_text("utf-8") == document.text


def test_someone_elses_change_is_seen_and_can_be_taken_back(tmp_path: Path) -> None:
    path = tmp_path / "a.circuit.toml"
    path.write_text(COMMENTED, "utf-8")
    document = Document.opened(path)
    assert document.changed_elsewhere() is None
    theirs = COMMENTED.replace("15 A", "20 A")
    path.write_text(theirs + "\n", "utf-8")
    assert document.changed_elsewhere() == theirs + "\n"
    assert document.changed_elsewhere() is not None, "it stays noticed until something is done about it"
    document.reload(theirs + "\n")
    assert not document.changed
    document.undo()
    assert document.text == COMMENTED
    assert document.changed
