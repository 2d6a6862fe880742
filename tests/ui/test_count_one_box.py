"""Count one box from the start page: a small form, the worksheet at once, nothing written."""

from pathlib import Path

from circuitcheck.ui.screens.box import BoxScreen
from circuitcheck.ui.screens.start import StartScreen


async def test_a_switch_box_is_counted_by_keys(screens, folder: Path) -> None:
    # NFPA 70, 314.16(B), with 14 AWG at 2.00 in³: seven conductors of 14/2, 14/2 and 14/3 make 14.00, clamps 2.00,
    # a switch twice 2.00, up to four equipment grounds together 2.00: 22.00 in³. Table 314.16(A): the 4 x 1-1/2
    # square box has 21.0 in³, the 4 x 2-1/8 square one 30.3, so 8.3 / 2.00 = four conductors more.
    async with screens(None, (80, 24)) as page:
        assert "Count one box" in page.text
        await page.press("b")
        assert isinstance(page.app.screen, BoxScreen)
        assert "tested dead" in page.words
        await page.press("enter")
        await page.type("14/2 14/2 14/9x")
        await page.press("enter")
        assert "14/9x" in page.words_in("#form")
        await page.press(*["backspace"] * 2)
        await page.type("3")
        await page.press("enter", "down", "enter")
        await page.type("switch")
        await page.press("enter", "down", "enter")
        await page.type("none")
        await page.press("enter", "down", "enter")
        await page.type("4 x 2-1/8 square")
        await page.press("enter", "down", "down", "space", "down", "space")
        assert page.app.screen.entries["clamps"] is True
        answer = page.app.screen.query_one("#answer")
        answer.focus()
        assert "PASS" in page.words_in("#answer")
        assert "it needs 22 in³" in page.words_in("#answer")
        assert "4 of 14 AWG" in page.words_in("#answer")
        await page.press("pagedown")
        assert "needed 22.00" in page.words_in("#answer")
        await page.press("pagedown", "pagedown", "pagedown")
        assert "call a licensed electrician" in page.words_in("#answer")
        await page.press("escape")
        assert isinstance(page.app.screen, StartScreen)
    assert not list(folder.iterdir()), "nothing is written"


async def test_esc_leaves_an_entry_as_it_was_and_unknown_stays_unknown(screens) -> None:
    async with screens(None, (60, 20)) as page:
        await page.press("b")
        assert "Enter the cables" in page.words_in("#answer")
        await page.press("enter")
        await page.type("2 x 12/2")
        await page.press("enter")
        assert "CANNOT TELL" in page.words_in("#answer")
        await page.press("enter")
        await page.type(", 12/3")
        await page.press("escape")
        assert page.app.screen.entries["cable"] == "2 x 12/2"
        await page.press("u")
        assert "Enter the cables" in page.words_in("#answer")
