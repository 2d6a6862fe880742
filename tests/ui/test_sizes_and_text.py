"""Small and changing windows, text that is out to break the screen, and screens without colour."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from circuitcheck.circuit.written.entry_text import toml_value
from circuitcheck.ui.screens.working import WorkingScreen
from circuitcheck.ui.themes import THEMES

HOSTILE = (
    "[/",
    "[/bold]",
    "[red]r",
    "[@click=app.leave]go[/]",
    "a]b[c",
    "{x} %s $y",
    "\x1b[31mred\x1b[0m",
    "tab\there\rand\x07bell",
    "two\nlines",
    "👩‍🔧🔌 lamp",
    "שלום עולם",
    "\u202egnp.exe",
    "W" * 280,
    "名前の長い部屋の照明器具の名前",
    "e\u0301\u0300\u0301",
    "\\n \\x1b",
)


def hostile_file(texts: tuple[str, ...] = HOSTILE) -> str:
    """A circuit in which every free text is hostile, each once."""
    pieces = [
        f'format = 1\n[job]\ntitle = {toml_value(HOSTILE[1])}\nrulebook = "nec-2023"\n',
        f"place = {toml_value(HOSTILE[6])}\n",
        '[supply]\nvoltage = "120 V"\nbreaker = "15 A"\n',
        f"panel = {toml_value(HOSTILE[0])}\nslot = {toml_value(HOSTILE[11])}\n",
    ]
    upstream = "panel"
    for number, text in enumerate(texts):
        box, cable, lamp = (f"{text}{kind}" for kind in ("", " run", " lamp"))
        pieces.append(f'[[box]]\nid = {toml_value(box)}\norigin = "added"\ntrade_size = "4 x 1-1/2 octagon"\n')
        pieces.append(
            f"[[cable]]\nid = {toml_value(cable)}\nfrom = {toml_value(upstream)}\nto = {toml_value(box)}\n"
            f'size = "14 AWG"\nconductors = 2\nlength = "{number + 1} ft"\n'
        )
        pieces.append(f'[[load]]\nid = {toml_value(lamp)}\nbox = {toml_value(box)}\nkind = "light"\npower = "9 W"\n')
        upstream = box
    return "".join(pieces)


async def test_hostile_text_shows_as_text_on_every_page(screens, folder: Path) -> None:
    path = folder / "[red]x[].circuit.toml"
    path.write_text(hostile_file(), "utf-8")
    tomllib.loads(path.read_text("utf-8"))
    async with screens(path, (160, 120)) as page:
        seen = [page.text]
        checked = page.working.bench.checked
        assert checked is not None
        assert not checked.problems
        assert not checked.fault
        for row in checked.circuit_rows[::6]:
            page.working.bench.standing = row.item
            page.working.query_one("#circuit").stand_on(row.item)
            await page.settled()
            seen.append(page.text)
        await page.press("f", "enter")
        for place in range(0, len(checked.findings), 40):
            page.app.screen._place = place
            await page.press("n")
            seen.append(page.text)
        await page.press("escape")
        for keys in (("slash", "escape"), ("t", "x", "escape"), ("a", "escape"), ("d", "c", "v"), ("q",)):
            for key in keys:
                await page.press(key)
                seen.append(page.text)
        await page.press("escape", "w", "y")
        seen.append(page.text)
        everything = "\n".join(seen)
        assert isinstance(page.working, WorkingScreen)
    for text in ("[/bold]", "[red]r lamp", "[@click=app.leave]go[/]", "a]b[c", "{x} %s $y", "\\x1b[31mred\\x1b[0m",
                 "tab\\x09here\\x0dand\\x07bell", "two\\x0alines", "\\u202egnp.exe", "שלום"):  # fmt: skip
        assert text in everything, text
    assert "\x1b" not in everything
    assert "\u202e" not in everything


async def test_hostile_text_in_pick_lists_and_names(screens, folder: Path) -> None:
    path = folder / "a.circuit.toml"
    path.write_text(hostile_file(HOSTILE[:6]), "utf-8")  # each letter typed is a check: those with marks in them
    async with screens(path, (120, 40)) as page:
        await page.stand_on("load.[/ lamp.box")
        await page.press("enter")
        await page.type("[/bold]")
        assert "box [/bold]" in page.text
        await page.press("enter")
        assert page.working.bench.part.data["box"] == "[/bold]"
        await page.stand_on("load.[/ lamp.id")
        await page.press("enter")
        await page.type("[b]&<i>")
        await page.press("enter")
        assert "[/ lamp[b]&<i>" in page.text
        await page.press("escape")
        for _ in range(4):
            await page.press("z")
        assert page.working.bench.document.text == path.read_text("utf-8")


async def test_the_working_page_fits_80_by_24(screens, hallway: Path) -> None:
    async with screens(hallway, (80, 24)) as page:
        rows = page.text.split("\n")
        assert len(rows) == 24
        words = page.words
        answers = ("DOES NOT FIT", "12.2 of 15 A", "16 of 15.5 in³", "116.7 V", "Not known", "box fill")
        frame = ("Circuit, as it runs", "Findings, worst first", "Breaker off and locked or tagged", "s Save", "? Help")
        for part in (*answers, *frame):
            assert part in words, part
        for selector in ("#circuit", "#findings", "#entries", "#caution"):
            assert page.app.screen.query_one(selector).region.height >= 2, selector


@pytest.mark.parametrize("size", [(200, 60), (120, 40), (69, 20), (40, 12), (20, 5), (1, 1)])
async def test_resizing_while_open_never_loses_the_caution_or_the_work(screens, hallway: Path, size) -> None:
    async with screens(hallway, (80, 24)) as page:
        await page.stand_on("cable.feed.length")
        await page.press("enter")
        await page.type("9")
        await page.pilot.resize_terminal(*size)
        await page.settled()
        await page.press("tab", "t", "f", "down")
        if size[1] >= 12 and size[0] >= 40:
            assert "Breaker off" in page.text
        await page.pilot.resize_terminal(80, 24)
        await page.settled()
        await page.press("e", "up")
        assert "22 ft to 30 ft9" in page.text
        assert "DOES NOT FIT" in page.text


async def test_a_thin_window_shows_the_pane_in_use(screens, hallway: Path) -> None:
    async with screens(hallway, (60, 24)) as page:
        assert "cable feed" in page.text
        await page.press("t", "home", "down", "down", "enter")
        assert "Nominal voltage" in page.text
        assert "cable feed" not in page.text
        await page.press("escape")
        assert "cable feed" in page.text


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
async def test_every_look_has_contrast(screens, hallway: Path, theme) -> None:
    """WCAG 2.1, success criterion 1.4.3: 4.5 to 1 for text; 7 to 1 (1.4.6) in the high-contrast look."""

    def luminance(color) -> float:
        def channel(value: int) -> float:
            share = value / 255
            return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

        red, green, blue = color
        return 0.2126 * channel(red) + 0.7152 * channel(green) + 0.0722 * channel(blue)

    least = 7.0 if theme.name == "circuit-contrast" else 4.5
    async with screens(hallway, (120, 40)) as page:
        page.app.theme = theme.name
        await page.settled()
        for keys in (("t",), ("f",), ("e",)):
            await page.press(*keys)
            for strip in page.app.screen._compositor.render_strips():
                for segment in strip:
                    style = segment.style
                    if not segment.text.strip() or style is None or style.color is None or style.bgcolor is None:
                        continue
                    if not any(letter.isalnum() for letter in segment.text):
                        continue
                    fore, back = style.color.triplet, style.bgcolor.triplet
                    if style.reverse:
                        fore, back = back, fore
                    one, two = sorted((luminance(fore), luminance(back)))
                    assert (two + 0.05) / (one + 0.05) >= least, (segment.text, fore, back)


def test_without_colour_the_outcomes_are_still_told_apart(hallway: Path) -> None:
    code = (
        "import asyncio, sys\nfrom pathlib import Path\nfrom circuitcheck.ui.app import CircuitApp\n"
        "async def main():\n"
        "    app = CircuitApp(Path(sys.argv[1]))\n"
        "    async with app.run_test(size=(120, 40)) as pilot:\n"
        "        while getattr(getattr(app.screen, 'bench', None), 'checked', None) is None:\n"
        "            await pilot.pause(0.02)\n"
        "        await pilot.pause()\n"
        "        for strip in app.screen._compositor.render_strips():\n"
        "            for segment in strip.apply_filter(app.get_line_filters()[-1], app.screen.styles.background)"
        " if hasattr(app, 'get_line_filters') else strip:\n"
        "                print(segment.text, end='')\n"
        "            print()\n"
        "        print('no colour:', app.no_color)\n"
        "asyncio.run(main())\n"
    )
    environment = {**os.environ, "NO_COLOR": "1", "TERM": "xterm-256color"}
    run = subprocess.run(
        [sys.executable, "-c", code, str(hallway)], capture_output=True, text=True, check=True, env=environment
    )
    assert "no colour: True" in run.stdout
    assert "✗ DOES NOT FIT" in run.stdout
    assert '✗ FAIL  box fill, box "attic"' in run.stdout
    assert "! CAUTION load share" in run.stdout
    assert "checks found nothing wrong" in run.stdout
    assert "✓" in run.stdout
    assert "+ cable to wall 1" in run.stdout
    assert "(added)" in run.stdout


async def test_the_entry_one_stands_on_is_written_out_in_full(screens, hallway: Path) -> None:
    async with screens(hallway, (80, 24)) as page:
        await page.stand_on("supply.breaker")
        assert "Rating of breaker…" in page.words_in("#form")
        assert "Rating of breaker or fuse: 15 A" in page.words_in("#form")
        await page.press("enter")
        assert "Rating of breaker or fuse" in page.words_in("#form"), "also while it is typed into"
        await page.press("escape")
        await page.stand_on("cable.feed.length")
        assert "Length: 22 ft" not in page.words_in("#form"), "nothing is cut here"


async def test_a_taller_window_explains_at_once_as_much_as_it_has_room_for(screens, hallway: Path) -> None:
    async with screens(hallway, (80, 24)) as page:
        await page.stand_on("load.wall light 3.id")  # its short help takes as many rows in both
        assert "How to find it, the cheapest way first" not in page.words_in("#entry-help")
        await page.pilot.resize_terminal(80, 60)
        await page.settled()
        assert "How to find it, the cheapest way first" in page.words_in("#entry-help")
        await page.pilot.resize_terminal(80, 24)
        await page.settled()
        assert "How to find it, the cheapest way first" not in page.words_in("#entry-help")
