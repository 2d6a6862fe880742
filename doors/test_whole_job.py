"""A whole job, from the first question to the note, in a real terminal of three sizes and in a browser of two.

Needs, beyond Python: chromium for the browser. Pictures of every step are kept where CIRCUITCHECK_PICTURES says, to be
looked at; keys and seconds to the first answer and to the note are printed (``-s``).
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from doors.job import answers
from doors.terminal import PATIENCE, Terminal

COMMAND = [sys.executable, "-m", "circuitcheck"]
FILE, NOTE = "hallway-lights.circuit.toml", "hallway-lights-note.html"


@pytest.fixture
def pictures(tmp_path: Path) -> Path:
    """The folder for the pictures."""
    folder = Path(os.environ.get("CIRCUITCHECK_PICTURES") or tmp_path / "pictures").resolve()
    folder.mkdir(parents=True, exist_ok=True)
    return folder


@pytest.mark.parametrize(("columns", "lines"), [(80, 24), (120, 40), (60, 20)])
def test_in_a_terminal(columns: int, lines: int, tmp_path: Path, pictures: Path) -> None:
    terminal = Terminal(COMMAND, columns, lines, tmp_path)
    began = time.monotonic()

    def step(keys: str, *shown: str) -> None:
        terminal.press(keys)
        terminal.wait_for(*shown)
        number = len(list(pictures.glob(f"{columns}x{lines}-*.txt")))
        terminal.picture(pictures / f"{columns}x{lines}-{number:02}")
        said = " ".join(terminal.text.split())
        assert "licensed electrician" in said or "Before anyone opens anything" in said, "every page says who decides"

    try:
        step("", "New circuit")
        keys = "n"
        for asked, keys_of_answer in answers():
            step(keys, asked[:30])
            keys = keys_of_answer
        step(keys, "Do next")
        first = terminal.keys, time.monotonic() - began
        assert first[0] < 80
        step("s", "Saved")
        step("f", "F Fix")
        step("F", "Answer: DOES NOT FIT")
        step("\r", "In the plan, not done yet")
        step("z", "DOES NOT FIT")
        step("y", "CANNOT TELL YET")
        step("s", "Saved")
        step("w", "I have read this")
        step("y", "Write the note")
        terminal.press("\r")
        terminal.wait_for("Wrote", NOTE)
        print(
            f"{columns}x{lines}: first answer {first[0]} keys, {first[1]:.1f} s; note {terminal.keys} keys,"
            f" {time.monotonic() - began:.1f} s"
        )
        terminal.press("qq")
        assert terminal.ended() == 0
    finally:
        terminal.close()
    assert 'action = "alter"' in (tmp_path / FILE).read_text("utf-8")
    assert "arc-fault" in (tmp_path / NOTE).read_text("utf-8")


@pytest.mark.parametrize(
    "screen",
    [
        {"width": 1280, "height": 800, "deviceScaleFactor": 1, "mobile": False},
        {"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": True},
    ],
    ids=["desktop", "phone"],
)
async def test_in_a_browser(screen: dict, needs, tmp_path: Path, pictures: Path) -> None:
    import aiohttp

    from tests.ui.test_serve import Browser, free_port, until

    profile = tmp_path / "profile"
    options = ["--headless=new", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0", "about:blank"]
    port, quiet = free_port(), subprocess.DEVNULL
    chromium = subprocess.Popen(
        [needs("chromium", "apt-get install chromium"), *options, f"--user-data-dir={profile}"],
        stdout=quiet, stderr=quiet, start_new_session=True,
    )  # fmt: skip
    serving = subprocess.Popen(
        [*COMMAND, "serve", FILE, "--port", str(port)], cwd=tmp_path, stdout=quiet, stderr=subprocess.PIPE,
        env={**os.environ, "HOME": str(tmp_path)}, start_new_session=True,
    )  # fmt: skip
    try:
        assert serving.stderr
        address = next(word for word in serving.stderr.readline().decode().split() if word.startswith("http"))
        await there(lambda: (profile / "DevToolsActivePort").exists())
        devtools = (profile / "DevToolsActivePort").read_text().split()[0]
        async with aiohttp.ClientSession() as session:
            async with session.get(f"http://127.0.0.1:{devtools}/json/list") as answer:
                page = next(entry for entry in await answer.json() if entry["type"] == "page")
            async with session.ws_connect(page["webSocketDebuggerUrl"], max_msg_size=0) as connection:
                browser = Browser(connection)
                for domain in ("Page", "Network", "Runtime"):
                    await browser.call(f"{domain}.enable")
                await browser.call("Emulation.setFocusEmulationEnabled", enabled=True)
                await browser.call("Emulation.setDeviceMetricsOverride", **screen)
                await browser.call("Page.navigate", url=address)
                state = "document.body ? document.body.className : ''"
                await until(lambda: browser.call("Runtime.evaluate", expression=state), "-first-byte")
                steps = ["", "n", *(keys for _, keys in answers()), "s", "f", "F", "\r", "s", "w", "y", "\r"]
                for number, keys in enumerate(steps):
                    for key in keys:
                        await browser.press("Enter" if key == "\r" else key, "\r" if key == "\r" else key)
                    await asyncio.sleep(4 if keys in ("", "F") else 1.5)
                    name = f"browser-{screen['width']}x{screen['height']}-{number:02}.png"
                    (pictures / name).write_bytes(await browser.picture())
                await there(lambda: (tmp_path / NOTE).exists())
                assert browser.errors == []
    finally:
        for process in (chromium, serving):
            with contextlib.suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL if process is chromium else signal.SIGTERM)
            process.wait(timeout=20)
    assert 'action = "alter"' in (tmp_path / FILE).read_text("utf-8")


async def there(ask) -> None:
    """Waits until something is there."""
    end = time.monotonic() + PATIENCE
    while not ask():
        assert time.monotonic() < end
        await asyncio.sleep(0.2)
