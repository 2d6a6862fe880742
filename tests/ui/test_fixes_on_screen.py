"""Fixes seen before anything is written, taken into the plan as one step, and what is said where there is none."""

import tomllib
from pathlib import Path

from circuitcheck.ui.screens.fixes import FixesScreen
from circuitcheck.ui.screens.working import WorkingScreen
from tests.ui.conftest import EXAMPLES, Screens


async def searched(page: Screens) -> FixesScreen:
    """Wait until the search has ended."""
    screen = page.app.screen
    assert isinstance(screen, FixesScreen)
    for _ in range(400):
        await page.pilot.pause(0.02)
        if screen._found is not None:
            await page.pilot.pause()
            return screen
    raise AssertionError("the search never ended")


async def test_a_fix_is_seen_whole_and_taken_as_one_step(screens, hallway: Path) -> None:
    # The example's attic box is 0.5 in³ short at worst: clamps taken out give the 2.00 in³ of one 14 AWG conductor
    # (NFPA 70, 314.16(B)(2)), so that alone clears it, while arc-fault protection is asked for all the same.
    async with screens(hallway, (80, 24)) as page:
        before = hallway.read_text("utf-8")
        await page.press("f", "F")
        screen = await searched(page)
        assert 'box fill, box "attic"' in page.words_in("#about")
        assert "Nothing is written yet" in page.words_in("#progress")
        assert "Answer: DOES NOT FIT, as before" in page.words_in("#fix")
        assert 'Goes ✗ FAIL box fill, box "attic"' in page.words_in("#fix")
        assert "Stays ✗ FAIL arc-fault protection" in page.words_in("#fix")
        assert "tested dead" in page.words
        await page.press("pagedown")
        assert 'box "attic": clamps inside' in page.words_in("#fix")
        assert page.working.bench.document.text == before, "nothing is written while one looks"
        whole = next(n for n, fix in enumerate(screen._found.fixes.fixes) if len(fix.steps) == 2)
        await page.press(*["down"] * whole)
        assert "DOES NOT FIT → FITS ON PAPER" in page.words_in("#fix")
        await page.press("enter")
        await page.settled()
        assert isinstance(page.app.screen, WorkingScreen)
        assert "FITS ON PAPER" in page.words_in("#summary")
        assert "z takes it back" in page.words_in("#file-line")
        text = page.working.bench.document.text
        assert text.startswith(before.rstrip("\n")), "comments and facts stay; the plan is written behind them"
        plan = tomllib.loads(text)["change"]
        assert {change["part"] for change in plan} == {"box.attic", "supply"}
        assert "[change]" not in before
        await page.press("z")
        assert page.working.bench.document.text == before, "one step of undo"
        assert not page.working.bench.document.changed


async def test_from_a_finding_from_all_and_left_as_it_was(screens, hallway: Path) -> None:
    async with screens(hallway, (60, 20)) as page:
        await page.press("F")
        assert "all that fails or is open" in page.words_in("#about")
        screen = await searched(page)
        assert screen.fix is not None
        assert not screen.fix.leaves
        await page.press("escape")
        assert isinstance(page.app.screen, WorkingScreen)
        await page.press("f", "enter", "F")
        assert 'box fill, box "attic"' in page.words_in("#about")
        await page.press("escape")
        assert screen._search._left.is_set()
        assert not page.working.bench.document.changed


async def test_no_fixes_while_the_job_stops(screens, folder: Path) -> None:
    path = folder / "stop.circuit.toml"
    text = (EXAMPLES / "hallway.circuit.toml").read_text("utf-8")
    path.write_text(text.replace("signs = []", 'signs = ["burning smell"]', 1), "utf-8")
    async with screens(path, (80, 24)) as page:
        assert page.working.bench.checked.report.stop, page.text
        await page.press("F")
        screen = await searched(page)
        assert "No fix is offered while the job is stopped" in page.words_in("#fix")
        assert "call a licensed electrician" in page.words_in("#fix")
        assert screen.fix is None
        await page.press("enter")
        assert page.app.screen is screen, "there is nothing to take"
