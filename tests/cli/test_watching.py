"""--watch checks again after each change, tells what is wrong with a file and goes on, and ends with Ctrl+C."""

import signal
import subprocess
import sys
from pathlib import Path

from circuitcheck.cli.watching import changes


class Steps:
    """Instead of waiting: one step of a story for each look."""

    def __init__(self, *steps) -> None:
        self.left = list(steps)

    def __call__(self, seconds: float) -> None:
        if not self.left:
            raise KeyboardInterrupt
        self.left.pop(0)()


def count(files: list[Path], *steps) -> int:
    """How often the files are looked into before the story is over."""
    times = 0
    try:
        for _ in changes(files, Steps(*steps)):
            times += 1
    except KeyboardInterrupt:
        return times
    raise AssertionError("it ended by itself")


def nothing() -> None:
    """Nothing happens between two looks."""


def test_a_change_counts_once_it_is_whole(tmp_path) -> None:
    file = tmp_path / "a"
    file.write_text("1")
    assert count([file], nothing, nothing) == 1
    assert count([file], lambda: file.write_text("12"), nothing, nothing) == 2
    # Half written at one look, whole at the next, quiet at the third.
    assert count([file], lambda: file.write_text("123"), lambda: file.write_text("1234"), nothing, nothing) == 2


def test_a_file_that_is_taken_away_and_put_back(tmp_path) -> None:
    file = tmp_path / "a"
    file.write_text("1")
    assert count([file], file.unlink, lambda: file.write_text("other"), nothing, nothing) == 2
    assert count([file, tmp_path / "never there"], nothing) == 1


def test_standard_input_is_refused(run) -> None:
    ran = run("check", "--watch", "-")
    assert ran.status == 2
    assert "once only" in ran.err


def until_it_waits(watching: subprocess.Popen[str]) -> list[str]:
    """What it tells until it waits for a change."""
    assert watching.stderr
    lines: list[str] = []
    while not lines or "Ctrl+C ends it" not in lines[-1]:
        lines.append(watching.stderr.readline())
        assert lines[-1], "it ended"
    return lines


def test_it_checks_again_and_ends_with_the_last_status(circuit_file) -> None:
    file = circuit_file()
    right = file.read_text("utf-8")
    command = [sys.executable, "-m", "circuitcheck", "check", "--watch", "--brief", str(file)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8") as watching:
        try:
            told = [until_it_waits(watching)]
            file.write_text(right.replace('volume = "20 in^3"', 'volume = "wide"'), "utf-8")
            told.append(until_it_waits(watching))
            file.write_text(right.replace('breaker = "15 A"', 'breaker = "30 A"'), "utf-8")
            told.append(until_it_waits(watching))
            watching.send_signal(signal.SIGINT)
            out = watching.communicate(timeout=20)[0]
        finally:
            watching.kill()
    assert [len(lines) > 1 for lines in told] == [False, True, False]
    assert "volume" in told[1][0]
    assert out.count("Porch light") == 2
    assert "\x1b" not in out
    assert watching.returncode == 1
