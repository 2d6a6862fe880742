"""Work is not lost: a process killed in the middle of an edit, a copy kept beside the file, and two at one file."""

import contextlib
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
from circuitcheck.ui.document.disk import (
    is_running,
    others_at,
    recoveries,
    recovery_path,
    write_recovery,
)
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


def kept(path: Path) -> str:
    """The texts of all recovery copies of the file."""
    return "".join(recovery.text for recovery in recoveries(path))


def kept_by(path: Path, process: int, text: str) -> Path:
    """A recovery copy as the process of that number would keep it."""
    write_recovery(path, text, "x")
    copy = path.with_name(f".{path.name}.{process}-0a1b.recovery")
    copy.write_text(recovery_path(path).read_text("utf-8").replace(f"| {os.getpid()}", f"| {process}"), "utf-8")
    recovery_path(path).unlink()
    return copy


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
    wait_until(lambda: "wall light 4" in kept(hallway))
    terminal.send("e")
    time.sleep(0.3)
    terminal.send("\r")
    time.sleep(0.3)
    terminal.send("half ty")
    wait_until(lambda: any("half ty" in copy.draft for copy in recoveries(hallway)))
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
    assert recoveries(hallway) == ()


def test_a_terminal_that_goes_away_ends_the_program_and_keeps_the_copy(hallway: Path, tmp_path: Path) -> None:
    before = hallway.read_text("utf-8")
    terminal = Terminal(hallway, tmp_path / "config")
    terminal.wait_for("DOES NOT FIT")
    terminal.send("\x1b[F")
    time.sleep(0.3)
    terminal.send("d")
    wait_until(lambda: "wall light 4" in kept(hallway))
    # Nobody reads what these keys draw, so that much of it still waits to be written when the terminal goes.
    for _ in range(60):
        os.write(terminal.master, b"\x1b[A\x1b[B")
        time.sleep(0.02)
    os.close(terminal.master)
    try:
        assert terminal.process.wait(20) in (129, -signal.SIGHUP)
    finally:
        terminal.process.kill()
    assert hallway.read_text("utf-8") == before
    assert "wall light 4" in kept(hallway)


@pytest.mark.parametrize(("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_signal_from_outside_ends_the_screens_with_its_status_and_keeps_the_copy(
    hallway: Path, tmp_path: Path, number: signal.Signals, status: int
) -> None:
    before = hallway.read_text("utf-8")
    terminal = Terminal(hallway, tmp_path / "config")
    terminal.wait_for("DOES NOT FIT")
    terminal.send("\x1b[F")
    time.sleep(0.3)
    terminal.send("d")
    wait_until(lambda: "wall light 4" in kept(hallway))
    os.kill(terminal.process.pid, number)
    end = time.monotonic() + 20
    while terminal.process.poll() is None:
        assert time.monotonic() < end
        with contextlib.suppress(OSError):  # nobody is at the other end any more
            terminal.read(0.2)
    assert terminal.process.returncode == status
    assert b"Traceback" not in terminal.seen
    assert terminal.seen.rstrip().endswith(b"l"), "the terminal is as it was"
    assert hallway.read_text("utf-8") == before
    assert "wall light 4" in kept(hallway)
    os.close(terminal.master)


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
        await page.press("down", "down", "down", "down", "enter", "r")
        await page.settled()
        assert isinstance(page.app.screen, WorkingScreen)
        assert page.working.bench.document.is_new


def test_the_copy_is_a_circuit_file_itself(hallway: Path) -> None:
    text = hallway.read_text("utf-8")
    write_recovery(hallway, text, "base", draft="38 f\n[/x] ü")
    (copy,) = recoveries(hallway)
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
        page.working.file.keeper.settle()
        page.working.file.look_at_disk()
        await page.settled()
        assert "No recovery copy can be kept" in page.words


async def test_two_at_one_file_keep_a_copy_each(screens, hallway: Path) -> None:
    before = hallway.read_text("utf-8")
    with subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE) as other:
        theirs = kept_by(hallway, other.pid, before.replace("15 A", "20 A"))
        async with screens(hallway, (120, 40)) as page:
            await page.pilot.pause(0.1)
            (told,) = [note.message for note in page.app._notifications]
            assert f"process {other.pid}" in told, "opening tells of the other"
            assert theirs.name in told, "and names its copy"
            await page.press("t", "end", "d")
            page.working.file.keeper.settle()
            assert "wall light 4" in recovery_path(hallway).read_text("utf-8")
            assert "wall light 4" not in theirs.read_text("utf-8")
            await page.press("s", "q")
        assert not recovery_path(hallway).exists(), "its own copy goes with saving"
        assert theirs.exists(), "the other one stays"
        assert [copy.copy for copy in others_at(hallway)] == [theirs]
        other.communicate(b"\n")


async def test_copies_left_behind_are_offered_by_name_one_after_the_other(screens, hallway: Path) -> None:
    before = hallway.read_text("utf-8")
    older = kept_by(hallway, 0, before.replace("15 A", "10 A"))
    older.write_text(older.read_text("utf-8").replace("| 20", "| 19", 1), "utf-8")
    newer = older.with_name(older.name.replace("0a1b", "1b0a"))
    newer.write_text(older.read_text("utf-8").replace("10 A", "20 A").replace("| 19", "| 20", 1), "utf-8")
    async with screens(hallway, (120, 40)) as page:
        assert newer.name in page.words
        assert "1 older copy of the same file" in page.words
        await page.press("f")
        assert not newer.exists()
        assert older.name in page.words
        await page.press("r")
        assert "10 A breaker" in page.text
        page.working.file.keeper.settle()
        assert not older.exists(), "its text is kept in this session's own copy now"
        assert "10 A" in recovery_path(hallway).read_text("utf-8")
        await page.press("q", "d")
    assert recoveries(hallway) == ()
    assert hallway.read_text("utf-8") == before
