"""The start page: what is on it, and that each key of its footer does something."""

from pathlib import Path

import pytest

from circuitcheck.ui.screens.guided import GuidedScreen
from circuitcheck.ui.screens.page import PageScreen
from circuitcheck.ui.screens.start import StartScreen
from circuitcheck.ui.screens.working import WorkingScreen


async def test_help_opens_and_closes_by_key(screens) -> None:
    async with screens() as page:
        assert isinstance(page.app.screen, StartScreen)
        await page.press("question_mark")
        assert isinstance(page.app.screen, PageScreen)
        assert "Ways to begin" in page.text
        assert "stays unknown" in " ".join(page.text.split())
        await page.press("escape")
        assert isinstance(page.app.screen, StartScreen)


@pytest.mark.parametrize(("key", "screen"), [("n", GuidedScreen), ("x", WorkingScreen)])
async def test_a_key_of_the_footer_begins(screens, key: str, screen: type, tmp_path: Path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    async with screens() as page:
        await page.press(key)
        await page.settled()
        assert isinstance(page.app.screen, screen)


async def test_the_field_for_a_file_name_shows_its_keys(screens) -> None:
    async with screens() as page:
        await page.press("o")
        assert page.text.count("Enter Take it") == 1
        await page.press("enter")
        assert "write a file name after it" in page.text
        await page.press("escape")
        assert isinstance(page.app.screen, StartScreen)
