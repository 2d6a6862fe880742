"""Many keys at once, as over a slow link: each takes effect in its turn, and none is lost."""

import asyncio
import os
import time
from pathlib import Path

import pytest
from textual import events

from tests.ui.conftest import _NAMES
from tests.ui.test_recovery import Terminal, recoveries

NAMED = {"enter", "escape", "tab", "up", "down", "home", "end", "backspace", "delete"}


async def burst(page, *keys: str) -> None:
    """All keys in one go; what is no key's name is typed letter by letter."""
    for key in keys:
        for letter in [key] if key in NAMED else key:
            page.app.post_message(events.Key(_NAMES.get(letter, letter), None if letter in NAMED else letter))
    all_in = asyncio.Event()
    page.app.call_later(all_in.set)
    await all_in.wait()
    end = time.monotonic() + 30
    while page.app._held or page.app._at_work is not None:
        assert time.monotonic() < end
        await page.pilot.pause(0.02)
    await page.settled()


async def test_a_field_is_opened_cleared_filled_and_left(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("cable.feed.length")
        await burst(page, "enter", *["backspace"] * 20, "11.5m", "enter", "m", "t", "end", "d", "d")
        cable = page.working.bench.find("cable.feed")
        assert cable is not None
        assert cable.data["length"] == "measured 11.5 m"
        assert page.working.bench.document.named("load", "wall light 5") is not None


async def test_a_list_is_opened_narrowed_and_taken_from(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("box.attic.trade_size")
        await burst(page, "enter", "2-1/8 oct", "enter", "down", "down")
        assert page.app.screen is page.working
        assert page.working.bench.part.data["trade_size"] == "4 x 2-1/8 octagon"


async def test_a_question_is_answered_before_the_next_key_counts(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("box.wall 1.id")
        await burst(page, "escape", "x", "n", "end", "d", "z", "y", "/", "feed", "enter")
        assert page.app.screen is page.working
        assert page.working.bench.part.path == "cable.feed"
        assert page.working.bench.document.named("box", "wall 1") is not None
        assert page.working.bench.document.named("load", "wall light 4") is not None


@pytest.mark.skipif(os.name != "posix", reason="needs a pseudo-terminal")
def test_a_burst_through_a_real_terminal(hallway: Path, tmp_path: Path) -> None:
    terminal = Terminal(hallway, tmp_path / "config")
    terminal.wait_for("DOES NOT FIT")
    os.write(terminal.master, b"t\x1b[F" + b"d" * 12 + b"n/feed\re" + b"\x1b[B" * 10 + b"\r" + b"\x7f" * 20 + b"9 m\r")
    end = time.monotonic() + 30
    while not any('length = "9 m"' in copy.text and "wall light 15" in copy.text for copy in recoveries(hallway)):
        assert time.monotonic() < end, [copy.text[-900:] for copy in recoveries(hallway)]
        terminal.read(0.1)
    terminal.kill()
