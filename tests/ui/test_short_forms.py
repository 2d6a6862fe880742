"""A file in short forms on the screens: drawn as what it stands for, edited where it was written, comments kept."""

import tomllib
from pathlib import Path

import pytest

from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.written.block import data_of
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.app import CircuitApp
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import examine
from circuitcheck.ui.parts.adding import LIGHT_ON_BOX, add
from circuitcheck.ui.parts.copying import copied, paste
from circuitcheck.ui.parts.naming import rename
from circuitcheck.ui.parts.removing import below, take_out
from circuitcheck.ui.workbench import Workbench

SHORT = """\
# two lights
format = 1
[job]
title = "Two lights"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"

# the same roll for all
[defaults.cable]
material = "copper"   # read on the jacket

[[box]]
id = "attic"
origin = "existing"

[[cable]]
id = "feed"
from = "panel"
to = "attic"
origin = "existing"
cable = "14/2 NM-B with ground"   # printed

# the first one
[[light]]
id = "wall 1"
from = "attic"
cable = "14/2 NM-B with ground"
length = "17 ft"
volume = "16 in^3"
box_material = "nonmetallic"   # blue
power = "label 60 W"

[[light]]
id = "wall 2"
from = "wall 1"
like = "wall 1"
length = "15 ft"

[[cable]]
id = "on"
from = "wall 2 box"
to = "end"
origin = "added"

[[box]]
id = "end"
origin = "added"
"""


@pytest.fixture
def document(tmp_path: Path) -> Document:
    path = tmp_path / "short.circuit.toml"
    path.write_text(SHORT, encoding="utf-8")
    return Document.opened(path)


def block(document: Document, section: str, name: str):
    return next(block for block in document.blocks if block.section == section and block.id == name)


def circuit(document: Document):
    return read_circuit(document.text, "short", vocabulary())


def test_it_opens_letter_by_letter(document: Document) -> None:
    assert document.text == SHORT
    assert data_of(document.blocks) == tomllib.loads(SHORT)
    assert not document.changed


def test_it_is_drawn_as_what_it_stands_for(document: Document) -> None:
    checked = examine(document.blocks, "short")
    assert checked.report is not None
    names = [drawn.name for drawn in checked.drawing]
    order = ["cable feed", "box attic", "cable wall 1 cable", "box wall 1 box", "light wall 1", "cable wall 2 cable"]
    assert [name for name in names if name in order] == order
    assert "Not joined to the panel yet:" not in names
    first = block(document, "light", "wall 1").number
    assert [drawn.name for drawn in checked.drawing if drawn.part == first] == order[2:5]


def test_an_entry_is_changed_where_it_is_written(document: Document) -> None:
    bench = Workbench(document)
    bench.checked = examine(document.blocks, "short")
    entry = bench.stand_on_path("box.wall 1 box.material")
    assert (bench.part.section, bench.part.id) == ("light", "wall 1")
    assert entry is not None
    assert (entry.key.name, entry.text) == ("box_material", "nonmetallic")
    bench.put("box_material", "metal")
    assert document.text == SHORT.replace('"nonmetallic"   # blue', '"metal"   # blue')


def test_what_is_taken_over_says_from_where(document: Document) -> None:
    bench = Workbench(document)
    bench.checked = examine(document.blocks, "short")
    bench.standing = block(document, "light", "wall 2").number
    shown = {entry.key.name: entry for entry in bench.shown_part().entries}
    assert (shown["power"].text, shown["power"].inherited) == ("", "60 W, as wall 1")
    assert shown["cable_material"].inherited == "copper, default for an added cable"
    assert (shown["volume"].inherited, shown["volume"].need) != ("", "")
    bench.stand_on_path("cable.feed.size")
    assert [entry.key.name for entry in bench.shown_part().entries if entry.text][-1] == "cable"
    assert "size" not in {entry.key.name for entry in bench.shown_part().entries}


def test_another_name_is_followed_also_by_what_is_called_after_the_light(document: Document) -> None:
    rename(document, block(document, "light", "wall 2"), "far")
    assert 'from = "far box"' in document.text
    rename(document, block(document, "light", "wall 1"), "near")
    assert 'from = "near"\nlike = "near"' in document.text
    rename(document, block(document, "box", "attic"), "loft")
    assert {cable.from_id for cable in circuit(document).cables} == {"panel", "loft", "near box", "far box"}


def test_a_light_goes_with_all_that_hangs_on_it(document: Document) -> None:
    light = block(document, "light", "wall 1")
    assert {part.id for part in below(document, light)} >= {"wall 1 box", "wall 2", "on", "end"}
    take_out(document, light)
    assert [load.id for load in circuit(document).loads] == []
    assert [box.id for box in circuit(document).boxes] == ["attic"]
    document.undo()
    assert document.text == SHORT


def test_a_copied_light_joins_the_box_it_is_put_on(document: Document) -> None:
    copy = copied(document, block(document, "light", "wall 1"))
    assert copy is not None
    paste(document, copy, block(document, "box", "end"))
    cables = {cable.id: cable for cable in circuit(document).cables}
    assert cables["wall 3 cable"].from_id == "end"


def test_a_light_is_added_behind_a_light(document: Document) -> None:
    add(document, LIGHT_ON_BOX, block(document, "light", "wall 2"))
    assert {cable.from_id for cable in circuit(document).cables} == {"panel", "attic", "wall 1 box", "wall 2 box"}


def test_an_added_light_is_one_short_table(document: Document) -> None:
    add(document, LIGHT_ON_BOX, block(document, "box", "end"))
    add(document, LIGHT_ON_BOX, block(document, "light", "lamp 1"))
    assert '[[light]]\nid = "lamp 1"\nfrom = "end"\n\n[[light]]\nid = "lamp 2"\nfrom = "lamp 1"\n\n' in document.text
    assert {"end", "lamp 1 box"} <= {cable.from_id for cable in circuit(document).cables}


def test_what_is_wrong_with_a_light_is_marked_on_its_entry(document: Document) -> None:
    bench = Workbench(document)
    bench.standing = block(document, "light", "wall 1").number
    bench.put("box_material", "metl")
    bench.checked = examine(document.blocks, "short")
    shown = {entry.key.name: entry for entry in bench.shown_part().entries}
    assert shown["box_material"].problem


async def test_the_working_page_shows_it(document: Document) -> None:
    app = CircuitApp(document.path)
    async with app.run_test(size=(120, 40)) as pilot:
        for _ in range(200):
            await pilot.pause(0.02)
            if getattr(getattr(app.screen, "bench", None), "checked", None) is not None:
                break
        assert app.screen.bench.checked.report is not None
        app.screen.jump("box.wall 1 box.material")
        await pilot.pause(0.05)
        assert app.screen.bench.part.id == "wall 1"
