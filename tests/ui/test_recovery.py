"""Work is not lost: a process killed in the middle of an edit, a copy kept beside the file, and two at one file."""

import os
import pty
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from circuitcheck.errors import CommandError
from circuitcheck.ui.document.disk import is_running, read_recovery, recovery_path, write_recovery
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.screens.working import WorkingScreen

pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs a pseudo-terminal")


_started: list[subprocess.Popen[bytes]] = []


@pytest.fixture(autouse=True)
def _no_process_left():
    """A test that fails half way leaves no program running."""
    yield
    while _started:
        process = _started.pop()
        process.kill()
        process.wait()


class Terminal:
    """A real process in a real pseudo-terminal."""

    def __init__(self, path: Path, config: Path) -> None:
        self.master, slave = pty.openpty()
        environment = {**os.environ, "TERM": "xterm-256color", "COLUMNS": "80", "LINES": "24"}
        environment["CIRCUITCHECK_CONFIG"] = str(config)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "circuitcheck", "edit", str(path)],
            stdin=slave, stdout=slave, stderr=slave, env=environment, start_new_session=True,
        )  # fmt: skip
        os.close(slave)
        self.seen = b""
        _started.append(self.process)

    def wait_for(self, text: str, seconds: float = 30) -> None:
        """Read until the text has been written to the screen."""
        end = time.monotonic() + seconds
        while text.encode() not in self.seen:
            assert time.monotonic() < end, f"{text!r} never came: {self.seen[-2000:]!r}"
            self.read(0.2)

    def read(self, seconds: float) -> None:
        ready, _, _ = select.select([self.master], [], [], seconds)
        if ready:
            self.seen += os.read(self.master, 65536)

    def send(self, keys: str) -> None:
        os.write(self.master, keys.encode())
        self.read(0.1)

    def kill(self) -> None:
        """kill -9."""
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait()
        os.close(self.master)


def wait_until(condition, seconds: float = 20) -> None:
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end
        time.sleep(0.05)


def leave_it_to_nobody(path: Path) -> None:
    """Make the recovery copy one of a process that is no more."""
    copy = recovery_path(path)
    copy.write_text(copy.read_text("utf-8").replace(f"| {os.getpid()}", "| 0"), "utf-8")


async def test_killed_in_the_middle_of_an_edit_and_recovered(screens, hallway: Path, tmp_path: Path) -> None:
    before = hallway.read_text("utf-8")
    terminal = Terminal(hallway, tmp_path / "config")
    terminal.wait_for("DOES NOT FIT")
    terminal.send("d")  # duplicates nothing: the panel is one of a kind
    terminal.send("\x1b[F")  # End: the last light
    time.sleep(0.3)
    terminal.send("d")
    wait_until(lambda: recovery_path(hallway).exists() and "wall light 4" in recovery_path(hallway).read_text("utf-8"))
    terminal.send("e")
    time.sleep(0.3)
    terminal.send("\r")
    time.sleep(0.3)
    terminal.send("half ty")
    wait_until(lambda: (copy := read_recovery(hallway)) is not None and "half ty" in copy.draft)
    terminal.kill()
    assert hallway.read_text("utf-8") == before, "the file itself is as it was"

    async with screens(hallway, (80, 24)) as page:
        assert "Work that was not saved" in page.text
        assert "half ty" in page.words, "also what was being typed is told"
        await page.press("r")
        await page.settled()
        assert page.working.bench.document.named("load", "wall light 4") is not None
        assert page.working.bench.document.changed
        assert hallway.read_text("utf-8") == before
        await page.press("s")
    assert "wall light 4" in hallway.read_text("utf-8")
    assert not recovery_path(hallway).exists()


def test_a_terminal_that_goes_away_ends_the_program_and_keeps_the_copy(hallway: Path, tmp_path: Path) -> None:
    before = hallway.read_text("utf-8")
    terminal = Terminal(hallway, tmp_path / "config")
    terminal.wait_for("DOES NOT FIT")
    terminal.send("\x1b[F")
    time.sleep(0.3)
    terminal.send("d")
    wait_until(lambda: recovery_path(hallway).exists() and "wall light 4" in recovery_path(hallway).read_text("utf-8"))
    os.close(terminal.master)
    try:
        assert terminal.process.wait(20) in (129, -signal.SIGHUP)
    finally:
        terminal.process.kill()
    assert hallway.read_text("utf-8") == before
    assert "wall light 4" in recovery_path(hallway).read_text("utf-8")


async def test_the_copy_can_be_dropped(screens, hallway: Path) -> None:
    before = hallway.read_text("utf-8")
    write_recovery(hallway, before.replace("15 A", "20 A"), "x")
    leave_it_to_nobody(hallway)
    async with screens(hallway) as page:
        assert "has been changed since then" in page.words
        await page.press("f")
        await page.settled()
        assert isinstance(page.app.screen, WorkingScreen)
        assert "15 A breaker" in page.text
    assert not recovery_path(hallway).exists()
    assert hallway.read_text("utf-8") == before


async def test_the_start_page_names_unsaved_work(screens, folder: Path) -> None:
    lost = folder / "lost.circuit.toml"
    write_recovery(lost, 'format = 1\n[job]\ntitle = "t"\nrulebook = "nec-2023"\n', "x")
    leave_it_to_nobody(lost)
    async with screens() as page:
        assert "Work that was not saved" in page.text
        assert "lost.circuit.toml" in page.text
        await page.press("down", "down", "down", "enter", "r")
        await page.settled()
        assert isinstance(page.app.screen, WorkingScreen)
        assert page.working.bench.document.is_new


def test_the_copy_is_a_circuit_file_itself(hallway: Path) -> None:
    text = hallway.read_text("utf-8")
    write_recovery(hallway, text, "base", draft="38 f\n[/x] ü")
    copy = read_recovery(hallway)
    assert copy is not None
    assert (copy.text, copy.base, copy.draft) == (text, "base", "38 f\n[/x] ü")
    assert Document.opened(recovery_path(hallway)).blocks


def test_a_running_process_is_told_from_one_that_has_ended() -> None:
    child = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    assert is_running(child.pid)
    child.communicate(b"\n")
    assert not is_running(child.pid)
    assert not is_running(os.getpid())


async def test_it_is_said_when_no_copy_can_be_kept(screens, hallway: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> None:
        raise CommandError("the folder cannot be written")

    monkeypatch.setattr("circuitcheck.ui.document.document.write_recovery", refused)
    async with screens(hallway) as page:
        await page.press("t", "end", "d")
        page.working._keeper.settle()
        page.working._look_at_disk()
        await page.settled()
        assert "No copy for recovery can be kept" in page.words
