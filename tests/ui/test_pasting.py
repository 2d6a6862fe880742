"""Pasted text is taken, or refused aloud."""

from pathlib import Path

import pytest
from textual import events
from textual.widgets import Input

from circuitcheck.ui.screens.guided import GuidedScreen


def told(page) -> list[str]:
    return [note.message for note in page.app._notifications]


async def paste(page, text: str) -> None:
    page.app.post_message(events.Paste(text))
    await page.settled()
    await page.pilot.pause(0.1)


async def test_one_line_goes_into_the_open_field(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await paste(page, "\n11.5 m\r\n")
        await page.press("enter")
        assert page.working.bench.part.data["length"] == "11.5 m"
        assert told(page) == []


async def test_several_lines_are_refused_aloud(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("cable.feed.length")
        await page.press("enter")
        await paste(page, "9 m\n12 m\n")
        assert page.app.screen.query_one("#field", Input).value == "22 ft to 30 ft"
        assert told(page) == ["Nothing was pasted: 2 lines, and one line goes into this field."]


@pytest.mark.parametrize("pane", ["circuit", "findings", "entries"])
async def test_where_no_field_is_open_it_is_said(screens, hallway: Path, pane: str) -> None:
    async with screens(hallway) as page:
        before = page.working.bench.document.text
        page.working.action_focus_pane(pane)
        await page.settled()
        await paste(page, "dxz")
        assert page.working.bench.document.text == before, "pasted letters are no keys"
        assert ["no field is open" in text for text in told(page)] == [True]


async def test_several_lines_are_several_loads_in_the_questions(screens, folder: Path) -> None:
    async with screens(None, (80, 30)) as page:
        await page.press("n", *["u"] * 4)
        await paste(page, "hall light 60 W\nfan 40 W\n\nporch light 9 W\n")
        for load in ("hall light: light, 60 W", "porch light: light, 9 W"):
            assert load in page.text
        assert isinstance(page.app.screen, GuidedScreen)
        assert len(page.app.screen._answers["goes dark"]) == 3
        await paste(page, "desk light 9 W\n15\nlamp 9 W")
        assert len(page.app.screen._answers["goes dark"]) == 4
        assert "A number alone says little" in page.words
        assert "The 1 after it was not taken." in page.words
        assert page.app.screen.query_one("#answer", Input).value == "15"
