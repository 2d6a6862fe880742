"""What the screen tests share: an app driven by keys, and the screen read as a user reads it."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from itertools import groupby
from pathlib import Path

import pytest
from textual import events
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.pilot import Pilot
from textual.screen import Screen

from circuitcheck.ui.app import CircuitApp
from circuitcheck.ui.screens.working import WorkingScreen

EXAMPLES = Path(__file__).parents[2] / "examples"

_NAMES = {
    " ": "space", ".": "full_stop", ",": "comma", "/": "slash", "-": "minus", "[": "left_square_bracket",
    "]": "right_square_bracket", "'": "apostrophe", '"': "quotation_mark", "?": "question_mark", "_": "underscore",
}  # fmt: skip


async def _at_once(least_s: float = 0, most_s: float = 0) -> None:
    """Waits for nothing, where the pilot would wait until the process is idle."""


class Screens:
    """An app under a pilot."""

    def __init__(self, app: CircuitApp, pilot: Pilot[int]) -> None:
        self.app = app
        self.pilot = pilot

    async def press(self, *keys: str) -> None:
        """Press keys one after the other: what one sets going comes to rest before another key, not while it is held.

        The pilot itself would sleep twice after every single key; the app takes keys in turn however fast they come.
        """
        runs = [list(run) for _, run in groupby(keys)]
        for number, run in enumerate(runs):
            with pytest.MonkeyPatch.context() as patched:
                patched.setattr("textual.app.wait_for_idle", _at_once)
                await self.pilot.press(*run)
            if number < len(runs) - 1:
                await self.pilot.pause()
        await self.settled()

    async def type(self, text: str) -> None:
        """Type a text, as fast as a keyboard may."""
        for letter in text:
            self.app.post_message(events.Key(_NAMES.get(letter, letter), letter))
        await self.settled()

    async def settled(self) -> None:
        """Wait until the file as it stands has been examined and drawn."""
        for _ in range(400):
            await self.pilot.pause()
            screen = self.app.screen
            if not isinstance(screen, WorkingScreen):
                await self._drawn(screen)
                return
            checked = screen.bench.checked
            if checked is not None and checked.blocks is screen.bench.document.blocks:
                await self.pilot.pause()
                return
            await self.pilot.pause(0.01)
        raise AssertionError("the file was never examined")

    @staticmethod
    async def _drawn(screen: Screen[object]) -> None:
        """Wait until a page that may just have been opened has laid itself out; one that is closed never does."""
        drawn = asyncio.Event()
        screen.call_after_refresh(drawn.set)
        with suppress(TimeoutError):
            await asyncio.wait_for(drawn.wait(), 0.5)

    @property
    def text(self) -> str:
        """What stands on the screen."""
        strips = self.app.screen._compositor.render_strips()
        return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips)

    @property
    def words(self) -> str:
        """What stands on the screen as one line, so that a sentence broken over lines is found."""
        return " ".join(self.text.split())

    def words_in(self, selector: str) -> str:
        """What stands in one part of the page, as one line."""
        region = self.app.screen.query_one(selector).region
        rows = self.text.split("\n")[region.y : region.bottom]
        return " ".join(" ".join(row[region.x : region.right] for row in rows).split())

    @property
    def working(self) -> WorkingScreen:
        """The working page, which must be open."""
        screen = next(screen for screen in self.app.screen_stack if isinstance(screen, WorkingScreen))
        assert isinstance(screen, WorkingScreen)
        return screen

    async def stand_on(self, key_path: str) -> None:
        """Stand on an entry, as a jump from a finding does."""
        self.working.jump(key_path)
        await self.settled()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder that is the current one, and settings of its own."""
    monkeypatch.setenv("CIRCUITCHECK_CONFIG", str(tmp_path / "config"))
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    return work


@pytest.fixture
def hallway(folder: Path) -> Path:
    """A copy of the main example."""
    path = folder / "hall.circuit.toml"
    path.write_bytes((EXAMPLES / "hallway.circuit.toml").read_bytes())
    return path


@pytest.fixture
def unpainted(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is painted that nobody looks at: ``Screens.text`` draws the whole screen whenever it is read.

    Without a terminal the app would paint after every key and throw it away: a quarter of the time of a test.
    """
    paint = Compositor.render_update

    def painted_when_whole(
        compositor: Compositor, full: bool = False, screen_stack: list[Screen] | None = None, simplify: bool = False
    ) -> object:
        if full:  # a picture
            return paint(compositor, full, screen_stack, simplify)
        visible_screen_stack.set(screen_stack or [])
        compositor._dirty_regions.clear()
        return None

    monkeypatch.setattr(Compositor, "render_update", painted_when_whole)


@pytest.fixture
def screens(folder: Path, unpainted: None) -> Callable[..., object]:
    """Opens the app: ``async with screens(path, size) as page``."""

    @asynccontextmanager
    async def opened(path: Path | None = None, size: tuple[int, int] = (100, 32)) -> AsyncIterator[Screens]:
        app = CircuitApp(path)
        async with app.run_test(size=size) as pilot:
            page = Screens(app, pilot)
            await page.settled()
            yield page

    return opened
