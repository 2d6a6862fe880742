"""A change planned for a part that is there: its facts stay, the new part stands beside them, every step is undone."""

import tomllib
from pathlib import Path

from circuitcheck.ui.screens.ask import AskScreen
from circuitcheck.ui.screens.choose import ChooseScreen
from tests.ui.conftest import EXAMPLES, Screens
from tests.ui.test_fixes_on_screen import searched


def changes(page: Screens) -> list[dict[str, object]]:
    """The changes that the file as it stands plans."""
    return tomllib.loads(page.working.bench.document.text).get("change", [])


async def test_another_box_is_planned_beside_what_is_there(screens, hallway: Path) -> None:
    async with screens(hallway, (100, 32)) as page:
        before = hallway.read_text("utf-8")
        await page.press("down", "down", "C")
        assert isinstance(page.app.screen, ChooseScreen)
        assert "tested dead" in page.words
        await page.press("enter")
        await page.settled()
        assert "what is there stays" in page.words_in("#file-line")
        assert changes(page) == [{"part": "box.attic", "action": "replace"}]
        assert "box attic, to be replaced" in page.text
        assert 'CANNOT TELL box fill, box "attic"' in page.words, "a box of which nothing is given has no known volume"
        await page.press("enter")
        await page.type("2-1/8 oct")
        await page.press("enter")
        await page.settled()
        assert changes(page)[0]["new"] == {"trade_size": "4 x 2-1/8 octagon"}
        assert "There now: 4 x 1-1/2 octagon" in page.words_in("#form")
        assert "→ to be replaced trade size 4" in page.words_in("#circuit")
        page.working.query_one("#entries").stand_on("support_limit")
        await page.press("5")
        await page.type("0 lb")
        await page.press("enter", "l")
        assert changes(page)[0]["new"]["support_limit"] == "label 50 lb"
        await page.press("t", "up")
        assert "box attic" in page.words_in("#form")
        assert page.working.part.form.entry("trade_size").text == "4 x 1-1/2 octagon"
        assert page.working.bench.document.text.startswith(before.rstrip("\n")), "what was found stays as it was"
        await page.press(*"zzzz")
        await page.settled()
        assert page.working.bench.document.text == before


async def test_before_and_after_on_the_part_and_jumps_to_what_is_asked(screens, hallway: Path) -> None:
    hallway.write_text(
        hallway.read_text("utf-8")
        + '\n[[change]]\npart = "box.attic"\naction = "replace"\nnew = { trade_size = "4 x 2-1/8 octagon" }\n',
        "utf-8",
    )
    async with screens(hallway, (100, 32)) as page:
        await page.press("down", "down")
        entry = page.working.bench.shown_part().entries[2]
        assert (entry.text, entry.planned) == ("4 x 1-1/2 octagon", "4 x 2-1/8 octagon")
        page.working.part.form.entries.stand_on("trade_size")
        await page.settled()
        assert "Planned: 4 x 2-1/8 octagon" in page.words_in("#form")
        await page.stand_on("box.attic.internal_clamps")
        assert page.working.bench.part.section == "change", "what is open is asked of the new box"
        await page.stand_on("box.attic.room")
        assert page.working.bench.part.section == "box", "the room belongs to the place"
        await page.press("C")
        assert page.working.bench.part.section == "change", "a part has one change"
        await page.press("t", "x")
        await page.settled()
        assert changes(page) == []
        assert "Deleted: box attic, to be replaced" in page.words_in("#file-line")
        await page.press("z")
        page.working.bench.standing = page.working.bench.find("box.attic").number
        page.working.bench.put("id", "attic box")
        assert changes(page)[0]["part"] == "box.attic box", "a change follows the name of its part"
        assert page.working.bench.checked.problems == ()


async def test_taking_away_moving_and_the_hint_before_a_fact_is_written_over(screens, hallway: Path) -> None:
    async with screens(hallway, (80, 24)) as page:
        before = hallway.read_text("utf-8")
        await page.press("down", "down", "down", "x")
        assert isinstance(page.app.screen, AskScreen)
        assert "keeps what is there" in page.words
        await page.press("p")
        await page.settled()
        assert changes(page) == [{"part": "load.attic lamp", "action": "remove"}]
        assert "attic lamp" not in {finding.subject for finding in page.working.bench.checked.findings}
        await page.press("z", "C", "down", "down", "enter")
        await page.type("landing light")
        await page.press("enter")
        await page.settled()
        assert changes(page) == [{"part": "load.attic lamp", "action": "move", "new": {"box": "landing light"}}]
        await page.press("z")
        assert page.working.bench.document.text == before
        await page.stand_on("load.attic lamp.power")
        await page.press("enter")
        assert "To plan another load: Esc, then C" in page.words_in("#file-line")
        await page.press("escape")
        page.working.tell("-")
        await page.press("enter")
        assert "To plan" not in page.words_in("#file-line"), "said once of a part"
        await page.press("escape", "t")
        await page.stand_on("load.wall light 1.power")
        await page.press("enter")
        assert "To plan" not in page.words_in("#file-line"), "what is still to be added is simply entered"
        await page.press("escape", "t", "C")
        assert "A change is planned for a part that is there" in page.words_in("#file-line")
        await page.stand_on("supply.breaker")
        assert page.working.bench.hint_of_change("protection").endswith("another device at the panel: Esc, then C.")
        await page.press("t", "up", "C")
        assert "No change is planned for this (the place)" in page.words_in("#file-line")


async def test_names_are_data_on_every_page_of_trying(screens, folder: Path) -> None:
    hostile = "[/bold] [red]x[/] {0}"
    path = folder / "odd.circuit.toml"
    text = (EXAMPLES / "hallway.circuit.toml").read_text("utf-8")
    for key in ("id", "to", "from", "box"):
        text = text.replace(f'\n{key} = "attic"', f'\n{key} = "{hostile}"')
    path.write_text(text, "utf-8")
    async with screens(path, (100, 30)) as page:
        assert page.working.bench.checked.problems == (), page.text
        await page.press("down", "down", "C", "enter")
        assert "[/bold] [red]x[/] {0}, to be replaced" in page.words
        await page.press("t", "X", "W")
        await page.stand_on("supply.protection")
        page.working.bench.put("protection", "arc-fault")
        page.working.changed()
        await page.settled()
        await page.press("t", "W")
        assert "what if 1" in page.words
        await page.press("X", "z", "F")
        await searched(page)
        assert "[/bold] [red]x[/] {0}" in page.words_in("#fixes")
