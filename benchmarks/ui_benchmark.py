"""Time from a key press to the refreshed findings, and from start to the first page: circuits of 20, 200, 2,000 parts.

Run: python benchmarks/ui_benchmark.py [parts …]. The screens run without a terminal, all else is as in use.
"""

from __future__ import annotations

import asyncio
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from circuitcheck.ui.app import CircuitApp
from circuitcheck.ui.collecting import collect_seldom
from circuitcheck.ui.screens.working import WorkingScreen
from circuitcheck.ui.widgets.entry_list import EntryInput
from circuitcheck.ui.widgets.part_form import PartForm

PRESSES = 40


def circuit_text(parts: int) -> str:
    """A branch circuit of about this many parts: boxes in a chain, each with a cable and a light."""
    pieces = [
        'format = 1\n\n[job]\ntitle = "Benchmark"\nrulebook = "nec-2023"\n\n'
        '[supply]\nvoltage = "120 V"\nbreaker = "20 A"\n\n[site]\nroom = "hallway"\n\n'
    ]
    upstream = "panel"
    for number in range(max(parts // 3, 1)):
        origin = "added" if number % 2 else "existing"
        pieces.append(
            f'[[box]]\nid = "box {number}"\norigin = "{origin}"\nvolume = "18 in^3"\n\n'
            f'[[cable]]\nid = "cable {number}"\nfrom = "{upstream}"\nto = "box {number}"\norigin = "{origin}"\n'
            'type = "NM-B"\nsize = "12 AWG"\nconductors = 2\nground = true\nmaterial = "copper"\nlength = "3 ft"\n'
            'place = "inside"\n\n'
            f'[[load]]\nid = "lamp {number}"\nbox = "box {number}"\norigin = "{origin}"\n'
            'kind = "light"\npower = "1 W"\n\n'
        )
        upstream = f"box {number}"
    return "".join(pieces)


async def press_times(path: Path, light: int = 0) -> tuple[list[float], list[float]]:
    """For each key press [s]: until the character stands in the field, and until the findings are refreshed.

    light: which of them is typed at. The last one draws through every cable, the first through one.
    """
    from textual import events  # after our own package, which sets how often textual draws

    app = CircuitApp(path)
    shown: list[float] = []
    answered: list[float] = []
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, WorkingScreen)
        while screen.bench.checked is None:
            await asyncio.sleep(0.005)
        load = screen.bench.document.named("load", f"lamp {light}")
        assert load is not None
        screen.jump(f"load.{load.id}.power")
        await pilot.pause()
        screen.query_one(PartForm).edit("power", "1 W")
        await pilot.pause()
        await pilot.press("home")
        await pilot.press("right")
        field = screen.query_one("#field", EntryInput)
        for number in range(PRESSES):
            key = "backspace" if number % 2 else str(number % 8 + 1)
            await asyncio.sleep(0.05)
            before, typed = screen.bench.checked, field.value
            start = time.perf_counter()
            app.post_message(events.Key(key, None if key == "backspace" else key))
            while field.value == typed:
                await asyncio.sleep(0.001)
            shown.append(time.perf_counter() - start)
            while screen.bench.checked is before:
                await asyncio.sleep(0.001)
            painted = asyncio.Event()
            screen.call_after_refresh(painted.set)
            await painted.wait()
            answered.append(time.perf_counter() - start)
    return shown, answered


def start_time(path: Path) -> float:
    """A whole process [s]: from its start to the first page with its findings."""
    code = (
        "import asyncio, sys\nfrom pathlib import Path\nfrom circuitcheck.ui.app import CircuitApp\n"
        "async def main():\n"
        "    app = CircuitApp(Path(sys.argv[1]))\n"
        "    async with app.run_test(size=(120, 40)) as pilot:\n"
        "        while getattr(getattr(app.screen, 'bench', None), 'checked', None) is None:\n"
        "            await asyncio.sleep(0.002)\n"
        "        await pilot.pause()\n"
        "        import os; os._exit(0)\n"
        "asyncio.run(main())\n"
    )
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code, str(path)], check=True)
    return time.perf_counter() - start


def main() -> None:
    """Print the table."""
    os.environ.setdefault("CIRCUITCHECK_CONFIG", tempfile.mkdtemp())
    collect_seldom()  # as ``run`` does
    sizes = [int(word) for word in sys.argv[1:]] or [20, 200, 2000]
    print("parts   light   key press to character [ms]   to refreshed findings [ms]   start to first page [s]")
    print("                    median    worst               median    worst")
    with tempfile.TemporaryDirectory() as folder:
        for parts in sizes:
            for word, light in (("first", 0), ("last", max(parts // 3, 1) - 1)):
                path = Path(folder) / f"{parts} {word}.circuit.toml"
                path.write_text(circuit_text(parts), "utf-8")
                start = start_time(path)
                shown, answered = asyncio.run(press_times(path, light))
                print(
                    f"{parts:5}   {word:5}     {1000 * statistics.median(shown):7.1f}  {1000 * max(shown):7.1f}"
                    f"              {1000 * statistics.median(answered):7.1f}  {1000 * max(answered):7.1f}"
                    f"              {start:7.2f}"
                )


if __name__ == "__main__":
    main()
