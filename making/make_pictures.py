"""Pictures of every page of the screens at 80x24 and 120x40, in docs/pictures/. Run: make pictures."""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.pilot import Pilot

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "docs" / "pictures"
EXAMPLE = ROOT / "examples" / "hallway.circuit.toml"
SIZES = ((80, 24), (120, 40))


@dataclass(frozen=True)
class Page:
    """A page: the picture's name, the keys that lead to it, and whether a file is open at the start."""

    name: str
    keys: tuple[str, ...]
    with_file: bool = True
    theme: str = ""


def typed(text: str) -> tuple[str, ...]:
    """A text as key presses."""
    return tuple({" ": "space", ".": "full_stop", ",": "comma", "/": "slash"}.get(letter, letter) for letter in text)


def to_entry(section: str, key: str) -> tuple[str, ...]:
    """From the circuit to an entry of the part one stands on."""
    from circuitcheck.circuit.keys import SECTIONS

    return ("e", *("down",) * list(SECTIONS[section].keys).index(key))


_TO_ATTIC_BOX = ("t", "home", *("down",) * 4)
_TO_FIRST_CABLE = ("t", "home", *("down",) * 3)

_TO_TRADE_SIZE = (*_TO_ATTIC_BOX, *to_entry("box", "trade_size"), "enter")
_WHAT_IF = (
    *("W", *_TO_TRADE_SIZE, *typed("2-1/8 oct"), "enter", "t", "W", "W"),
    *(*_TO_ATTIC_BOX, *to_entry("box", "internal_clamps"), "space"),
)

PAGES = (
    Page("start", (), with_file=False),
    Page("question-signs", ("n",), with_file=False),
    Page(
        "question-goes-dark",
        ("n", *("enter",) * 4, *typed("hall light 60 W"), "enter", *typed("outlet"), "enter"),
        with_file=False,
    ),
    Page("question-cable", ("n", *("enter",) * 5), with_file=False),
    Page("working", ("t", "home", "down", "down")),
    Page("working-light", ("t", "home", "down", "down"), theme="circuit-light"),
    Page("working-high-contrast", ("t", "home", "down", "down"), theme="circuit-contrast"),
    Page(
        "entry-typed",
        (*_TO_FIRST_CABLE, *to_entry("cable", "length"), "enter", *("backspace",) * 20, *typed("35-60 ft")),
    ),
    Page(
        "entry-wrong",
        (*_TO_FIRST_CABLE, *to_entry("cable", "length"), "enter", *("backspace",) * 20, *typed("1,5 ft"), "enter"),
    ),
    Page("entry-explained", (*_TO_ATTIC_BOX, *to_entry("box", "internal_clamps"), "h")),
    Page("entry-picked", (*_TO_ATTIC_BOX, *to_entry("box", "trade_size"), "enter", *typed("oct"))),
    Page("entry-list", (*_TO_ATTIC_BOX, *to_entry("box", "fixture_wires"), "enter", "a")),
    Page("entry-several", (*_TO_ATTIC_BOX, *to_entry("box", "fittings"), "enter")),
    Page("add", (*_TO_ATTIC_BOX, "a")),
    Page("take-out", (*_TO_ATTIC_BOX, "x")),
    Page("finding", ("f", "home", "enter")),
    Page("fixes", ("f", "home", "F")),
    Page("plan", (*_TO_ATTIC_BOX, "C", "enter", "enter", *typed("2-1/8 oct"), "enter")),
    Page("what-if", (*_WHAT_IF,)),
    Page("what-ifs-side-by-side", (*_WHAT_IF, "t", "W")),
    Page(
        "count-one-box",
        ("b", "enter", *typed("14/2 14/2 14/3"), "enter", "down", "enter", *typed("switch"), "enter"),
        with_file=False,
    ),
    Page("cautions", ("w",)),
    Page("note", ("w", "y")),
    Page("leave", (*_TO_FIRST_CABLE, "d", "q")),
    Page("commands", ("ctrl+p",)),
    Page("help", ("question_mark",)),
)  # fmt: skip


async def found(screen: object, pilot: Pilot[int]) -> None:
    """Waits for what is found in the background: fixes, and the room left."""
    from circuitcheck.ui.screens.fixes import FixesScreen
    from circuitcheck.ui.screens.working import WorkingScreen

    for _ in range(100):
        if isinstance(screen, WorkingScreen) and not screen.query_one("#room").display:
            await pilot.pause(0.02)
        elif isinstance(screen, FixesScreen) and screen.fix is None:
            await pilot.pause(0.1)
    await pilot.pause(0.1)


async def picture(page: Page, size: tuple[int, int], folder: Path) -> str:
    """The page as SVG."""
    from circuitcheck.ui.app import CircuitApp
    from circuitcheck.ui.screens.working import WorkingScreen

    target = folder / "hallway.circuit.toml"
    shutil.copy(EXAMPLE, target)
    app = CircuitApp(target if page.with_file else None)
    async with app.run_test(size=size) as pilot:
        if page.theme:
            app.theme = page.theme
        while isinstance(app.screen, WorkingScreen) and app.screen.bench.checked is None:
            await pilot.pause(0.02)
        for key in page.keys:
            await pilot.press(key)
        await pilot.pause(0.4)
        await found(app.screen, pilot)
        svg = app.export_screenshot(title="circuitcheck")
        await pilot.pause()
    for leftover in folder.glob(".*.recovery"):
        leftover.unlink()
    return plain_svg(svg, folder)


def plain_svg(svg: str, folder: Path) -> str:
    """The picture without fonts from elsewhere and with the same names every time.

    The folder it was made in is shown as one of the same length, since every text of the picture has a fixed length.
    """
    svg = svg.replace(str(folder), "/home/me/circuit".ljust(len(str(folder)), "s")[: len(str(folder))])
    svg = re.sub(r"@font-face \{.*?\}\s*", "", svg, flags=re.DOTALL)
    svg = re.sub(r"terminal-\d+-", "t-", svg)
    return svg.replace("Fira Code, monospace", "monospace").replace(
        "<!-- Generated with Rich https://www.textualize.io -->", ""
    )


async def make_all(wanted: list[str]) -> None:
    """Makes the pictures of the pages named, of all when none is."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["CIRCUITCHECK_CONFIG"] = str(folder / "config")
        os.chdir(folder)
        for page in PAGES:
            if wanted and page.name not in wanted:
                continue
            for size in SIZES:
                svg = await picture(page, size, folder)
                (PICTURES / f"{page.name}-{size[0]}x{size[1]}.svg").write_text(svg, "utf-8")
            for leftover in folder.glob("*.toml"):
                leftover.unlink()


if __name__ == "__main__":
    asyncio.run(make_all(sys.argv[1:]))
