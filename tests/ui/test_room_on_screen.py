"""Room left at the part one stands on: found in the background, gone while it is not known."""

from pathlib import Path

from circuitcheck.advice.room_left import room_left_at
from circuitcheck.advice.room_words import room_words
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook
from tests.ui.conftest import Screens


async def room(page: Screens) -> str:
    """Wait for the line."""
    for _ in range(300):
        await page.pilot.pause(0.02)
        if page.working.query_one("#room").display:
            await page.pilot.pause()
            return page.words_in("#room")
    raise AssertionError("no room was ever told")


async def test_room_left_of_the_part_one_stands_on(screens, hallway: Path) -> None:
    async with screens(hallway, (110, 32)) as page:
        # 15 A less the 12.2 A that the listed loads draw
        assert "Room left: 2.8 A more" in await room(page)
        await page.stand_on("load.wall light 1.power")
        checked = page.working.bench.checked
        found = room_left_at(
            Ref("load", "wall light 1"), checked.report, checked.circuit, load_rulebook(checked.circuit.job.rulebook)
        )
        told = await room(page)
        assert told == f"Room left: {room_words(found)}."
        assert "more of this" in told
        await page.stand_on("box.attic.room")
        assert "not one conductor more" in await room(page), "it is too full already"
        await page.stand_on("cable.to wall 1.length")
        assert "ft longer" in await room(page)
        await page.stand_on("site.room")
        assert not page.working.query_one("#room").display, "the place has none"
