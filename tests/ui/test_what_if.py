"""A what-if: changed, watched, kept as one step or dropped; marked while it is on; two of them side by side."""

from pathlib import Path

from circuitcheck.ui.document.disk import recovery_path
from circuitcheck.ui.screens.ask import AskScreen
from circuitcheck.ui.screens.start import StartScreen
from circuitcheck.ui.screens.what_if import WhatIfScreen
from circuitcheck.ui.screens.working import WorkingScreen
from tests.ui.conftest import Screens


async def enter(page: Screens, path: str, text: str) -> None:
    """Enter a value at a key path."""
    await page.stand_on(path)
    page.working.part.form.edit(path.rpartition(".")[2], "")
    await page.type(text)
    await page.press("enter")
    await page.settled()


async def test_changed_watched_and_dropped_without_a_trace(screens, hallway: Path) -> None:
    async with screens(hallway, (80, 24)) as page:
        before = hallway.read_text("utf-8")
        await page.press("X")
        assert "No what-if is on" in page.words_in("#file-line")
        await page.press("W")
        assert "WHAT IF 1: nothing changed yet" in page.words_in("#what-if")
        await enter(page, "box.attic.trade_size", "4 x 2-1/8 octagon")
        assert "WHAT IF 1: 1 change. K keeps, X drops" in page.words_in("#what-if")
        assert 'gone: box fill, box "attic"' in page.words_in("#what-if")
        await enter(page, "supply.protection", "arc-fault")
        assert "DOES NOT FIT → FITS ON PAPER" in page.words_in("#what-if")
        await page.press("t", "s")
        assert "A what-if is on" in page.words_in("#file-line"), "what is only tried is not saved"
        assert hallway.read_text("utf-8") == before
        page.working.keep_now()
        assert not recovery_path(hallway).exists(), "and does not come back as if it were so"
        await page.press("z", "z", "z")
        assert "Nothing to undo in this what-if" in page.words_in("#file-line")
        await enter(page, "supply.protection", "both")
        await page.press("t", "X")
        await page.settled()
        assert page.working.bench.document.text == before
        assert not page.working.bench.document.changed
        assert not page.working.query_one("#what-if").display
        await page.press("y")
        assert page.working.bench.document.text == before, "there is nothing to do again of it"


async def test_kept_as_one_step_and_asked_about_on_leaving(screens, hallway: Path) -> None:
    async with screens(hallway, (60, 20)) as page:
        before = hallway.read_text("utf-8")
        await page.press("W")
        await enter(page, "box.attic.trade_size", "4 x 2-1/8 octagon")
        await enter(page, "supply.protection", "arc-fault")
        assert "WHAT IF 1: 2 changes. K keeps, X drops" in page.words_in("#what-if")
        await page.press("t", "K")
        await page.settled()
        assert "Kept (z takes it back)" in page.words_in("#file-line")
        assert not page.working.query_one("#what-if").display
        assert "FITS ON PAPER" in page.words_in("#summary")
        await page.press("z")
        assert page.working.bench.document.text == before, "one step of undo"
        await page.press("y", "W")
        await enter(page, "box.attic.trade_size", "4 x 1-1/4 octagon")
        await page.press("t", "q")
        assert isinstance(page.app.screen, AskScreen)
        assert "A what-if is on" in page.words
        await page.press("n")
        assert isinstance(page.app.screen, WorkingScreen)
        await page.press("q", "d")
        assert "Save before leaving?" in page.words, "what was kept before is not saved"
        assert "1-1/4" not in page.working.bench.document.text
        await page.press("d")
        assert isinstance(page.app.screen, StartScreen)
        assert hallway.read_text("utf-8") == before


async def test_two_side_by_side(screens, hallway: Path) -> None:
    async with screens(hallway, (100, 30)) as page:
        before = hallway.read_text("utf-8")
        await page.press("W")
        await enter(page, "box.attic.trade_size", "4 x 2-1/8 octagon")
        await page.press("t", "W")
        assert isinstance(page.app.screen, WhatIfScreen)
        await page.press("W")
        await page.settled()
        assert page.working.bench.document.text == before, "the second begins where the first did"
        assert "WHAT IF 2: nothing changed yet" in page.words_in("#what-if")
        await enter(page, "supply.protection", "arc-fault")
        await page.press("t", "W")
        assert "as it was what if 1 what if 2" in page.words
        assert "Answer DOES NOT FIT DOES NOT FIT DOES NOT FIT" in page.words
        # Table 314.16(A) of NFPA 70: 21.5 in³ for the deeper box, 15.5 for the one that is there; 16 in³ are needed.
        assert 'box fill, box "attic" ✗ FAIL 16 in³ ✓ PASS 16 in³ ✗ FAIL 16 in³' in page.words
        assert "arc-fault protection ✗ FAIL ✗ FAIL" in page.words
        await page.press("X")
        await page.settled()
        assert "What if 2 is dropped; what if 1 is on again" in page.words_in("#file-line")
        assert "2-1/8 octagon" in page.words_in("#circuit")
        await page.press("t", "K")
        assert page.working.bench.what_if.on is False
        assert "2-1/8" in page.working.bench.document.text
